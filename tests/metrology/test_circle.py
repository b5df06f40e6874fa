"""The least-squares circle: equal to SciPy's, invariant, and honest about what cannot be fitted."""

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.optimize import least_squares

from inspect_app.metrology.circle import (
    Circle,
    Points,
    algebraic_circle,
    even_angles,
    fit_circle,
    fit_profile,
    lobed,
    polar_points,
    two_point_out_of_round,
)
from inspect_app.metrology.estimate import Undetermined


def fitted(points: Points) -> Circle:
    found = fit_circle(points)
    assert not isinstance(found, Undetermined), found.reason
    return found


def noisy(seed: int, arc: float = 360.0, noise: float = 0.05) -> Points:
    generator = np.random.default_rng(seed)
    angles = generator.uniform(0, arc, 12)
    return polar_points(40 + generator.normal(0, noise, 12), angles) + generator.uniform(-5, 5, 2)


@pytest.mark.parametrize("seed", range(20))
@pytest.mark.parametrize("arc", [360.0, 120.0])
def test_scipy_finds_the_same_circle(seed: int, arc: float) -> None:
    points = noisy(seed, arc)

    def away(state: Points) -> Points:
        return np.asarray(np.hypot(points[:, 0] - state[0], points[:, 1] - state[1]) - state[2])

    theirs = least_squares(away, algebraic_circle(points), xtol=1e-15, ftol=1e-15, gtol=1e-15)
    mine = fitted(points)
    assert (mine.x, mine.y, mine.radius) == pytest.approx(theirs.x, abs=1e-6)
    assert mine.sum_of_squares <= 2 * theirs.cost * (1 + 1e-9)


@given(st.integers(0, 1000), st.floats(0, 360), st.floats(-1000, 1000), st.floats(0.001, 1000))
@settings(max_examples=50, deadline=None)
def test_moving_turning_and_scaling_do_not_change_the_form(
    seed: int, turn: float, shift: float, factor: float
) -> None:
    points = noisy(seed)
    angle = np.deg2rad(turn)
    rotation = np.array([[np.cos(angle), -np.sin(angle)], [np.sin(angle), np.cos(angle)]])
    moved = fitted((points @ rotation.T) * factor + shift)
    assert moved.roundness == pytest.approx(factor * fitted(points).roundness, rel=1e-5, abs=1e-9)


@given(st.integers(0, 1000))
@settings(max_examples=25, deadline=None)
def test_nothing_near_is_better(seed: int) -> None:
    points = noisy(seed)
    best = fitted(points)
    for dx, dy, dr in np.random.default_rng(seed).normal(0, 0.01, (20, 3)):
        away = np.hypot(points[:, 0] - best.x - dx, points[:, 1] - best.y - dy) - best.radius - dr
        assert float(away @ away) >= best.sum_of_squares


def test_the_algebraic_fit_is_another_circle_on_an_arc() -> None:
    points = noisy(3, arc=60.0, noise=0.3)
    assert algebraic_circle(points)[2] < 0.98 * fitted(points).radius


@pytest.mark.parametrize("count", [0, 1, 2, 3])
def test_up_to_three_directions_always_fit(count: int) -> None:
    points = polar_points(np.full(count, 40.0), even_angles(count) if count else np.zeros(0))
    found = fit_circle(np.vstack((points, points)))
    assert isinstance(found, Undetermined)
    assert found.reason == f"{count} different directions always fit a circle: read at least 4"


@pytest.mark.parametrize("bend", [0.0, 1e-9])
def test_a_line_is_no_circle(bend: float) -> None:
    x = np.arange(6.0)
    found = fit_circle(np.column_stack((x, 2 * x + bend * x**2)))
    assert isinstance(found, Undetermined)
    assert "line" in found.reason


def test_a_lost_reading_is_said() -> None:
    points = noisy(1)
    points[3, 0] = np.nan
    found = fit_circle(points)
    assert isinstance(found, Undetermined)
    assert "read it again" in found.reason


def test_a_wrong_shape_is_an_error() -> None:
    with pytest.raises(ValueError, match="two coordinates"):
        fit_circle(np.zeros((5, 3)))


@pytest.mark.parametrize("directions", [2, 3, 5, 9])
def test_out_of_round_needs_opposite_directions(directions: int) -> None:
    assert isinstance(two_point_out_of_round(np.full(directions, 40.0)), Undetermined)


@pytest.mark.parametrize("centre", [(0.0, 0.0), (0.5, -0.3)])
def test_a_profile_read_off_centre_is_centred_by_the_fit(centre: tuple[float, float]) -> None:
    points = polar_points(np.full(16, 40.0), even_angles(16)) + centre
    radii, angles = np.hypot(*points.T), np.rad2deg(np.arctan2(points[:, 1], points[:, 0]))
    found = fit_profile(radii, angles)
    assert not isinstance(found, Undetermined)
    assert found.roundness == pytest.approx(0.0, abs=1e-9)
    assert (found.x, found.y) == pytest.approx(centre, abs=1e-9)


@pytest.mark.parametrize("lobes", [2, 3, 4, 5, 7])
def test_odd_lobes_hide_from_two_points(lobes: int) -> None:
    seen = two_point_out_of_round(lobed(40, lobes, 0.01, 120))
    assert not isinstance(seen, Undetermined)
    assert seen == pytest.approx(0.0 if lobes % 2 else 0.04, abs=1e-9)


@pytest.mark.parametrize("directions", [4, 8, 14])
def test_any_even_number_of_directions_from_four_gives_diameters(directions: int) -> None:
    radii = np.full(directions, 40.0)
    radii[0] += 0.03
    assert two_point_out_of_round(radii) == pytest.approx(0.03)
