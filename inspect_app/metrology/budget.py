"""An uncertainty budget: independent contributions, combined, with a factor for a stated coverage.

Source: JCGM 100:2008 (5.1.2, G.4, H.1), seen in secondary texts and recomputed. First order;
inputs that are correlated, or a model bent within its inputs' uncertainties, need simulation. Every
contribution is in its own unit; sensitivity * u is in the unit of the result.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from math import floor, fsum, hypot, inf, sqrt
from typing import Literal

import numpy as np
from numpy.typing import NDArray

from .estimate import Undetermined

Shape = Literal["normal", "rectangular", "arcsine"]
SEED = 20


@dataclass(frozen=True)
class Contribution:
    """One source of doubt: standard uncertainty u >= 0, sensitivity, degrees of freedom > 0, shape.

    `shape` matters for `simulated_interval` only.
    """

    name: str
    u: float
    sensitivity: float = 1.0
    dof: float = inf
    shape: Shape = "normal"

    def __post_init__(self) -> None:
        if not (0 <= self.u < inf) or not self.dof > 0:
            raise ValueError(f"{self.name}: u is at least 0 and the degrees of freedom are above 0")

    @property
    def amount(self) -> float:
        """What it adds to the result by itself: ``|sensitivity| * u``, in the result's unit.

        >>> Contribution("gauge", 3.0, sensitivity=-2.0).amount
        6.0
        """
        return abs(self.sensitivity) * self.u


@dataclass(frozen=True)
class Budget:
    """The whole account: combined u, effective degrees of freedom, factor k and U = k * u."""

    contributions: tuple[Contribution, ...]
    u: float
    dof: float
    k: float
    expanded: float


def combined_u(contributions: Sequence[Contribution]) -> float:
    """Root of the sum of squares of the amounts; 0 for none. Independent contributions only.

    >>> combined_u([Contribution("a", 3.0), Contribution("b", 2.0, sensitivity=-2.0)])
    5.0
    """
    return hypot(*(item.amount for item in contributions))


def effective_dof(contributions: Sequence[Contribution]) -> float:
    """Degrees of freedom of the combined uncertainty (Welch and Satterthwaite), not rounded; may be inf.

    Lies between the smallest and the sum of those of the contributions. Not for correlated ones.
    Source: JCGM 100:2008, G.4.1, formula seen in secondary texts.

    >>> round(effective_dof([Contribution("one of four", 1.0, dof=10)] * 4), 9)
    40.0
    """
    u = combined_u(contributions)
    if u == 0:
        return inf
    weight = fsum((item.amount / u) ** 4 / item.dof for item in contributions)
    return 1 / weight if weight > 0 else inf


def coverage_factor(dof: float, level: float = 0.95) -> float | Undetermined:
    """Factor k such that plus or minus k * u covers `level` (0..1): two-sided Student quantile.

    Degrees of freedom are cut down to a whole number first (GUM G.4.2); below 1 there is no factor.
    Not for a rectangular part that dominates: `simulated_interval` is narrower there.

    >>> factor = coverage_factor(16.66, 0.99)
    >>> round(factor, 2)
    2.92
    """
    from scipy.special import ndtri, stdtrit

    if not 0 < level < 1:
        raise ValueError("a coverage lies between 0 and 1, both excluded")
    if dof < 1:
        return Undetermined(f"{dof:.2g} degrees of freedom are too few for a coverage factor: read again")
    upper = (1 + level) / 2
    return float(ndtri(upper) if dof == inf else stdtrit(floor(dof + 1e-9), upper))


def budget(contributions: Sequence[Contribution], level: float = 0.95) -> Budget | Undetermined:
    """Combine `contributions` and expand to a coverage of `level` (0..1).

    >>> account = budget([Contribution("gauge", 3.0), Contribution("part", 4.0)])
    >>> round(account.expanded, 1)
    9.8
    """
    u, dof = combined_u(contributions), effective_dof(contributions)
    k = coverage_factor(dof, level)
    return k if isinstance(k, Undetermined) else Budget(tuple(contributions), u, dof, k, k * u)


def simulated_interval(
    contributions: Sequence[Contribution], level: float = 0.95, draws: int = 200_000, seed: int = SEED
) -> tuple[float, float]:
    """Ends of the interval around 0 that holds `level` of the summed errors, drawn by shape and seed.

    Cuts equal shares off both ends. Own noise of the ends: about 0.5 % of the combined u at 200,000
    draws. Degrees of freedom are not used. Source: JCGM 101:2008, 5.9 and 7, method from memory.

    >>> low, high = simulated_interval([Contribution("digit", 1.0, shape="rectangular")])
    >>> abs(high - 0.95 * 3 ** 0.5) < 0.01
    True
    """
    generator = np.random.default_rng(seed)
    total = np.zeros(draws)
    for item in contributions:
        total += item.sensitivity * item.u * _standard(item.shape, generator, draws)
    low, high = np.quantile(total, [(1 - level) / 2, (1 + level) / 2])
    return float(low), float(high)


def _standard(shape: Shape, generator: np.random.Generator, draws: int) -> NDArray[np.float64]:
    """Draws of mean 0 and standard deviation 1."""
    match shape:
        case "normal":
            return generator.standard_normal(draws)
        case "rectangular":
            return generator.uniform(-sqrt(3), sqrt(3), draws)
        case "arcsine":
            angles = generator.uniform(0.0, 2 * np.pi, draws)
            return np.asarray(sqrt(2) * np.sin(angles), dtype=np.float64)
