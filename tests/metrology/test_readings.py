"""Readings and their uncertainty: what repeats, what contradicts, what cancels in a difference."""

from math import hypot, sqrt

import pytest
from hypothesis import given
from hypothesis import strategies as st

from inspect_app.metrology.readings import Gauge, Value, agree, difference_u, settle, unnamed_gauge

# Thousandths of a millimetre, so that hypothesis meets repeats, conflicts and exact limits alike.
_sizes = st.integers(40_000, 40_010).map(lambda thousandths: thousandths / 1000)


def value(
    size: float, evidence: str = "r", own: float = 0.001, common: float = 0.002, session: str = "a"
) -> Value:
    return Value(size, own, common, session, (evidence,))


def test_a_rectangular_half_width_gives_its_share_of_root_three() -> None:
    # JCGM 101:2008, 6.4.2: for a rectangular distribution of half-width a, u = a / sqrt(3).
    assert Gauge(resolution=0.0, half_width=0.006).common == pytest.approx(0.006 / sqrt(3), rel=1e-15)


def test_a_digit_gives_half_its_width_over_root_three() -> None:
    # Worked by hand: d = 0.001 is a half-width of 0.0005; 0.0005 / 1.7320508 = 0.00028868.
    assert Gauge(resolution=0.001, half_width=0.0).own == pytest.approx(0.00028868, abs=5e-9)


def test_repeatability_adds_to_the_resolution_in_squares() -> None:
    assert Gauge(0.001, 0.0, repeatability=0.003).own == pytest.approx(
        hypot(0.003, 0.001 / sqrt(12)), rel=1e-12
    )


def test_a_gauge_that_nobody_named_is_trusted_to_its_last_digit() -> None:
    assert unnamed_gauge(0.01) == Gauge(resolution=0.01, half_width=0.01, repeatability=0.005)


@pytest.mark.parametrize(("digits", "repeat"), [(0, True), (1, True), (2, False)])
def test_without_a_named_gauge_one_digit_apart_is_a_repeat_two_a_conflict(digits: int, repeat: bool) -> None:
    gauge = unnamed_gauge(0.01)
    pair = [
        Value(value, gauge.own, gauge.common, "s", (str(value),)) for value in (86.0, 86.0 + digits * 0.01)
    ]
    assert agree(pair) is repeat


def test_what_one_session_shares_cancels_in_a_difference() -> None:
    # Worked by hand: sqrt(0.001^2 + 0.001^2) = 0.0014142; the common 0.002 is gone.
    assert difference_u(value(40.0), value(40.1)) == pytest.approx(0.0014142, abs=1e-7)


def test_what_two_sessions_do_not_share_stays_in_a_difference() -> None:
    # Worked by hand: sqrt(2 * 0.001^2 + 2 * 0.002^2) = sqrt(1e-5) = 0.0031623.
    assert difference_u(value(40.0), value(40.1, session="b")) == pytest.approx(0.0031623, abs=1e-7)


# Twice the uncertainty of the difference: 2 * 0.0014142 = 0.0028284.
@pytest.mark.parametrize(("apart", "repeats"), [(0.0, True), (0.0028, True), (0.0029, False)])
def test_readings_repeat_up_to_twice_the_uncertainty_of_their_difference(apart: float, repeats: bool) -> None:
    assert agree([value(40.0), value(40.0 + apart)]) is repeats


def test_exactly_twice_the_uncertainty_is_still_a_repeat() -> None:
    # own 0.75 and 1.0 give u = 1.25 without rounding.
    assert agree([value(10.0, own=0.75), value(12.5, own=1.0)])
    assert not agree([value(10.0, own=0.75), value(12.500000001, own=1.0)])


def test_repeats_become_their_mean_and_only_the_own_part_shrinks() -> None:
    (mean,) = settle([value(40.000, "a"), value(40.002, "b")])
    assert mean.value == pytest.approx(40.001, abs=1e-12)
    # Worked by hand: sqrt(2 * 0.001^2) / 2 = 0.00070711; a shared error does not average out.
    assert mean.own == pytest.approx(0.00070711, abs=5e-9)
    assert mean.common == 0.002
    assert mean.evidence == ("a", "b")


def test_a_conflict_keeps_both_values() -> None:
    kept = settle([value(40.010, "b"), value(40.000, "a")])
    assert [(one.value, one.evidence) for one in kept] == [(40.000, ("a",)), (40.010, ("b",))]


def test_one_outlier_keeps_every_reading_of_its_slot() -> None:
    assert len(settle([value(40.0, "a"), value(40.001, "b"), value(40.05, "c")])) == 3


def test_nothing_read_settles_to_nothing() -> None:
    assert settle([]) == ()


def test_a_single_reading_stays_as_it_is() -> None:
    assert settle([value(40.0)]) == (value(40.0),)


@given(st.lists(st.tuples(_sizes, st.sampled_from("abc")), max_size=6), st.randoms(use_true_random=False))
def test_the_order_of_readings_changes_nothing(read: list[tuple[float, str]], random: object) -> None:
    values = [value(size, f"r{number}", session=session) for number, (size, session) in enumerate(read)]
    shuffled = list(values)
    random.shuffle(shuffled)  # type: ignore[attr-defined]
    assert settle(shuffled) == settle(values)


@given(st.lists(_sizes, min_size=1, max_size=6))
def test_what_is_settled_lies_within_what_was_read(read: list[float]) -> None:
    kept = settle([value(size, f"r{number}") for number, size in enumerate(read)])
    assert all(min(read) - 1e-9 <= one.value <= max(read) + 1e-9 for one in kept)
