"""The page of the marker's test server: the marker over what a file holds, and buttons to change that."""

import json
from pathlib import Path
from time import sleep

import streamlit as st

from inspect_app.model.evidence import Region
from inspect_app.ui import marker, theme
from inspect_app.ui.marks import Mark, Sent, read_marks

SIZE = (1600, 1200)
FOLDER = Path(st.query_params["folder"])
STORED, LOG = FOLDER / "stored.json", FOLDER / "log.jsonl"
COMMON = {"who": "T", "when": "2026-11-22", "stage": "bench", "piece": "head", "photo": "p1"}


def stored() -> tuple[int, tuple[Mark, ...]]:
    if not STORED.exists():
        return 0, ()
    held = json.loads(STORED.read_text())
    return held["revision"], read_marks(held["marks"], *SIZE)


def keep(value: object) -> None:
    """Write whole or not at all: the test reads at any moment."""
    written = STORED.with_suffix(".new")
    written.write_text(json.dumps(value))
    written.replace(STORED)


def store(sent: Sent) -> None:
    sleep(float(st.query_params.get("slow", 0)))
    value = {"revision": sent.revision, "selected": sent.selected, "marks": [m.plain() for m in sent.marks]}
    keep(value)
    with LOG.open("a") as log:
        log.write(json.dumps(value) + "\n")


def replace() -> None:
    revision, marks = stored()
    keep({"revision": revision, "marks": [m.plain() for m in marks[1:]]})


def region(number: int, shape: str, *points: tuple[float, float]) -> Region:
    return Region(id=f"r{number}", shape=shape, points=points, **COMMON)  # type: ignore[arg-type]


@st.fragment
def part() -> None:
    revision, marks = stored()
    on_record = marker.regions_drawn(
        [
            (region(1, "ellipse", (100, 900), (300, 1100)), "suspected"),
            (region(2, "polygon", (1300, 900), (1500, 950), (1400, 1100)), "seen"),
        ]
    )
    marker.show(
        "/test-photo.png",
        *SIZE,
        marks,
        "marker_p1",
        on_record if "kept" in st.query_params else None,
        on_marks=store,
        read_only="read_only" in st.query_params,
        photo="p1",
        revision=revision,
        words="Photo 1 of 1, as found",
    )
    st.text(f"Stored {len(marks)}, revision {revision}, chosen {marker.chosen('marker_p1')}")
    st.button("Replace", on_click=replace)


st.html(theme.style("dark" if "dark" in st.query_params else "light"))
if "floor" in st.query_params:

    @st.fragment
    def typed() -> None:
        st.text(f"Typed {st.text_input('Text')}")

    typed()
else:
    part()
