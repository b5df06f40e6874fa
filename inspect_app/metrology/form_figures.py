"""Figures of form: gaps under a straightedge, zones of a grid of heights, roundness of a swept section.

They take slots as the other figures do. What is not read leaves the upper end open. Lengths in mm.
"""

from collections.abc import Sequence
from math import inf, sqrt

import numpy as np

from inspect_app.model.units import clean

from .circle import even_angles, fit_profile
from .estimate import Undetermined
from .figure import Figure, Slots
from .plane import Plane, least_squares_plane, minimum_zone
from .straightedge import Line, worst_gap

PASSES, STOPS = "passes", "stops"
ANY_RADIUS = 50.0
"""What a sweep is laid round where the size is not known: it shifts roundness by less than 1 part in 100."""


def straightedge_gap(slots: Slots) -> Figure:
    """The largest gap over all lines (stations): the thickest leaf that passes to the thinnest that stops.

    Directions are "passes" and "stops"; no leaf that passes counts as 0, none that stops as open. A
    leaf that passes although a thicker one stopped elsewhere on the line is a conflict: the worse
    counts. Held against straightedge limits only; see `straightedge`.
    """
    lines, missing = [], []
    for name in dict.fromkeys(station for _, station, _ in slots):
        passes = [v for slot in slots if slot[1:] == (name, PASSES) for v in slots[slot]]
        stops = [v for slot in slots if slot[1:] == (name, STOPS) for v in slots[slot]]
        missing += [slot for slot in slots if slot[1:] == (name, STOPS) and not stops]
        thickest = clean(max((v.value for v in passes), default=0.0))
        thinnest = clean(min((v.value for v in stops), default=inf))
        lines.append(Line(name, thickest, thinnest if thinnest > thickest else inf))
    gap = worst_gap(lines)
    if isinstance(gap, Undetermined):
        return Figure(0.0, inf, missing=tuple(missing))
    read = [v for values in slots.values() for v in values]
    told = [v for v in read if clean(v.value) == gap[0]] or read
    u = max((v.u for v in told), default=0.0)
    return Figure(gap[0], gap[1], u, tuple(i for v in told for i in v.evidence), tuple(missing))


def flatness_zone(slots: Slots, stations: Sequence[str], directions: Sequence[str]) -> Figure:
    """Width of the narrowest zone of two parallel planes that holds heights read on a grid.

    `stations` and `directions` stand evenly along and across the face: the width does not depend on
    how far. Not to be held against a straightedge limit.
    """
    return _flatness(slots, stations, directions, zone=True)


def flatness_plane(slots: Slots, stations: Sequence[str], directions: Sequence[str]) -> Figure:
    """The same about the least-squares plane: never below the narrowest zone; told beside it."""
    return _flatness(slots, stations, directions, zone=False)


def _flatness(slots: Slots, stations: Sequence[str], directions: Sequence[str], zone: bool) -> Figure:
    read = [(slot, v) for slot, values in slots.items() for v in values]
    missing = tuple(slot for slot, values in slots.items() if not values)
    points = np.array([[stations.index(s[1]), directions.index(s[2]), v.value] for s, v in read], dtype=float)
    plane: Plane | Undetermined = Undetermined("nothing was read")
    if read:
        plane = minimum_zone(points) if zone else least_squares_plane(points)
    if isinstance(plane, Undetermined):
        return Figure(0.0, inf, missing=missing)
    flat = clean(plane.flatness)
    u = sqrt(2) * max(v.own for _, v in read)
    evidence = tuple(i for _, v in read for i in v.evidence)
    return Figure(flat, inf if missing else flat, u, evidence, missing)


def roundness(slots: Slots, directions: Sequence[str], diameter: float | None) -> Figure:
    """Largest roundness over the stations, of an indicator's readings in even directions of a full turn.

    Peak to valley about the least-squares circle, so half of what a diameter shows of an oval; it sees
    odd lobes, to which two points are blind. Readings are deviations of the radius (mm) and may be
    negative; `diameter` is the nominal one. Source: ISO 12181-1:2011, parameter RONt, from memory.
    """
    missing = tuple(slot for slot, values in slots.items() if not values)
    radius, angles = (diameter or 2 * ANY_RADIUS) / 2, even_angles(len(directions))
    found = []
    for station in dict.fromkeys(slot[1] for slot in slots):
        read = [(slot[2], v) for slot, values in slots.items() if slot[1] == station for v in values]
        radii = np.array([radius + v.value for _, v in read])
        at = np.array([angles[directions.index(direction)] for direction, _ in read])
        circle = fit_profile(radii, at) if read else Undetermined("nothing was read")
        if not isinstance(circle, Undetermined):
            u = sqrt(2) * max(v.own for _, v in read)
            found.append((clean(circle.roundness), u, tuple(i for _, v in read for i in v.evidence)))
    if not found:
        return Figure(0.0, inf, missing=missing)
    worst, u, evidence = max(found)
    return Figure(worst, inf if missing else worst, u, evidence, missing)
