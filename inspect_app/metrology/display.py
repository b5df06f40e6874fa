"""Lengths as they are shown: at the gauge's resolution, in the unit chosen. Never compare what was shown.

Values in mm go in, text comes out.
"""

import math
from decimal import ROUND_HALF_UP, Decimal
from typing import Literal

from inspect_app.model.units import factor

Unit = Literal["mm", "in"]
MINUS = "−"
GAUGE_PLACES = {"in": 4, "mm": 3}
"""The decimal places that a gauge for sizes shows in each unit of length."""
GAP_PLACES = {"in": 3, "mm": 2}
"""Those of gaps, flatness and depths, unless something finer was typed."""
_HALVES_UP = 1e-9


def gap_places(unit: str, value: float, u: float = 0.0) -> int | None:
    """The places for a gap, flatness or depth; None for those of a gauge, or of another unit.

    The value is in `unit`. What was read finer shows finer: the value needs the finer places and ends there;
    or it ends at the coarse ones and its standard uncertainty is below that of rounding to them; or it ends
    nowhere (computed, or typed in the other unit) and its uncertainty is below half of the coarse step.

    >>> gap_places("in", 0.004), gap_places("in", 0.0015), gap_places("mm", 0.1016, 0.02)
    (3, None, 2)
    >>> gap_places("in", 0.015, 0.0002)
    """
    coarse = GAP_PLACES.get(unit)
    if coarse is None or not math.isfinite(value):
        return None
    step = 10.0**-coarse
    if _ends_at(value, coarse):
        return None if 0 < u < step / math.sqrt(12) else coarse
    finer = _ends_at(value, GAUGE_PLACES[unit]) or 0 < u < step / 2
    return None if finer else coarse


def _ends_at(value: float, places: int) -> bool:
    return abs(round(value, places) - value) < _HALVES_UP


def number(value: float, decimals: int) -> str:
    """Write a figure with `decimals` places (0 or more) and a true minus; never "minus nothing".

    >>> number(-0.00312, 4), number(-0.00001, 4), number(float("inf"), 4)
    ('−0.0031', '0.0000', 'not known')
    """
    if not math.isfinite(value):
        return "not known"
    text = f"{value:.{decimals}f}"
    negative = text.startswith("-") and float(text) != 0
    return f"{MINUS if negative else ''}{text.lstrip('-')}"


def signed(value: float, decimals: int) -> str:
    """Write a deviation with its sign.

    >>> signed(0.0012, 4), signed(-0.0003, 4), signed(0.0, 4)
    ('+0.0012', '−0.0003', '0.0000')
    """
    text = number(value, decimals)
    return text if text.startswith(MINUS) or not float(text) else f"+{text}"


def rounded(value: float, unit: str) -> float:
    """Round to the places that a gauge of the unit shows, halves up; another unit is left as it is.

    >>> rounded(0.00125, "in"), rounded(0.0305, "mm"), rounded(12.34567, "MPa")
    (0.0013, 0.031, 12.34567)
    """
    places = GAUGE_PLACES.get(unit)
    return value if places is None else round(value + _HALVES_UP, places)


def shown(value_mm: float, unit: Unit, resolution: Decimal) -> str:
    """`value_mm` in `unit` at the nearest multiple of `resolution` > 0 (also 0.0005); halves away from 0.

    Float noise below a picometre does not count, so 0.00005 in typed shows as 0.0001. Never "-0".

    >>> shown(0.03048, "in", Decimal("0.0001"))
    '0.0012 in'
    """
    return f"{_rounded(value_mm, unit, resolution)} {unit}"


def _rounded(value_mm: float, unit: Unit, resolution: Decimal) -> str:
    if resolution <= 0:
        raise ValueError("a resolution is above 0")
    exact = Decimal(repr(round(value_mm, 9))) / factor(unit)
    steps = (exact / resolution).quantize(Decimal("1e-6")).quantize(Decimal(1), rounding=ROUND_HALF_UP)
    number = steps * resolution
    return f"{MINUS if number < 0 else ''}{abs(number):f}"
