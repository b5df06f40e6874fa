"""The drawings of a page: places for them in its HTML, and the component that puts them there."""

from collections.abc import Iterator, Mapping
from functools import cache
from pathlib import Path

import streamlit as st
from streamlit.components.v2.types import ComponentRenderer

from inspect_app.model.answer import Answer, CloseCall, Closed, PartAnswer
from inspect_app.pictures.engine_map import engine_map, map_notes
from inspect_app.pictures.limit_bar import NARROW, WIDTH, bar_of, limit_bar
from inspect_app.pictures.marks import key
from inspect_app.pictures.plan import Plan
from inspect_app.pictures.tokens import DARK, LIGHT, Ground
from inspect_app.ui import words
from inspect_app.ui.markup import EMPTY, Html, join, lines, tag

_SCRIPT = Path(__file__).with_name("drawings.js").read_text(encoding="utf-8")


@cache
def _component() -> ComponentRenderer:
    return st.components.v2.component("drawings", js=_SCRIPT)


def show(drawings: Mapping[str, str]) -> None:
    """Put each drawing into the place of its name; call it once, after the page's HTML."""
    _component()(data={"drawings": dict(drawings)}, key="drawings", height="content")


def ground() -> Ground:
    """Return the ground of the theme in use."""
    return DARK if st.context.theme.type == "dark" else LIGHT


def place(name: str, cls: str = "") -> Html:
    """Build the place that keeps room for a drawing."""
    return tag("div", cls=f"ia-drawing {cls}".strip(), data_drawing=name)


def map_place(plan: Plan | None) -> Html:
    """Build the places of the map, one for a desk and one for a phone; nothing without a plan."""
    if plan is None:
        return EMPTY
    return join(
        place("map", "ia-wide-only"),
        place("map key", "ia-wide-only"),
        place("map, narrow", "ia-drawn-narrow"),
        tag("div", lines(*map_notes(plan), cls="ia-soft"), cls="ia-drawn-narrow"),
    )


def bar_place(part: PartAnswer, reason: Closed | CloseCall) -> Html:
    """Build the place of one figure's limit bar; nothing where there is no figure and limit to draw."""
    if bar_of(reason, "") is None:
        return EMPTY
    name = _bar_name(part, reason)
    return join(place(f"{name}|{WIDTH}", "ia-wide-only"), place(f"{name}|{NARROW}", "ia-drawn-narrow"))


def drawings(answer: Answer, plan: Plan | None, on: Ground) -> dict[str, str]:
    """Draw everything that the Verdict page keeps a place for."""
    drawn = {
        f"{_bar_name(part, reason)}|{width}": limit_bar(bar, on, width)
        for part in answer.parts
        for reason in _figures(part)
        if (bar := bar_of(reason, _bar_title(reason)))
        for width in (WIDTH, NARROW)
    }
    if plan is not None:
        drawn["map"] = engine_map(plan, answer, on)
        drawn["map, narrow"] = engine_map(plan, answer, on, with_words=False)
        drawn["map key"] = key(on)
    return {name: str(drawing) for name, drawing in drawn.items()}


def _figures(part: PartAnswer) -> Iterator[Closed | CloseCall]:
    yield from part.closed
    yield from part.close_calls


def _bar_name(part: PartAnswer, reason: Closed | CloseCall) -> str:
    closes = reason.closes if isinstance(reason, Closed) else "close call"
    return f"{part.position}|{reason.rule}|{closes}|{reason.place}"


def _bar_title(reason: Closed | CloseCall) -> str:
    """The place alone, as the words beside the bar say what was measured there."""
    return words.sentence(words.place(reason.place) or words.plain(reason.rule))[:-1]
