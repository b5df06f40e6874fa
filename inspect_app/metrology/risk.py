"""Risks of accepting what is bad and rejecting what is good, and the guard bands that limit them.

A reading y with standard uncertainty u (U = 2u) is held against a tolerance; the acceptance limits
stand inside the tolerance by a guard band w. Any one unit. The *specific* risk is that of one
reading; the *global* one that of a whole production known by its density (JCGM 106:2012, 9.5, seen
quoted in secondary texts). Not for productions that change, nor for a guessed density.
"""

from collections.abc import Callable
from dataclasses import dataclass
from math import gamma, inf, sqrt
from typing import Literal

import numpy as np
from numpy.typing import NDArray

from inspect_app.model.units import clean

from .conformity import p_beyond
from .estimate import Undetermined

Density = Callable[[NDArray[np.float64]], NDArray[np.float64]]
Statement = Literal["pass", "conditional pass", "conditional fail", "fail"]
PANELS, NODES = 64, 16


def guard_band(expanded: float, r: float) -> float:
    """Width w = r * U of a guard band, in the unit of U; r >= 0 (0 simple, 1 guarded).

    Source: ILAC-G8:09/2019 for w = U and w = 0 (clause text seen); other r in secondary texts.

    >>> guard_band(0.2, 0.83)
    0.166
    """
    if expanded < 0 or r < 0:
        raise ValueError("U and r are at least 0")
    return r * expanded


def risk_at_acceptance_limit(r: float, k: float = 2.0) -> float:
    """Specific risk of a reading exactly at the acceptance limit, w = r * U and U = k * u: Phi(-k r).

    One-sided, normal; the largest risk that the rule lets through. Recomputed, not read off a table.

    >>> round(risk_at_acceptance_limit(1.0), 5)
    0.02275
    """
    return p_beyond(-k * r, 1.0, 0.0, "above")


def four_way(value: float, limit: float, w: float, worse: Literal["above", "below"]) -> Statement:
    """The four statements about a value and its limit with guard band w >= 0 on either side of it.

    A value at the limit still passes conditionally; at limit - w it passes. Seen in a secondary text.

    >>> four_way(10.05, 10.0, 0.2, "above")
    'conditional fail'
    """
    if w < 0:
        raise ValueError("a guard band is at least 0 wide")
    past = clean(value - limit if worse == "above" else limit - value)
    if past <= 0:
        return "pass" if clean(past + w) <= 0 else "conditional pass"
    return "conditional fail" if clean(past - w) <= 0 else "fail"


def p_outside(value: float, u: float, low: float, high: float) -> float:
    """Chance that the true value is below `low` or above `high` (either may be infinite); normal.

    Source: JCGM 106:2012, 7, formula seen in secondary texts.

    >>> round(p_outside(10.0, 0.4, 9.0, 11.0), 5)
    0.01242
    """
    return min(1.0, p_beyond(value, u, low, "below") + p_beyond(value, u, high, "above"))


def guard_factor(risk: float, dof: float = inf) -> float:
    """How many u a reading must stay inside its limit for a specific `risk` (0..0.5), one-sided.

    With few degrees of freedom the tails are long: 1 % at 4 needs 3.75 u, not 2.33 u. Recomputed.

    >>> round(guard_factor(0.01), 2), round(guard_factor(0.01, 4), 2)
    (2.33, 3.75)
    """
    from scipy.special import ndtri, stdtrit

    if not 0 < risk <= 0.5:
        raise ValueError("a risk lies above 0 and is at most a half")
    return float(ndtri(1 - risk) if dof == inf else stdtrit(dof, 1 - risk))


def break_even_risk(cost_accepting_bad: float, cost_rejecting_good: float) -> float:
    """Largest chance of nonconformity at which accepting still costs less: Cr / (Ca + Cr).

    Both costs in one currency, >= 0 and not both 0. Standard decision theory, no clause of a norm.

    >>> round(break_even_risk(100.0, 1.0), 4)
    0.0099
    """
    return cost_rejecting_good / (cost_accepting_bad + cost_rejecting_good)


@dataclass(frozen=True)
class GlobalRisk:
    """Shares of all items: bad before any check, bad yet accepted, good yet rejected."""

    nonconforming: float
    consumer: float
    producer: float


@dataclass(frozen=True)
class Production:
    """A production's density over `low`..`high` (a range that holds all of it) and its u of checking."""

    density: Density
    low: float
    high: float
    u: float


def normal_production(mean: float, sd: float, u: float) -> Production:
    """A normal production of `mean` and `sd` > 0, checked with standard uncertainty u > 0.

    >>> round(float(normal_production(0.0, 1.0, 0.25).density(np.array([0.0]))[0]), 4)
    0.3989
    """

    def density(x: NDArray[np.float64]) -> NDArray[np.float64]:
        return np.asarray(np.exp(-0.5 * ((x - mean) / sd) ** 2) / (sd * sqrt(2 * np.pi)))

    return Production(density, mean - 10 * sd, mean + 10 * sd, u)


def gamma_production(shape: float, scale: float, u: float) -> Production:
    """A production that cannot be below 0, gamma with `shape` >= 1 and `scale` > 0; u > 0.

    >>> round(float(gamma_production(1.0, 2.0, 0.25).density(np.array([0.0]))[0]), 4)
    0.5
    """

    def density(x: NDArray[np.float64]) -> NDArray[np.float64]:
        return np.asarray(x ** (shape - 1) * np.exp(-x / scale) / (gamma(shape) * scale**shape))

    return Production(density, 0.0, scale * (shape + 40 + 10 * sqrt(shape)), u)


def global_risk(
    production: Production, tolerance: tuple[float, float], acceptance: tuple[float, float]
) -> GlobalRisk:
    """Shares of a production outside `tolerance`, and judged wrongly by `acceptance` (ends may be inf).

    The reading is normal around the true value, u > 0. Relative error below 1e-9 for smooth densities.
    Source: JCGM 106:2012, 9.5, formulas recomputed; its ball bearing is tested.

    >>> share = global_risk(normal_production(0, 1, 0.25), (-2, 2), (-2, 2))
    >>> round(share.consumer, 4), round(share.producer, 4)
    (0.008, 0.0149)
    """
    from scipy.special import ndtr

    x, weight = _nodes(production, tolerance)
    mass = weight * production.density(x)
    low, high = ((end - x) / production.u for end in acceptance)
    accepted = ndtr(high) - ndtr(low)
    good = (x >= tolerance[0]) & (x <= tolerance[1])
    return GlobalRisk(
        float(mass[~good].sum()),
        float((mass * accepted)[~good].sum()),
        float((mass * (1 - accepted))[good].sum()),
    )


def _nodes(
    production: Production, tolerance: tuple[float, float]
) -> tuple[NDArray[np.float64], NDArray[np.float64]]:
    """Nodes and weights over the production's range, with panel ends at the tolerance limits."""
    inner = [end for end in tolerance if production.low < end < production.high]
    ends = np.unique([*np.linspace(production.low, production.high, PANELS + 1), *inner])
    at, weight = np.polynomial.legendre.leggauss(NODES)
    half, middle = np.diff(ends) / 2, (ends[1:] + ends[:-1]) / 2
    return (middle[:, None] + half[:, None] * at).ravel(), (half[:, None] * weight).ravel()


def acceptance_limit(production: Production, upper: float, consumer: float) -> float | Undetermined:
    """Upper acceptance limit at which the global consumer's risk is `consumer` (0..1), by halving.

    One-sided: all below is good. Undetermined where even accepting everything stays under the risk.

    >>> bearing = gamma_production(4.0, 0.25, 0.25)
    >>> round(acceptance_limit(bearing, 2.0, 0.001), 2)
    1.67
    """
    tolerance = (-inf, upper)
    low, high = production.low - 10 * production.u, production.high + 10 * production.u
    if global_risk(production, tolerance, (-inf, high)).consumer <= consumer:
        return Undetermined("accepting everything stays under this risk: no acceptance limit is needed")
    for _ in range(60):
        middle = (low + high) / 2
        over = global_risk(production, tolerance, (-inf, middle)).consumer > consumer
        low, high = (low, middle) if over else (middle, high)
    return (low + high) / 2
