"""A straight scale: from values to places on the drawing, with ticks at round numbers."""

import math
from collections.abc import Sequence
from dataclasses import dataclass

from inspect_app.pictures.svg import Svg, join, line, text, text_width
from inspect_app.pictures.tokens import DRAWN, LEADER, Ground

_ROUND = (1.0, 2.0, 5.0, 10.0)
_ROUNDING = 1e-9
_SMALLEST = 2e-7
"""Far below what any gauge or coin shows; what is smaller is drawn as nothing."""
NEAR_ZERO = 6


@dataclass(frozen=True)
class Scale:
    """From `lo` at x = `left` to `hi` at x = `right`, with a tick every `step`."""

    lo: float
    hi: float
    step: float
    left: float
    right: float

    def at(self, value: float) -> float:
        """Return the x of a value; what lies outside is held at the end."""
        share = (value - self.lo) / (self.hi - self.lo)
        return self.left + min(1.0, max(0.0, share)) * (self.right - self.left)

    @property
    def ticks(self) -> list[float]:
        """The values that carry a tick and a number, the ends among them."""
        count = round((self.hi - self.lo) / self.step)
        return [self.lo + number * self.step for number in range(count + 1)]

    @property
    def decimals(self) -> int:
        """The places it takes to write every tick."""
        return next((d for d in range(9) if abs(round(self.step, d) - self.step) < self.step * 1e-6), 9)


def scale(
    values: Sequence[float], left: float, right: float, *, from_zero: bool = False, parts: int = 6
) -> Scale:
    """Return a scale that holds all values with room at both ends, zero too where it is near.

    `from_zero` keeps zero on it however far away; `parts`: about how many ticks apart its ends are.
    """
    shown = [value for value in values if math.isfinite(value)] or [0.0]
    lo, hi = min(shown), max(shown)
    spread, size = hi - lo, max(abs(lo), abs(hi))
    if spread <= max(size * _ROUNDING, _SMALLEST):
        spread = size * 0.02 if size > _SMALLEST else 1.0
    if from_zero or min(map(abs, shown)) <= NEAR_ZERO * spread:
        lo, hi = min(lo, 0.0), max(hi, 0.0)
    room = 0.12 * max(hi - lo, spread)
    low, high = lo - room * (lo != 0), hi + room * (hi != 0 or lo == 0)
    step = _round_up((high - low) / parts)
    first, last = math.floor(low / step + _ROUNDING), math.ceil(high / step - _ROUNDING)
    return Scale(first * step, last * step, step, left, right)


def _round_up(step: float) -> float:
    ten = 10.0 ** math.floor(math.log10(step))
    return next(ten * factor for factor in _ROUND if ten * factor >= step * (1 - _ROUNDING))


def rule(on: Scale, y: float, labels: Sequence[str], ground: Ground) -> Svg:
    """Draw the rule: a line, a tick and a number at each round value, short ticks between.

    The margins left and right of it are taken to be alike; no number reaches beyond them.
    """
    pieces = [line(on.left, y, on.right, y, stroke=ground.ink, stroke_width=DRAWN)]
    for value, label in zip(on.ticks, labels, strict=True):
        x = on.at(value)
        pieces.append(line(x, y, x, y + 8, stroke=ground.ink, stroke_width=LEADER))
        half = text_width(label, 13) / 2
        middle = min(max(x, half + 1), on.left + on.right - half - 1)
        pieces.append(text(middle, y + 22, label, ground, anchor="middle", soft=True))
        if value < on.ticks[-1]:
            between = on.at(value + on.step / 2)
            pieces.append(line(between, y, between, y + 5, stroke=ground.ink, stroke_width=LEADER))
    return join(*pieces)


def capped(x1: float, x2: float, y: float, ground: Ground) -> Svg:
    """Draw a line with a cap at each end: from here to there."""
    ends = (line(x, y - 4, x, y + 4, stroke=ground.ink, stroke_width=DRAWN) for x in (x1, x2))
    return join(line(x1, y, x2, y, stroke=ground.ink, stroke_width=DRAWN), *ends)
