"""Volumes, ratio and what milling moves: round trips, laws, and geometry done another way."""

from math import cos, radians, sin

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from inspect_app.metrology.engine_arithmetic import (
    chamber_after_cut,
    clearance_cm3,
    clearance_for_ratio,
    compression_ratio,
    cut_for_ratio,
    side_face_shift,
    stack_change,
    swept_cm3,
    timing_lag,
)
from inspect_app.metrology.estimate import Undetermined

volumes = st.floats(50, 2000)


@given(volumes, st.floats(5, 20))
@settings(deadline=None)
def test_ratio_and_clearance_are_each_others_way_back(swept: float, ratio: float) -> None:
    assert compression_ratio(swept, clearance_for_ratio(swept, ratio)) == pytest.approx(ratio)


@given(st.floats(300, 600), st.floats(45, 60), st.floats(3000, 6000), st.floats(0.0, 1.0))
@settings(deadline=None)
def test_milling_by_what_is_computed_gives_the_ratio(
    swept: float, chamber: float, area: float, more: float
) -> None:
    ratio = compression_ratio(swept, chamber) + more
    cut = cut_for_ratio(swept, chamber, area, ratio)
    if isinstance(cut, Undetermined):
        assert more < 1e-9
        return
    left = chamber_after_cut(chamber, area, cut)
    assert not isinstance(left, Undetermined)
    assert compression_ratio(swept, left) == pytest.approx(ratio)


def test_milling_never_lowers_a_ratio() -> None:
    found = cut_for_ratio(500.0, 60.0, 4800.0, 9.0)
    assert found == Undetermined("the ratio is above 9 already, and milling only raises it")


def test_a_cut_through_the_chamber_is_said() -> None:
    assert isinstance(chamber_after_cut(10.0, 5000.0, 2.0), Undetermined)


def test_a_top_that_stands_proud_takes_volume_away() -> None:
    flush = clearance_cm3(40.0, 80.0, 0.0, 81.0, 1.0, 0.0)
    assert (
        clearance_cm3(40.0, 80.0, -0.1, 81.0, 1.0, 0.0)
        < flush
        < clearance_cm3(40.0, 80.0, 0.1, 81.0, 1.0, 0.0)
    )
    assert clearance_cm3(40.0, 80.0, 0.0, 81.0, 1.0, -3.0) == pytest.approx(flush - 3.0)


@pytest.mark.parametrize("wrong", [(0.0, 85.0, 4), (80.0, -1.0, 4), (80.0, 85.0, 0)])
def test_no_bore_is_refused(wrong: tuple[float, float, int]) -> None:
    with pytest.raises(ValueError, match="above 0"):
        swept_cm3(*wrong)


@pytest.mark.parametrize("call", [lambda: compression_ratio(500, 0), lambda: clearance_for_ratio(500, 1.0)])
def test_no_ratio_is_refused(call: object) -> None:
    assert callable(call)
    with pytest.raises(ValueError, match="above"):
        call()


def test_a_thicker_gasket_gives_height_back() -> None:
    assert stack_change((0.2, 0.1), 1.3, 1.0) == pytest.approx(0.0)
    assert stack_change((), 1.0, 1.0) == 0.0


@given(st.floats(40, 120), st.floats(0, 20), st.floats(0.01, 2))
@settings(deadline=None)
def test_ports_meet_again_when_the_middle_part_is_cut_and_sinks(
    bank: float, face: float, lower: float
) -> None:
    """The other way round: move head and middle part as vectors; they must meet along the face.

    The head of the right bank moves by `lower` along its bank, in and down; the middle part moves down.
    What is left between them must be square to the face, and as wide as what was cut off (towards it).
    """
    shift = side_face_shift(lower, bank, face)
    half, lie = radians(bank / 2), radians(90 - bank / 2 - face)
    head = lower * np.array([-sin(half), -cos(half)])
    apart = head - np.array([0.0, -shift.down])
    along, outwards = np.array([cos(lie), sin(lie)]), np.array([sin(lie), -cos(lie)])
    assert float(apart @ along) == pytest.approx(0.0, abs=1e-9)
    assert float(apart @ outwards) == pytest.approx(-shift.side, abs=1e-9)


@pytest.mark.parametrize(("bank", "face"), [(0.0, 0.0), (180.0, 0.0), (90.0, 45.0), (60.0, -60.0)])
def test_no_v_is_refused(bank: float, face: float) -> None:
    with pytest.raises(ValueError, match="banks"):
        side_face_shift(0.1, bank, face)


def test_the_driver_turns_twice_for_each_turn() -> None:
    shift = timing_lag(0.4, 50.0)
    assert shift.driver == pytest.approx(2 * shift.driven)
    assert timing_lag(0.4, 100.0).driven == pytest.approx(shift.driven / 2)
    assert timing_lag(0.0, 50.0).driven == 0.0
    with pytest.raises(ValueError, match="radius"):
        timing_lag(0.4, 0.0)
