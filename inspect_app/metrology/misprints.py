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
    return None if abs(exact - mm) <= room else f"{inch:f} in is {exact.normalize():f} mm, not {mm:f} mm"


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


def step_is_a_size(nominal: Decimal, step: Decimal) -> str | None:
    """A listed step that is the full size instead of the amount by which it differs, in one unit.

    `nominal` > 0. No step over or under standard comes near half of the size itself.

    >>> step_is_a_size(Decimal("3.4370"), Decimal("3.457"))
    '3.457 is no step from 3.4370: a size?'
    """
    return f"{step} is no step from {nominal}: a size?" if step * 2 >= nominal else None


def share_too_large(share: Decimal, whole: Decimal, at_most: Decimal) -> str | None:
    """A size that is a small part of another one, printed as more than `at_most` of it or as nothing.

    Sizes in one unit, `at_most` in 0 to 1. For a ring gap 0.02 of the bore serves: usual gaps are 0.003
    to 0.006 of it (common practice), worn limits below 0.013 in the manuals seen, and a slipped point
    is a factor of ten. Gaps below 0.002 of the bore pass even with their point slipped.

    >>> share_too_large(Decimal("3.5"), Decimal("87.2"), Decimal("0.02"))
    '3.5 is more than 0.02 of 87.2'
    """
    if share <= 0:
        return f"{share} is no part of {whole}"
    return f"{share} is more than {at_most} of {whole}" if share > whole * at_most else None


def _half_digit(number: Decimal) -> Decimal:
    return Decimal(1).scaleb(int(number.as_tuple().exponent)) / 2
