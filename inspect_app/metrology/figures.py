"""Figures computed from readings at one place: worst size, differences, wear, clean-up size.

A slot is (quantity, station, direction); `slots` maps each slot that should be read to the values read there,
() where nothing was read. A half-known figure is an interval: what the readings so far prove, and
what the missing ones could still bring. All lengths in mm; `u` is a standard uncertainty.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from math import inf, sqrt

from inspect_app.model.units import clean

from .readings import Value, difference_u

Slot = tuple[str, str, str]
Slots = Mapping[Slot, tuple[Value, ...]]


@dataclass(frozen=True)
class Figure:
    """An interval lo..hi (equal when fully known) with the standard uncertainty of its known end.

    `missing` lists the slots that keep it from being fully known. `candidates` are all values that
    could be the worst, each with its own u: a guarded limit is passed if any of them passes it.
    """

    lo: float
    hi: float
    u: float = 0.0
    evidence: tuple[str, ...] = ()
    missing: tuple[Slot, ...] = ()
    candidates: tuple[tuple[float, float], ...] = ()

    @property
    def known(self) -> bool:
        """Whether the value is one number."""
        return self.lo == self.hi


UNKNOWN = Figure(-inf, inf)
NONE = Figure(0.0, 0.0)


def worst(slots: Slots, worse: str) -> Figure:
    """The largest reading where larger is worse, else the smallest (the worst place decides)."""
    largest = worse == "above"
    values = [value for read in slots.values() for value in read]
    missing = tuple(slot for slot, read in slots.items() if not read)
    if not values:
        return Figure(-inf, inf, missing=missing)
    extreme = (max if largest else min)(values, key=lambda v: v.value)
    known = clean(extreme.value)
    lo, hi = (known, inf if missing else known) if largest else (-inf if missing else known, known)
    candidates = tuple((clean(value.value), value.u) for value in values)
    return Figure(lo, hi, extreme.u, extreme.evidence, missing, candidates)


def largest_minus_smallest(slots: Slots, along: str) -> Figure:
    """Largest minus smallest along "station" or "direction" in each row across it; the worst row counts.

    Two-point figures: blind to three-lobed form, and "at least" where only two directions are read.
    A slot not read leaves the figure able to exceed a limit but not yet to be inside it.
    """
    rows: dict[str, list[Value]] = {}
    for (_, station, direction), read in slots.items():
        rows.setdefault(direction if along == "station" else station, []).extend(read)
    spans = [_span(row) for row in rows.values() if len(row) > 1]
    missing = tuple(slot for slot, read in slots.items() if not read)
    if not spans:
        return Figure(0.0, inf, missing=missing)
    top = max(spans, key=lambda figure: figure.lo)
    return Figure(top.lo, inf if missing else top.lo, top.u, top.evidence, missing)


def _span(row: Sequence[Value]) -> Figure:
    low, high = min(row, key=lambda v: v.value), max(row, key=lambda v: v.value)
    span = clean(high.value - low.value)
    return Figure(span, span, difference_u(low, high), high.evidence + low.evidence)


def wear(extreme: Figure, unworn: Figure, body: str) -> Figure:
    """Metal lost at the worst spot: largest minus unworn size of a hole, unworn minus smallest of a shaft.

    `unworn` is the **present** unworn size: read where nothing rubs, else from the stamped size.
    Never below 0. When neither is known, the upper end is open.
    """
    if body == "hole":
        lo, hi = extreme.lo - unworn.hi, extreme.hi - unworn.lo
    else:
        lo, hi = unworn.lo - extreme.hi, unworn.hi - extreme.lo
    u = sqrt(extreme.u**2 + unworn.u**2)
    missing = extreme.missing + unworn.missing
    return Figure(clean(max(lo, 0.0)), clean(max(hi, 0.0)), u, extreme.evidence + unworn.evidence, missing)


def clean_up(step: Figure, worn: Figure, depth: Figure, stock: float, k: tuple[float, float]) -> Figure:
    """Step from standard at which the wear is gone: step + k * wear + 2 * depth + stock.

    `k` runs from 1 (wear split evenly) to 2 (all on one side, cut on the old centre); the whole
    interval is carried. `depth` is that of scores or pits, `stock` what finishing takes.
    """
    lo = step.lo + k[0] * worn.lo + 2 * depth.lo + stock
    hi = step.hi + k[1] * worn.hi + 2 * depth.hi + stock
    u = sqrt(step.u**2 + (k[1] * worn.u) ** 2 + (2 * depth.u) ** 2)
    evidence = tuple(dict.fromkeys(step.evidence + worn.evidence + depth.evidence))
    missing = tuple(dict.fromkeys(step.missing + worn.missing + depth.missing))
    return Figure(clean(lo), clean(hi), u, evidence, missing)


def shifted(figure: Figure, by: float, sign: int = 1) -> Figure:
    """Sign * (figure - by): a size as its step from `by`."""
    ends = sorted((sign * (figure.lo - by), sign * (figure.hi - by)))
    return Figure(clean(ends[0]), clean(ends[1]), figure.u, figure.evidence, figure.missing)
