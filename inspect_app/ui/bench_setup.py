"""How a group is read: gauge, setting, session, conditions, state; asked once, carried by each reading."""

import re
from collections.abc import Sequence
from datetime import date
from typing import Any

from pydantic import Field

from inspect_app.model.evidence import Reading
from inspect_app.model.frozen import Frozen
from inspect_app.model.pieces import Piece, state_rank
from inspect_app.model.sheet import SheetQuantity
from inspect_app.model.units import NotANumber, UnknownUnit, size
from inspect_app.rulebook.engine import Engine
from inspect_app.ui import entry
from inspect_app.ui.bench_groups import Group, readings
from inspect_app.ui.shelf import Slot

LONGEST = 200
LENGTHS = ("in", "mm")
_SIZE = re.compile(r"([+\-−]?[\d.,]+)\s*(\D*)")


class Setup(Frozen):
    """What a group's readings share. `setting` is a size with its unit; `again` asks for second readings.

    Temperatures are texts with their unit ("31 C"); "" where none was taken. `who` typed what comes with it;
    "" if nobody was named then.
    """

    gauge: str | None = Field(default=None, max_length=LONGEST)
    setting: str = Field(default="", max_length=LONGEST)
    unit: str = Field(max_length=LONGEST)
    session: str = Field(default="", max_length=LONGEST)
    conditions: tuple[str, ...] = ()
    state: str = Field(max_length=LONGEST)
    part_temperature: str = Field(default="", max_length=LONGEST)
    gauge_temperature: str = Field(default="", max_length=LONGEST)
    again: bool = False
    who: str = Field(default="", max_length=LONGEST)


def held_last(slot: Slot, group: Group) -> Reading | None:
    """The reading of the group that came last and counts; the last with a setting size, if any has one."""
    spots = {group.spot(box)[:3] for box in group.boxes}
    alike = [item for item in readings(slot) if (item.piece, item.quantity, item.place) in spots]
    return next((item for item in reversed(alike) if item.setting), alike[-1] if alike else None)


def usual(slot: Slot, group: Group) -> Setup:
    """The setup to begin with: that of the group's last reading, else what sheet and rules say."""
    engine, last = slot.engine, held_last(slot, group)
    assert engine is not None
    if last is None:
        return Setup(
            unit=sheet_unit(engine, group),
            session=own_session(group),
            conditions=engine.conditions(group.form.id, group.kind),
            state=present(slot, group),
        )
    return Setup(
        gauge=last.gauge,
        setting=last.setting or "",
        unit=last.unit,
        session=own_session(group),
        conditions=last.conditions,
        state=present(slot, group),
    )


def own_session(group: Group, day: date | None = None) -> str:
    """The session made by itself: one for each group and day. The gauge tells sessions apart besides."""
    at = day or date.today()
    return f"{group.kind.replace('_', ' ')} {group.form.id.replace('_', ' ')}, {at.day} {at:%b}"


def sheet_unit(engine: Engine, group: Group) -> str:
    """The unit of the sheet's row; without a row that in which the quantity is shown."""
    row = engine.row(group.form.id, group.kind)
    texts = (row.nominal, row.minimum, row.maximum, row.wear_limit)
    units = [text.strip().partition(" ")[2].strip() for text in texts if text]
    return next((unit for unit in units if unit), engine.shown(group.form.id, group.kind).shown_in)


def units(group: Group, present_unit: str) -> tuple[str, ...]:
    """The units to choose from: inch and millimetre for lengths, else the one in use."""
    usual_ones = LENGTHS if group.form.dimension == "length" else (group.form.shown_in,)
    return tuple(dict.fromkeys((*usual_ones, present_unit)))


def gauges(engine: Engine, group: Group) -> tuple[str, ...]:
    """The gauges of the rulebook that read this dimension."""
    return tuple(g.id for g in engine.book.gauges.values() if g.dimension == group.form.dimension)


def conditions(engine: Engine, group: Group) -> tuple[str, ...]:
    """The conditions that the quantity asks for, and those that exclude one of them."""
    asked = engine.conditions(group.form.id, group.kind)
    known = engine.book.conditions
    others = [name for name in known if set(known[name].excludes) & set(asked) and name not in asked]
    return (*asked, *others)


def pieces(slot: Slot, group: Group) -> list[Piece]:
    """The pieces that are read in a group."""
    return [entry.piece_in(slot, position) for position in dict.fromkeys(box.position for box in group.boxes)]


def present(slot: Slot, group: Group) -> str:
    """The latest state that any piece of the group is in."""
    return max((entry.present_state(slot, piece) for piece in pieces(slot, group)), key=state_rank)


def states(slot: Slot, group: Group) -> dict[str, str]:
    """The states that the pieces of a group can be described in, with their words, earliest first."""
    assert slot.engine is not None
    found: dict[str, str] = {}
    for piece in sorted(pieces(slot, group), key=lambda piece: len(piece.operations), reverse=True):
        for state in entry.states(piece):
            found.setdefault(state, entry.state_words(slot.engine.book, piece, state))
    return found


def setting_of(text: str, unit: str) -> str:
    """The setting size with its unit: as typed where it has one, else with that of the group."""
    found = _SIZE.fullmatch(text.strip())
    return f"{found[1]} {found[2] or unit}" if found else text.strip()


def problems(setup: Setup, group: Group) -> list[str]:
    """What is wrong with a setup before anything is read with it."""
    if not setup.setting:
        return []
    try:
        size(setup.setting, group.form.dimension)
    except (NotANumber, UnknownUnit) as error:
        return [f"Set to: {error}"]
    return [] if setup.gauge else ["Set to: choose the gauge that was set to it."]


def row_of(slot: Slot, group: Group) -> SheetQuantity:
    """The sheet's row of the quantity."""
    assert slot.engine is not None
    return slot.engine.row(group.form.id, group.kind)


def lacking(slot: Slot, group: Group, setup: Setup) -> list[str]:
    """What keeps readings of this setup from counting, in words."""
    engine = slot.engine
    assert engine is not None
    wanted = [n for n in engine.conditions(group.form.id, group.kind) if n not in setup.conditions]
    titles: Sequence[Any] = [engine.book.conditions[name].title for name in wanted]
    if group.form.washed and setup.state == "as_found":
        titles = [*titles, "washed"]
    return [f"Saved, but not counted until read so: {', '.join(titles)}."] if titles else []
