"""What is typed into a box, as number, unit and setting of a reading; the text itself is never changed."""

import re
from dataclasses import dataclass

from inspect_app.model.units import UnknownUnit, factor
from inspect_app.rulebook.forms_quantities import QuantityForm
from inspect_app.ui.bench_setup import Setup

LONGEST = 40
SIGNS = ("+", "-", "\N{MINUS SIGN}")
_WITH_UNIT = re.compile(r"([+\-−]?[\d.,]+)\s*([^\d\s.,+\-−](?:[^\d]*[^\d\s])?)")
_ZERO = re.compile(r"0+(?:[.,]0+)?")


class Refused(ValueError):
    """What was typed can be no reading; the message says why and what to type."""


@dataclass(frozen=True)
class Typed:
    """`value` as typed, without its unit. With `setting` it counts divisions of the gauge from it."""

    value: str
    unit: str
    setting: str | None


def typed(text: str, setup: Setup, form: QuantityForm) -> Typed:
    """Read the text of a box; numbers and units themselves are checked with the whole reading.

    With a setting size, a sign (or a bare zero) means divisions from it, anything else a full size. An
    ending such as "mm" stands for the unit of the group. Raises Refused.
    """
    text = text.strip()
    if len(text) > LONGEST:
        raise Refused(f"{quoted(text)} has {len(text):,} characters; no size is that long. Type it again.")
    value, unit = _parted(text, form.dimension)
    counts = value.startswith(SIGNS) or (_ZERO.fullmatch(value) and not form.signed)
    if setup.setting and counts:
        if unit:
            raise Refused(
                f'"{text}" has a sign and a unit, but a signed value counts divisions of the gauge. '
                "Type the divisions, such as +8, or the full size with its unit."
            )
        return Typed(value, setup.unit, setup.setting)
    if value.startswith("+") and not form.signed:
        raise Refused(f'"{text}" counts from a setting size. Type above what the gauge was set to.')
    return Typed(value, unit or setup.unit, None)


def _parted(text: str, dimension: str) -> tuple[str, str]:
    """The number and the unit behind it; the text as it is where what stands behind is no unit."""
    found = _WITH_UNIT.fullmatch(text)
    try:
        if found:
            factor(found[2], dimension)
            return found[1], found[2]
    except UnknownUnit:
        pass
    return text, ""


def quoted(text: str) -> str:
    """A text in quotes, cut where it is too long to be read."""
    return f'"{text}"' if len(text) <= LONGEST else f'"{text[:LONGEST]}..."'
