"""Bring in a core that was exported: its zip, as a file of this device."""

import tempfile
from dataclasses import replace
from pathlib import Path
from typing import BinaryIO, cast

import streamlit as st

from inspect_app.model.problems import Problems
from inspect_app.ui import entry, shelf, who
from inspect_app.ui.shelf import Imported

_AT_A_TIME = 1 << 20
_RECORDS = {
    "new": "It is new here.",
    "same": "It is here already, with the same record.",
    "differs": "It is here already with another record: both stand until somebody settles which counts.",
}


def panel() -> None:
    """Draw the panel; what came in, or everything that was wrong, is told when the page is drawn next."""
    with st.expander("Bring in a core", key="bring_in"):
        chosen = st.file_uploader("Zip of a core, as exported", type="zip", key="bring_in_file")
        by = who.box()
        if st.button("Bring it in", key="do_bring_in", type="primary", disabled=chosen is None):
            if not by:
                st.text("Type your initials first: they are written into the record.")
                return
            take_in(cast(BinaryIO, chosen), by)
            st.rerun()


def take_in(file: BinaryIO, by: str) -> None:
    """Bring in what is in an open file, and have told what it came to."""
    folder = ""
    try:
        with tempfile.TemporaryDirectory(prefix="core-") as folder:
            path = Path(folder) / "core.zip"
            with path.open("wb") as target:
                while data := file.read(_AT_A_TIME):
                    target.write(data)
            done = shelf.current().take_in(path, by)
    except Problems as problems:
        entry.refuse(
            Problems([replace(one, where=one.where.replace(f"{folder}/", "")) for one in problems.items])
        )
    else:
        entry.tell(said(done))


def said(done: Imported) -> str:
    """What came in, in words."""
    items = f"{done.added} item{'' if done.added == 1 else 's'} of evidence"
    already = f", {done.already} here already" if done.already else ""
    return f"Brought in: {done.core}, {items}{already}. {_RECORDS[done.record]}"
