"""ISO 286-1 standard tolerances: formula against table. The standard was not seen; three independent
tables in public code, citing ISO 286-1:2010 Table 1, agree; the formula was seen in a course note."""

import pytest

from inspect_app.metrology.tolerance_grade import standard_tolerance_um, tolerance_unit_um

TABLE = {
    (18, 30): (9, 13, 21, 33, 52),
    (30, 50): (11, 16, 25, 39, 62),
    (50, 80): (13, 19, 30, 46, 74),
    (80, 120): (15, 22, 35, 54, 87),
}


@pytest.mark.parametrize("sizes", TABLE)
def test_the_formula_gives_every_cell(sizes: tuple[int, int]) -> None:
    assert tuple(standard_tolerance_um(*sizes, grade) for grade in range(5, 10)) == TABLE[sizes]


@pytest.mark.parametrize(
    ("sizes", "unit"), [((18, 30), 1.3074), ((30, 50), 1.5612), ((50, 80), 1.8561), ((80, 120), 2.1725)]
)
def test_tolerance_units_recomputed(sizes: tuple[int, int], unit: float) -> None:
    assert tolerance_unit_um(*sizes) == pytest.approx(unit, abs=5e-5)
