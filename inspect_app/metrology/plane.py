"""Flatness of a face from heights on a grid: least-squares plane, and the narrowest zone that holds it.

Heights z over places x, y, all in mm. Deviations are taken along z: the error of that is below 1 part in
10,000 while the face is tilted by less than 1 in 100. FLTt is the peak-to-valley deviation from a
reference plane (ISO 12781-1:2011: title seen, parameter from memory); the minimum zone is two
parallel planes enclosing all points with the least separation (wording of ISO 12780-1:2011 for
straightness, seen in a secondary text). Readings with straightedge and leaf are no heights: see
`straightedge`.
"""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from .estimate import Undetermined

Points = NDArray[np.float64]
FEWEST = 4


@dataclass(frozen=True)
class Plane:
    """z = slope_x * x + slope_y * y + height, with each point's deviation above it (mm)."""

    slope_x: float
    slope_y: float
    height: float
    deviations: tuple[float, ...]

    @property
    def flatness(self) -> float:
        """FLTt: largest minus smallest deviation, mm, >= 0.

        >>> Plane(0.0, 0.0, 0.0, (0.25, -0.5)).flatness
        0.75
        """
        return max(self.deviations) - min(self.deviations)


def least_squares_plane(points: Points) -> Plane | Undetermined:
    """The plane that makes the sum of squared deviations least, of `points` [n, 3] = x, y, z in mm.

    Its flatness is never below that of the minimum zone. Undetermined for fewer than four places
    (three always lie on a plane), places on one line, and values not finite.

    >>> corners = np.array([[0, 0, 0.08], [400, 0, 0], [400, 150, 0], [0, 150, 0]])
    >>> round(least_squares_plane(corners).flatness, 9)
    0.04
    """
    refused = _refusal(points)
    if refused is not None:
        return refused
    design, middle, scale = _design(points)
    a, b, c = np.linalg.lstsq(design, points[:, 2], rcond=None)[0]
    return _plane(points, design, np.array([a, b, c]), middle, scale)


def minimum_zone(points: Points) -> Plane | Undetermined:
    """The plane midway in the narrowest zone holding `points` [n, 3]: its flatness is that zone's width.

    Exact, as a linear programme (the largest deviation made least). The width is one; the plane may
    not be where points are few. Undetermined as `least_squares_plane`. Noise widens the zone as it
    does every largest minus smallest: not to be held against a limit finer than the readings.

    >>> saddle = np.array([[0, 0, 0.02], [400, 0, -0.02], [400, 150, 0.02], [0, 150, -0.02]])
    >>> round(minimum_zone(saddle).flatness, 9)
    0.04
    """
    refused = _refusal(points)
    if refused is not None:
        return refused
    design, middle, scale = _design(points)
    largest = float(np.ptp(points[:, 2])) or 1.0
    solved = _least_largest(design, (points[:, 2] - points[0, 2]) / largest)
    if solved is None:
        return Undetermined("the narrowest zone could not be computed for these heights")
    solved = solved * largest
    solved[2] += points[0, 2]
    return _plane(points, design, solved, middle, scale)


def _least_largest(design: Points, heights: Points) -> Points | None:
    """Coefficients [3] with the least largest absolute deviation from `heights`."""
    from scipy.optimize import linprog

    one = np.ones((len(heights), 1))
    rows = np.vstack((np.hstack((design, -one)), np.hstack((-design, -one))))
    bounds = [(None, None)] * 3 + [(0.0, None)]
    answer = linprog([0.0, 0.0, 0.0, 1.0], rows, np.concatenate((heights, -heights)), bounds=bounds)
    return np.asarray(answer.x[:3], dtype=np.float64) if answer.success else None


def _refusal(points: Points) -> Undetermined | None:
    if points.ndim != 2 or points.shape[1] != 3:
        raise ValueError(f"points are rows of x, y and height, not an array of shape {points.shape}")
    if not np.isfinite(points).all():
        return Undetermined("a height or a place is no finite number: read it again")
    different = len(np.unique(points[:, :2], axis=0))
    if different < FEWEST:
        return Undetermined(f"{different} different places always fit a plane: read at least {FEWEST}")
    flat = points[:, :2] - points[:, :2].mean(axis=0)
    if np.linalg.matrix_rank(flat, 1e-9 * float(np.abs(flat).max())) < 2:
        return Undetermined("all places lie on one line: read across it too")
    return None


def _design(points: Points) -> tuple[Points, Points, float]:
    """Columns x, y, 1 of the places, centred and scaled to about 1; with centre and scale."""
    middle = points[:, :2].mean(axis=0)
    scale = float(np.abs(points[:, :2] - middle).max())
    return np.column_stack(((points[:, :2] - middle) / scale, np.ones(len(points)))), middle, scale


def _plane(points: Points, design: Points, found: Points, middle: Points, scale: float) -> Plane:
    away = points[:, 2] - design @ found
    x, y = float(found[0]) / scale, float(found[1]) / scale
    height = float(found[2]) - x * float(middle[0]) - y * float(middle[1])
    return Plane(x, y, height, tuple(away.tolist()))
