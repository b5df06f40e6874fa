"""Correct an item: the form of its kind with what it said, and a new item that follows it."""

from collections.abc import Callable
from typing import Any

import streamlit as st

from inspect_app.model.evidence import (
    UNANSWERED,
    Evidence,
    Finding,
    Look,
    OnPiece,
    Photo,
    Reading,
    Sign,
    Test,
)
from inspect_app.ui import coverage_forms, entry, finding_form, item_words, part_page_at, record_lines
from inspect_app.ui.part_page_at import AtPart

Made = list[Evidence] | None


def can(item: Evidence) -> bool:
    """Whether there is a form for this kind of item; the others are withdrawn and entered anew."""
    return isinstance(item, Finding | Look | Test | Photo | Reading | Sign)


def form(at: AtPart, item: OnPiece, key: str) -> bool:
    """Draw the form that corrects an item; True once the correction is on the disk."""
    known = entry.states(at.piece)
    state = st.selectbox(
        "State of the part",
        known,
        index=known.index(item.state) if item.state in known else 0,
        format_func=lambda name: entry.state_words(at.engine.book, at.piece, name),
        key=f"{key}_state",
    )
    make = _drawn(at, item, key, {"supersedes": item.id, "state": state, "piece": item.piece})
    if not st.button("Save correction", key="do_save_correction", type="primary", width="stretch"):
        return False
    made, named = make(), record_lines.called(at, item.id)
    if made and part_page_at.save(
        at, made, f"{item_words.said(at.engine.book, made[-1])}. It corrects {named}."
    ):
        return True
    # Why it was not saved stands at the head of the page, which is drawn already.
    st.rerun()


def _drawn(at: AtPart, item: OnPiece, key: str, changes: dict[str, Any]) -> Callable[[], Made]:
    """Draw the fields of an item; what makes the items of the correction from them."""
    given = item.model_dump()
    if isinstance(item, Finding):
        chosen = finding_form.draw(at, key, given)
        return lambda: finding_form.items(at, chosen, **changes)
    if isinstance(item, Look):
        looked = coverage_forms.draw_look(at, key, given)
        return lambda: _listed(coverage_forms.look(at, looked, **changes))
    if isinstance(item, Test):
        tested = coverage_forms.draw_test(at, key, given)
        return lambda: _listed(coverage_forms.test(at, tested, **changes))
    typed = _lines(at, item, key)
    return lambda: _again(at, item, typed | changes)


def _listed(item: Evidence | None) -> Made:
    return [item] if item else None


def _lines(at: AtPart, item: OnPiece, key: str) -> dict[str, Any]:
    """The fields of a photo, a reading or an answer that can be typed anew."""
    typed: dict[str, Any] = {}
    if isinstance(item, Photo):
        typed["caption"] = st.text_input("Caption", item.caption, key=f"{key}_caption")
    if isinstance(item, Reading):
        typed["value"] = st.text_input(f"Reading, {item.unit}", item.value, key=f"{key}_value")
        typed["as_meant"] = st.checkbox(
            "It is meant as typed, unlikely as it looks", item.as_meant, key=f"{key}_as_meant"
        )
    if isinstance(item, Sign):
        form = at.engine.book.signs.get(item.sign)
        answers = [*(form.answers if form else ()), *UNANSWERED]
        known = answers if item.answer in answers else [item.answer, *answers]
        typed["answer"] = st.selectbox(
            form.question if form else "Answer", known, index=known.index(item.answer), key=f"{key}_answer"
        )
    typed["note"] = st.text_area("Note", item.note, key=f"{key}_note", height=80)
    return typed


def _again(at: AtPart, item: OnPiece, fields: dict[str, Any]) -> Made:
    if not part_page_at.complete({"Reading": fields["value"].strip()} if "value" in fields else {}):
        return None
    stamp = at.stamp(item.kind)  # type: ignore[attr-defined]
    return [type(item).model_validate(item.model_dump() | stamp | fields)]  # type: ignore[list-item]
