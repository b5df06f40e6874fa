"""Links on a page that change what it shows without loading it again."""

from functools import cache
from pathlib import Path
from urllib.parse import quote, urlencode

import streamlit as st
from streamlit.components.v2.types import ComponentRenderer

KEY = "asks"
NAMES = ("item", "photo")


@cache
def _component() -> ComponentRenderer:
    script = Path(__file__).with_name("asks.js").read_text(encoding="utf-8")
    return st.components.v2.component("asks", js=script)


def address(page: str, **asked: str) -> str:
    """The address of a page with what is asked of it; what is empty is left out."""
    query = urlencode({key: value for key, value in asked.items() if value}, quote_via=quote)
    return f"{page}?{query}" if query else page


def listen() -> None:
    """Take a click on a link with `data-ask` and `data-value` into the address: call it once on a page."""
    _component()(data={}, key=KEY, on_asked_change=follow)


def follow() -> None:
    """Take what was clicked into the address."""
    asked = st.session_state[KEY].get("asked")
    if isinstance(asked, dict) and asked.get("name") in NAMES and isinstance(asked.get("value"), str):
        st.query_params[asked["name"]] = asked["value"]
