"""Probability that a figure lies past its limit (JCGM 106:2012, 7.3), for a normal distribution.

A *simple* decision takes the more probable side; a *guarded* one is closed from 95 % and proven
only from 5 % down (one-sided, z = 1.6449, the 0.95 quantile of the standard normal distribution).
"""

from math import erf, sqrt
from typing import Literal

from inspect_app.model.units import clean

GUARD_Z = 1.6448536269514722
CLOSE_CALL = (0.05, 0.95)


def p_beyond(value: float, u: float, limit: float, worse: str) -> float:
    """P(true value past `limit`) for a reading `value` with standard uncertainty `u` >= 0.

    At the limit itself it is 0.5; with u = 0 it is 0 or 1 (0 at the limit).
    """
    past = clean(value - limit) if worse == "above" else clean(limit - value)
    if u == 0:
        return float(past > 0)
    return 0.5 * (1 + erf(past / (u * sqrt(2))))


def is_close_call(probability: float, decision: Literal["simple", "guarded"]) -> bool:
    """Whether a simple decision was made between 5 % and 95 %, ends excluded."""
    return decision == "simple" and CLOSE_CALL[0] < probability < CLOSE_CALL[1]
