"""The Verdict: the answer about one core, its money, and every part with the reasons."""

from collections import Counter

import streamlit as st

from inspect_app.model.answer import Answer
from inspect_app.pictures.plan import Plan
from inspect_app.ui import blocks, drawings, money_view, parts_view, shelf, words
from inspect_app.ui.markup import lines, tag
from inspect_app.ui.shelf import Slot


def page() -> None:
    """Draw the page for the core named by `?core=ID`, else for the first on the shelf."""
    slots = {slot.id: slot for slot in shelf.current().list()}
    if not slots:
        blocks.show_problem("No core is here yet", "Open the Rack: it says how to add one.")
        return
    slot = _chosen(slots)
    if slot is None:
        asked = st.query_params.get("core", "")
        blocks.show_problem("Not found", f'No core here has the id "{asked}". Choose one above.')
    elif slot.answer is None:
        blocks.show_problem(f"{slot.id} cannot be judged", slot.problem or "")
    else:
        _draw(slot.answer, slot.plan)


def _chosen(slots: dict[str, Slot]) -> Slot | None:
    ids = list(slots)
    asked = st.query_params.get("core", ids[0])
    chosen = st.selectbox(
        "Core",
        ids,
        index=ids.index(asked) if asked in slots else None,
        format_func=lambda core_id: _title(slots[core_id]),
        key="core_chosen",
        on_change=_follow,
        width=420,
    )
    return slots.get(chosen) if chosen else None


def _title(slot: Slot) -> str:
    return slot.answer.core.title if slot.answer else f"{slot.id} (cannot be judged)"


def _follow() -> None:
    chosen = st.session_state["core_chosen"]
    if chosen:
        st.query_params["core"] = chosen


def _draw(answer: Answer, plan: Plan | None) -> None:
    core = answer.core
    waits = words.sentence(f"waits for: {core.waits_for}") if core.waits_for else ""
    told = lines(core.why, money_view.hope(answer), waits, *core.notes)
    said = tag("div", blocks.heading(words.core_verdict(core)), told)
    money = tag("div", money_view.choices(answer))
    blocks.show(
        tag(
            "div",
            blocks.title_block(answer, "Verdict"),
            tag("div", said, money, cls="ia-two"),
            blocks.section(_parts_counted(answer)),
            drawings.map_place(plan),
            parts_view.parts(answer),
            blocks.section("Bill"),
            money_view.bill(answer),
            cls="ia-page",
        )
    )
    drawings.show(drawings.drawings(answer, plan, drawings.ground()))


def _parts_counted(answer: Answer) -> str:
    counts = Counter(words.verdict(part.verdict) for part in answer.parts)
    order = (*words.VERDICTS.values(), words.NOT_JUDGED)
    counted = ", ".join(f"{counts[name]} {name.lower()}" for name in order if counts[name])
    return f"Parts: {counted}" if counted else "Parts: none"
