"""Sizes as people type them, and the one unit in which the program computes.

Text in ("3.3868 in", "+8", "86,02 mm"), floats out in the canonical unit of a dimension: lengths in
millimetres. Conversion runs in decimal arithmetic, so that 0.010 in and 0.254 mm are one number.
The factors come from pint, which is loaded on first use only.
"""

import re
from decimal import Decimal
from functools import cache
from typing import Any, Literal

Dimension = Literal["length", "torque", "pressure", "mass", "volume", "area", "angle", "ratio", "hardness"]

CANONICAL: dict[str, str] = {
    "length": "mm",
    "torque": "newton * meter",
    "pressure": "kilopascal",
    "mass": "gram",
    "volume": "cm ** 3",
    "area": "mm ** 2",
    "angle": "degree",
    "ratio": "dimensionless",
    "hardness": "HB",
}
_BRINELL = "HB = [indentation_hardness]"
"""Brinell readings convert to no other scale of hardness: the scales are not units of one another."""
_NUMBER = re.compile(r"[+\-−]?(?:\d{1,12}(?:[.,]\d{1,12})?|[.,]\d{1,12})")
_GROUPED = re.compile(r"[+\-−]?\d{1,3}(?:[.,]\d{3})+[.,]\d+")
_PICOMETRE = 9


class NotANumber(ValueError):
    """The text is no plain, finite number; the message quotes it and shows a form that works."""


class UnknownUnit(ValueError):
    """The unit is not known, or measures something else; the message names both."""


def decimal_of(text: str) -> Decimal:
    """Read a plain number with comma or point, also ".0005"; exponents, NaN and infinity are refused."""
    cleaned = text.strip()
    if _GROUPED.fullmatch(cleaned):
        plain = re.sub("[.,]", "", cleaned[: -len(_last_group(cleaned))]) + "." + _last_group(cleaned)[1:]
        raise NotANumber(f'"{text}" is not a number: it has two marks. Type one mark only, as in {plain}.')
    if not _NUMBER.fullmatch(cleaned):
        raise NotANumber(f'"{text}" is not a number. Type +8, -2.5 or a full size such as 3.3868.')
    return Decimal(cleaned.replace(",", ".").replace("−", "-"))


def _last_group(text: str) -> str:
    """The last point or comma of a number, with what follows it."""
    return text[max(text.rfind("."), text.rfind(",")) :]


@cache
def factor(unit: str, dimension: str = "length") -> Decimal:
    """Canonical units per one `unit`: ``factor("in") == Decimal("25.4")``. Raises UnknownUnit."""
    registry = _registry()
    try:
        amount = registry.Quantity(Decimal(1), unit).to(CANONICAL[dimension])
    except Exception as error:  # pint raises errors of many kinds for unknown text
        examples = "mm, in or thou" if dimension == "length" else CANONICAL[dimension]
        raise UnknownUnit(f'"{unit}" is not a unit of {dimension}. Use {examples}.') from error
    return Decimal(amount.magnitude)


@cache
def _registry() -> Any:
    import pint

    registry: Any = pint.UnitRegistry(non_int_type=Decimal)
    registry.define(_BRINELL)
    return registry


def canonical(value: Decimal, unit: str, dimension: str = "length") -> float:
    """`value` of `unit` in the dimension's canonical unit (mm for lengths)."""
    return float(value * factor(unit, dimension))


@cache
def size(text: str, dimension: str = "length") -> float:
    """Read "value unit" into the canonical unit: ``size("0.010 in") == 0.254`` (mm).

    Zero needs no unit. Raises NotANumber or UnknownUnit with words that quote the text.
    """
    number, _, unit = text.strip().partition(" ")
    if dimension != "ratio" and not unit.strip():
        if decimal_of(number) == 0:
            return 0.0
        raise UnknownUnit(f'"{text}" has no unit. Write it after the number, as in "3.3868 in".')
    return canonical(decimal_of(number), unit.strip() or "dimensionless", dimension)


def celsius(text: str) -> float:
    """Read a temperature: ``celsius("68 F") == 20.0``. Raises NotANumber or UnknownUnit."""
    number, _, unit = text.strip().partition(" ")
    degrees = decimal_of(number)
    match unit.strip().upper():
        case "C":
            return float(degrees)
        case "F":
            return float((degrees - 32) * 5 / 9)
    raise UnknownUnit(f'"{text}" is no temperature. Write it as "31 C" or "88 F".')


def from_canonical(value: float, unit: str, dimension: str = "length") -> float:
    """`value` in the canonical unit as a number of `unit` (the way out, for showing)."""
    return value / float(factor(unit, dimension))


def clean(value: float) -> float:
    """Drop float noise below a picometre (1e-9 mm), so that the unit typed cannot flip a comparison."""
    return round(value, _PICOMETRE)
