"""Spans of noisy readings: the stated rate of false calls is held, on simulated parts and by quadrature."""

from math import sqrt

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from numpy.typing import NDArray
from scipy.special import ndtr

from inspect_app.metrology.conformity import p_beyond
from inspect_app.metrology.estimate import Undetermined
from inspect_app.metrology.spread import (
    Layout,
    chance_beyond,
    chance_inside,
    inside_threshold,
    threshold,
    true_places,
)

LAYOUTS = [Layout(2), Layout(3, 2), Layout(2, 3), Layout(4, 4), Layout(7, 1)]
RATIOS = [0.0, 0.7, 2.0, 5.0, 30.0]
PARTS = 50_000
ROOM = 4.5 * sqrt(0.05 * 0.95 * 1.5 / PARTS)
"""Four and a half standard deviations of a binomial share of simulated parts, with room."""


def number(found: float | Undetermined) -> float:
    assert not isinstance(found, Undetermined)
    return found


def spans_of(places: NDArray[np.float64], u: float, seed: int = 99) -> NDArray[np.float64]:
    """Observed figures of many parts with these true sizes [rows, readings]; a seed of our own."""
    generator = np.random.default_rng(seed)
    read = places + generator.normal(0, u, (PARTS, *places.shape))
    return np.asarray(np.ptp(read, axis=2).max(axis=1))


def exact_share_below(places: NDArray[np.float64], span: float) -> float:
    """P(observed span <= `span`) for u = 1 by quadrature over each row's smallest reading."""
    x = np.linspace(-9, 9 + places.max(), 4001)
    below = 1.0
    for row in places:
        within = ndtr(x[:, None] + span - row) - ndtr(x[:, None] - row)
        density = np.exp(-0.5 * (x[:, None] - row) ** 2) / sqrt(2 * np.pi)
        others = [np.prod(np.delete(within, i, axis=1), axis=1) for i in range(row.size)]
        below *= float(np.trapezoid((density * np.array(others).T).sum(axis=1), x))
    return below


@pytest.mark.parametrize("ratio", RATIOS)
@pytest.mark.parametrize("layout", LAYOUTS, ids=str)
def test_parts_exactly_at_the_limit_are_called_beyond_at_the_stated_rate(
    layout: Layout, ratio: float
) -> None:
    u = 0.002
    limit = ratio * u
    spans = spans_of(true_places("reads widest", layout, limit), u)
    assert np.mean(spans > number(threshold(layout, u, limit, 0.05))) == pytest.approx(0.05, abs=ROOM)


@pytest.mark.parametrize("ratio", RATIOS[1:])
@pytest.mark.parametrize("layout", LAYOUTS, ids=str)
def test_parts_exactly_at_the_limit_are_called_inside_at_the_stated_rate(
    layout: Layout, ratio: float
) -> None:
    u = 0.002
    spans = spans_of(true_places("reads narrowest", layout, ratio * u), u)
    below = number(inside_threshold(layout, u, ratio * u, 0.05))
    assert np.mean(spans < below) == pytest.approx(0.05, abs=ROOM)


@pytest.mark.parametrize("shape", range(12))
@pytest.mark.parametrize("layout", [Layout(3, 2), Layout(5, 3)], ids=str)
def test_no_other_part_at_its_limit_is_called_more_often(layout: Layout, shape: int) -> None:
    """Places anywhere, one row with the full span: neither rate is passed."""
    generator = np.random.default_rng(shape)
    u, limit = 1.0, float(generator.choice([1.0, 3.0, 8.0]))
    places = generator.uniform(0, limit, (layout.rows, layout.readings))
    places[0, :2] = 0.0, limit
    spans = spans_of(places, u)
    assert np.mean(spans > number(threshold(layout, u, limit))) <= 0.05 + ROOM
    assert np.mean(spans < number(inside_threshold(layout, u, limit))) <= 0.05 + ROOM


@pytest.mark.parametrize("part", ["reads widest", "reads narrowest"])
@pytest.mark.parametrize("ratio", RATIOS)
@pytest.mark.parametrize("layout", LAYOUTS, ids=str)
def test_the_share_equals_the_integral(layout: Layout, ratio: float, part: str) -> None:
    widest = part == "reads widest"
    places = true_places("reads widest" if widest else "reads narrowest", layout, ratio)
    for excess in (0.3, 1.0, 2.0, 3.5):
        observed = ratio + excess
        exact = exact_share_below(places, observed)
        mine = number((chance_beyond if widest else chance_inside)(observed, layout, 1.0, ratio))
        assert (mine if widest else 1 - mine) == pytest.approx(exact, abs=2e-6)


def test_a_normal_around_the_figure_would_call_far_too_many() -> None:
    """Why the simulated part is needed: with 3 x 2 readings the plain chance is wrong three times in four."""
    u, limit, layout = 0.001, 0.02, Layout(3, 2)
    spans = spans_of(true_places("reads widest", layout, limit), u)
    plain = np.array([p_beyond(float(span), sqrt(2) * u, limit, "above") for span in spans[:20_000]])
    assert np.mean(plain > 0.5) > 0.8
    assert np.mean(plain >= 0.95) > 0.08
    ours = number(threshold(layout, u, limit, 0.5))
    assert np.mean(spans > ours) == pytest.approx(0.5, abs=0.01)


def test_the_rate_also_holds_for_a_gauge_that_rounds() -> None:
    """Dial bore gauge of 0.0001 in: rounding is not normal, yet no more good parts are called beyond."""
    digit, repeat = 0.00254, 0.00254
    u, limit, layout = sqrt(digit**2 / 12 + repeat**2), 0.0508, Layout(3, 2)
    generator = np.random.default_rng(3)
    places = true_places("reads widest", layout, limit) + generator.uniform(0, digit, (PARTS, 1, 1))
    read = np.round((places + generator.normal(0, repeat, places.shape)) / digit) * digit
    spans = np.ptp(read, axis=2).max(axis=1)
    assert np.mean(spans > number(threshold(layout, u, limit))) <= 0.06


@given(st.floats(0, 0.2), st.floats(0.0001, 0.01), st.floats(0, 0.1), st.floats(0, 0.1))
@settings(max_examples=40, deadline=None)
def test_a_wider_span_is_never_less_beyond(limit: float, u: float, one: float, other: float) -> None:
    limit = round(limit, 2)
    u = round(u, 3) or 0.001
    low, high = sorted((one, other))
    layout = Layout(3, 2)
    assert number(chance_beyond(low, layout, u, limit)) <= number(chance_beyond(high, layout, u, limit))
    assert number(chance_inside(low, layout, u, limit)) >= number(chance_inside(high, layout, u, limit))


@pytest.mark.parametrize("layout", LAYOUTS, ids=str)
def test_between_the_two_thresholds_nothing_is_proven(layout: Layout) -> None:
    inside = number(inside_threshold(layout, 0.001, 0.05))
    beyond = number(threshold(layout, 0.001, 0.05))
    assert inside < 0.05 < beyond
    assert number(chance_beyond(beyond, layout, 0.001, 0.05)) == pytest.approx(0.95)
    assert number(chance_inside(inside, layout, 0.001, 0.05)) == pytest.approx(0.95)


@pytest.mark.parametrize(
    ("observed", "beyond", "inside"), [(0.049, 0.0, 1.0), (0.05, 0.0, 1.0), (0.051, 1.0, 0.0)]
)
def test_without_doubt_the_limit_itself_is_inside(observed: float, beyond: float, inside: float) -> None:
    assert chance_beyond(observed, Layout(3), 0.0, 0.05) == beyond
    assert chance_inside(observed, Layout(3), 0.0, 0.05) == inside
    assert threshold(Layout(3), 0.0, 0.05) == 0.05


def test_one_reading_has_no_span_and_says_what_to_do() -> None:
    for found in (threshold(Layout(1, 4), 0.001, 0.05), chance_beyond(0.01, Layout(1), 0.0, 0.05)):
        assert found == Undetermined("one reading in a row has no span: read a second place")


@pytest.mark.parametrize(("u", "limit"), [(-0.001, 0.05), (0.001, -0.05), (float("nan"), 0.05)])
def test_negative_doubts_and_limits_are_refused(u: float, limit: float) -> None:
    with pytest.raises(ValueError, match="at least 0"):
        threshold(Layout(3), u, limit)


@pytest.mark.parametrize("rate", [0.0, 1.0, 5.0])
def test_rates_that_are_no_rates_are_refused(rate: float) -> None:
    with pytest.raises(ValueError, match="rates"):
        threshold(Layout(3), 0.001, 0.05, rate)


def test_no_rows_are_refused() -> None:
    with pytest.raises(ValueError, match="at least one row"):
        Layout(3, 0)


def test_the_unit_does_not_matter() -> None:
    inch = number(threshold(Layout(3, 2), 0.0001, 0.002))
    assert number(threshold(Layout(3, 2), 0.00254, 0.0508)) == pytest.approx(25.4 * inch)


def test_far_from_the_limit_nothing_is_summed_and_nothing_changes() -> None:
    for excess, share in ((8.99, 1.0), (9.0, 1.0), (-8.99, 0.0), (-9.0, 0.0)):
        found = number(chance_beyond(30.0 + excess, Layout(3, 2), 1.0, 30.0))
        assert found == pytest.approx(share, abs=1e-8)
