"""Lengths as they are shown: at the gauge's resolution, in the unit chosen. Never compare what was shown.

Values in mm go in, text comes out. Fits and diameters show to 0.0001 in or 0.001 mm, gaps and
flatness to 0.001 in or 0.01 mm, unless something finer was typed (common practice).
"""

from decimal import ROUND_CEILING, ROUND_HALF_UP, Decimal
from typing import Literal

from inspect_app.model.units import factor

from .estimate import Estimate, Undetermined

Unit = Literal["mm", "in"]
Kind = Literal["size", "gap"]
USUAL: dict[tuple[Kind, Unit], str] = {
    ("size", "in"): "0.0001",
    ("size", "mm"): "0.001",
    ("gap", "in"): "0.001",
    ("gap", "mm"): "0.01",
}
MINUS = "−"


def resolution_to_show(kind: Kind, unit: Unit, typed: str = "") -> Decimal:
    """The last step to show, in `unit`: the usual one, or that of the last digit `typed` where finer.

    >>> resolution_to_show("gap", "in", "0.0015")
    Decimal('0.0001')
    """
    usual = Decimal(USUAL[(kind, unit)])
    digits = len(typed.replace(",", ".").partition(".")[2])
    return min(usual, Decimal(1).scaleb(-digits)) if digits else usual


def shown(value_mm: float, unit: Unit, resolution: Decimal) -> str:
    """`value_mm` in `unit` at the nearest multiple of `resolution` > 0 (also 0.0005); halves away from 0.

    Float noise below a picometre does not count, so 0.00005 in typed shows as 0.0001. Never "-0".

    >>> shown(0.03048, "in", Decimal("0.0001"))
    '0.0012 in'
    """
    return f"{_rounded(value_mm, unit, resolution, ROUND_HALF_UP)} {unit}"


def shown_with_doubt(value: Estimate, unit: Unit, resolution: Decimal) -> str:
    """The same with plus or minus 2u, rounded **up** to the resolution: a doubt is never made smaller.

    >>> shown_with_doubt(Estimate(87.2512, 0.0031), "mm", Decimal("0.001"))
    '87.251 ± 0.007 mm'
    """
    doubt = _rounded(2 * value.u, unit, resolution, ROUND_CEILING)
    return f"{_rounded(value.value, unit, resolution, ROUND_HALF_UP)} ± {doubt} {unit}"


def shown_or_reason(value: float | Undetermined, unit: Unit, resolution: Decimal) -> str:
    """A value as `shown`, or the words of the reason why there is none.

    >>> shown_or_reason(Undetermined("not read"), "mm", Decimal("0.01"))
    'not read'
    """
    return value.reason if isinstance(value, Undetermined) else shown(value, unit, resolution)


def _rounded(value_mm: float, unit: Unit, resolution: Decimal, how: str) -> str:
    if resolution <= 0:
        raise ValueError("a resolution is above 0")
    exact = Decimal(repr(round(value_mm, 9))) / factor(unit)
    steps = (exact / resolution).quantize(Decimal("1e-6")).quantize(Decimal(1), rounding=how)
    number = steps * resolution
    return f"{MINUS if number < 0 else ''}{abs(number):f}"
