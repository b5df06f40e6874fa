"""Who enters: asked once in each browser, and written into every item."""

from functools import cache
from pathlib import Path
from urllib.parse import unquote

import streamlit as st
from streamlit.components.v2.types import ComponentRenderer

COOKIE = "entered_by"
LONGEST = 40
_KEY = "who"
_TYPED = "who_typed"
"""What the box last held: on a page without it the box forgets, and the cookie is that of the first page."""


@cache
def _component() -> ComponentRenderer:
    script = Path(__file__).with_name("who.js").read_text(encoding="utf-8")
    return st.components.v2.component("who", js=script)


def who() -> str:
    """Initials or name of whoever enters in this browser; "" until they are given."""
    cookie = unquote(st.context.cookies.get(COOKIE, ""))
    told = st.session_state.get(_KEY, st.session_state.get(_TYPED, cookie))
    return str(told).strip()[:LONGEST]


def box() -> str:
    """Draw the box for the initials, and return them."""
    st.session_state.setdefault(_KEY, who())
    st.text_input(
        "Who enters", key=_KEY, max_chars=LONGEST, placeholder="Your initials", width=160, autocomplete="off"
    )
    st.session_state[_TYPED] = who()
    keep(COOKIE, who())
    return who()


def keep(cookie: str, text: str) -> None:
    """Keep a text in a cookie of this browser for a year; an empty one leaves what is kept."""
    _component()(data={"name": cookie, "who": text}, key=f"{cookie}_kept")
