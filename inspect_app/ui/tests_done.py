"""Tests: the method, the places it covered, and what came of it."""

import streamlit as st

from inspect_app.model.evidence import Test
from inspect_app.ui import blocks, coverage_forms, item_words, methods_at, part_page_at, part_places
from inspect_app.ui.markup import lines, tag
from inspect_app.ui.part_page_at import AtPart

_SAVED = "tests_saved"


def section(at: AtPart) -> None:
    """Draw the tests that count, newest first, and the form for another."""
    done = [item for item in at.evidence.items if isinstance(item, Test)][::-1]
    said = [told(at, test) for test in done] or [_none(at)]
    blocks.show(tag("div", blocks.section("Tests"), lines(*said), cls="ia-page"))
    with st.expander("Enter a test", expanded=st.query_params.get("enter") == "test"):
        _form(at)


def told(at: AtPart, test: Test) -> str:
    """Say what came of a test, where, and who made it."""
    by = f", by {test.by}" if test.by and test.by != test.who else ""
    book = at.engine.book
    return f"{item_words.said(book, test)}. {item_words.told_by(test, item_words.state(test))}{by}."


def _none(at: AtPart) -> str:
    suited = [method.title for method in methods_at.tests(at) if not methods_at.why_not(at, method)]
    return f"None yet. What suits this part: {', '.join(suited)}." if suited else "None yet."


@st.fragment
def _form(at: AtPart) -> None:
    key = f"test_{at.key}_{st.session_state.get(_SAVED, 0)}"
    asked = part_places.asked(at.engine, at.position)
    given = {"places": (asked,), "method": st.query_params.get("name", "")} if asked else {}
    chosen = coverage_forms.draw_test(at, key, given)
    if not st.button("Save test", key=f"do_save_{key}", type="primary", width="stretch"):
        return
    test = coverage_forms.test(at, chosen)
    if test and part_page_at.save(at, [test], _said(at, test)):
        st.session_state[_SAVED] = st.session_state.get(_SAVED, 0) + 1
    st.rerun()


def _said(at: AtPart, test: Test) -> str:
    said = f"{item_words.said(at.engine.book, test)}."
    why = methods_at.why_not(at, at.engine.book.methods[test.method])
    if why:
        return f"{said} It settles nothing: {why}."
    return f"{said} Now enter what it found, as a finding." if test.outcome == "found" else said
