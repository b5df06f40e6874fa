"""Standard tolerances by grade, for judging whether a size is plausible, never instead of a sheet."""

from math import sqrt

GRADES = {5: 7.0, 6: 10.0, 7: 16.0, 8: 25.0, 9: 40.0}
"""Multiples of the tolerance unit, ISO 286-1 (multipliers seen in secondary texts)."""


def tolerance_unit_um(low: float, high: float) -> float:
    """Unit i = 0.45 D^(1/3) + 0.001 D in micrometres, D the geometric mean of a range of sizes (mm).

    For ranges up to 500 mm. Source: ISO 286-1, formula seen in a secondary text.

    >>> round(tolerance_unit_um(50, 80), 4)
    1.8561
    """
    if not 0 < low < high <= 500:
        raise ValueError("a range of sizes rises within 0 to 500 mm")
    mean = sqrt(low * high)
    return float(0.45 * mean ** (1 / 3) + 0.001 * mean)


def standard_tolerance_um(low: float, high: float, grade: int) -> int:
    """Tolerance in whole micrometres of grade 5 to 9 for sizes above `low` up to `high` mm.

    Rounded to 1 micrometre, as the table is in these ranges; small ranges below 18 mm and grades
    outside 5 to 9 round otherwise and are refused.

    >>> standard_tolerance_um(50, 80, 7)
    30
    """
    if grade not in GRADES or low < 18:
        raise ValueError("grades 5 to 9 and ranges from 18 mm up are known here")
    return round(GRADES[grade] * tolerance_unit_um(low, high))
