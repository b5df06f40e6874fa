"""Which core a page shows: the one named by `?core=ID`, else the one shown last; a box to change it."""

import streamlit as st

from inspect_app.ui import blocks, shelf, words
from inspect_app.ui.shelf import RackRow, Slot

_LAST = "core_shown"


def chosen_core(judged: bool = True) -> Slot | None:
    """Draw the box and return the slot chosen; None, with words on the page, where there is none to show.

    A core that cannot be judged is returned only where `judged` is False.
    """
    rows = {row.id: row for row in shelf.current().rows()}
    if not rows:
        blocks.show_problem("No core is here yet", "Open the Rack: it says how to add one.")
        return None
    core_id = _chosen(rows)
    slot = shelf.current().get(core_id) if core_id else None
    if slot is None:
        asked = st.query_params.get("core", "")
        blocks.show_problem("Not found", f'No core here has the id "{asked}". Choose one above.')
        return None
    st.session_state[_LAST] = slot.id
    if slot.answer is None and judged:
        blocks.show_problem(f"{slot.id} cannot be judged", slot.problem or "")
        return None
    return slot


def _chosen(rows: dict[str, RackRow]) -> str | None:
    ids = list(rows)
    asked = st.query_params.get("core") or st.session_state.get(_LAST)
    if asked is None or (asked not in rows and "core" not in st.query_params):
        asked = ids[0]
    titles = words.told_apart({core_id: row.title for core_id, row in rows.items()})
    return st.selectbox(
        "Core",
        ids,
        index=ids.index(asked) if asked in rows else None,
        format_func=titles.__getitem__,
        key="core_chosen",
        on_change=_follow,
        label_visibility="collapsed",
        width=420,
    )


def _follow() -> None:
    chosen = st.session_state["core_chosen"]
    if chosen:
        st.query_params["core"] = chosen
