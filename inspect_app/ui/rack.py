"""The Rack: all cores, those that wait for something first."""

from urllib.parse import quote

import streamlit as st

from inspect_app.ui import figures, shelf, words
from inspect_app.ui.blocks import heading, show
from inspect_app.ui.markup import Html, join, lines, table, tag
from inspect_app.ui.shelf import Slot

AT_MOST = 200
_HEAD = ("Core", "Stage", "Verdict", "Waits for", "Cost, likely")
_ORDER = {None: 1, "provisional": 2, "settled": 3}


def page() -> None:
    """Draw the page: a table with a link to each core's verdict."""
    slots = sorted(shelf.current().list(), key=_waiting_first)
    if not slots:
        show(_empty())
        return
    wanted = st.text_input("Find a core by its title") if len(slots) > AT_MOST else ""
    found = [slot for slot in slots if wanted.casefold() in _title(slot).casefold()]
    shown = found[:AT_MOST]
    cut = f"{len(shown)} of {len(found)} shown. Type a part of the title to see fewer."
    rows = table(_HEAD, [_row(slot) for slot in shown], numbers=frozenset({4}), cls="ia-rack")
    show(
        tag("div", heading(_counted(slots)), rows, lines(cut if len(found) > AT_MOST else ""), cls="ia-page")
    )


def _waiting_first(slot: Slot) -> tuple[int, str]:
    if slot.answer is None:
        return 0, slot.id
    return _ORDER[slot.answer.core.standing], slot.answer.core.title


def _title(slot: Slot) -> str:
    return slot.answer.core.title if slot.answer else slot.id


def _counted(slots: list[Slot]) -> str:
    waiting = sum(slot.answer is None or slot.answer.core.standing != "settled" for slot in slots)
    cores = "1 core" if len(slots) == 1 else f"{len(slots)} cores"
    if not waiting:
        return f"{cores}, none waits for anything"
    return f"{cores}, {waiting} {'waits' if waiting == 1 else 'wait'} for something"


def _row(slot: Slot) -> tuple[str, ...]:
    link = tag("a", _title(slot), href=f"/verdict?core={quote(slot.id, safe='')}")
    if slot.answer is None:
        return link, "", "Cannot be judged", slot.problem or "", ""
    core = slot.answer.core
    return (
        link,
        words.STAGES[core.stage],
        words.core_verdict(core),
        core.waits_for or "nothing",
        _cost(slot),
    )


def _cost(slot: Slot) -> Html:
    answer = slot.answer
    if answer is None:
        return join()
    missing = len(answer.core.not_judged)
    note = f"{missing} part{'' if missing == 1 else 's'} not judged" if missing else ""
    return join(figures.money(answer.core.cost.likely, answer.currency), tag("div", note, cls="ia-soft"))


def _empty() -> Html:
    return tag(
        "div",
        heading("No core is here yet"),
        lines(
            "Each core is a folder of its own with a core.json in it.",
            "Next: put one into the folder that was named at the start, then load this page again.",
        ),
        cls="ia-page",
    )
