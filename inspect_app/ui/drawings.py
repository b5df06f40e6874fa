"""Drawings on a page: places for them in its HTML, and the component that puts them there."""

from collections.abc import Callable, Mapping
from functools import cache
from pathlib import Path

import streamlit as st
from streamlit.components.v2.types import ComponentRenderer

from inspect_app.model.answer import Answer
from inspect_app.model.frozen import CoreChoice
from inspect_app.pictures import money_bar
from inspect_app.pictures.engine_map import engine_map, map_notes
from inspect_app.pictures.marks import key
from inspect_app.pictures.plan import Plan
from inspect_app.pictures.tokens import DARK, LIGHT, Ground
from inspect_app.ui.markup import EMPTY, Html, join, lines, tag

PANEL, NARROW = 440, 340
CHOICES: dict[CoreChoice, str] = {
    "build": "Built, less the bill, it leaves",
    "break": "In parts it brings",
    "let_go": "Let go, it brings",
}
_SCRIPT = Path(__file__).with_name("drawings.js").read_text(encoding="utf-8")


@cache
def _component() -> ComponentRenderer:
    return st.components.v2.component("drawings", js=_SCRIPT)


def show(drawings: Mapping[str, str], *, part: str = "", on_part: Callable[[], None] = lambda: None) -> None:
    """Put each drawing into the place of its name; call it once, after the page's HTML.

    `part` is the position whose panel is shown; `on_part` is called when another one is chosen.
    """
    data = {"drawings": dict(drawings), "part": part}
    _component()(data=data, key="drawings", height="content", on_part_change=on_part)


def ground() -> Ground:
    """Return the ground of the theme in use."""
    return DARK if st.context.theme.type == "dark" else LIGHT


def place(name: str, cls: str = "") -> Html:
    """Build the place that keeps room for a drawing."""
    return tag("div", cls=f"ia-drawing {cls}".strip(), data_drawing=name)


def both_places(name: str) -> Html:
    """Build the places of a drawing that is drawn for a desk and for a phone."""
    return join(place(f"{name}|{PANEL}", "ia-wide-only"), place(f"{name}|{NARROW}", "ia-drawn-narrow"))


def map_place(plan: Plan | None) -> Html:
    """Build the places of the map, one for a desk and one for a phone; nothing without a plan."""
    if plan is None:
        return EMPTY
    return join(
        place("map", "ia-wide-only"),
        place("map, narrow", "ia-drawn-narrow"),
        place("map key", "ia-wide-only"),
        tag("div", lines(*map_notes(plan), cls="ia-soft"), cls="ia-drawn-narrow"),
    )


def money_place() -> Html:
    """Build the places of what each choice for the core leaves."""
    return both_places("money")


def core_drawings(answer: Answer, plan: Plan | None, on: Ground) -> dict[str, str]:
    """Draw the money of a core and its map."""
    drawn = {f"money|{width}": _money(answer, on, width) for width in (PANEL, NARROW)}
    if plan is not None:
        drawn["map"] = engine_map(plan, answer, on, titled=False)
        drawn["map, narrow"] = engine_map(plan, answer, on, with_words=False)
        drawn["map key"] = key(on)
    return {name: str(drawing) for name, drawing in drawn.items()}


def _money(answer: Answer, on: Ground, width: int) -> str:
    amounts = [money_bar.Amount(CHOICES[choice.choice], choice.value) for choice in answer.choices]
    return money_bar.money_bar(amounts, answer.currency, on, width=width)
