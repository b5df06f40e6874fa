"""What the grid of boxes is told: the boxes, what stands in each, and the words beside it."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from inspect_app.closing.read_values import typed_size
from inspect_app.model.evidence import Reading, Withdrawal
from inspect_app.model.units import from_canonical
from inspect_app.ui import bench_layout, figures
from inspect_app.ui.bench_entry import Heard
from inspect_app.ui.bench_groups import Box, Group, readings, spot_of
from inspect_app.ui.bench_layout import Order
from inspect_app.ui.bench_questions import contradict, questions
from inspect_app.ui.bench_setup import Setup
from inspect_app.ui.shelf import Slot


@dataclass(frozen=True)
class Rival:
    """One of several items of which one is to be kept."""

    id: str
    words: str


def grid(slot: Slot, group: Group, setup: Setup, order: Order, heard: Heard, who: str) -> dict[str, Any]:
    """All that the component needs, as plain data."""
    tables, shown = bench_layout.tables(group, order), boxes(slot, group, setup)
    return {
        "core": slot.id,
        "group": group.key,
        "seq": heard.seq,
        "setup": setup.model_dump(mode="json") | {"who": who},
        "ready": bool(who),
        "begun": any(box["base"] for box in shown.values()),
        "tables": [_table(table) for table in tables],
        "hand": [box.key for table in tables for box in table.hand],
        "boxes": shown,
        "told": {name: {"state": one.state, "words": one.words} for name, one in heard.told.items()},
        "hint": hint(setup),
    }


def hint(setup: Setup) -> str:
    """What can be typed, shown in an empty box."""
    if setup.setting:
        return f"+0 or {setup.setting.partition(' ')[0]}"
    return setup.unit


def _table(table: bench_layout.Table) -> dict[str, Any]:
    rows = [{"label": row.label, "boxes": [box.key for box in row.boxes]} for row in table.rows]
    return {"title": table.title, "heads": list(table.heads), "rows": rows}


def boxes(slot: Slot, group: Group, setup: Setup) -> dict[str, dict[str, Any]]:
    """By the key of each box: its name, the reading it shows, what stands beside it, what is asked."""
    assert slot.engine is not None
    held = _held(slot, setup.state)
    shown = {box: reading for box in group.boxes if (reading := _shown(held.get(group.spot(box), ()), setup))}
    asked = questions(slot.engine, group, shown)
    return {
        box.key: _box(slot, group, setup, box, held, shown.get(box), asked.get(box, ""))
        for box in group.boxes
    }


def _held(slot: Slot, state: str) -> dict[tuple[str, ...], list[Reading]]:
    found: dict[tuple[str, ...], list[Reading]] = {}
    for reading in readings(slot):
        if reading.state == state:
            found.setdefault(spot_of(reading), []).append(reading)
    return found


def _shown(found: Sequence[Reading], setup: Setup) -> Reading | None:
    """The latest reading by the gauge in use; of the session in use alone, where it is read again."""
    mine = [one for one in found if one.gauge == setup.gauge]
    if setup.again:
        mine = [one for one in mine if one.session == setup.session]
    return mine[-1] if mine else None


def _box(
    slot: Slot,
    group: Group,
    setup: Setup,
    box: Box,
    held: Mapping[tuple[str, ...], Sequence[Reading]],
    shown: Reading | None,
    asked: str,
) -> dict[str, Any]:
    found = held.get(group.spot(box), ())
    beside = [f"also {told(slot, group, one)}" for one in found if one is not shown]
    if shown is not None and shown.setting and shown.setting != setup.setting:
        beside.insert(0, f"from {shown.setting}")
    why, rivals = _to_settle(slot, group, box, found)
    return {
        "name": bench_layout.box_name(group, box),
        "position": box.position,
        "text": as_typed(shown, setup) if shown else "",
        "base": shown.id if shown else "",
        "beside": beside,
        "asked": asked,
        "settle": why,
        "rivals": [{"id": rival.id, "words": rival.words} for rival in rivals],
    }


def as_typed(reading: Reading, setup: Setup) -> str:
    """The text of a reading as it was typed, with its unit where it is not that of the group."""
    other = reading.unit != setup.unit and reading.setting is None
    return f"{reading.value} {reading.unit}" if other else reading.value


def told(slot: Slot, group: Group, reading: Reading) -> str:
    """A reading in words: "+61, 3.4431 in, dial bore gauge, B.W., 2026-11-25"."""
    assert slot.engine is not None
    gauge = slot.engine.book.gauges.get(reading.gauge or "")
    full = f"{_full(slot, group, reading)}" if reading.setting else ""
    by = gauge.title if gauge else "no gauge named"
    value = reading.value if reading.setting else f"{reading.value} {reading.unit}"
    return ", ".join(filter(None, (value, full, by, reading.who, reading.when[:10])))


def _full(slot: Slot, group: Group, reading: Reading) -> str:
    assert slot.engine is not None
    size = from_canonical(typed_size(reading, slot.engine, group.kind), reading.unit, group.form.dimension)
    return f"{figures.number(size, figures.decimals(reading.unit, size))} {reading.unit}"


def _to_settle(slot: Slot, group: Group, box: Box, found: Sequence[Reading]) -> tuple[str, list[Rival]]:
    """Why one of several must be kept, and which there are; "" and none where nothing is to settle."""
    assert slot.held is not None
    assert slot.engine is not None
    by_id = {item.id: item for item in slot.held.core.evidence}
    for aim, rivals in slot.held.contested.items():
        about = by_id.get(aim)
        if isinstance(about, Reading) and spot_of(about) == group.spot(box):
            why = f"{about.value} was corrected twice at the same time. Both stand; keep one."
            return why, [Rival(name, _rival(slot, group, by_id.get(name))) for name in rivals]
    if len(found) > 1 and contradict(slot.engine, group, found):
        why = "These readings contradict each other. The worse one counts until one is kept."
        return why, [Rival(one.id, told(slot, group, one)) for one in found]
    return "", []


def _rival(slot: Slot, group: Group, item: object) -> str:
    if isinstance(item, Withdrawal):
        return f"withdrawn by {item.who}: {item.reason[:80]}"
    assert isinstance(item, Reading)
    return told(slot, group, item)
