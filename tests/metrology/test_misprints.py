"""Checks of printed tables: each just right, at its edge, and wrong."""

from decimal import Decimal

import pytest

from inspect_app.metrology.misprints import (
    inch_mm_disagree,
    limit_inside_new_range,
    range_reversed,
    share_too_large,
    size_or_allowance_mixed,
    step_is_a_size,
)
from inspect_app.metrology.tolerance_grade import standard_tolerance_um, tolerance_unit_um

D = Decimal


@pytest.mark.parametrize(
    ("limit", "worse", "words"),
    [
        ("0.07", "above", None),
        ("0.066", "above", None),
        ("0.065", "above", "inside"),
        ("0.005", "above", "wrong side"),
        ("0.005", "below", None),
        ("0.01", "below", None),
        ("0.02", "below", "inside"),
        ("0.07", "below", "wrong side"),
    ],
)
def test_a_limit_stands_outside_the_new_range_on_the_worse_side(
    limit: str, worse: str, words: str | None
) -> None:
    found = limit_inside_new_range(D("0.01"), D("0.066"), D(limit), "above" if worse == "above" else "below")
    assert (found is None) if words is None else (found is not None and words in found)


@pytest.mark.parametrize(
    ("inch", "mm", "agree"),
    [
        ("2.4780", "62.942", True),
        ("0.010", "0.254", True),
        ("0.010", "0.25", True),
        ("0.010", "0.27", True),
        ("0.010", "0.28", False),
        ("0.0100", "0.27", False),
        ("1.0", "2.54", False),
    ],
)
def test_twins_agree_within_their_last_digits(inch: str, mm: str, agree: bool) -> None:
    assert (inch_mm_disagree(D(inch), D(mm)) is None) is agree


def test_a_range_may_be_one_value_but_not_run_down() -> None:
    assert range_reversed(D(1), D(1)) is None
    assert range_reversed(D(2), D(1)) is not None


@pytest.mark.parametrize(
    ("low", "high", "limit", "words"),
    [
        ("3.1235", "3.125", "3.122", None),
        ("3.1235", "3.125", "0.005", "an allowance?"),
        ("0.0015", "0.005", "0.007", None),
        ("0.0015", "0.005", "3.122", "a size?"),
    ],
)
def test_sizes_and_allowances_do_not_share_a_column(
    low: str, high: str, limit: str, words: str | None
) -> None:
    found = size_or_allowance_mixed(D(low), D(high), D(limit))
    assert (found is None) if words is None else (found is not None and words in found)


@pytest.mark.parametrize(
    ("gap", "fits"), [("0.25", True), ("1.744", True), ("1.75", False), ("0", False), ("-0.1", False)]
)
def test_a_ring_gap_is_a_small_part_of_its_bore(gap: str, fits: bool) -> None:
    assert (share_too_large(D(gap), D("87.2"), D("0.02")) is None) is fits


@pytest.mark.parametrize(
    ("step", "fits"), [("0.020", True), ("1.7184", True), ("1.7185", False), ("3.457", False)]
)
def test_a_step_is_far_from_the_size_it_starts_from(step: str, fits: bool) -> None:
    assert (step_is_a_size(D("3.4370"), D(step)) is None) is fits


@pytest.mark.parametrize(("low", "high", "grade"), [(10, 18, 7), (50, 80, 4), (50, 80, 10)])
def test_tolerances_not_known_here_are_refused(low: int, high: int, grade: int) -> None:
    with pytest.raises(ValueError, match="grades"):
        standard_tolerance_um(low, high, grade)


@pytest.mark.parametrize("sizes", [(80, 50), (0, 3), (400, 630)])
def test_ranges_outside_the_formula_are_refused(sizes: tuple[int, int]) -> None:
    with pytest.raises(ValueError, match="range"):
        tolerance_unit_um(*sizes)
