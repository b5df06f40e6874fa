"""Which core a page shows: the one named by `?core=ID`, else the one shown last; a box to change it."""

import streamlit as st

from inspect_app.ui import blocks, shelf, words
from inspect_app.ui.shelf import Slot

_LAST = "core_shown"
AT_MOST = 200
"""Cores in the box: of more the Rack finds one as one types."""


def chosen_core(judged: bool = True) -> Slot | None:
    """Draw the box and return the slot chosen; None, with words on the page, where there is none to show.

    A core that cannot be judged is returned only where `judged` is False.
    """
    titles = shelf.current().titles()
    if not titles:
        blocks.show_problem("No core is here yet", "Open the Rack: it says how to add one.")
        return None
    core_id = _chosen(titles)
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


def _chosen(titles: dict[str, str]) -> str | None:
    asked = st.query_params.get("core") or st.session_state.get(_LAST)
    if asked is None or (asked not in titles and "core" not in st.query_params):
        asked = next(iter(titles))
    ids = [core_id for core_id in titles if core_id != asked][:AT_MOST]
    ids = [core_id for core_id in titles if core_id in {asked, *ids}]
    said = words.told_apart({core_id: titles[core_id] for core_id in ids})
    return st.selectbox(
        "Core",
        ids,
        index=ids.index(asked) if asked in said else None,
        format_func=said.__getitem__,
        key="core_chosen",
        on_change=_follow,
        label_visibility="collapsed",
        width=420,
    )


def _follow() -> None:
    chosen = st.session_state["core_chosen"]
    if chosen:
        st.query_params["core"] = chosen
