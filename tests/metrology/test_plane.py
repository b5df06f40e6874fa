"""Planes through heights: the narrowest zone by its dual, laws, and what is refused."""

from itertools import combinations

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from inspect_app.metrology.estimate import Undetermined
from inspect_app.metrology.plane import Plane, Points, least_squares_plane, minimum_zone


def sure(found: Plane | Undetermined) -> Plane:
    assert not isinstance(found, Undetermined), found.reason
    return found


def grid(seed: int, count: int = 12, noise: float = 0.05) -> Points:
    generator = np.random.default_rng(seed)
    places = generator.uniform(0, 1, (count, 2)) * (400, 150)
    return np.column_stack((places, generator.normal(0, noise, count)))


def narrowest_width(points: Points) -> float:
    """The other way round: the widest of the narrowest zones of any four points (no programme solved).

    Four points have one affine dependence w (sum w = 0, sum w x = 0, sum w y = 0), and their zone is
    2 |w . z| / sum |w| wide. By duality the whole set's zone is that of its worst four.
    """
    widest = 0.0
    for four in combinations(range(len(points)), 4):
        x, y, z = points[list(four)].T
        weights = np.array(
            [(-1) ** i * np.linalg.det(np.delete(np.array([np.ones(4), x, y]), i, axis=1)) for i in range(4)]
        )
        size = np.abs(weights).sum()
        if size > 1e-9:
            widest = max(widest, 2 * abs(float(weights @ z)) / float(size))
    return widest


@pytest.mark.parametrize("seed", range(8))
@pytest.mark.parametrize("count", [4, 5, 9])
def test_the_dual_finds_the_same_width(seed: int, count: int) -> None:
    points = grid(seed, count)
    assert sure(minimum_zone(points)).flatness == pytest.approx(narrowest_width(points), rel=1e-7, abs=1e-10)


def test_the_dual_finds_the_same_width_on_a_regular_grid() -> None:
    """Rows of a grid lie on lines: the degenerate case."""
    x, y = np.meshgrid([0.0, 200.0, 400.0], [0.0, 75.0, 150.0])
    z = np.random.default_rng(4).normal(0, 0.05, 9)
    points = np.column_stack((x.ravel(), y.ravel(), z))
    assert sure(minimum_zone(points)).flatness == pytest.approx(narrowest_width(points), rel=1e-7)


@given(st.integers(0, 500))
@settings(max_examples=25, deadline=None)
def test_the_zone_is_never_wider_than_the_least_squares_plane_says(seed: int) -> None:
    points = grid(seed)
    zone, square = sure(minimum_zone(points)), sure(least_squares_plane(points))
    assert zone.flatness <= square.flatness * (1 + 1e-9)
    assert np.square(square.deviations).sum() <= np.square(zone.deviations).sum() * (1 + 1e-9)
    assert max(zone.deviations) == pytest.approx(-min(zone.deviations), abs=1e-9)


@given(st.integers(0, 500), st.floats(-0.01, 0.01), st.floats(-0.01, 0.01), st.floats(-500, 500))
@settings(max_examples=25, deadline=None)
def test_tilt_and_height_do_not_change_the_form(seed: int, a: float, b: float, height: float) -> None:
    points = grid(seed)
    tilted = points.copy()
    tilted[:, 2] += a * points[:, 0] + b * points[:, 1] + height
    for fit in (least_squares_plane, minimum_zone):
        assert sure(fit(tilted)).flatness == pytest.approx(sure(fit(points)).flatness, rel=1e-6, abs=1e-9)


@given(st.integers(0, 100))
@settings(max_examples=15, deadline=None)
def test_one_more_place_never_narrows_the_zone(seed: int) -> None:
    points = grid(seed)
    assert sure(minimum_zone(points)).flatness >= sure(minimum_zone(points[:-1])).flatness - 1e-9


@pytest.mark.parametrize("fit", [least_squares_plane, minimum_zone])
def test_the_plane_is_given_in_the_places_own_coordinates(fit: object) -> None:
    assert callable(fit)
    points = grid(1, noise=0.0)
    points[:, 2] = 1e-4 * points[:, 0] - 2e-4 * points[:, 1] + 0.5
    plane = fit(points)
    assert (plane.slope_x, plane.slope_y, plane.height) == pytest.approx((1e-4, -2e-4, 0.5), abs=1e-9)


@pytest.mark.parametrize("fit", [least_squares_plane, minimum_zone])
@pytest.mark.parametrize(
    ("points", "words"),
    [
        (np.zeros((0, 3)), "0 different places always fit a plane: read at least 4"),
        (np.array([[0, 0, 0], [1, 0, 0], [0, 1, 0], [0, 1, 0.5]]), "3 different places"),
        (np.column_stack((np.arange(5.0), np.arange(5.0), np.ones(5))), "one line"),
        (np.array([[0, 0, 0], [1, 0, 0], [0, 1, 0], [1, 1, np.nan]]), "read it again"),
    ],
)
def test_what_is_no_face_is_said_in_words(fit: object, points: Points, words: str) -> None:
    assert callable(fit)
    found = fit(points)
    assert isinstance(found, Undetermined)
    assert words in found.reason


def test_a_wrong_shape_is_an_error() -> None:
    with pytest.raises(ValueError, match="height"):
        minimum_zone(np.zeros((5, 2)))
