"""Which core a page shows: the one named by `?core=ID`, else the first on the shelf; a box to change it."""

import streamlit as st

from inspect_app.ui import blocks, shelf
from inspect_app.ui.shelf import Slot


def chosen_core() -> Slot | None:
    """Draw the box and return the slot chosen; None, with words on the page, where there is none to show."""
    slots = {slot.id: slot for slot in shelf.current().list()}
    if not slots:
        blocks.show_problem("No core is here yet", "Open the Rack: it says how to add one.")
        return None
    slot = _chosen(slots)
    if slot is None:
        asked = st.query_params.get("core", "")
        blocks.show_problem("Not found", f'No core here has the id "{asked}". Choose one above.')
    elif slot.answer is None:
        blocks.show_problem(f"{slot.id} cannot be judged", slot.problem or "")
        return None
    return slot


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
        label_visibility="collapsed",
        width=420,
    )
    return slots.get(chosen) if chosen else None


def _title(slot: Slot) -> str:
    return slot.answer.core.title if slot.answer else f"{slot.id} (cannot be judged)"


def _follow() -> None:
    chosen = st.session_state["core_chosen"]
    if chosen:
        st.query_params["core"] = chosen
