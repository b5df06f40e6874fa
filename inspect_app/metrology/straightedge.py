"""Straightedge and leaves: an interval per line, held against straightedge limits. No plane is fitted.

A leaf that passes under the edge proves a gap at least its own thickness; one that does not proves a
gap smaller than its own. Lengths in mm. Straightedge gaps and the flatness of a fitted plane are
different quantities: one corner of a face 0.08 high is 0.02 under an edge held evenly on a diagonal, and
0.04 between planes. Never mix the two.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from math import inf
from typing import Literal

from .estimate import Undetermined


@dataclass(frozen=True)
class Line:
    """One line over a face: the thickest leaf that passes (0: none did), the thinnest that does not.

    Raises ValueError unless 0 <= passes < stops. `stops` is infinite where no leaf was stopped.
    """

    name: str
    passes: float
    stops: float = inf

    def __post_init__(self) -> None:
        if not 0 <= self.passes < self.stops:
            raise ValueError(
                f"{self.name}: the leaf that passes ({self.passes}) must be thinner than the one that "
                f"does not ({self.stops})"
            )


def against_limit(line: Line, limit: float) -> Literal["inside", "beyond"] | Undetermined:
    """Whether the gap under a line is at most `limit` (mm, >= 0), or which leaf would tell.

    Inside where a leaf no thicker than the limit is stopped; beyond where a thicker one passes.
    Source: reading of a feeler, common practice.

    >>> against_limit(Line("left diagonal", 0.05, 0.08), 0.10)
    'inside'
    """
    if line.stops <= limit:
        return "inside"
    if line.passes > limit:
        return "beyond"
    upper = "none was stopped" if line.stops == inf else f"{line.stops:g} mm does not"
    return Undetermined(
        f"{line.name}: {line.passes:g} mm passes and {upper}, so the limit of {limit:g} mm lies between. "
        f"Try a leaf of {limit:g} mm, then the next thicker one."
    )


def worst_gap(lines: Sequence[Line]) -> tuple[float, float] | Undetermined:
    """From..to of the largest gap under any of the lines, mm: the worst line decides.

    The true largest gap g satisfies from <= g < to. Undetermined where no line was tried.

    >>> worst_gap([Line("front", 0.0, 0.03), Line("diagonal", 0.05, 0.08)])
    (0.05, 0.08)
    """
    if not lines:
        return Undetermined("no line was tried with the straightedge")
    return max(line.passes for line in lines), max(line.stops for line in lines)
