"""The marker: a photo with its marks on the screen, on which drafts are drawn, moved and taken away.

    marker.show(
        photo_url,                  # a route of this server; never the bytes themselves
        width, height,              # of the original, upright picture, in pixels
        marks,                      # the drafts that are stored now, `marks.Mark`, in order
        key,                        # of the widget; one for each photo ("marker_" + photo id)
        drawn=regions_drawn(...),   # what is on record, `Drawn`: shown, never changed
        on_marks=store_them,        # called at once with a `marks.Sent`: the whole list after an edit
        read_only=False,
        photo="p7",                 # the photo's id; zoom is kept by it
        revision=draft.revision,    # of the stored list; 0 without one
        words="Photo 7 of 9, as found",
    )

`on_marks` runs before the page is drawn again, and stores. The page then calls `show` with what it now
holds; if that is not what came last, the page replaced it (a draft was confirmed) and the browser takes it
over. A list older than the one that came last is ignored. Call it in an `st.fragment`: an edit then draws
that part of the page alone. `chosen(key)` is the id of the draft that is selected. Letters run on from the
marks on record: with A to C there, the first draft is D.
"""

from collections.abc import Callable, Iterable, Sequence
from dataclasses import asdict, dataclass
from functools import cache
from pathlib import Path
from typing import Any
from uuid import uuid4

import streamlit as st
from streamlit.components.v2.types import ComponentRenderer

from inspect_app.model.evidence import Region, Strength
from inspect_app.model.problems import Problems
from inspect_app.pictures.photo_marks import Marked, geometry, letter
from inspect_app.ui.marks import Mark, Point, Sent, Shape, read_sent

_FILES = ("marker_shapes.js", "marker_glass.js", "marker_list.js", "marker_hand.js", "marker.js")
"""Joined into one module: the package then works from a checkout that nobody installed."""


@dataclass(frozen=True)
class Drawn:
    """A mark on record, with its letter; dashed when only suspected. `words` say it to a screen reader."""

    letter: str
    shape: Shape
    points: tuple[Point, ...]
    dashed: bool
    words: str

    def marked(self) -> Marked:
        """The same for a drawing on paper."""
        return Marked(self.letter, self.shape, self.points, self.dashed)


@dataclass
class _Held:
    """What this session holds: the list that came last, or the page's own after it was replaced."""

    epoch: str
    revision: int
    marks: tuple[Mark, ...]
    selected: str | None = None
    problem: str = ""


def regions_drawn(regions: Iterable[tuple[Region, Strength | None]]) -> tuple[Drawn, ...]:
    """Give regions their letters, in order; the strength is that of the finding, None without one."""
    return tuple(
        Drawn(letter(at), region.shape, region.points, strength == "suspected", strength or "on record")
        for at, (region, strength) in enumerate(regions)
    )


def show(
    photo_url: str,
    width: float,
    height: float,
    marks: Sequence[Mark],
    key: str,
    drawn: Sequence[Drawn] | None = None,
    *,
    on_marks: Callable[[Sent], None],
    read_only: bool = False,
    photo: str = "",
    revision: int = 0,
    selected: str | None = None,
    words: str = "Photo",
) -> None:
    """Draw the photo with its marks; see the head of this module. `selected` chooses a draft by its id."""
    name = photo or photo_url
    held = _agree(key, tuple(marks), revision, selected)
    data = {
        "photo": {"id": name, "url": photo_url, "width": width, "height": height, "words": words},
        "marks": [mark.plain() for mark in held.marks],
        "drawn": [asdict(mark) for mark in drawn or ()],
        "epoch": held.epoch,
        "revision": held.revision,
        "selected": held.selected,
        "read_only": read_only,
        "problem": held.problem,
        "geometry": geometry(),
    }

    def arrived() -> None:
        if not read_only:
            receive(held, st.session_state[key].get("marks"), name, (width, height), on_marks)

    _component()(data=data, key=key, height="content", on_marks_change=arrived)


def chosen(key: str) -> str | None:
    """Return the id of the draft that is selected in the marker with this key; None without one."""
    held = st.session_state.get(_held_as(key))
    return held.selected if isinstance(held, _Held) else None


def receive(
    held: _Held, plain: Any, photo: str, size: tuple[float, float], on_marks: Callable[[Sent], None]
) -> None:
    """Take what a browser sent: refused in words if it is wrong, ignored if it is old or of another photo."""
    try:
        sent = read_sent(plain, *size)
    except Problems as problems:
        held.problem = str(problems)
        held.revision = max(held.revision, _revision_in(plain)) + 1
        return
    if sent.photo != photo or sent.revision <= held.revision:
        return
    held.problem = ""
    held.revision, held.marks, held.selected = sent.revision, sent.marks, sent.selected
    on_marks(sent)


def _revision_in(plain: Any) -> int:
    value = plain.get("revision") if isinstance(plain, dict) else None
    return value if isinstance(value, int) else 0


def _held_as(key: str) -> str:
    return f"{key} held"


def _agree(key: str, marks: tuple[Mark, ...], revision: int, selected: str | None) -> _Held:
    """Compare what the page holds with what came last; a list that the page replaced gets a new revision."""
    held = st.session_state.get(_held_as(key))
    if not isinstance(held, _Held):
        held = _Held(uuid4().hex, revision, marks, selected)
    elif held.marks != marks or selected not in (None, held.selected):
        kept = held.selected if held.selected in {mark.id for mark in marks} else None
        held.revision = max(held.revision, revision) + 1
        held.marks, held.selected = marks, selected or kept
    st.session_state[_held_as(key)] = held
    return held


@cache
def _component() -> ComponentRenderer:
    here = Path(__file__).parent
    script = "\n".join((here / file).read_text(encoding="utf-8") for file in _FILES)
    style = (here / "marker.css").read_text(encoding="utf-8")
    return st.components.v2.component("marker", js=script, css=style)
