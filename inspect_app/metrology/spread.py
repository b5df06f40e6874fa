"""Largest minus smallest of noisy readings, judged against a simulated part exactly at its limit.

Noise only ever widens the span of several readings, so the span of a good part near its limit lands
above the limit more often than not. Instead of one normal distribution around the figure, these
functions ask how a part whose true span is exactly the limit would read:

- *called beyond* wrongly at most so often: the part that reads widest, with every row exactly at the
  limit and its places at the two ends, half and half (any part inside its limit reads narrower);
- *called inside* wrongly at most so often: the part that reads narrowest, with one row at the limit,
  one place at either end, all other places in the middle, and all other rows without any span.

Lengths in mm. `u` is the *own* standard uncertainty of one reading (what cancels within one session
is no part of it), taken as normal and fresh in each reading. The share of such parts is an integral
over the smallest reading of each row, summed here to better than 1e-6. Not for readings of different
gauges or sessions unless `u` is made to hold what they do not share.
"""

from dataclasses import dataclass
from functools import cache, lru_cache
from math import pi, sqrt
from typing import Literal

import numpy as np
from numpy.typing import NDArray

from .estimate import Undetermined

WIDEST_RATIO = 12.0
"""From here on the ends of a row never swap, and the excess over the limit no longer depends on it."""

REACH, STEP = 6.0, 0.05
SURE = 9.0
"""Two readings differ by their noise alone by so many u less than once in a thousand million times."""

Part = Literal["reads widest", "reads narrowest"]
Floats = NDArray[np.float64]


@dataclass(frozen=True)
class Layout:
    """`readings` in each of `rows`; a span is taken in each row and the widest counts.

    Six readings of a bore, three depths in two directions: taper is ``Layout(3, 2)``, out-of-round
    ``Layout(2, 3)``. Raises ValueError below one row or one reading.
    """

    readings: int
    rows: int = 1

    def __post_init__(self) -> None:
        if self.readings < 1 or self.rows < 1:
            raise ValueError("a layout has at least one row of at least one reading")


def threshold(layout: Layout, u: float, limit: float, rate: float = 0.05) -> float | Undetermined:
    """Observed span (mm) above which a part is called beyond `limit`, wrongly at most at `rate`.

    u >= 0, limit >= 0, 0 < rate < 1. With u = 0 it is the limit. The rate holds for every part
    whose true span is at or below the limit, and is reached by the one that reads widest.

    >>> round(threshold(Layout(3, 2), 0.001, 0.05), 4)
    0.0531
    """
    return _quantile("reads widest", layout, u, limit, 1 - rate)


def inside_threshold(layout: Layout, u: float, limit: float, rate: float = 0.05) -> float | Undetermined:
    """Observed span (mm) below which a part is proven inside `limit`, wrongly at most at `rate`.

    As `threshold`, but against the part at its limit that reads narrowest. Never below 0.

    >>> round(inside_threshold(Layout(3, 2), 0.001, 0.05), 4)
    0.0477
    """
    return _quantile("reads narrowest", layout, u, limit, rate)


def chance_beyond(observed: float, layout: Layout, u: float, limit: float) -> float | Undetermined:
    """Share of parts at their limit, reading widest, whose span is smaller than `observed` (mm).

    It stands where the chance of being beyond a limit stands for other figures: above a half the
    simple decision is *beyond*, from 0.95 the guarded one is (wrong at most once in 20). With u = 0
    it is 0 or 1 (0 at the limit). No probability of the part itself: nothing is assumed about it.

    >>> 0.95 < chance_beyond(0.0535, Layout(3, 2), 0.001, 0.05) < 0.99
    True
    """
    return _share("reads widest", observed, layout, u, limit)


def chance_inside(observed: float, layout: Layout, u: float, limit: float) -> float | Undetermined:
    """Share of parts at their limit, reading narrowest, whose span is larger than `observed` (mm).

    From 0.95 the part is proven inside (wrong at most once in 20). With u = 0 it is 1 at the limit.

    >>> 0.95 < chance_inside(0.0465, Layout(3, 2), 0.001, 0.05) < 1
    True
    """
    share = _share("reads narrowest", observed, layout, u, limit)
    return share if isinstance(share, Undetermined) else 1 - share


def _refusal(layout: Layout, u: float, limit: float) -> Undetermined | None:
    if not u >= 0 or not limit >= 0:
        raise ValueError("the uncertainty of a reading and the limit of a span are at least 0")
    if layout.readings < 2:
        return Undetermined("one reading in a row has no span: read a second place")
    return None


def _quantile(part: Part, layout: Layout, u: float, limit: float, share: float) -> float | Undetermined:
    if not 0 < share < 1:
        raise ValueError("rates lie above 0 and below 1")
    refused = _refusal(layout, u, limit)
    if refused is not None or u == 0:
        return refused or limit
    ratio = min(limit / u, WIDEST_RATIO)
    low, high = -ratio, SURE
    for _ in range(50):
        middle = (low + high) / 2
        low, high = (middle, high) if _below(part, layout, ratio, middle) < share else (low, middle)
    return max(0.0, limit + u * high)


def _share(part: Part, observed: float, layout: Layout, u: float, limit: float) -> float | Undetermined:
    refused = _refusal(layout, u, limit)
    if refused is not None:
        return refused
    if u == 0:
        return float(observed > limit)
    return _below(part, layout, min(limit / u, WIDEST_RATIO), (observed - limit) / u)


@lru_cache(maxsize=4096)
def _below(part: Part, layout: Layout, ratio: float, excess: float) -> float:
    """P(observed span <= true span + `excess`), in units of u, for a true span of `ratio`."""
    span = ratio + excess
    if span <= 0 or abs(excess) >= SURE:
        return float(span > 0 and excess > 0)
    rows, counts = np.unique(true_places(part, layout, ratio), axis=0, return_counts=True)
    return float(np.prod([_row_below(row, span) ** count for row, count in zip(rows, counts, strict=True)]))


def _row_below(row: Floats, span: float) -> float:
    """P(largest minus smallest <= span) of one row of true sizes, read with u = 1.

    The smallest reading lies at x, all others between x and x + span; summed over x and over which
    reading is the smallest. Equal steps over a density that is flat at both ends converge fastest.
    """
    x = np.arange(row.min() - REACH, row.max() + REACH, STEP)[:, None]
    within = _normal_below(x + span - row) - _normal_below(x - row)
    density = np.exp(-0.5 * (x - row) ** 2) / sqrt(2 * pi)
    others = np.stack([np.delete(within, i, axis=1).prod(axis=1) for i in range(row.size)], axis=1)
    return min(1.0, float((density * others).sum()) * STEP)


def _normal_below(z: Floats) -> Floats:
    """P(standard normal <= z), from a table of steps of 0.001 (error below 1e-7)."""
    at, below = _normal_table()
    return np.interp(z, at, below)


@cache
def _normal_table() -> tuple[Floats, Floats]:
    at = np.arange(-8.0, 8.0, 0.001)
    density = np.exp(-0.5 * at**2) / sqrt(2 * pi)
    steps = (density[1:] + density[:-1]) / 2 * 0.001
    return at, np.concatenate(([0.0], np.cumsum(steps)))


def true_places(part: Part, layout: Layout, span: float) -> Floats:
    """True sizes [rows, readings] of the part exactly at its limit `span` that reads widest or narrowest.

    >>> true_places("reads narrowest", Layout(3, 2), 1.0).tolist()
    [[0.0, 0.5, 1.0], [0.5, 0.5, 0.5]]
    """
    if part == "reads widest":
        row = np.where(np.arange(layout.readings) < layout.readings // 2, 0.0, span)
        return np.tile(row, (layout.rows, 1))
    places = np.full((layout.rows, layout.readings), span / 2)
    places[0, 0], places[0, -1] = 0.0, span
    return places
