"""A figure: what readings prove of one quantity at one place, as an interval with its uncertainty.

Half-known figures are intervals: what was read so far proves one end, what is missing could still
bring the other. Values are in the canonical unit of their quantity (lengths: mm).
"""

from collections.abc import Mapping
from dataclasses import dataclass, field
from math import inf, isnan

from inspect_app.model.units import clean

from .errors import Errors, combined, u_of
from .readings import Value
from .spread import Layout

Slot = tuple[str, str, str]
"""Quantity, station, direction."""

Slots = Mapping[Slot, tuple[Value, ...]]
"""Each slot that should be read, with what was read there: () where nothing was."""


@dataclass(frozen=True)
class Figure:
    """An interval lo..hi (equal when fully known) with the standard uncertainty of its known end.

    `missing` lists the slots that keep it from being fully known. `candidates` are all values that
    could be the worst, each with its own u: a limit is passed if any of them passes it. With a
    `layout` the figure is the span of noisy readings, and each u is that of one reading. `errors`
    are those of the known end by source; without them `u` stands for an error of its own.
    """

    lo: float
    hi: float
    u: float = 0.0
    evidence: tuple[str, ...] = ()
    missing: tuple[Slot, ...] = ()
    candidates: tuple[tuple[float, float], ...] = ()
    layout: Layout | None = None
    errors: Errors = field(default_factory=dict)

    @property
    def known(self) -> bool:
        """Whether the value is one number.

        >>> Figure(40.0, 40.0).known, Figure(40.0, inf).known
        (True, False)
        """
        return self.lo == self.hi


UNKNOWN = Figure(-inf, inf)
NONE = Figure(0.0, 0.0)


def added(*terms: tuple[float, Figure], plus: float = 0.0) -> Figure:
    """Sum of factor * figure plus a constant: ends by interval arithmetic, errors source by source.

    An end is open where open ends of both signs meet. Source: JCGM 100:2008, 5.1 and 5.2, from memory.

    >>> one, other = Figure(40.0, 40.5, 0.003), Figure(39.0, 39.0, 0.004)
    >>> total = added((1.0, one), (-1.0, other))
    >>> total.lo, total.hi, total.u
    (1.0, 1.5, 0.005)
    """
    lows = (factor * (item.lo if factor > 0 else item.hi) for factor, item in terms if factor)
    highs = (factor * (item.hi if factor > 0 else item.lo) for factor, item in terms if factor)
    errors = combined(*((factor, _errors(item, number)) for number, (factor, item) in enumerate(terms)))
    return Figure(
        _end(sum(lows) + plus, -inf),
        _end(sum(highs) + plus, inf),
        u_of(errors),
        tuple(dict.fromkeys(e for _, item in terms for e in item.evidence)),
        tuple(dict.fromkeys(slot for _, item in terms for slot in item.missing)),
        errors=errors,
    )


def _end(value: float, open_end: float) -> float:
    return open_end if isnan(value) else clean(value)


def _errors(figure: Figure, number: int) -> Errors:
    """Its errors; where none are told, one of its own, named so that no other figure shares it."""
    if figure.errors or not figure.u:
        return figure.errors
    source = " ".join(figure.evidence) or f"term {number}"
    return {f"{source}: {figure.lo} to {figure.hi}": figure.u}
