"""Begin a core: an engine of which nobody has looked at anything yet."""

import streamlit as st

from inspect_app.model.core import Core, CoreRecord
from inspect_app.model.problems import Problem, Problems
from inspect_app.ui import begin_sheet, blocks, core_form, entry, go, shelf, who
from inspect_app.ui.blocks import heading, section, title_strip
from inspect_app.ui.markup import lines, tag
from inspect_app.ui.typed_text import Reader, id_from, id_problem

_KEY = "new"


def page() -> None:
    """Draw the page; the Verdict of the new core is shown once it is on the disk."""
    entry.show_told()
    blocks.show(
        tag(
            "div",
            title_strip(("View", "Begin a core")),
            heading("Begin a core"),
            lines("Type what is known; everything but the title can wait, and can be changed in its record."),
            cls="ia-page",
        )
    )
    reader, by = Reader(), who.box()
    left, right = st.columns([3, 2], gap="large")
    with left:
        fields = core_form.head(reader, None, _KEY)
        core_id = _id(reader, fields["title"])
        blocks.show(section("Engine"))
        sheet = begin_sheet.ask(reader, (core_id, fields["title"] or core_id))
    with right:
        record = _record(reader)
    if st.button("Begin this core", key="do_begin", type="primary"):
        if not by:
            reader.problems.insert(0, Problem("Who enters", "it is empty.", "Type your initials."))
        if reader.problems or sheet is None:
            _refuse(reader.problems)
            return
        try:
            shelf.current().begin(Core(id=core_id, record=record, **fields), sheet, by)
        except Problems as problems:
            _refuse(list(problems.items))
            return
        entry.tell(f"Begun: {fields['title']}.", "Next: look at it before anything is washed.")
        go.to("verdict", core=core_id)
        st.rerun()


def _id(reader: Reader, title: str) -> str:
    """The id that was typed, else one made from the title."""
    taken = {row.id for row in shelf.current().rows()}
    made = id_from(title, taken)
    typed = st.text_input(
        "Id, made from the title where left empty", key=f"{_KEY}_id", placeholder=made, autocomplete="off"
    ).strip()
    wrong = id_problem(typed, taken) if typed else None
    if wrong is not None:
        reader.problems.append(wrong)
    return typed if typed and wrong is None else made


def _record(reader: Reader) -> CoreRecord:
    blocks.show(section("Money"))
    currency = shelf.current().book.price_book.currency
    money = core_form.money(reader, CoreRecord(), _KEY, currency)
    blocks.show(section("What is said and read"))
    return CoreRecord(
        claims=core_form.claims(reader, CoreRecord(), _KEY),
        numbers_read=core_form.numbers(reader, CoreRecord(), _KEY),
        content=core_form.content(CoreRecord(), _KEY),
        **money,
    )


def _refuse(problems: list[Problem]) -> None:
    told = lines("Not begun.", *(str(problem) for problem in problems))
    blocks.show(tag("div", told, cls="ia-refused", role="status"))
