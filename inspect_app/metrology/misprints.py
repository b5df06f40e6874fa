"""Checks of a printed table of limits, before anybody trusts it: what manuals get wrong.

Each check returns the words of what is wrong, or None where nothing is: a check has a question, not
a value. Numbers are Decimals as printed, in one unit unless a check says otherwise.
"""

from decimal import Decimal
from typing import Literal

MM_PER_INCH = Decimal("25.4")
SLACK = Decimal("1.01")
"""Both numbers of a pair are rounded, some cut off: a hundredth of the last digit is let pass."""


def range_reversed(low: Decimal, high: Decimal) -> str | None:
    """A range printed the wrong way round or with a slipped point.

    >>> range_reversed(Decimal("74.915"), Decimal("7.4935"))
    'the range runs down from 74.915 to 7.4935'
    """
    return f"the range runs down from {low} to {high}" if low > high else None


def limit_inside_new_range(
    low: Decimal, high: Decimal, limit: Decimal, worse: Literal["above", "below"]
) -> str | None:
    """A wear limit that a new part may already pass: inside its own new range, or on the far side of it.

    A limit equal to the worse end of the new range is allowed.

    >>> limit_inside_new_range(Decimal("0.01"), Decimal("0.066"), Decimal("0.03"), "above")
    'the limit 0.03 lies inside the new range 0.01 to 0.066'
    """
    if (limit >= high) if worse == "above" else (limit <= low):
        return None
    where = "inside" if low <= limit <= high else "on the wrong side of"
    return f"the limit {limit} lies {where} the new range {low} to {high}"


def inch_mm_disagree(inch: Decimal, mm: Decimal) -> str | None:
    """An inch number and its metric twin that are not one size within the last digit of either.

    >>> inch_mm_disagree(Decimal("0.003"), Decimal("0.76"))
    '0.003 in is 0.0762 mm, not 0.76 mm'
    """
    exact = inch * MM_PER_INCH
    room = (_half_digit(inch) * MM_PER_INCH + _half_digit(mm)) * SLACK
    return None if abs(exact - mm) <= room else f"{inch} in is {exact.normalize():f} mm, not {mm} mm"


def size_or_allowance_mixed(low: Decimal, high: Decimal, limit: Decimal) -> str | None:
    """A column that holds sizes and allowances together: a limit ten times smaller or larger than new.

    Positive numbers. Not for allowances that start near 0 (their limit may be ten times the low end),
    so the far end of the range is compared.

    >>> size_or_allowance_mixed(Decimal("1.0460"), Decimal("1.0465"), Decimal("0.002"))
    'the limit 0.002 is no size like 1.0460 to 1.0465: an allowance?'
    """
    if limit * 10 <= low:
        return f"the limit {limit} is no size like {low} to {high}: an allowance?"
    if limit >= high * 10:
        return f"the limit {limit} is no allowance like {low} to {high}: a size?"
    return None


def gap_too_large_for_bore(gap: Decimal, bore: Decimal) -> str | None:
    """A ring gap of more than 0.02 of the bore, or none at all, in one unit.

    Usual gaps are 0.003 to 0.006 of the bore (common practice); worn limits are below 0.013 in the
    manuals seen. A slipped point is a factor of ten.

    >>> gap_too_large_for_bore(Decimal("3.5"), Decimal("87.2"))
    'a gap of 3.5 is no ring gap for a bore of 87.2'
    """
    fits = 0 < gap <= bore * Decimal("0.02")
    return None if fits else f"a gap of {gap} is no ring gap for a bore of {bore}"


def _half_digit(number: Decimal) -> Decimal:
    return Decimal(1).scaleb(int(number.as_tuple().exponent)) / 2
