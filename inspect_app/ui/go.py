"""Going on to another page from a page's own code, with what is asked of it."""

from collections.abc import Iterable
from typing import Any

import streamlit as st

_pages: dict[str, Any] = {}


def know(pages: Iterable[Any]) -> None:
    """Take note of the pages there are; called with those of the navigation each time it is drawn."""
    _pages.update({page.url_path: page for page in pages})


def to(page: str, **asked: str) -> None:
    """Show another page; nothing happens where there is no navigation, as in a test of one page."""
    if page in _pages:
        st.switch_page(_pages[page], query_params=asked)
