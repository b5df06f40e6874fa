"""The forms of a look and of a test: the method, what it covered, and what came of it."""

from collections.abc import Mapping, Sequence
from typing import Any

import streamlit as st

from inspect_app.model.evidence import Look, Test
from inspect_app.model.places import WHOLE
from inspect_app.rulebook.forms_rules import MethodForm
from inspect_app.ui import item_words, methods_at, part_page_at, part_places, words
from inspect_app.ui.part_page_at import AtPart

Given = Mapping[str, Any]


def draw_look(at: AtPart, key: str, given: Given) -> dict[str, Any]:
    """Draw the form of a look with widgets of this key; its fields, beginning with what is `given`."""
    return {
        "places": _places(at, key, given),
        "method": _method(at, "How?", methods_at.looks(at), key, given),
        "lit": st.checkbox("In good light", value=given.get("lit", True), key=f"{key}_lit"),
        "note": _note(key, given),
    }


def draw_test(at: AtPart, key: str, given: Given) -> dict[str, Any]:
    """Draw the form of a test in the same way."""
    return {
        "method": _method(at, "Which test?", methods_at.tests(at), key, given),
        "places": _places(at, key, given),
        "outcome": st.segmented_control(
            "What came of it?",
            list(item_words.OUTCOMES),
            default=given.get("outcome"),
            format_func=lambda name: words.sentence(item_words.OUTCOMES[name])[:-1],
            key=f"{key}_outcome",
        ),
        "by": st.text_input("Tested by, if by somebody else", given.get("by", ""), key=f"{key}_by"),
        "note": _note(key, given),
    }


def look(at: AtPart, chosen: Given, **changes: Any) -> Look | None:
    """The look that was chosen; None, with words, where something is missing."""
    if not part_page_at.complete({"Where?": chosen["places"]}):
        return None
    return Look(**{**at.stamp("look"), **chosen, **changes})


def test(at: AtPart, chosen: Given, **changes: Any) -> Test | None:
    """The test that was chosen; None, with words, where something is missing."""
    if not part_page_at.complete({"Where?": chosen["places"], "What came of it?": chosen["outcome"]}):
        return None
    return Test(**{**at.stamp("test"), **chosen, **changes})


def _places(at: AtPart, key: str, given: Given) -> tuple[str, ...]:
    named: Sequence[str] = given.get("places", ())
    known = list(dict.fromkeys([*named, WHOLE, *part_places.patterns(at.engine, at.part)]))
    chosen = st.multiselect(
        "Where?",
        known,
        list(named),
        format_func=_capital,
        key=f"{key}_places",
        placeholder="Choose what was covered",
    )
    return tuple(chosen)


def _method(at: AtPart, label: str, methods: list[MethodForm], key: str, given: Given) -> str:
    known = {method.id: method for method in methods}
    asked = given.get("method")

    def titled(name: str) -> str:
        return methods_at.titled(at, known[name])

    start = list(known).index(asked) if asked in known else 0
    return st.selectbox(label, list(known), index=start, format_func=titled, key=f"{key}_method")


def _note(key: str, given: Given) -> str:
    return st.text_area("Note", given.get("note", ""), key=f"{key}_note", height=80)


def _capital(text: str) -> str:
    return words.sentence(words.place(text))[:-1]
