"""How the bays of a machine stand: in one line or two banks, by its sheet, else inferred from counts."""

import re
from dataclasses import dataclass
from typing import Literal

from inspect_app.rulebook.engine import Engine
from inspect_app.rulebook.forms_shapes import MapForm

Layout = Literal["line", "vee"]
Rows = tuple[tuple[str, ...], ...]

_LINE = re.compile(r"\b(in-?line|straight)\b", re.IGNORECASE)
_VEE = re.compile(r"\b(v[ -]?\d+|vee|v)\b", re.IGNORECASE)
_OPPOSED = re.compile(r"\b(flat|opposed)\b", re.IGNORECASE)
_ANGLE = re.compile(r"(\d+(?:\.\d+)?) ?(?:°|deg)", re.IGNORECASE)


@dataclass(frozen=True)
class Banks:
    """The bays of each bank from the front, the angle between banks in degrees, what had to be assumed."""

    rows: Rows
    vee: float = 0
    notes: tuple[str, ...] = ()


def layout_said(text: str) -> Layout | None:
    """Read the word for the layout: "inline-four" -> "line", "V6 at 90 degrees" -> "vee"; None if neither.

    Of two such words the first counts.
    """
    found: list[tuple[int, Layout]] = [(match.start(), "line") for match in _LINE.finditer(text)]
    found += [(match.start(), "vee") for how in (_VEE, _OPPOSED) for match in how.finditer(text)]
    return min(found)[1] if found else None


def angle_said(text: str) -> float | None:
    """Read the angle between the banks, in degrees; banks that lie flat stand at 180."""
    told = _ANGLE.search(text)
    if told and 0 < float(told[1]) <= 180:
        return float(told[1])
    return 180.0 if _OPPOSED.search(text) else None


def banks_of(engine: Engine, form: MapForm) -> Banks:
    """Lay out the bays by the sheet's own word; without one by its counts, and the note says so.

    Two banks are inferred where the counts say two and the stations leave no room for one line.
    """
    bays, counts = engine.indices(form.bays), engine.sheet.counts
    told = engine.sheet.conventions.get(form.layout, "")
    said = layout_said(told)
    if counts[form.banks] != 2 or len(bays) < 2 or said == "line":
        return Banks((bays,), notes=_one_line(said, counts[form.banks], form))
    inferred = said is None
    if inferred and counts[form.stations] - 1 > len(bays) // 2:
        return Banks((bays,), notes=(f"drawn in one line, inferred from its {form.stations}: {_UNSAID}",))
    rows, unlisted = _two_rows(engine, form, bays)
    guess = f"drawn as a V, inferred from its {form.banks} and {form.stations}: {_UNSAID}"
    return Banks(rows, angle_said(told) or form.vee, (*([guess] if inferred else []), *unlisted))


_UNSAID = "the sheet does not say the layout"


def _one_line(said: Layout | None, banks: int, form: MapForm) -> tuple[str, ...]:
    if said != "vee":
        return ()
    return (f"drawn in one line: the sheet says a V, but its count of {form.banks} is {banks}, not 2",)


def _two_rows(engine: Engine, form: MapForm, bays: tuple[str, ...]) -> tuple[Rows, tuple[str, ...]]:
    told = engine.sheet.conventions.get(form.rows, "")
    rows = tuple(tuple(row.split()) for row in told.split("/"))
    if len(rows) == 2 and len(rows[0]) == len(rows[1]) and sorted(rows[0] + rows[1]) == sorted(bays):
        return rows, ()
    note = f"{form.bay_word} numbers drawn from side to side: the sheet does not list them by bank"
    return (bays[::2], bays[1::2]), (note,)
