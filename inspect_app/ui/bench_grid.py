"""The component of the boxes: data in, one outbox out. What it sends is text and is judged elsewhere."""

from collections.abc import Callable, Mapping
from functools import cache
from pathlib import Path
from typing import Any

import streamlit as st
from streamlit.components.v2.types import ComponentRenderer

KEY = "bench_grid"
SCRIPTS = ("bench_ledger", "bench_words", "bench_grid")
"""One script in three files, in this order."""


@cache
def _component() -> ComponentRenderer:
    here = Path(__file__)
    scripts = (here.with_name(f"{name}.js") for name in SCRIPTS)
    script = "\n".join(file.read_text(encoding="utf-8") for file in scripts)
    style = here.with_suffix(".css").read_text(encoding="utf-8")
    return st.components.v2.component("bench_grid", js=script, css=style)


def show(data: Mapping[str, Any], on_outbox: Callable[[], None]) -> None:
    """Draw the boxes; `on_outbox` is called, before the page is drawn again, when something was typed."""
    _component()(data=dict(data), key=KEY, on_outbox_change=on_outbox)


def sent() -> Any:
    """The outbox that the browser sent last; None before the first."""
    return st.session_state[KEY].get("outbox")
