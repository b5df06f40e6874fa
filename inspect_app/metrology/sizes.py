"""From wear to a listed size: what a cut must reach, with its factor shown, and the next size on the list.

Steps are in mm from standard, positive towards less metal: an oversize of a hole and an undersize of
a shaft are both positive.
"""

from collections.abc import Sequence
from dataclasses import dataclass

from inspect_app.model.units import clean

from .estimate import Estimate, Undetermined


@dataclass(frozen=True)
class CleanUp:
    """Step at which a place cleans up: at the smallest, usual and largest factor, with u at the largest.

    `shown` is the sum in words of arithmetic, in mm, at the usual factor.
    """

    low: float
    usual: float
    high: float
    u: float
    shown: str


def needed_step(
    present: Estimate, worn: Estimate, depth: Estimate, stock: float, k: tuple[float, float, float]
) -> CleanUp:
    """Step = present + k * wear + 2 * depth + stock, for k = (smallest, usual, largest), 1 <= k <= 2.

    `present` is the step of the present unworn size (0 at standard), `worn` the wear of the diameter
    and `depth` that of scores or pits, both >= 0; `stock` is what finishing takes. All in mm.
    k = 1 where wear is even all round, 2 where all of it is on one side and the old centre is kept.
    Not for a hole that may be cut on a new centre. Common practice; 1.5 is a shop's usual factor.

    >>> none = Estimate(0.0)
    >>> needed_step(none, Estimate(0.2), none, 0.08, (1, 1.5, 2)).shown
    '0 + 1.5 x 0.2 + 2 x 0 + 0.08 = 0.38'
    """
    if not 1 <= k[0] <= k[1] <= k[2] <= 2 or worn.value < 0 or depth.value < 0 or stock < 0:
        raise ValueError("wear, depth and stock are at least 0, and the factors rise from 1 to 2 at most")
    fixed = present.value + 2 * depth.value + stock
    low, usual, high = (clean(fixed + factor * worn.value) for factor in k)
    u = (present.u**2 + (k[2] * worn.u) ** 2 + (2 * depth.u) ** 2) ** 0.5
    shown = f"{present.value:g} + {k[1]:g} x {worn.value:g} + 2 x {depth.value:g} + {stock:g} = {usual:g}"
    return CleanUp(low, usual, high, u, shown)


def next_listed(needed: float, listed: Sequence[float]) -> float | Undetermined:
    """The smallest listed step that is at least `needed` (mm); a step equal to it is enough.

    `listed` may be in any order. Undetermined where none is large enough or none is listed: never
    the largest instead. Not for a step that only just fails within the doubt of `needed`.

    >>> next_listed(0.81, [0.508, 0.762, 1.016])
    1.016
    """
    enough = [step for step in listed if clean(step - needed) >= 0]
    if enough:
        return min(enough)
    if not listed:
        return Undetermined("no size is listed to cut to")
    return Undetermined(f"it needs {needed:g} mm and the largest listed size is {max(listed):g} mm")
