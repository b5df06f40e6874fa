"""The engine sheet that a new core begins with: of a core here, from a file, or from a few words."""

from pathlib import Path

import streamlit as st

from inspect_app.bundle.sheet_file import read_sheet
from inspect_app.bundle.sheet_view import counted
from inspect_app.model.problems import Problem, Problems
from inspect_app.model.sheet import EngineSheet
from inspect_app.rulebook.begin import minimal_sheet
from inspect_app.rulebook.book import Rulebook
from inspect_app.rulebook.check_sheet import sheet_problems
from inspect_app.rulebook.forms_begin import BeginForm
from inspect_app.ui import shelf, words
from inspect_app.ui.shelf import Family
from inspect_app.ui.typed_text import Reader

WORDS, FAMILY, FILE = "words", "family", "file"
_WAYS = {WORDS: "A few words", FAMILY: "Like a core here", FILE: "A sheet file"}


def ask(reader: Reader, named: tuple[str, str]) -> EngineSheet | None:
    """Draw the choice and its boxes; the sheet, or None with what is wrong in the reader.

    `named` is the id and title of the core, which a sheet from a few words takes as its own.
    """
    cores = shelf.current()
    families, files = cores.families(), cores.sheet_files()
    ways = [WORDS] if cores.book.pack.begin else []
    ways += ([FAMILY] if families else []) + ([FILE] if files else [])
    if not ways:
        what = "there is no engine sheet here, and the rules do not say how to begin without one."
        advice = "Put the file of a sheet into the folder sheets beside the shop file."
        reader.problems.append(Problem("Engine", what, advice))
        return None
    way = st.segmented_control(
        "Engine", ways, default=ways[0], required=True, format_func=lambda one: _WAYS[one], key="new_way"
    )
    if way == FAMILY:
        return _of_family(families)
    return _of_file(reader, files) if way == FILE else _of_words(cores.book, named)


def _of_family(families: tuple[Family, ...]) -> EngineSheet | None:
    by_core = {family.latest: family for family in families}
    said = words.told_apart({core: _said(family) for core, family in by_core.items()})
    chosen = st.selectbox("Engine of", list(by_core), format_func=said.__getitem__, key="new_family")
    slot = shelf.current().get(chosen)
    return slot.held.sheet if slot is not None and slot.held is not None else None


def _said(family: Family) -> str:
    return f"{family.title} ({family.cores} core{'' if family.cores == 1 else 's'})"


def _of_file(reader: Reader, files: tuple[Path, ...]) -> EngineSheet | None:
    chosen = st.selectbox("Sheet", files, format_func=lambda path: path.name, key="new_file")
    try:
        sheet = read_sheet(chosen)
    except Problems as problems:
        reader.problems.extend(problems.items)
        return None
    reader.problems.extend(sheet_problems(shelf.current().book, sheet))
    return sheet


def _of_words(book: Rulebook, named: tuple[str, str]) -> EngineSheet:
    begin = book.pack.begin
    assert begin is not None
    layouts = {form.id: form for form in begin.layout}
    chosen = st.segmented_control(
        "Layout",
        list(layouts),
        default=begin.layout[0].id,
        required=True,
        format_func=lambda one: layouts[one].title,
        key="new_layout",
    )
    layout = layouts[chosen]
    numbers = [row[begin.ask] for row in layout.counts]
    usual = book.counts[begin.ask].usual
    number = st.selectbox(
        book.counts[begin.ask].title.capitalize(),
        numbers,
        index=numbers.index(usual) if usual in numbers else 0,
        key=f"new_number_{layout.id}",
    )
    materials, conventions = _materials(book, begin), _conventions(begin)
    sheet = minimal_sheet(book, layout, number, materials, conventions, named)
    numbers_taken = (counted(count, book.counts[name].title) for name, count in sheet.counts.items())
    st.text(f"Taken as usual: {', '.join(numbers_taken)}. Shop book, Engine sheet corrects what differs.")
    return sheet


def _materials(book: Rulebook, begin: BeginForm) -> dict[str, str]:
    return {
        form.part: st.selectbox(
            f"{book.parts[form.part].title} of",
            form.of,
            format_func=lambda word: book.materials[word].title if word in book.materials else word,
            key=f"new_material_{form.part}",
        )
        for form in begin.material
    }


def _conventions(begin: BeginForm) -> dict[str, str]:
    return {
        form.id: st.selectbox(
            form.title, form.of, format_func=lambda word: word[:1].upper() + word[1:], key=f"new_{form.id}"
        )
        for form in begin.convention
    }
