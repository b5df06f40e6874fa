"""The record of a part on its page: all items, what became of them, and where each is changed."""

from dataclasses import replace

import streamlit as st

from inspect_app.model.evidence import Evidence, OnPiece, Withdrawal
from inspect_app.rulebook.check_core import pieces_of
from inspect_app.ui import asks, blocks, correcting, item_words, record_lines, taking_back
from inspect_app.ui.markup import EMPTY, Html, join, lines, tag
from inspect_app.ui.part_page_at import AtPart
from inspect_app.ui.record_lines import Line

OPEN_AT_FIRST = 20
_CHANGED = (
    "Somebody changed it while you had it open. What you save stands beside that, and one of the two is "
    "settled on."
)


def section(at: AtPart) -> None:
    """Draw what is to settle, the item that is being changed, and the record, newest first."""
    for item, made in taking_back.disputes(at):
        _dispute(at, item, made)
    found = record_lines.record(at)
    heading = blocks.section(f"Record: {len(found)} item{'' if len(found) == 1 else 's'}")
    blocks.show(tag("div", heading, cls="ia-page"))
    asked = st.query_params.get("item")
    line = next((line for line in found if line.item.id == asked), None)
    if line is not None:
        _change(at, line)
    blocks.show(tag("div", _listed(at, found), cls="ia-page"))


def _listed(at: AtPart, found: list[Line]) -> Html:
    if not found:
        return lines("Nothing is entered about this part yet. Take photos before washing, then look.")
    older = [_line(at, line) for line in found[OPEN_AT_FIRST:]]
    told = tag("div", *(_line(at, line) for line in found[:OPEN_AT_FIRST]), cls="ia-record")
    behind = tag("details", tag("summary", f"{len(older)} older"), *older, cls="ia-more ia-record")
    return join(told, behind if older else EMPTY)


def _line(at: AtPart, line: Line) -> Html:
    said = item_words.said(at.engine.book, line.item)
    named = f"{item_words.kind(line.item).capitalize()} {line.number}"
    link = tag(
        "a",
        "Correct or withdraw" if line.counts else "Open",
        href=asks.address("/part", core=at.slot.id, part=at.position, item=line.item.id),
        data_ask="item",
        data_value=line.item.id,
        aria_label=f"Correct or withdraw {named.lower()}" if line.counts else f"Open {named.lower()}",
    )
    return tag(
        "div",
        tag(
            "div",
            tag("p", tag("strong", f"{named}. "), said if line.counts else tag("s", said)),
            lines(record_lines.about(at, line), *line.fate, getattr(line.item, "note", ""), cls="ia-soft"),
        ),
        link,
        cls="ia-item",
    )


def _change(at: AtPart, line: Line) -> None:
    item, key = line.item, f"change_{line.item.id}"
    at = _about(at, item)
    with st.container(border=True, key="changing"):
        named = f"{item_words.kind(item).capitalize()} {line.number}"
        said = item_words.said(at.engine.book, item)
        blocks.show(tag("div", blocks.section(named), lines(said, *line.fate), cls="ia-page"))
        opened = st.session_state.setdefault(f"{key}_opened", line.counts)
        if opened and not line.counts:
            blocks.show(tag("div", lines(_CHANGED), cls="ia-page"))
        if opened:
            _correct(at, item, key)
        if line.counts:
            _withdraw(at, item, key, named.lower())
        else:
            _bring_back(at, item, named.lower())
        if st.button("Leave it as it is", key="leave_item"):
            _leave()


def _about(at: AtPart, item: Evidence) -> AtPart:
    """The part with the piece that an item speaks of, which may be one that sat here before."""
    if not isinstance(item, OnPiece) or item.piece == at.piece.id:
        return at
    return replace(at, piece=pieces_of(at.engine, at.core)[item.piece], state=item.state)


def _correct(at: AtPart, item: Evidence, key: str) -> None:
    if not correcting.can(item) or not isinstance(item, OnPiece):
        blocks.show(tag("div", lines("To change it, withdraw it and enter it anew."), cls="ia-page"))
    elif correcting.form(at, item, key):
        _leave()


def _withdraw(at: AtPart, item: Evidence, key: str, named: str) -> None:
    blocks.show(
        tag("div", lines(f"Withdraw {named}? It stays in the record, struck through."), cls="ia-page ia-ask")
    )
    reason = st.text_input("Why?", key=f"{key}_reason")
    if st.button(f"Withdraw {named}", key="withdraw_item"):
        if taking_back.withdraw(at, item, reason):
            _leave()
        st.rerun()


def _bring_back(at: AtPart, item: Evidence, named: str) -> None:
    hidden_by = taking_back.withdrawn_by(at.core.evidence, item.id)
    if hidden_by is None:
        return
    if st.button(f"Bring {named} back", key="bring_back"):
        if taking_back.bring_back(at, hidden_by):
            _leave()
        st.rerun()


def _leave() -> None:
    item = st.query_params.pop("item", None)
    st.session_state.pop(f"change_{item}_opened", None)
    st.rerun()


def _dispute(at: AtPart, item: Evidence, made: list[Evidence]) -> None:
    with st.container(border=True, key=f"dispute_{item.id}"):
        named = record_lines.called(at, item.id)
        why = f"Several people changed {named}: {item_words.said(at.engine.book, item)}."
        blocks.show(
            tag(
                "div",
                blocks.section(f"To settle: {named}"),
                lines(why, "Until one of these is settled on, all stand and the worse counts."),
                cls="ia-page",
            )
        )
        for number, change in enumerate(made):
            said = item_words.said(at.engine.book, change)
            by = lines(item_words.told_by(change), cls="ia-soft")
            blocks.show(tag("div", lines(said), by, cls="ia-page"))
            counts = f"Let {record_lines.called(at, change.id)} count"
            label = "Let it be withdrawn" if isinstance(change, Withdrawal) else counts
            if st.button(label, key=f"settle_{item.id}_{number}"):
                taking_back.settle(at, made, change)
                st.rerun()
