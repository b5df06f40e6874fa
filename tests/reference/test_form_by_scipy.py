"""Form fits held against SciPy, and SciPy held against plain geometry: neither is taken on trust.

Ours takes SciPy's linear programme for the narrowest zone and its own descent for the circle. SciPy's
general minimiser and its convex hull, which know nothing of either, must come to the same numbers. The
other way round, four points of the zone prove in whole numbers that SciPy cannot have missed a narrower.
"""

from fractions import Fraction
from itertools import combinations

import numpy as np
import pytest
from scipy.optimize import least_squares, minimize
from scipy.spatial import ConvexHull

from inspect_app.metrology.circle import Points, algebraic_circle, fit_circle
from inspect_app.metrology.estimate import Undetermined
from inspect_app.metrology.plane import least_squares_plane, minimum_zone

SEEDS = pytest.mark.parametrize("seed", range(6))


def face(seed: int, count: int = 12) -> Points:
    """A face of 400 x 150 mm, its heights scattered by 0.05 mm."""
    generator = np.random.default_rng(seed)
    return np.column_stack(
        (generator.uniform(0, 400, count), generator.uniform(0, 150, count), generator.normal(0, 0.05, count))
    )


def zone_of(points: Points) -> float:
    plane = minimum_zone(points)
    assert not isinstance(plane, Undetermined)
    return plane.flatness


@SEEDS
def test_scipys_general_minimiser_comes_to_the_same_zone(seed: int) -> None:
    """Half the width t is made least under 2 n constraints, from the least-squares plane on."""
    points = face(seed)
    design = np.column_stack((points[:, 0] / 400, points[:, 1] / 150, np.ones(len(points))))
    heights = points[:, 2] / 0.05

    def room(state: Points) -> Points:
        away = heights - design @ state[:3]
        return np.concatenate((state[3] - away, state[3] + away))

    start = np.append(np.linalg.lstsq(design, heights, rcond=None)[0], 10.0)
    options = {"ftol": 1e-12, "maxiter": 500}
    found = minimize(
        lambda state: state[3], start, constraints={"type": "ineq", "fun": room}, options=options
    )
    assert found.success
    assert zone_of(points) == pytest.approx(2 * 0.05 * found.x[3], rel=1e-6)


def slopes(points: Points) -> Points:
    """Slopes [n, 2] of all planes through a side of SciPy's hull, or parallel to two of its edges."""
    hull = ConvexHull(points * (1 / 400, 1 / 150, 1 / 0.05))
    edges = {tuple(sorted(pair)) for side in hull.simplices for pair in combinations(side.tolist(), 2)}
    along = np.array([hull.points[j] - hull.points[i] for i, j in sorted(edges)])
    normals = [*hull.equations[:, :3], *(np.cross(a, b) for a, b in combinations(along, 2))]
    steep = np.array([normal for normal in normals if abs(normal[2]) > 1e-9])
    return -steep[:, :2] / steep[:, 2:] * (0.05 / 400, 0.05 / 150)


@SEEDS
def test_scipys_convex_hull_comes_to_the_same_zone(seed: int) -> None:
    """The narrowest of the zones that touch the hull by side and corner, or by edge and edge."""
    points = face(seed)
    away = points[:, 2] - slopes(points) @ points[:, :2].T
    assert zone_of(points) == pytest.approx(float(np.ptp(away, axis=1).min()), rel=1e-9)


def exact_width(four: list[tuple[int, int, int]]) -> Fraction:
    """The narrowest zone of four points of whole numbers, exactly: 2 |w . z| / sum |w|.

    The weights w are those with sum w = 0, sum w x = 0 and sum w y = 0; any other plane leaves w . z as
    it is, so that some point must stand off from it by at least half of this.
    """

    def doubled_area(a: int, b: int, c: int) -> int:
        (ax, ay, _), (bx, by, _), (cx, cy, _) = four[a], four[b], four[c]
        return (bx - ax) * (cy - ay) - (by - ay) * (cx - ax)

    weights = [doubled_area(1, 2, 3), -doubled_area(0, 2, 3), doubled_area(0, 1, 3), -doubled_area(0, 1, 2)]
    size = sum(map(abs, weights))
    return Fraction(2 * abs(sum(w * z for w, (_, _, z) in zip(weights, four, strict=True))), size or 1)


@SEEDS
def test_four_points_prove_that_scipy_missed_no_narrower_zone(seed: int) -> None:
    """In whole micrometres: no plane is nearer to all points than the worst four of them allow."""
    whole = np.rint(face(seed, 9) * (1, 1, 1000)).astype(int)
    proof = max(exact_width([tuple(point) for point in four]) for four in combinations(whole.tolist(), 4))
    assert zone_of(whole.astype(float)) == pytest.approx(float(proof), rel=1e-9)


@SEEDS
def test_scipys_least_squares_comes_to_the_same_plane(seed: int) -> None:
    points = face(seed)
    mine = least_squares_plane(points)
    assert not isinstance(mine, Undetermined)
    theirs = least_squares(
        lambda s: points[:, 2] - s[0] * points[:, 0] - s[1] * points[:, 1] - s[2],
        [0.0, 0.0, 0.0],
        x_scale=[1e-4, 1e-4, 0.1],
        xtol=1e-15,
        gtol=1e-15,
    )
    assert (mine.slope_x, mine.slope_y, mine.height) == pytest.approx(theirs.x, abs=1e-9)


@SEEDS
@pytest.mark.parametrize("arc", [360.0, 120.0])
def test_scipys_least_squares_comes_to_the_same_circle_not_to_the_algebraic_one(
    seed: int, arc: float
) -> None:
    generator = np.random.default_rng(seed)
    turn = np.deg2rad(generator.uniform(0, arc, 12))
    points = np.column_stack((np.cos(turn), np.sin(turn))) * (40 + generator.normal(0, 0.5, (12, 1)))
    mine = fit_circle(points)
    assert not isinstance(mine, Undetermined)

    def away(state: Points) -> Points:
        return np.asarray(np.hypot(points[:, 0] - state[0], points[:, 1] - state[1]) - state[2])

    theirs = least_squares(away, [0.0, 0.0, 40.0], xtol=1e-15, ftol=1e-15, gtol=1e-15)
    assert (mine.x, mine.y, mine.radius) == pytest.approx(theirs.x, abs=1e-5)
    assert mine.sum_of_squares < np.square(away(np.array(algebraic_circle(points)))).sum()
