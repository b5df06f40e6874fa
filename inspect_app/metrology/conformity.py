"""Whether a figure lies past its limit, and how sure that is.

One number with a normal uncertainty is judged by JCGM 106:2012, 7.3; the span of noisy readings
against a part exactly at its limit (`spread`). A *simple* decision takes the more probable side; a
*guarded* one is closed from 95 % and proven only from 5 % down (one-sided, z = 1.6449, the 0.95
quantile of the standard normal distribution).
"""

from math import erf, isinf, sqrt
from typing import Literal

from inspect_app.model.units import clean

from .estimate import Undetermined
from .figure import Figure
from .spread import Layout, chance_beyond, chance_inside

GUARD_Z = 1.6448536269514722
GUARD = 0.95
CLOSE_CALL = (0.05, 0.95)


def p_beyond(value: float, u: float, limit: float, worse: str) -> float:
    """P(true value past `limit`) for a reading `value` with standard uncertainty `u` >= 0, 0..1; one unit.

    `worse` is "above" or "below". At the limit itself it is 0.5; with u = 0 it is 0 or 1 (0 at the limit).
    Assumes a normal error. Not for a largest minus smallest: see `chance_past`. Source: JCGM 106:2012, 7,
    formula seen in secondary texts.

    >>> round(p_beyond(0.0031, 0.0001, 0.0030, "above"), 4)
    0.8413
    """
    past = clean(value - limit) if worse == "above" else clean(limit - value)
    if u == 0:
        return float(past > 0)
    return 0.5 * (1 + erf(past / (u * sqrt(2))))


def chance_past(figure: Figure, limit: float, worse: str) -> float:
    """How sure it is that a figure lies past its limit, 0..1, by its known end.

    For a span it is the share of parts at the limit that would read narrower: no probability of the
    part itself, but it decides where the probability of other figures does.

    >>> round(chance_past(Figure(1.0, 1.0, 0.5), 1.0, "above"), 3)
    0.5
    """
    if figure.layout is not None:
        return max((_span_beyond(span, figure.layout, u, limit) for span, u in figure.candidates), default=0)
    return p_beyond(figure.lo if worse == "above" else figure.hi, figure.u, limit, worse)


def past(figure: Figure, limit: float, worse: str, guarded: bool) -> tuple[bool, bool]:
    """Whether a figure must and may lie past its limit, in the figure's own unit; `worse` "above" or "below".

    Of several readings each counts with its own uncertainty, so that a worse reading by a coarser
    gauge never lifts what a finer one had shown. A guarded decision asks for 1.6449 u on either side; a
    span is held against a part exactly at its limit. A limit itself is not passed by a value equal to it.

    >>> past(Figure(1.2, 1.2, 0.5), 1.0, "above", guarded=False)
    (True, True)
    >>> past(Figure(1.2, 1.2, 0.5), 1.0, "above", guarded=True)
    (False, True)
    """
    if figure.layout is not None:
        return _span_past(figure, figure.layout, limit, guarded)
    z = GUARD_Z if guarded else 0.0
    sign = 1.0 if worse == "above" else -1.0
    bar = sign * limit
    lo, hi = sorted((sign * figure.lo, sign * figure.hi))
    values = [(sign * value, u) for value, u in figure.candidates]
    must = any(clean(v - z * u - bar) > 0 for v, u in [*values, (lo, figure.u)] if v <= lo)
    may = any(clean(v + z * u - bar) > 0 for v, u in [*values, (hi, figure.u)])
    return must, may


def _span_past(figure: Figure, layout: Layout, limit: float, guarded: bool) -> tuple[bool, bool]:
    must = chance_past(figure, limit, "above") > (GUARD if guarded else 0.5)
    if must or isinf(figure.hi):
        return must, True
    if not guarded:
        return False, False
    return False, any(_span_inside(span, layout, u, limit) < GUARD for span, u in figure.candidates)


def _span_beyond(span: float, layout: Layout, u: float, limit: float) -> float:
    found = chance_beyond(span, layout, u, limit)
    return 0.0 if isinstance(found, Undetermined) else found


def _span_inside(span: float, layout: Layout, u: float, limit: float) -> float:
    found = chance_inside(span, layout, u, limit)
    return 0.0 if isinstance(found, Undetermined) else found


def is_close_call(probability: float, decision: Literal["simple", "guarded"]) -> bool:
    """Whether a simple decision was made between 5 % and 95 %, ends excluded.

    >>> is_close_call(0.75, "simple"), is_close_call(0.95, "simple"), is_close_call(0.75, "guarded")
    (True, False, False)
    """
    return decision == "simple" and CLOSE_CALL[0] < probability < CLOSE_CALL[1]
