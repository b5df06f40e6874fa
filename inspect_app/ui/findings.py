"""Findings of a part, and the form for one without a photo."""

import streamlit as st

from inspect_app.model.evidence import Finding
from inspect_app.ui import asks, blocks, finding_form, item_words, part_page_at, part_places, photo_marks_kept
from inspect_app.ui.markup import EMPTY, Html, lines, tag
from inspect_app.ui.part_page_at import AtPart
from inspect_app.ui.photo_list import Shot


def section(at: AtPart) -> None:
    """Draw the findings that count, newest first, and the form for another."""
    found = [item for item in at.evidence.items if isinstance(item, Finding)][::-1]
    marked = photo_marks_kept.where_marked(at)
    told_of = [tag("div", told(at, item), _on_photo(at, marked.get(item.id))) for item in found]
    listed = tag("div", *told_of, cls="ia-findings") if found else lines(_none(at))
    blocks.show(tag("div", blocks.section("Findings"), listed, cls="ia-page"))
    with st.expander("Enter a finding without a photo", expanded=st.query_params.get("enter") == "finding"):
        _form(at)


def told(at: AtPart, item: Finding) -> Html:
    """One finding with what it means and who says it."""
    form = at.engine.book.damage.get(item.damage)
    return tag(
        "div",
        lines(item_words.said(at.engine.book, item)),
        lines(form.plain if form else "", item.note, cls="ia-soft"),
        lines(item_words.told_by(item, item_words.state(item)), cls="ia-soft"),
        cls="ia-finding",
    )


def _on_photo(at: AtPart, marked: tuple[Shot, str] | None) -> Html:
    """A link to the photo on which a finding is marked."""
    if marked is None:
        return EMPTY
    shot, letter = marked
    return tag(
        "a",
        f"Mark {letter} on photo {shot.number}",
        href=asks.address("/part", core=at.slot.id, part=at.position, photo=shot.id),
        data_ask="photo",
        data_value=shot.id,
    )


def _none(at: AtPart) -> str:
    if not any(at.evidence.items):
        return "None yet. Nobody has looked at this part."
    return "None yet. Mark damage on a photo, or enter it here."


@st.fragment
def _form(at: AtPart) -> None:
    key = f"finding_{at.key}_{st.session_state.get('findings_saved', 0)}"
    given = {"place": part_places.asked(at.engine, at.position)}
    if st.query_params.get("enter") == "finding":
        given["damage"] = st.query_params.get("name", "")
    chosen = finding_form.draw(at, key, given)
    if not st.button("Save finding", key=f"do_save_{key}", type="primary", width="stretch"):
        return
    made = finding_form.items(at, chosen)
    if made and part_page_at.save(at, made, f"finding, {item_words.said(at.engine.book, made[-1])}."):
        st.session_state["findings_saved"] = st.session_state.get("findings_saved", 0) + 1
    st.rerun()
