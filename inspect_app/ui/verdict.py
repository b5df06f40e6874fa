"""The Verdict: the answer about one core, its money, its map, and one part with all that stands behind it."""

from urllib.parse import quote

import streamlit as st

from inspect_app.model.answer import Answer, PartAnswer
from inspect_app.ui import (
    blocks,
    decide,
    drawings,
    entry,
    money_view,
    part_choice,
    part_drawings,
    part_panel,
    parts_view,
    words,
)
from inspect_app.ui.choice import chosen_core
from inspect_app.ui.markup import EMPTY, Html, lines, tag
from inspect_app.ui.reason_photos import Behind
from inspect_app.ui.shelf import Slot
from inspect_app.ui.who import box


def page() -> None:
    """Draw the page for the core named by `?core=ID`, else for the first on the shelf."""
    slot = chosen_core()
    if slot is not None and slot.answer is not None:
        entry.show_told()
        shown = part_choice.shown_part(slot.answer)
        # Whoever came by a link to write something down must not look for the form below the bill.
        asked = st.query_params.get("enter") in ("report", "decision")
        if asked:
            _decisions(slot, shown)
        _draw(slot, slot.answer, shown)
        if not asked:
            _decisions(slot, shown)


def _decisions(slot: Slot, shown: PartAnswer | None) -> None:
    if shown is not None and slot.held is not None:
        box()
        decide.page_part(slot, shown)


def _draw(slot: Slot, answer: Answer, shown: PartAnswer | None) -> None:
    on, behind = drawings.ground(), Behind(slot)
    core = tag("div", drawings.map_place(slot.plan), cls="ia-at-map")
    panel = part_panel.panel(shown, answer, behind.html) if shown else EMPTY
    listed = tag("div", blocks.section(_parts(answer)), parts_view.parts(answer, shown), cls="ia-at-list")
    blocks.show(
        tag(
            "div",
            blocks.title_block(answer, "Verdict"),
            _head(answer),
            tag("div", core, tag("div", panel, cls="ia-at-panel"), listed, cls="ia-core-grid"),
            blocks.section("Bill"),
            money_view.bill(answer),
            lines(_to_the_fits(answer.core.id)),
            cls="ia-page",
        )
    )
    drawn = drawings.core_drawings(answer, slot.plan, on)
    if shown:
        drawn |= part_drawings.part_drawings(shown, on) | behind.drawings(shown.closed, on)
    drawings.show(drawn, part=shown.position if shown else "", on_part=part_choice.follow)


def _head(answer: Answer) -> Html:
    core = answer.core
    waits = words.sentence(f"waits for: {core.waits_for}") if core.waits_for else ""
    told = lines(core.why, money_view.in_a_line(answer), money_view.hope(answer), waits, *core.notes)
    said = tag("div", blocks.heading(words.core_verdict(core)), told, _ways_on(answer))
    return tag("div", said, tag("div", money_view.choices(answer)), cls="ia-two ia-head")


def _ways_on(answer: Answer) -> Html:
    """The way to the core's record; of a core that nobody has looked at, first the one next step."""
    record = tag("a", "Record of this core", href=f"/record?core={quote(answer.core.id, safe='')}")
    first = next((part for part in answer.parts if part.verdict is None), None)
    if answer.core.evidence.count or first is None:
        return tag("p", record, cls="ia-links")
    next_step = tag(
        "a",
        f"Next: look at the {first.title.lower()}",
        href=f"/part?{part_choice.query(answer.core.id, first.position)}",
    )
    told = lines(
        "Nobody has looked at this core yet. What nobody looked at is drawn with dots; it is not taken "
        "as good."
    )
    return tag("div", told, tag("p", next_step, record, cls="ia-links"))


def _to_the_fits(core_id: str) -> Html:
    return tag("a", "Fit check of this core", href=f"/fits?core={quote(core_id, safe='')}")


def _parts(answer: Answer) -> str:
    return f"Parts: {parts_view.counted(answer)}" if answer.parts else "Parts: none"
