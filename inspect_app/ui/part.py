"""The Part page: one part at the bench, its photos, looks, tests, findings and record."""

import streamlit as st

from inspect_app.model.answer import Answer, PartAnswer
from inspect_app.pictures.engine_map import engine_map
from inspect_app.pictures.marks import key
from inspect_app.pictures.plan import Plan
from inspect_app.ui import (
    asks,
    blocks,
    drawings,
    entry,
    findings,
    looks,
    part_choice,
    part_photos,
    questions,
    record_of_part,
    tests_done,
    this_piece,
    who,
    words,
)
from inspect_app.ui.choice import chosen_core
from inspect_app.ui.markup import Html, lines, tag
from inspect_app.ui.part_page_at import AtPart, at_part
from inspect_app.ui.shelf import Slot


def page() -> None:
    """Draw the page for the core and the part that the address names."""
    slot = chosen_core()
    if slot is None or slot.answer is None:
        return
    shown = part_choice.shown_part(slot.answer)
    if shown is None or slot.held is None or slot.engine is None:
        blocks.show_problem("Nothing can be entered here", "The core has no part that the rules know.")
        return
    with st.container(key="at_part"):
        _draw(slot, slot.answer, shown)


def _draw(slot: Slot, answer: Answer, shown: PartAnswer) -> None:
    blocks.show(tag("div", blocks.title_block(answer, "Part"), _picker(slot, shown), cls="ia-page"))
    blocks.show(tag("div", lines(_not_here(shown)), cls="ia-page"))
    with st.container(key="told"):
        entry.show_told()
    blocks.show(tag("div", _head(answer, shown), cls="ia-page"))
    at = _asked_by(slot, shown)
    _sections(at)
    drawings.show(_map(slot.plan, answer), part=shown.position, on_part=_follow)
    asks.listen()


def _not_here(shown: PartAnswer) -> str:
    """Say that the part which the address names is not here: nothing is to be entered at another unseen."""
    asked = st.query_params.get("part", shown.position)
    return "" if asked == shown.position else f'This core has no part "{asked}". Shown is: {shown.title}.'


def _sections(at: AtPart) -> None:
    part_photos.section(at)
    left, right = st.columns([3, 2], gap="large")
    with right:
        findings.section(at)
        tests_done.section(at)
        questions.section(at)
    with left:
        looks.section(at)
    this_piece.section(at)
    record_of_part.section(at)


def _follow() -> None:
    for name in ("item", "photo", "enter", "name", "place"):
        st.query_params.pop(name, None)
    part_choice.follow()


def _head(answer: Answer, part: PartAnswer) -> Html:
    standing = f", {part.standing}" if part.verdict and part.standing else ""
    said = tag("span", tag("strong", words.verdict(part.verdict)), tag("span", standing, cls="ia-soft"))
    mark = tag("div", blocks.part_mark(part), said, cls="ia-panel-mark")
    link = tag(
        "a", "Verdict of this part", href=part_choice.link(answer.core.id, part.position), target="_self"
    )
    name = tag("h1", part.title, cls="ia-part-name", tabindex="-1")
    return tag(
        "section",
        tag("div", name, mark, cls="ia-panel-head"),
        lines(words.because(part)),
        tag("p", link),
        data_panel=part.position,
        aria_label=f"{part.title}: {words.part_verdict(part)}",
        cls="ia-part-top",
    )


def _picker(slot: Slot, shown: PartAnswer) -> Html:
    assert slot.answer is not None
    listed = (_line(slot.answer, part, part == shown) for part in slot.answer.parts)
    return tag(
        "details",
        tag("summary", "Choose another part"),
        drawings.map_place(slot.plan),
        tag("div", *listed, cls="ia-part-links"),
        cls="ia-more ia-picker",
    )


def _line(answer: Answer, part: PartAnswer, shown: bool) -> Html:
    return tag(
        "a",
        blocks.part_mark(part),
        tag("span", part.title),
        href=asks.address("/part", core=answer.core.id, part=part.position),
        data_part=part.position,
        aria_current="true" if shown else None,
        cls="ia-part-link",
    )


def _map(plan: Plan | None, answer: Answer) -> dict[str, str]:
    if plan is None:
        return {}
    on = drawings.ground()
    drawn = {
        "map": engine_map(plan, answer, on, titled=False),
        "map, narrow": engine_map(plan, answer, on, with_words=False),
        "map key": key(on),
    }
    return {name: str(drawing) for name, drawing in drawn.items()}


def _asked_by(slot: Slot, shown: PartAnswer) -> AtPart:
    """Ask who enters, and in which state the part is now; what the next entries are made with."""
    now = at_part(slot, shown.position)
    known = entry.states(now.piece)
    with st.container(key="part_entry", horizontal=True, vertical_alignment="bottom"):
        with st.container(width=176):
            who.box()
        chosen = st.segmented_control(
            "The part is now",
            known,
            default=now.state,
            format_func=lambda state: entry.state_words(now.engine.book, now.piece, state),
            key=f"state_{slot.id}_{now.piece.id}_{len(known)}",
        )
    return at_part(slot, shown.position, chosen)
