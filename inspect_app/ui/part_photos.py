"""The photos on the Part page: adding them, and the list."""

import streamlit as st

from inspect_app.ui import blocks, photo_list, photo_opened, photo_upload
from inspect_app.ui.markup import tag
from inspect_app.ui.part_page_at import AtPart


def section(at: AtPart) -> None:
    """Draw the two ways to add photos, and those there are."""
    found = photo_list.shots(at)
    blocks.show(tag("div", blocks.section(f"Photos: {len(found)}" if found else "Photos"), cls="ia-page"))
    photo_upload.draw(at)
    opened = st.query_params.get("photo", "")
    blocks.show(tag("div", photo_list.thumbnails(at, found, opened), cls="ia-page"))
    if opened:
        photo_opened.section(at, found, opened)
