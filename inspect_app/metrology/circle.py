"""Roundness of a section read in many directions: the least-squares circle and what it misses.

The fit is *geometric*: it minimises the sum of squares of the true radial distances. The algebraic
fit that some libraries return minimises something else and can be far off on a short arc. RONt is
the largest minus the smallest radial deviation from the least-squares circle (ISO 12181-1:2011; the
title was seen, the parameter's definition is from memory). Lengths in mm, angles in degrees.
"""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from .estimate import Undetermined

Points = NDArray[np.float64]
FEWEST = 4
STEPS = 200
LONGEST = 1000.0
"""A radius beyond so many times the extent of the points is a line, not a circle."""


@dataclass(frozen=True)
class Circle:
    """Centre and radius in mm, with the radial deviation of each point (outside positive)."""

    x: float
    y: float
    radius: float
    deviations: tuple[float, ...]

    @property
    def roundness(self) -> float:
        """RONt: largest minus smallest deviation, mm, >= 0.

        >>> Circle(0.0, 0.0, 40.0, (0.25, -0.25, 0.25, -0.25)).roundness
        0.5
        """
        return max(self.deviations) - min(self.deviations)

    @property
    def sum_of_squares(self) -> float:
        """What the fit made as small as it can be, mm squared."""
        return float(np.square(self.deviations).sum())


def polar_points(radii: Points, angles: Points) -> Points:
    """Points [n, 2] of readings `radii` (mm) taken at `angles` (degrees) from one centre.

    >>> polar_points(np.array([40.0, 41.0]), np.array([0.0, 90.0])).round(6).tolist()
    [[40.0, 0.0], [0.0, 41.0]]
    """
    turn = np.deg2rad(angles)
    return np.column_stack((radii * np.cos(turn), radii * np.sin(turn)))


def fit_circle(points: Points) -> Circle | Undetermined:
    """Least-squares circle of `points` [n, 2] in mm, n >= 4 different ones around or along the circle.

    Damped Gauss-Newton from the algebraic fit. Undetermined, with its reason, for fewer than four
    different points (three always lie on some circle), points on one line, and values not finite.
    Not for a short arc with noise: the centre is then poorly known although the fit ends.
    Source: geometric fit of a published six-point set recomputed in `tests/reference`.

    >>> circle = fit_circle(np.array([[3.0, 0.0], [0.0, 3.0], [-3.0, 0.0], [0.0, -3.0]]))
    >>> round(circle.radius, 6)
    3.0
    """
    refused = _refusal(points)
    if refused is not None:
        return refused
    middle, scale = points.mean(axis=0), float(np.ptp(points, axis=0).max())
    found = _descend((points - middle) / scale)
    if found is None:
        return Undetermined("the points lie on a line or too flat an arc: no circle fits them best")
    x, y, radius = middle[0] + found[0] * scale, middle[1] + found[1] * scale, found[2] * scale
    away = np.hypot(points[:, 0] - x, points[:, 1] - y) - radius
    return Circle(float(x), float(y), float(radius), tuple(away.tolist()))


def _refusal(points: Points) -> Undetermined | None:
    if points.ndim != 2 or points.shape[1] != 2:
        raise ValueError(f"points are rows of two coordinates, not an array of shape {points.shape}")
    if not np.isfinite(points).all():
        return Undetermined("a point is no finite number: read it again")
    different = len(np.unique(points, axis=0))
    if different < FEWEST:
        return Undetermined(f"{different} different directions always fit a circle: read at least {FEWEST}")
    return None


def algebraic_circle(points: Points) -> tuple[float, float, float]:
    """Centre and radius (mm) that minimise the sum of squares of (distance^2 - radius^2); a first guess only.

    `points` [n, 2] in mm. Biased towards small circles on an arc: never report it. Collinear points give a
    huge radius.

    >>> x, y, radius = algebraic_circle(np.array([[3.0, 0.0], [0.0, 3.0], [-3.0, 0.0], [0.0, -3.0]]))
    >>> round(radius, 6)
    3.0
    """
    design = np.column_stack((2 * points, np.ones(len(points))))
    x, y, rest = np.linalg.lstsq(design, (points**2).sum(axis=1), rcond=None)[0]
    return float(x), float(y), float(np.sqrt(max(rest + x * x + y * y, 0.0)))


def _descend(points: Points) -> Points | None:
    """Centre and radius of the geometric fit of centred points of extent 1, or None if none ends."""
    state: Points = np.array(algebraic_circle(points))
    damping = 1e-6
    residual, jacobian = _distances(points, state)
    for _ in range(STEPS):
        held = np.vstack((jacobian, np.sqrt(damping) * np.eye(3)))
        step = np.linalg.lstsq(held, np.concatenate((-residual, np.zeros(3))), rcond=None)[0]
        trial, slope = _distances(points, state + step)
        if trial @ trial > residual @ residual * (1 + 1e-12):
            damping *= 10
            continue
        state = np.asarray(state + step)
        residual, jacobian, damping = trial, slope, damping / 10
        if abs(state[2]) > LONGEST:
            return None
        if np.abs(step).max() < 1e-13 * (1 + np.abs(state).max()):
            return state
    return None


def _distances(points: Points, state: Points) -> tuple[Points, Points]:
    """Radial deviations [n] and how they change with centre and radius [n, 3]."""
    towards = points - state[:2]
    distance = np.hypot(towards[:, 0], towards[:, 1])
    unit = towards / np.maximum(distance, 1e-300)[:, None]
    return distance - state[2], np.column_stack((-unit, -np.ones(len(points))))


def fit_profile(radii: Points, angles: Points) -> Circle | Undetermined:
    """The same for readings `radii` [n] (mm) at `angles` [n] (degrees) from one centre, n >= 4.

    The centre read from need not be the section's own: the fit finds it.

    >>> shape = lobed(40.0, 3, 0.01, 24)
    >>> round(fit_profile(shape, even_angles(24)).roundness, 9)
    0.02
    """
    return fit_circle(polar_points(radii, angles))


def even_angles(directions: int) -> Points:
    """Angles of so many even directions of a full turn, degrees, beginning at 0.

    >>> even_angles(4).tolist()
    [0.0, 90.0, 180.0, 270.0]
    """
    return np.asarray(np.arange(directions) * (360.0 / directions), dtype=np.float64)


def lobed(radius: float, lobes: int, amplitude: float, directions: int) -> Points:
    """Radii [directions] of an exactly lobed section: ``radius + amplitude * cos(lobes * angle)``, mm.

    For checks and pictures. Its RONt is 2 * amplitude where the directions meet crest and valley.

    >>> lobed(40.0, 2, 0.25, 4).tolist()
    [40.25, 39.75, 40.25, 39.75]
    """
    return np.asarray(radius + amplitude * np.cos(lobes * np.deg2rad(even_angles(directions))))


def two_point_out_of_round(radii: Points) -> float | Undetermined:
    """Largest minus smallest diameter (mm) of a section read in an even number of even directions.

    What a two-point gauge sees: blind to three lobes, five, and every odd number; twice RONt for an
    oval. Undetermined for fewer than four directions or an odd number (no direction has its opposite).

    >>> round(two_point_out_of_round(lobed(40.0, 2, 0.01, 24)), 9)
    0.04
    >>> round(two_point_out_of_round(lobed(40.0, 3, 0.01, 24)), 9)
    0.0
    """
    if len(radii) < FEWEST or len(radii) % 2:
        return Undetermined(
            f"{len(radii)} directions: a diameter needs two opposite ones, out-of-round two diameters"
        )
    half = len(radii) // 2
    return float(np.ptp(radii[:half] + radii[half:]))
