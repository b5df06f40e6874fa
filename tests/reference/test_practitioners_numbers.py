"""Numbers a practitioner stated of his engines: common practice, in inch."""

import pytest

from inspect_app.metrology.display import resolution_to_show, shown
from inspect_app.metrology.estimate import Estimate, Undetermined
from inspect_app.metrology.fits import Window, p_inside, what_to_change, window_position
from inspect_app.metrology.gaps import GapSheet, cold_gap
from inspect_app.metrology.sizes import next_listed

BEARINGS = Window(0.0002, 0.0022)
END_PLAY = Window(0.002, 0.007)


def test_twelve_tenths_is_the_middle_of_the_factory_window() -> None:
    assert BEARINGS.middle == pytest.approx(0.0012)
    assert window_position(0.0012, BEARINGS) == pytest.approx(50)
    assert what_to_change(0.0012, BEARINGS) == ()
    assert p_inside(Estimate(0.0012, 0.00015), BEARINGS) > 0.999


def test_five_thou_of_end_play_is_well_inside() -> None:
    assert window_position(0.005, END_PLAY) == pytest.approx(60)
    assert p_inside(Estimate(0.005, 0.0004), END_PLAY) > 0.999


@pytest.mark.parametrize(("needed", "taken"), [(0.032, 0.040), (0.030, 0.030), (0.0301, 0.040)])
def test_bores_that_need_thirty_two_over_get_forty(needed: float, taken: float) -> None:
    assert next_listed(needed, [0.020, 0.030, 0.040]) == taken


def test_mains_that_need_seven_under_get_ten() -> None:
    assert next_listed(0.007, [0.010, 0.020, 0.030]) == 0.010


@pytest.mark.parametrize(("hot", "cold"), [(0.012, 0.008), (0.014, 0.010)])
def test_the_cold_lash_of_one_engine_follows_from_its_own_sheet(hot: float, cold: float) -> None:
    """Iron on iron, its sheet sets it 0.004 less cold than hot."""
    not_printed = Undetermined("not printed")
    assert cold_gap(GapSheet(hot, not_printed, -0.004)) == pytest.approx(cold)


@pytest.mark.parametrize("hot", [0.012, 0.014])
def test_that_shift_is_nobody_elses(hot: float) -> None:
    not_printed = Undetermined("not printed")
    found = cold_gap(GapSheet(hot, not_printed, not_printed))
    assert isinstance(found, Undetermined)
    assert found.reason.startswith("none proposed")


def test_fits_show_tenths_and_gaps_show_thous() -> None:
    assert shown(0.0012 * 25.4, "in", resolution_to_show("size", "in")) == "0.0012 in"
    assert shown(0.005 * 25.4, "in", resolution_to_show("gap", "in")) == "0.005 in"
