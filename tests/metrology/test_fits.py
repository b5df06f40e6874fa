"""Clearances: from parts and measured, position in the window, chance inside, and what to change."""

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from inspect_app.metrology.estimate import Estimate, Undetermined
from inspect_app.metrology.fits import (
    Window,
    clearance,
    clearance_from_parts,
    clearance_range,
    p_inside,
    p_range_inside,
    shift_into,
    what_to_change,
    window_position,
)

WINDOW = Window(0.03, 0.07)
sizes = st.floats(10, 200)
near = st.floats(-1, 1)


@given(sizes, st.floats(0.5, 5), sizes)
@settings(deadline=None)
def test_from_parts_is_measured_with_the_shells_in(housing: float, shell: float, journal: float) -> None:
    fitted = Estimate(housing - 2 * shell, 0.005)
    from_parts = clearance_from_parts(
        Estimate(housing, 0.003), Estimate(shell, 0.002), Estimate(journal, 0.004)
    )
    assert from_parts.value == pytest.approx(clearance(fitted, Estimate(journal)).value, abs=2e-9)
    assert from_parts.u == pytest.approx((0.003**2 + 0.004**2 + 0.004**2) ** 0.5)


@given(st.tuples(near, near), st.tuples(near, near), st.tuples(near, near))
@settings(deadline=None)
def test_no_parts_within_their_ranges_leave_the_range_of_clearances(
    a: tuple[float, float], b: tuple[float, float], c: tuple[float, float]
) -> None:
    ranges = [(min(r), max(r)) for r in (a, b, c)]
    window = clearance_range(*ranges)
    for h in ranges[0]:
        for s in ranges[1]:
            for j in ranges[2]:
                assert window.low - 1e-8 <= h - 2 * s - j <= window.high + 1e-8


@pytest.mark.parametrize(("value", "percent"), [(0.02, -25), (0.03, 0), (0.05, 50), (0.07, 100), (0.09, 150)])
def test_position_in_percent(value: float, percent: float) -> None:
    assert window_position(value, WINDOW) == pytest.approx(percent)


def test_a_window_of_one_value_has_no_position() -> None:
    assert isinstance(window_position(0.05, Window(0.05, 0.05)), Undetermined)


def test_a_window_the_wrong_way_round_is_refused() -> None:
    with pytest.raises(ValueError, match="wrong way round"):
        Window(0.07, 0.03)


@pytest.mark.parametrize(("value", "chance"), [(0.03, 1.0), (0.07, 1.0), (0.0299, 0.0), (0.0701, 0.0)])
def test_without_doubt_the_ends_are_inside(value: float, chance: float) -> None:
    assert p_inside(Estimate(value), WINDOW) == chance


@given(st.floats(0, 0.1), st.floats(0.0001, 0.05))
@settings(deadline=None)
def test_the_chance_is_a_chance_and_largest_in_the_middle(value: float, u: float) -> None:
    chance = p_inside(Estimate(value, u), WINDOW)
    assert 0 <= chance <= p_inside(Estimate(0.05, u), WINDOW) + 1e-12


@pytest.mark.parametrize("fit", [0.03, 0.05, 0.07])
def test_inside_nothing_is_to_be_changed(fit: float) -> None:
    assert what_to_change(fit, WINDOW) == ()


@given(near.filter(lambda fit: not 0.03 <= round(fit, 9) <= 0.07))
@settings(deadline=None)
def test_each_change_by_itself_brings_the_fit_to_the_edge_and_to_the_middle(fit: float) -> None:
    effect = {"housing": 1, "journal": -1, "shell": -2}
    for change in what_to_change(fit, WINDOW):
        edge = fit + effect[change.part] * change.least
        assert min(abs(edge - WINDOW.low), abs(edge - WINDOW.high)) < 1e-8
        assert fit + effect[change.part] * change.to_middle == pytest.approx(0.05, abs=1e-8)


@pytest.mark.parametrize(("fit", "cut"), [(0.02, {"journal", "housing"}), (0.08, set())])
def test_only_a_tight_fit_is_opened_by_cutting(fit: float, cut: set[str]) -> None:
    assert {change.part for change in what_to_change(fit, WINDOW) if change.by_cutting} == cut


def test_a_loose_fit_wants_a_thicker_shell() -> None:
    shell, journal, housing = what_to_change(0.09, WINDOW)
    assert (shell.part, shell.least, shell.to_middle) == ("shell", 0.01, 0.02)
    assert (journal.least, housing.least) == (0.02, -0.02)


@given(near, st.floats(0, 0.04))
@settings(deadline=None)
def test_the_shift_puts_all_of_a_fit_inside_and_no_further(closest: float, spread: float) -> None:
    shift = shift_into(closest, closest + spread, WINDOW)
    assert not isinstance(shift, Undetermined)
    low, high = closest + shift.least, closest + spread + shift.least
    assert WINDOW.low - 1e-8 <= low
    assert high <= WINDOW.high + 1e-8
    assert shift.least == 0 or min(low - WINDOW.low, WINDOW.high - high) == pytest.approx(0, abs=1e-8)


def test_a_fit_spread_over_more_than_its_window_cannot_be_shifted_in() -> None:
    assert isinstance(shift_into(0.01, 0.06, WINDOW), Undetermined)


@pytest.mark.parametrize(("value", "least"), [(0.02, 0.01), (0.03, 0), (0.07, 0), (0.09, -0.02)])
def test_the_shift_is_what_the_housing_alone_would_change(value: float, least: float) -> None:
    shift = shift_into(value, value, WINDOW)
    assert not isinstance(shift, Undetermined)
    assert shift.least == pytest.approx(least)
    told = {change.part: change.least for change in what_to_change(value, WINDOW)}
    assert told.get("housing", 0) == pytest.approx(least)


def test_a_window_with_one_end_has_no_middle_and_no_position() -> None:
    shift = shift_into(0.01, 0.01, Window(low=0.03))
    assert not isinstance(shift, Undetermined)
    assert (shift.least, type(shift.to_middle)) == (pytest.approx(0.02), Undetermined)
    assert isinstance(window_position(0.05, Window(high=0.07)), Undetermined)


@given(near, st.floats(0.0001, 0.1))
@settings(deadline=None)
def test_a_fit_of_one_size_has_the_same_chance_either_way(value: float, u: float) -> None:
    one = Estimate(value, u)
    assert p_range_inside(one, one, WINDOW) == pytest.approx(p_inside(one, WINDOW), abs=1e-12)
