"""Figures of form: gaps under a straightedge, zones of a grid of heights, roundness of a swept section.

They take slots as the other figures do. What is not read leaves the upper end open. Lengths in mm.

Noise only widens a zone, as it widens a span, so zones carry a layout too and are held against a part
exactly at the limit. Of one row of n readings without any plane or circle taken out: a narrowest zone is
never wider than that span, so no more good parts are called beyond than stated; nor are more bad ones
called inside, because its end is a difference of readings with weights that add up to 1 on either side.
About a least-squares circle the rates were tried on simulated parts only; about a least-squares plane,
which decides nothing and is told beside the zone, not at all.
"""

from collections.abc import Callable, Iterator, Sequence
from math import inf, sqrt

import numpy as np

from inspect_app.model.units import clean

from .circle import even_angles, fit_profile
from .estimate import Undetermined
from .figure import Figure, Slot, Slots
from .plane import least_squares_plane, minimum_zone
from .readings import Value, comparable
from .spread import Layout
from .straightedge import Line, worst_gap

PASSES, STOPS = "passes", "stops"
Read = tuple[Slot, Value]
Width = Callable[[Sequence[Read]], float | None]
ANY_RADIUS = 50.0
"""What a sweep is laid round where the size is not known: it shifts roundness by less than 1 part in 100."""


def straightedge_gap(slots: Slots) -> Figure:
    """The largest gap over all lines (stations): the thickest leaf that passes to the thinnest that stops.

    Directions are "passes" and "stops"; no leaf that passes counts as 0, none that stops as open. A
    leaf that passes although one no thicker was stopped on the same line is a conflict: the gap is open
    upwards until the line is tried again. Held against straightedge limits only; see `straightedge`.

    >>> def leaf(size: float) -> tuple[Value, ...]:
    ...     return (Value(size, 0.0, 0.0, "one", (f"leaf {size}",)),)
    >>> gap = straightedge_gap({("gap", "front", PASSES): leaf(0.05), ("gap", "front", STOPS): leaf(0.08)})
    >>> gap.lo, gap.hi
    (0.05, 0.08)
    """
    lines, missing = [], []
    for name in dict.fromkeys(station for _, station, _ in slots):
        passes = [v for slot in slots if slot[1:] == (name, PASSES) for v in slots[slot]]
        stops = [v for slot in slots if slot[1:] == (name, STOPS) for v in slots[slot]]
        thickest = clean(max((v.value for v in passes), default=0.0))
        thinnest = clean(min((v.value for v in stops), default=inf))
        closed = thickest < thinnest < inf
        missing += [slot for slot in slots if slot[1:] == (name, STOPS) and not closed]
        lines.append(Line(name, thickest, thinnest if closed else inf))
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

    >>> heights = {("front", "left"): 0.08, ("front", "right"): 0, ("rear", "left"): 0, ("rear", "right"): 0}
    >>> slots = {("h", *at): (Value(height, 0.001, 0.0, "one", at),) for at, height in heights.items()}
    >>> flatness_zone(slots, ["front", "rear"], ["left", "right"]).lo
    0.04
    """
    return _flatness(slots, stations, directions, zone=True)


def flatness_plane(slots: Slots, stations: Sequence[str], directions: Sequence[str]) -> Figure:
    """The same about the least-squares plane: never below the narrowest zone; told beside it.

    >>> heights = {("front", "left"): 0.08, ("front", "right"): 0, ("rear", "left"): 0, ("rear", "right"): 0}
    >>> slots = {("h", *at): (Value(height, 0.001, 0.0, "one", at),) for at, height in heights.items()}
    >>> flatness_plane(slots, ["front", "rear"], ["left", "right"]).lo
    0.04
    """
    return _flatness(slots, stations, directions, zone=False)


def _flatness(slots: Slots, stations: Sequence[str], directions: Sequence[str], zone: bool) -> Figure:
    def width(read: Sequence[Read]) -> float | None:
        at = [[stations.index(slot[1]), directions.index(slot[2]), v.value] for slot, v in read]
        points = np.array(at, dtype=float)
        plane = minimum_zone(points) if zone else least_squares_plane(points)
        return None if isinstance(plane, Undetermined) else plane.flatness

    return _widest([_read(slots)], width, Layout(max(1, len(slots))), _unread(slots))


def roundness(slots: Slots, directions: Sequence[str], diameter: float | None) -> Figure:
    """Largest roundness over the stations, of an indicator's readings in even directions of a full turn.

    Peak to valley about the least-squares circle, so half of what a diameter shows of an oval; it sees
    odd lobes, to which two points are blind. Readings are deviations of the radius (mm) and may be
    negative; `diameter` is the nominal one. Source: ISO 12181-1:2011, parameter RONt, from memory.

    >>> sweep = {str(angle): 0.01 * (-1) ** (angle // 90) for angle in range(0, 360, 90)}
    >>> slots = {("s", "top", at): (Value(off, 0.001, 0.0, "one", (at,)),) for at, off in sweep.items()}
    >>> roundness(slots, list(sweep), 80.0).lo
    0.02
    """
    radius, angles = (diameter or 2 * ANY_RADIUS) / 2, even_angles(len(directions))

    def width(read: Sequence[Read]) -> float | None:
        radii = np.array([radius + v.value for _, v in read])
        circle = fit_profile(radii, np.array([angles[directions.index(slot[2])] for slot, _ in read]))
        return None if isinstance(circle, Undetermined) else circle.roundness

    stations = dict.fromkeys(slot[1] for slot in slots)
    rows = [[read for read in _read(slots) if read[0][1] == station] for station in stations]
    return _widest(rows, width, Layout(len(directions), max(1, len(rows))), _unread(slots))


def _read(slots: Slots) -> list[Read]:
    return [(slot, value) for slot, values in slots.items() for value in values]


def _unread(slots: Slots) -> tuple[Slot, ...]:
    return tuple(slot for slot, values in slots.items() if not values)


def _widest(
    rows: Sequence[Sequence[Read]], width: Width, layout: Layout, missing: tuple[Slot, ...]
) -> Figure:
    """The widest of the rows, with a candidate for each group of readings that can be compared."""
    found = [(wide, row) for row in rows if row and (wide := width(row)) is not None]
    if not found:
        return Figure(0.0, inf, missing=missing)
    worst, row = max(found, key=lambda one: one[0])
    candidates = tuple(dict.fromkeys(one for wide, read in found for one in _widths(read, wide, width)))
    values = [value for _, value in row]
    u = sqrt(2) * max(group_u for group_u, group in comparable(values) if len(group) == len(values))
    evidence = tuple(item for value in values for item in value.evidence)
    flat = clean(worst)
    return Figure(flat, inf if missing else flat, u, evidence, missing, candidates, layout)


def _widths(row: Sequence[Read], whole: float, width: Width) -> Iterator[tuple[float, float]]:
    """The width of each group of a row, with the u of one reading; `whole` is that of all of it."""
    slot_of = {id(value): slot for slot, value in row}
    for u, group in comparable([value for _, value in row]):
        part = [(slot_of[id(value)], value) for value in group]
        wide = whole if len(part) == len(row) else width(part)
        if wide is not None:
            yield clean(wide), u
