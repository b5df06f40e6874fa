"""Which part the panel shows: the one asked for by `?part=POSITION`, else the one that decides most."""

from urllib.parse import quote, urlencode

import streamlit as st

from inspect_app.model.answer import Answer, PartAnswer

KEY = "drawings"


def shown_part(answer: Answer) -> PartAnswer | None:
    """Return the part that the address names, else the one that decides most; None without parts."""
    asked = st.query_params.get("part")
    named = next((part for part in answer.parts if part.position == asked), None)
    return named or max(answer.parts, key=_weight, default=None)


def _weight(part: PartAnswer) -> tuple[bool, float]:
    """What decides most: a part that needs work or money, by its likely cost; else the dearest."""
    likely = part.cost.likely if part.cost else 0.0
    return part.verdict not in (None, "reuse"), likely


def follow() -> None:
    """Take the part that was chosen on the map or in the list into the address."""
    chosen = st.session_state[KEY].get("part")
    if isinstance(chosen, str) and chosen:
        st.query_params["part"] = chosen


def link(core_id: str, position: str) -> str:
    """Return the address of the Verdict with this part shown."""
    return f"/verdict?{query(core_id, position)}"


def query(core_id: str, position: str) -> str:
    """Return the query by which every page shows this part of this core."""
    return urlencode({"core": core_id, "part": position}, quote_via=quote)
