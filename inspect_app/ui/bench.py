"""The Bench: one group of readings after the other, typed as text, with what they come to beside them."""

from pathlib import Path

import streamlit as st

from inspect_app.ui import (
    bench_asked,
    bench_grid,
    bench_panel,
    bench_view,
    blocks,
    drawings,
    shelf,
    who,
)
from inspect_app.ui.bench_entry import Heard, Outbox, Told, read_outbox, take
from inspect_app.ui.bench_groups import Box, Group, groups, standings
from inspect_app.ui.choice import chosen_core
from inspect_app.ui.markup import tag
from inspect_app.ui.shelf import Slot

_HEARD = "bench_heard"
_STYLE = Path(__file__).with_name("bench.css").read_text(encoding="utf-8")


def page() -> None:
    """Draw the page for the core named by `?core=ID` and the group named by `?group=KEY`."""
    slot = chosen_core()
    if slot is None or slot.answer is None:
        return
    st.html(f"<style>{_STYLE}</style>")
    _readings(slot.id)


@st.fragment
def _readings(core_id: str) -> None:
    """Everything that changes with a reading."""
    slot = shelf.current().get(core_id)
    if slot is None or slot.answer is None:
        blocks.show_problem("This core can no longer be judged", slot.problem or "" if slot else "")
        return
    blocks.show(tag("div", blocks.title_block(slot.answer, "Readings"), cls="ia-page"))
    left, right = st.columns([3, 2], gap="large")
    with left:
        with st.container(horizontal=True, key="bench_head"):
            found = standings(slot)
            group = bench_asked.group(shelf.current().book, found)
            who.box()
        bench_asked.overview(slot.id, found, group)
        setup = bench_asked.setup(slot, group)
        order = bench_asked.order(group)
        data = bench_view.grid(slot, group, setup, order, _heard(), who.who())
        bench_grid.show(data | {"start": bench_asked.start(group)}, _on_outbox)
    with right, st.container(key="bench_panel"):
        _panel(slot, group)


def _panel(slot: Slot, group: Group) -> None:
    assert slot.answer is not None
    hand = bench_panel.InHand(slot.answer, group, _in_hand(group))
    blocks.show(bench_panel.panel(hand))
    drawings.show(bench_panel.drawings_of(hand, drawings.ground()))


def _in_hand(group: Group) -> Box:
    at = _heard().at or bench_asked.start(group)
    return next((box for box in group.boxes if box.key == at), group.boxes[0])


def _heard() -> Heard:
    heard: Heard = st.session_state.get(_HEARD, Heard())
    return heard


def _on_outbox() -> None:
    outbox = read_outbox(bench_grid.sent())
    if outbox is not None:
        st.session_state[_HEARD] = Heard(outbox.seq, outbox.at, answer(outbox, who.who()))


def answer(outbox: Outbox, by: str) -> dict[str, Told]:
    """Save what an outbox holds, and tell of each of its edits what it came to."""
    slot = shelf.current().get(outbox.core)
    group = None
    if slot is not None and slot.answer is not None:
        group = next((one for one in groups(slot) if one.key == outbox.group), None)
    if slot is None or group is None:
        words = "Not saved yet: this group of readings is not there any more. Open the page again."
        return {edit.id: Told("retry", words) for edit in outbox.edits}
    return take(slot, group, outbox.edits, by)
