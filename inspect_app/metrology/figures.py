"""Figures computed from readings at one place: worst size, differences, wear, clean-up size.

All lengths in mm; `u` is a standard uncertainty.
"""

from collections.abc import Iterator, Sequence
from dataclasses import replace
from math import inf

from inspect_app.model.units import clean

from .figure import Figure, Slots, added
from .readings import Value, comparable, difference_u
from .spread import Layout


def worst(slots: Slots, worse: str) -> Figure:
    """The largest reading where larger is worse, else the smallest (the worst place decides).

    Not for an average size: one bad spot is what a limit is about.

    >>> read = (Value(80.05, 0.001, 0.002, "one", ("r1",)),)
    >>> figure = worst({("diameter", "top", "across"): read, ("diameter", "top", "along"): ()}, "above")
    >>> figure.lo, figure.hi, figure.missing
    (80.05, inf, (('diameter', 'top', 'along'),))
    """
    largest = worse == "above"
    values = [value for read in slots.values() for value in read]
    missing = tuple(slot for slot, read in slots.items() if not read)
    if not values:
        return Figure(-inf, inf, missing=missing)
    extreme = (max if largest else min)(values, key=lambda v: v.value)
    known = clean(extreme.value)
    lo, hi = (known, inf if missing else known) if largest else (-inf if missing else known, known)
    candidates = tuple((clean(value.value), value.u) for value in values)
    return Figure(lo, hi, extreme.u, extreme.evidence, missing, candidates, errors=extreme.errors)


def largest_minus_smallest(slots: Slots, along: str) -> Figure:
    """Largest minus smallest along "station" or "direction" in each row across it; the worst row counts.

    Two-point figures: blind to three-lobed form, and "at least" where only two directions are read.
    A slot not read leaves the figure able to exceed a limit but not yet to be inside it. The layout is
    that of all slots, read or not, so that reading more can only widen the span against one bar.

    >>> sizes = {"top": 80.05, "bottom": 80.01}
    >>> slots = {("d", at, ""): (Value(size, 0.001, 0.002, "one", (at,)),) for at, size in sizes.items()}
    >>> taper = largest_minus_smallest(slots, "station")
    >>> taper.lo, round(taper.u, 4), taper.layout
    (0.04, 0.0014, Layout(readings=2, rows=1))
    """
    rows: dict[str, list[Value]] = {}
    wanted: dict[str, int] = {}
    for (_, station, direction), read in slots.items():
        row = direction if along == "station" else station
        rows.setdefault(row, []).extend(read)
        wanted[row] = wanted.get(row, 0) + 1
    missing = tuple(slot for slot, read in slots.items() if not read)
    spans = [_span(row) for row in rows.values() if len(row) > 1]
    if not spans:
        return Figure(0.0, inf, missing=missing)
    top = max(spans, key=lambda figure: figure.lo)
    candidates = tuple(dict.fromkeys(found for row in rows.values() for found in _spans(row)))
    layout = Layout(max(2, *wanted.values()), len(wanted))
    hi = inf if missing else top.lo
    return replace(top, hi=hi, missing=missing, candidates=candidates, layout=layout)


def _span(row: Sequence[Value]) -> Figure:
    low, high = min(row, key=lambda v: v.value), max(row, key=lambda v: v.value)
    span = clean(high.value - low.value)
    return Figure(span, span, difference_u(low, high), high.evidence + low.evidence)


def _spans(row: Sequence[Value]) -> Iterator[tuple[float, float]]:
    """The span of each group of a row that can be compared, with the u of one reading."""
    for u, group in comparable(row):
        if len(group) > 1:
            sizes = [value.value for value in group]
            yield clean(max(sizes) - min(sizes)), u


def wear(extreme: Figure, unworn: Figure, body: str) -> Figure:
    """Metal lost at the worst spot: largest minus unworn size of a hole, unworn minus smallest of a shaft.

    `unworn` is the **present** unworn size: read where nothing rubs, else from the stamped size.
    Never below 0. When neither is known, the upper end is open. What both share in one session cancels.

    >>> wear(Figure(80.05, 80.05, 0.003), Figure(80.01, 80.01, 0.004), "hole").lo
    0.04
    """
    sign = 1.0 if body == "hole" else -1.0
    found = added((sign, extreme), (-sign, unworn))
    return replace(found, lo=max(found.lo, 0.0), hi=max(found.hi, 0.0))


def clean_up(
    step: Figure, worn: Figure, depth: Figure, stock: float, k: tuple[float, float, float]
) -> Figure:
    """Step from standard at which the wear is gone: step + k * wear + 2 * depth + stock.

    `k` runs from 1 (wear split evenly) to 2 (all on one side, cut on the old centre); the whole
    interval is carried, the middle one is a shop's usual factor. `depth` is that of scores or pits,
    `stock` what finishing takes. Not for a hole that may be cut on a new centre. Common practice.

    >>> none = Figure(0.0, 0.0)
    >>> found = clean_up(none, Figure(0.2, 0.2), none, 0.08, (1.0, 1.5, 2.0))
    >>> found.lo, found.hi
    (0.28, 0.48)
    """
    low = added((1.0, step), (k[0], worn), (2.0, depth), plus=stock)
    high = added((1.0, step), (k[-1], worn), (2.0, depth), plus=stock)
    return replace(high, lo=low.lo)


def shifted(figure: Figure, by: float, sign: int = 1) -> Figure:
    """Sign * (figure - by): a size as its step from `by`.

    >>> shifted(Figure(79.9, 79.9), 80.0, -1).lo
    0.1
    """
    return added((float(sign), figure), plus=-sign * by)
