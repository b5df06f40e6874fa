"""Taking photos: from files or with the phone's own camera, many at once, each with its own words."""

from functools import cache
from pathlib import Path

import streamlit as st
from streamlit.components.v2.types import ComponentRenderer

from inspect_app.photos import LARGEST_FILE
from inspect_app.ui import entry, who
from inspect_app.ui.part_page_at import AtPart

_HERE = Path(__file__)


@cache
def _component() -> ComponentRenderer:
    script = _HERE.with_name("photo_upload.js").read_text(encoding="utf-8")
    style = _HERE.with_name("photo_upload.css").read_text(encoding="utf-8")
    return st.components.v2.component("photo_upload", js=script, css=style)


def draw(at: AtPart) -> None:
    """Draw the two ways to add photos of a part; the page is drawn anew once they are kept."""
    data = {
        "core": at.slot.id,
        "position": at.position,
        "state": at.state,
        "state_words": entry.state_words(at.engine.book, at.piece, at.state).lower(),
        "who": who.who(),
        "largest": LARGEST_FILE,
    }
    _component()(data=data, key="photo_upload", height="content", on_arrived_change=lambda: None)
