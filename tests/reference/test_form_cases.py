"""Circles and planes with known answers: a published six-point set, and exact forms derived here.

No minimum-zone data set with a certified answer was found; those cases are derived and recomputed.
"""

import numpy as np
import pytest

from inspect_app.metrology.circle import (
    algebraic_circle,
    even_angles,
    fit_circle,
    fit_profile,
    lobed,
    polar_points,
    two_point_out_of_round,
)
from inspect_app.metrology.estimate import Undetermined
from inspect_app.metrology.plane import Points, least_squares_plane, minimum_zone
from inspect_app.metrology.straightedge import Line, against_limit, worst_gap

SIX_POINTS = np.array([(1, 7), (2, 6), (5, 8), (7, 7), (9, 5), (3, 7)], dtype=float)
"""From a 1994 paper in BIT 34 on fitting circles and ellipses (data and result from memory, recomputed)."""


def test_six_points_geometric_fit() -> None:
    circle = fit_circle(SIX_POINTS)
    assert not isinstance(circle, Undetermined)
    assert (circle.x, circle.y, circle.radius) == pytest.approx((4.739782, 2.983533, 4.714226), abs=1e-6)
    assert circle.sum_of_squares == pytest.approx(1.227599, abs=1e-6)


def test_six_points_algebraic_fit_is_the_trap() -> None:
    """One widely used image library returns this one from its circle model (run, recomputed)."""
    algebraic = algebraic_circle(SIX_POINTS)
    assert algebraic == pytest.approx((4.742331, 3.835123, 4.108762), abs=1e-6)
    away = np.hypot(SIX_POINTS[:, 0] - algebraic[0], SIX_POINTS[:, 1] - algebraic[1]) - algebraic[2]
    assert float(away @ away) > 1.1 * 1.227599


@pytest.mark.parametrize("centre", [(0.0, 0.0), (3.0, -2.0)])
@pytest.mark.parametrize(("lobes", "two_point"), [(2, 0.04), (3, 0.0)])
def test_exact_lobed_forms(lobes: int, two_point: float, centre: tuple[float, float]) -> None:
    """r = R + e cos(n angle), 24 points: RONt = 2e; two points see 4e of an oval, nothing of three lobes."""
    radii = lobed(40.0, lobes, 0.01, 24)
    circle = fit_circle(polar_points(radii, even_angles(24)) + centre)
    assert not isinstance(circle, Undetermined)
    assert circle.roundness == pytest.approx(0.02, abs=1e-9)
    assert circle.radius == pytest.approx(40.0, abs=1e-9)
    assert np.sqrt(circle.sum_of_squares / 24) == pytest.approx(0.01 / np.sqrt(2), abs=1e-9)
    assert two_point_out_of_round(radii) == pytest.approx(two_point, abs=1e-9)


def test_three_directions_cannot_tell_three_lobes_from_a_circle() -> None:
    assert isinstance(fit_profile(lobed(40.0, 3, 0.01, 3), even_angles(3)), Undetermined)


CORNERS = [(0.0, 0.0), (400.0, 0.0), (400.0, 150.0), (0.0, 150.0)]
CENTRE = (200.0, 75.0)
RAILS = [(float(x), float(y)) for y in (0, 150) for x in (0, 133, 267, 400)]


def heights(places: list[tuple[float, float]], z: list[float]) -> Points:
    return np.column_stack((np.array(places), np.array(z)))


@pytest.mark.parametrize(
    ("points", "flatness"),
    [
        (heights(CORNERS, [0.03, -0.03, 0.03, -0.03]), 0.06),
        (heights([*CORNERS, CENTRE], [0, 0, 0, 0, 0.06]), 0.06),
        (heights(CORNERS, [0.08, 0, 0, 0]), 0.04),
        (heights([*CORNERS, CENTRE], [1e-4 * x - 2e-4 * y + 0.5 for x, y in [*CORNERS, CENTRE]]), 0.0),
        (heights(RAILS, [0, 0.05, 0.05, 0] * 2), 0.05),
    ],
    ids=["saddle", "centre high", "one corner high", "tilted", "long bow"],
)
def test_derived_planes(points: Points, flatness: float) -> None:
    """Derived by hand: least squares and narrowest zone agree in each of these."""
    for fit in (least_squares_plane, minimum_zone):
        plane = fit(points)
        assert not isinstance(plane, Undetermined)
        assert plane.flatness == pytest.approx(flatness, abs=1e-9)


def test_straightedge_and_plane_report_different_numbers_of_one_face() -> None:
    """One corner 0.08 high, the face ruled between its corners: its middle is 0.02 high, so an edge on
    either diagonal, held evenly, shows 0.02. The planes are 0.04 apart. A report must say which it is."""
    plane = minimum_zone(heights(CORNERS, [0.08, 0, 0, 0]))
    assert not isinstance(plane, Undetermined)
    lines = [Line("diagonal through the high corner", 0.015, 0.025), Line("other diagonal", 0.015, 0.025)]
    assert worst_gap(lines) == (0.015, 0.025)
    assert against_limit(lines[1], 0.03) == "inside"
    assert plane.flatness == pytest.approx(0.04)
