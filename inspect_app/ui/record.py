"""The record of a core: what is known of it as a whole. A change is a new record after the one seen."""

from typing import Any

import streamlit as st

from inspect_app.model.core import Core, CoreRecord
from inspect_app.model.problems import Problem, Problems
from inspect_app.ui import blocks, core_form, core_zip, entry, shelf, who, words
from inspect_app.ui.blocks import heading, section, title_strip
from inspect_app.ui.choice import chosen_core
from inspect_app.ui.markup import Html, lines, table, tag
from inspect_app.ui.shelf import Record, Slot
from inspect_app.ui.typed_text import Reader, written

_SEEN, _BELOW = "record_seen", "record_told_below"


def page() -> None:
    """Draw the page: the boxes of the record, or the records that stand beside each other, to settle."""
    slot = chosen_core(judged=False)
    if slot is None or slot.held is None:
        return
    below = st.session_state.pop(_BELOW, False)
    if not below:
        entry.show_told()
    blocks.show(_head(slot.held.core))
    by = who.box()
    records = {record.number: record for record in shelf.current().records(slot.id)}
    if len(slot.held.records) > 1:
        _settle(slot, [records[number] for number in slot.held.records], by)
        return
    seen = _seen(slot, records)
    changed, reader = _boxes(slot, seen)
    if seen.number != slot.held.records[0]:
        if changed == seen.core:
            _forget(slot.id)
            st.rerun()
        _meanwhile(records[slot.held.records[0]])
    if st.button("Save the record", key="do_record", type="primary"):
        _save(slot, seen, changed, reader, by)
    if below:
        entry.show_told()
    _out(slot.id)


def _head(core: Core) -> Html:
    strip = title_strip(("Core", core.title), ("View", f"Record, {words.STAGES[core.stage].lower()}"))
    told = lines("Nothing is overwritten: each change is kept beside what stood before, with name and time.")
    return tag("div", strip, heading("Record"), told, cls="ia-page")


def _seen(slot: Slot, records: dict[int, Record]) -> Record:
    """The record that the boxes were filled from, which somebody else may have changed since."""
    assert slot.held is not None
    kept: dict[str, int] = st.session_state.setdefault(_SEEN, {})
    return records[kept.setdefault(slot.id, slot.held.records[0])]


def _forget(core_id: str) -> None:
    st.session_state.get(_SEEN, {}).pop(core_id, None)


def _boxes(slot: Slot, seen: Record) -> tuple[Core | None, Reader]:
    """Draw the boxes, filled from the record seen; the core as typed, None where something is wrong."""
    reader, key, before = Reader(), f"record_{slot.id}_{seen.number}", seen.core.record
    left, right = st.columns([3, 2], gap="large")
    with left:
        fields = core_form.head(reader, seen.core, key)
        blocks.show(section("Parts"))
        content = core_form.content(before, key)
        titles = {one.id: one.title for one in slot.engine.positions.values()} if slot.engine else {}
        parts = core_form.parts(reader, before, titles, key)
    with right:
        blocks.show(section("Money"))
        money = core_form.money(reader, before, key, shelf.current().book.price_book.currency)
        blocks.show(section("What is said and read"))
        claims = core_form.claims(reader, before, key)
        numbers = core_form.numbers(reader, before, key)
    if reader.problems:
        return None, reader
    said: dict[str, Any] = {"claims": claims, "numbers_read": numbers, "content": content, "parts": parts}
    record = CoreRecord.model_validate(said | money)
    return seen.core.model_copy(update=fields | {"record": record}), reader


def _save(slot: Slot, seen: Record, changed: Core | None, reader: Reader, by: str) -> None:
    if not by:
        reader.problems.insert(0, Problem("Who enters", "it is empty.", "Type your initials."))
    if reader.problems or changed is None:
        _refuse(reader.problems)
        return
    if changed == seen.core:
        blocks.show(tag("div", lines("Nothing is changed."), cls="ia-told", role="status"))
        return
    try:
        standing = shelf.current().revise(changed, seen.sheet, by, (seen.number,))
    except Problems as problems:
        _refuse(list(problems.items))
        return
    _forget(slot.id)
    told = "Saved: the record."
    if len(standing) > 1:
        told += " Somebody else had changed it meanwhile: both stand until one is settled on."
    entry.tell(told)
    # Beside the button, as the top is out of sight on a phone; records to settle stand at the top.
    st.session_state[_BELOW] = len(standing) == 1
    st.rerun()


def _when(record: Record) -> str:
    return record.written[:16].replace("T", " ")


def _meanwhile(other: Record) -> None:
    said = f"{other.who} changed this record after it was opened here, on {_when(other)}."
    told = lines(said, "Saving keeps both, and then one is settled on.")
    blocks.show(tag("div", told, cls="ia-refused", role="status"))


def _settle(slot: Slot, standing: list[Record], by: str) -> None:
    """Show what the records say differently; one of them becomes a record that follows all."""
    told = {record.number: _told(record.core) for record in standing}
    names = list(dict.fromkeys(name for said in told.values() for name in said))
    rows = [[name, *(said.get(name, "") for said in told.values())] for name in names]
    differing = [row for row in rows if len(set(row[1:])) > 1]
    heads = [f"{record.who}, {_when(record)}" for record in standing]
    blocks.show(
        section(f"{len(standing)} records stand beside each other"),
        lines("Settle which counts. The others stay in the core's history. Until then the first one counts."),
        table(["", *heads], differing, numbers=frozenset())
        if differing
        else lines("They differ in their engine sheets, pieces or files alone."),
    )
    for at, record in enumerate(standing, start=1):
        if st.button(f"Record {at} counts", key=f"settle_{record.number}"):
            if not by:
                _refuse([Problem("Who enters", "it is empty.", "Type your initials.")])
                return
            _follow(slot, record, by)


def _follow(slot: Slot, record: Record, by: str) -> None:
    assert slot.held is not None
    try:
        shelf.current().revise(record.core, record.sheet, by, slot.held.records)
    except Problems as problems:
        _refuse(list(problems.items))
        return
    _forget(slot.id)
    entry.tell(f"Settled: the record of {record.who} counts.")
    st.rerun()


def _told(core: Core) -> dict[str, str]:
    """A record in words, by what each is about."""
    record = core.record
    money = {
        "Asking price": record.asking_price,
        "Value when built": record.value_built,
        "Value in parts": record.value_in_parts,
    }
    return {
        "Title": core.title,
        "Built to": words.BUILD_STANDARDS[core.build_standard],
        "Used for": core.use,
        "Stage": words.STAGES[core.stage],
        **{title: written(amount) for title, amount in money.items()},
        "Alternatives": "; ".join(f"{one.name}: {written(one.price)}" for one in record.alternatives),
        "Seller's claims": "; ".join(
            f"{one.text} ({core_form.CLAIMS[one.state].lower()})" for one in record.claims
        ),
        "Numbers read": "; ".join(f"{one.what}: {one.text}" for one in record.numbers_read),
        "What is there": core_form.CONTENTS[record.content],
        "Parts": "; ".join(f"{name}: {core_form.PARTS[told].lower()}" for name, told in record.parts.items()),
    }


def _refuse(problems: list[Problem]) -> None:
    told = lines("Not saved.", *(str(problem) for problem in problems))
    blocks.show(tag("div", told, cls="ia-refused", role="status"))


def _out(core_id: str) -> None:
    link = tag("a", "Take this core out as a zip", href=core_zip.address(core_id), download=f"{core_id}.zip")
    note = " It holds all evidence and photos, and can be brought in on another Rack."
    blocks.show(tag("div", section("Take out"), tag("p", link, note), cls="ia-page"))
