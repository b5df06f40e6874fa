"""Wear tables of five technical manuals pass the checks of a sheet; their own misprints are caught."""

from decimal import Decimal
from math import pi

import pytest

from inspect_app.metrology.estimate import Estimate
from inspect_app.metrology.fits import clearance_range
from inspect_app.metrology.gaps import ring_gap_at
from inspect_app.metrology.misprints import (
    inch_mm_disagree,
    limit_inside_new_range,
    range_reversed,
    share_too_large,
    size_or_allowance_mixed,
)

from .manual_tables import (
    INSIDE_ITS_NEW_RANGE,
    MIXED_COLUMN,
    RANGE_MISPRINTED,
    SOUND,
    TWINS_MISPRINTED,
    TWINS_THAT_AGREE,
    Row,
)


def named(row: Row) -> str:
    return f"{row.manual}, {row.item}"


def test_at_least_four_manuals_are_held_against_the_checks() -> None:
    assert len({row.manual for row in SOUND}) >= 4


@pytest.mark.parametrize("row", SOUND, ids=named)
def test_a_sound_row_passes_every_check(row: Row) -> None:
    low, high, limit = row.numbers
    assert range_reversed(low, high) is None
    assert limit_inside_new_range(low, high, limit, row.worse) is None
    assert size_or_allowance_mixed(low, high, limit) is None


@pytest.mark.parametrize("row", INSIDE_ITS_NEW_RANGE, ids=named)
def test_a_limit_that_new_parts_pass_is_caught(row: Row) -> None:
    low, high, limit = row.numbers
    assert limit_inside_new_range(low, high, limit, row.worse) is not None


@pytest.mark.parametrize("row", SOUND, ids=named)
def test_columns_read_in_the_other_order_are_caught(row: Row) -> None:
    """Manuals print the limit first or last: a row read in the wrong order fails one of the checks."""
    low, high, limit = row.numbers
    shifted = (limit, low, high)
    problems = [
        range_reversed(*shifted[:2]),
        limit_inside_new_range(*shifted, row.worse),
    ]
    assert any(problems)


def test_a_column_that_mixes_sizes_and_allowances_is_caught() -> None:
    """TM 5-6115-584-34: a size of about an inch has a limit of 1.0455 in one row and of 0.002 in another."""
    size, allowance = (Decimal(text) for text in MIXED_COLUMN)
    low, high = Decimal("1.0460"), Decimal("1.0465")  # made up: the new range of that row was not kept
    assert size_or_allowance_mixed(low, high, size) is None
    assert size_or_allowance_mixed(low, high, allowance) is not None


@pytest.mark.parametrize(("inch", "mm"), TWINS_THAT_AGREE)
def test_inch_and_metric_twins_agree(inch: str, mm: str) -> None:
    assert inch_mm_disagree(Decimal(inch), Decimal(mm)) is None


@pytest.mark.parametrize(("inch", "mm"), TWINS_MISPRINTED)
def test_misprinted_twins_are_caught(inch: str, mm: str) -> None:
    assert inch_mm_disagree(Decimal(inch), Decimal(mm)) is not None


def test_a_slipped_point_is_caught() -> None:
    low, high = (Decimal(text) for text in RANGE_MISPRINTED)
    assert range_reversed(low, high) is not None


@pytest.mark.parametrize("gap", ["0.25", "0.40", "0.15", "0.30", "1.0"])
def test_ring_gaps_of_the_four_fit_its_bore(gap: str) -> None:
    """TM 10-3930-653-14&P: bore 87.20 to 87.25; a gap with its point slipped once is caught from 0.25 up."""
    bore, at_most = Decimal("87.2"), Decimal("0.02")
    assert share_too_large(Decimal(gap), bore, at_most) is None
    slipped = share_too_large(Decimal(gap) * 10, bore, at_most)
    assert (slipped is not None) is (Decimal(gap) >= Decimal("0.25"))


def test_ring_gap_grows_three_times_the_wear() -> None:
    """0.003 in for each 0.001 in of bore wear: TM 5-3805-261-34 and TM 5-6115-593-34 (seen); pi exactly."""
    grown = ring_gap_at(Estimate(0.0), Estimate(0.0), Estimate(0.001)).value
    assert round(grown, 3) == 0.003
    assert grown == pytest.approx(pi * 0.001)


def test_an_undersize_step_thickens_each_shell_by_half() -> None:
    """TM 10-3930-653-14&P: pins 0.25 and 0.50 under, shells 1.623-1.631 and 1.748-1.756 (seen)."""
    first = clearance_range((0, 0), (1.623, 1.631), (51.711, 51.724))
    second = clearance_range((0, 0), (1.748, 1.756), (51.461, 51.474))
    assert (first.low, first.high) == pytest.approx((second.low, second.high))


def test_a_selective_fit_is_narrower_than_any_parts_would_give() -> None:
    """TM 10-3930-653-14&P: bore 87.20-87.25 and 87.165-87.215 give -0.015 to 0.085; printed 0.025-0.045."""
    stack = clearance_range((87.20, 87.25), (0.0, 0.0), (87.165, 87.215))
    assert (stack.low, stack.high) == (-0.015, 0.085)
    assert stack.low < 0.025 < 0.045 < stack.high
