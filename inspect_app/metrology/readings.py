"""One reading and its uncertainty; repeats and conflicts of readings in one slot.

Model: reading = truth + common + own. `own` (resolution and repeatability) is fresh in every
reading; `common` (calibration) is shared by all readings of one gauge in one session and cancels in
their differences. Half-widths are rectangular: standard uncertainty = half-width / sqrt(3)
(JCGM 100:2008, 4.3.7, from memory). All lengths in mm.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from math import fsum, sqrt
from typing import Literal

from .errors import Errors

COVERAGE = 2.0


Meaning = Literal["limits", "95 percent", "standard"]
"""What a stated half-width means: bounds never passed, the bounds of 95 % of all gauges, or one u."""

_SHARE_OF_HALF_WIDTH: dict[Meaning, float] = {"limits": 1 / sqrt(3), "95 percent": 1 / 2, "standard": 1.0}


@dataclass(frozen=True)
class Gauge:
    """Resolution d (one digit or division), calibration half-width, repeatability (standard deviation).

    `meaning` tells how the half-width was stated: a specification gives limits, a certificate usually
    a 95 percent interval (coverage factor 2; JCGM 100:2008, 4.3, from memory).

    All in one unit and at least 0.

    >>> gauge = Gauge(resolution=0.01, half_width=0.02, repeatability=0.004)
    >>> round(gauge.own, 5), round(gauge.common, 5)
    (0.00493, 0.01155)
    """

    resolution: float
    half_width: float
    repeatability: float = 0.0
    meaning: Meaning = "limits"

    @property
    def own(self) -> float:
        """Standard uncertainty fresh in each reading: d / (2 sqrt 3) with the repeatability."""
        return sqrt((self.resolution / (2 * sqrt(3))) ** 2 + self.repeatability**2)

    @property
    def common(self) -> float:
        """Standard uncertainty shared by the readings of one session, by the meaning of the half-width."""
        return self.half_width * _SHARE_OF_HALF_WIDTH[self.meaning]


def unnamed_gauge(digit: float) -> Gauge:
    """The gauge assumed where none is named, from the last digit typed.

    Resolution and half-width of one digit, repeatability of half of one (judgement): two readings
    one digit apart are repeats, two digits apart a conflict.

    >>> unnamed_gauge(0.01)
    Gauge(resolution=0.01, half_width=0.01, repeatability=0.005, meaning='limits')
    """
    return Gauge(resolution=digit, half_width=digit, repeatability=digit / 2)


@dataclass(frozen=True)
class Value:
    """A value with its own and common standard uncertainty (mm, >= 0); `session` tells which share a gauge.

    >>> Value(50.8, 0.003, 0.004, "one", ("r1",)).u
    0.005
    """

    value: float
    own: float
    common: float
    session: str
    evidence: tuple[str, ...]

    @property
    def u(self) -> float:
        """Combined standard uncertainty."""
        return sqrt(self.own**2 + self.common**2)

    @property
    def errors(self) -> Errors:
        """The errors by source: that of the session, and that of this reading alone."""
        return {f"session {self.session}": self.common, f"reading {' '.join(self.evidence)}": self.own}


def difference_u(one: Value, other: Value) -> float:
    """Standard uncertainty of a difference of two readings; the common part cancels within one session.

    Assumes that the common part is one and the same error throughout a session, and independent between
    sessions. Source: JCGM 100:2008, 5.2, for the correlated case, from memory.

    >>> one, again = (Value(size, 0.003, 0.1, "one", ()) for size in (50.8, 50.9))
    >>> round(difference_u(one, again), 5)
    0.00424
    """
    common = 0.0 if one.session == other.session else one.common**2 + other.common**2
    return sqrt(one.own**2 + other.own**2 + common)


def agree(values: Sequence[Value]) -> bool:
    """Whether all differ by no more than twice the uncertainty of their difference (common practice).

    >>> near, far = (Value(size, 0.003, 0.1, "one", ()) for size in (50.808, 50.809))
    >>> agree([Value(50.8, 0.003, 0.1, "one", ()), near]), agree([Value(50.8, 0.003, 0.1, "one", ()), far])
    (True, False)
    """
    return all(
        abs(a.value - b.value) <= COVERAGE * difference_u(a, b)
        for position, a in enumerate(values)
        for b in values[position + 1 :]
    )


def comparable(values: Sequence[Value]) -> Iterator[tuple[float, tuple[Value, ...]]]:
    """Groups of readings whose differences count, each with the u of one reading that none in it passes.

    One group for each session, where only the own part counts, and one of all sessions with the common
    part as well; of each, one for each gauge with those no coarser. So a reading by a coarser gauge, or
    in another session, adds a group; it takes none away.

    >>> coarse, fine = Value(50.8, 0.02, 0.1, "one", ()), Value(50.9, 0.003, 0.1, "one", ())
    >>> [(u, len(group)) for u, group in comparable([coarse, fine])]
    [(0.003, 1), (0.02, 2)]
    """
    sessions = dict.fromkeys(value.session for value in values)
    for session in sessions:
        yield from _no_coarser([(v.own, v) for v in values if v.session == session])
    if len(sessions) > 1:
        yield from _no_coarser([(v.u, v) for v in values])


def _no_coarser(doubts: Sequence[tuple[float, Value]]) -> Iterator[tuple[float, tuple[Value, ...]]]:
    for bar in sorted({u for u, _ in doubts}):
        yield bar, tuple(value for u, value in doubts if u <= bar)


def settle(values: Sequence[Value]) -> tuple[Value, ...]:
    """One value for repeats (their mean, each weighed by 1/u^2), or every value where they conflict.

    The result does not depend on the order of `values`. Keeping all of a conflict makes the worse
    one count in every figure that follows.

    >>> one, again = (Value(size, 0.004, 0.1, "one", ()) for size in (50.800, 50.802))
    >>> (value,) = settle([one, again])
    >>> round(value.value, 4), round(value.own, 5), round(value.common, 5)
    (50.801, 0.00283, 0.1)
    """
    ordered = sorted(values, key=lambda value: (value.value, value.evidence))
    if len(ordered) < 2 or not agree(ordered):
        return tuple(ordered)
    weights = _weights(ordered)
    mean = fsum(w * value.value for w, value in zip(weights, ordered, strict=True))
    own = sqrt(fsum((w * value.own) ** 2 for w, value in zip(weights, ordered, strict=True)))
    common = fsum(w * value.common for w, value in zip(weights, ordered, strict=True))
    sessions = sorted({value.session for value in ordered})
    evidence = tuple(sorted(item for value in ordered for item in value.evidence))
    return (Value(mean, own, common, "+".join(sessions), evidence),)


def _weights(values: Sequence[Value]) -> list[float]:
    """Weights 1/u^2 that add up to 1; equal where some value claims no uncertainty."""
    if any(value.u == 0 for value in values):
        return [1 / len(values)] * len(values)
    weights = [1 / value.u**2 for value in values]
    return [weight / fsum(weights) for weight in weights]
