"""Axial play, ring gap, groove, wall left, and the gap set cold: by the sheet's own shift or not at all."""

from math import pi

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from inspect_app.metrology.estimate import Estimate, Undetermined
from inspect_app.metrology.gaps import (
    NO_RULE,
    GapSheet,
    axial_play,
    cold_gap,
    ring_gap_at,
    side_clearance,
    taper_from_ring_gaps,
    wall_left,
)

NOT_PRINTED = Undetermined("not printed")


@given(st.floats(0.1, 1), st.floats(50, 150), st.floats(-0.2, 0.2))
@settings(deadline=None)
def test_a_gap_moved_and_read_again_gives_the_difference_of_diameters(
    gap: float, bore: float, more: float
) -> None:
    moved = ring_gap_at(Estimate(gap), Estimate(bore), Estimate(bore + more))
    assert taper_from_ring_gaps(moved, Estimate(gap)).value == pytest.approx(more, abs=1e-8)


def test_the_doubt_of_the_diameters_counts_pi_times() -> None:
    moved = ring_gap_at(Estimate(0.3, 0.01), Estimate(87.2, 0.003), Estimate(87.3, 0.004))
    assert moved.u == pytest.approx((0.01**2 + (pi * 0.005) ** 2) ** 0.5)


def test_a_ring_too_long_shows_as_a_gap_below_nothing() -> None:
    assert ring_gap_at(Estimate(0.3), Estimate(87.3), Estimate(87.2)).value < 0


def test_two_washers_of_one_kind_count_twice() -> None:
    play = axial_play(Estimate(30.0, 0.003), Estimate(25.0, 0.004), Estimate(2.45, 0.006))
    assert play.u == pytest.approx(0.013)
    assert play.value == pytest.approx(0.1)


def test_side_clearance() -> None:
    assert side_clearance(Estimate(2.06, 0.003), Estimate(2.0, 0.004)) == Estimate(0.06, 0.005)


def test_half_of_what_a_hole_grows_comes_off_each_side() -> None:
    left = wall_left(Estimate(4.572, 0.1), Estimate(101.6, 0.008), 102.108)
    assert left.value == pytest.approx(4.318)
    assert left.u == pytest.approx((0.1**2 + 0.004**2) ** 0.5)
    assert wall_left(Estimate(4.572), Estimate(101.6), 102.108, off_centre=0.2).value == pytest.approx(4.118)
    with pytest.raises(ValueError, match="at least 0"):
        wall_left(Estimate(4.572), Estimate(101.6), 102.108, off_centre=-0.2)


@pytest.mark.parametrize("shift", [-0.1, 0.0, 0.1])
def test_cold_is_hot_with_the_sheets_own_shift_of_either_sign(shift: float) -> None:
    assert cold_gap(GapSheet(0.3, NOT_PRINTED, shift)) == pytest.approx(0.3 + shift)


def test_a_cold_setting_on_the_sheet_is_taken_as_it_stands() -> None:
    assert cold_gap(GapSheet(0.3, 0.25, 0.1)) == 0.25
    assert cold_gap(GapSheet(NOT_PRINTED, 0.25, NOT_PRINTED)) == 0.25


@pytest.mark.parametrize(
    "sheet",
    [
        GapSheet(0.3, NOT_PRINTED, NOT_PRINTED),
        GapSheet(NOT_PRINTED, NOT_PRINTED, -0.1),
        GapSheet(NOT_PRINTED, NOT_PRINTED, NOT_PRINTED),
    ],
)
def test_without_the_sheets_own_numbers_none_is_proposed(sheet: GapSheet) -> None:
    found = cold_gap(sheet)
    assert found == Undetermined(NO_RULE)
    assert isinstance(found, Undetermined)
    assert "none proposed" in found.reason


def test_a_shift_that_leaves_no_gap_is_not_proposed() -> None:
    found = cold_gap(GapSheet(0.1, NOT_PRINTED, -0.1))
    assert isinstance(found, Undetermined)
    assert "Check the sheet" in found.reason
