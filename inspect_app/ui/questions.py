"""The questions that the rules ask about a part, and their answers."""

import streamlit as st

from inspect_app.model.evidence import UNANSWERED, Sign
from inspect_app.rulebook.forms_rules import SignForm
from inspect_app.ui import blocks, item_words, part_page_at
from inspect_app.ui.markup import lines, tag
from inspect_app.ui.part_page_at import AtPart

_SAVED = "answers_saved"


def section(at: AtPart) -> None:
    """Draw the questions that were answered, and the form for an answer; nothing where none is asked."""
    asked = {form.id: form for form in at.engine.book.signs.values() if form.part == at.part}
    if not asked:
        return
    given = [item for item in at.evidence.signs if item.sign in asked][::-1]
    said = [f"{_said(asked[item.sign], item.answer)} {item_words.told_by(item)}." for item in given]
    said = said or ["Nobody has answered them yet."]
    blocks.show(tag("div", blocks.section("Questions"), lines(*said), cls="ia-page"))
    with st.expander("Answer a question", expanded=st.query_params.get("enter") == "sign"):
        _form(at, asked)


@st.fragment
def _form(at: AtPart, asked: dict[str, SignForm]) -> None:
    key = f"question_{at.key}_{st.session_state.get(_SAVED, 0)}"
    named = st.query_params.get("name", "")
    sign = st.selectbox(
        "Which?",
        list(asked),
        index=list(asked).index(named) if named in asked else 0,
        format_func=lambda name: asked[name].question,
        key=f"{key}_sign",
    )
    blocks.show(tag("div", lines(asked[sign].question), cls="ia-page"))
    answer = st.segmented_control(
        "Answer",
        [*asked[sign].answers, *UNANSWERED],
        format_func=_capital,
        key=f"{key}_{sign}_answer",
    )
    note = st.text_area("Note", key=f"{key}_note", height=80)
    if not st.button("Save answer", key=f"do_save_{key}", type="primary", width="stretch"):
        return
    if part_page_at.complete({"Answer": answer or ""}):
        item = Sign(**at.stamp("sign"), sign=sign, answer=answer or "", note=note)
        if part_page_at.save(at, [item], _said(asked[sign], item.answer)):
            st.session_state[_SAVED] = st.session_state.get(_SAVED, 0) + 1
    st.rerun()


def _said(form: SignForm, answer: str) -> str:
    return f"{form.question} {_capital(answer)}."


def _capital(text: str) -> str:
    return text[:1].upper() + text[1:]
