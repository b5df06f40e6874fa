"""A photo opened on the Part page: the marks on it, and the form that makes a mark a finding."""

import json
from collections.abc import Sequence
from dataclasses import replace

import streamlit as st

from inspect_app.model.evidence import Evidence, Finding, Region
from inspect_app.model.problems import Problem, Problems
from inspect_app.model.units import NotANumber, UnknownUnit, size
from inspect_app.pictures.photo_marks import letter
from inspect_app.ui import (
    asks,
    blocks,
    entry,
    finding_form,
    findings,
    item_words,
    marker,
    part_page_at,
    photo_intake,
    photo_list,
    photo_marks_kept,
    shelf,
)
from inspect_app.ui.marks import Mark, Sent
from inspect_app.ui.markup import Html, lines, tag
from inspect_app.ui.part_page_at import AtPart
from inspect_app.ui.photo_list import Shot
from inspect_app.ui.photo_marks_kept import OnRecord

_TOLD = "marks_told"


def section(at: AtPart, found: Sequence[Shot], opened: str) -> None:
    """Draw the photo that the address names; words where the part has none such."""
    shot = next((shot for shot in found if shot.id == opened), None)
    if shot is None:
        blocks.show(tag("div", lines("That photo is not among those of this part any more."), cls="ia-page"))
        return
    try:
        made = photo_intake.preview(at.slot.id, shot.photo.id, shot.photo.sha256, photo_intake.LARGE)
    except Problems as problems:
        said = lines("This photo cannot be shown.", *str(problems).splitlines())
        blocks.show(tag("div", said, cls="ia-page"))
        return
    with st.container(key="opened"):
        _marking(at, replace(shot, about=json.loads(made.about)), len(found))


@st.fragment
def _marking(at: AtPart, shot: Shot, of: int) -> None:
    mine = photo_marks_kept.session()
    recorded = photo_marks_kept.on_record(at, shot)
    drawing = photo_marks_kept.drawing(at.slot.id, shot, mine)
    key = f"marker_{shot.id}"
    words = f"Photo {shot.number} of {of}, {item_words.state(shot.photo)}"
    shown = photo_marks_kept.drawn(recorded, drawing)
    left, right = st.columns([3, 2], gap="large")
    with left:
        marker.show(
            photo_list.address(at.slot.id, shot.id, photo_intake.LARGE),
            shot.about["width"],
            shot.about["height"],
            drawing.mine,
            key,
            shown,
            on_marks=lambda sent: _store(at, shot, mine, sent),
            photo=shot.id,
            revision=drawing.revision,
            words=words,
        )
    with right:
        chosen = next((n for n, mark in enumerate(drawing.mine) if mark.id == marker.chosen(key)), None)
        if chosen is not None:
            _mark(at, shot, mine, drawing.mine, chosen, letter(len(shown) + chosen))
        blocks.show(_listed(at, recorded, len(drawing.mine), len(drawing.others)), _below(at, shot, words))


def _store(at: AtPart, shot: Shot, mine: str, sent: Sent) -> None:
    st.session_state[_TOLD] = photo_marks_kept.store_marks(at.slot.id, shot, mine, sent)


def _below(at: AtPart, shot: Shot, words: str) -> Html:
    photo = shot.photo
    change = tag(
        "a",
        "Caption, correct or withdraw",
        href=asks.address("/part", core=at.slot.id, part=at.position, item=photo.id),
        data_ask="item",
        data_value=photo.id,
    )
    whole = tag(
        "a",
        "The photo as it came",
        href=photo_list.address(at.slot.id, shot.id, "original"),
        target="_blank",
        rel="noopener",
    )
    return tag(
        "div",
        lines(st.session_state.pop(_TOLD, ""), cls="ia-refused"),
        lines(f"{words}. {photo.caption}", photo_list.taken(photo), *shot.hints, cls="ia-soft"),
        tag("p", change, whole, cls="ia-links"),
        cls="ia-page",
    )


def _mark(at: AtPart, shot: Shot, mine: str, drafts: Sequence[Mark], number: int, named: str) -> None:
    mark = drafts[number]
    left = [other.plain() for other in drafts if other.id != mark.id]
    key = f"mark_{shot.id}_{mark.id}"
    with st.container(border=True, key="mark_form"):
        blocks.show(tag("div", blocks.section(f"Mark {named}"), cls="ia-page"))
        if mark.shape == "scale_line":
            _scale(at, shot, mine, mark, left, named)
            return
        chosen = finding_form.draw(at, key)
        if st.button(f"Save finding {named}", key="do_save_mark", type="primary", width="stretch"):
            made = finding_form.items(at, chosen)
            if made:
                region = _region(at, shot, mark, finding=made[-1].id)
                said = f"finding {named}, {item_words.said(at.engine.book, made[-1])}."
                _confirm(at, shot, mine, [*made, region], left, said)
            st.rerun()


def _scale(at: AtPart, shot: Shot, mine: str, mark: Mark, left: list[dict[str, object]], named: str) -> None:
    length = st.text_input("How long is it, as 50 mm or 2 in?", key=f"scale_{shot.id}_{mark.id}")
    if st.button(f"Save scale line {named}", key="do_save_mark", type="primary", width="stretch"):
        problems = scale_problems(length)
        if problems:
            entry.refuse(Problems(problems))
        elif part_page_at.complete({}):
            region = _region(at, shot, mark, note=length.strip())
            _confirm(at, shot, mine, [region], left, f"scale line {named}, {length.strip()}.")
        st.rerun()


def scale_problems(length: str) -> list[Problem]:
    """What is wrong with the length that a scale line is said to have."""
    where = "How long is it?"
    if not length.strip():
        return [Problem(where, "it is empty.", "Type it with its unit, as 50 mm.")]
    if len(length) > part_page_at.LONGEST_LINE:
        return [Problem(where, f"it has {len(length):,} characters.", "Type it with its unit, as 50 mm.")]
    try:
        if size(length) > 0:
            return []
    except (NotANumber, UnknownUnit) as error:
        return [Problem(where, str(error), "")]
    return [Problem(where, f'"{length.strip()}" is no length.', "Type one above zero, as 50 mm.")]


def _region(at: AtPart, shot: Shot, mark: Mark, finding: str | None = None, note: str = "") -> Region:
    fields = at.stamp("region") | {"state": shot.photo.state}
    return Region(**fields, photo=shot.id, finding=finding, shape=mark.shape, points=mark.points, note=note)


def _confirm(
    at: AtPart, shot: Shot, mine: str, items: list[Evidence], left: list[dict[str, object]], said: str
) -> None:
    """Write a finding with its region and keep the other marks as they are, both or neither."""
    problems = part_page_at.too_long(items)
    try:
        if problems:
            raise Problems(problems)
        shelf.current().confirm_draft(at.slot.id, shot.id, mine, items, left)
    except Problems as found:
        entry.refuse(found)
        return
    entry.tell(f"Saved: {said}")


def _listed(at: AtPart, recorded: Sequence[OnRecord], mine: int, others: int) -> Html:
    """The marks on record with their letters; then how many are still being drawn."""
    told = [_recorded(at, one) for one in recorded]
    waiting = []
    if others:
        waiting.append(f"Somebody else is drawing {others} mark{'' if others == 1 else 's'} on this photo.")
    if mine:
        waiting.append("Choose a mark of yours to say what it is. Until then it is kept as a draft.")
    if not told and not waiting:
        waiting.append("Nothing is marked on this photo yet. Choose a shape and draw round the damage.")
    return tag("div", *told, lines(*waiting, cls="ia-soft"), cls="ia-page")


def _recorded(at: AtPart, one: OnRecord) -> Html:
    suspected = one.finding is not None and one.finding.strength == "suspected"
    said: Html = (
        findings.told(at, one.finding)
        if isinstance(one.finding, Finding)
        else tag("div", lines(f"Scale line: {one.region.note}"), cls="ia-finding")
    )
    balloon = tag("span", one.letter, cls="ia-letter ia-suspected" if suspected else "ia-letter")
    return tag("div", balloon, said, cls="ia-mark-line")
