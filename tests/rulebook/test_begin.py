"""An engine sheet without a manual: each layout gives counts that the whole rulebook can judge with."""

from pathlib import Path

import pytest

from inspect_app.judge import judge
from inspect_app.model.core import Core
from inspect_app.model.problems import Problems
from inspect_app.rulebook.begin import begin_problems, minimal_sheet
from inspect_app.rulebook.book import Rulebook
from inspect_app.rulebook.check_sheet import sheet_problems
from inspect_app.rulebook.engine import Engine
from inspect_app.rulebook.forms_begin import BeginForm, LayoutForm
from inspect_app.rulebook.load import load_rulebook
from inspect_app.shipped import shipped
from tests.support import changed_pack, pump_book


@pytest.fixture(scope="module")
def book() -> Rulebook:
    return load_rulebook(shipped("rules"))


def layouts() -> list[tuple[str, int]]:
    begin = load_rulebook(shipped("rules")).pack.begin
    assert begin is not None
    return [(form.id, row[begin.ask]) for form in begin.layout for row in form.counts]


def layout(book: Rulebook, name: str) -> LayoutForm:
    assert book.pack.begin is not None
    return next(form for form in book.pack.begin.layout if form.id == name)


@pytest.mark.parametrize(("name", "number"), layouts())
def test_every_layout_is_judged_with_nothing_looked_at(book: Rulebook, name: str, number: int) -> None:
    materials = {"block": "cast iron", "cylinder_head": "aluminium"}
    sheet = minimal_sheet(book, layout(book, name), number, materials, {"fuel": "diesel"}, ("a", "A"))
    assert sheet_problems(book, sheet) == []
    answer = judge(Core(id="a", title="A", stage="yard_look", build_standard="run"), Engine(book, sheet))
    assert answer.core.verdict is None
    assert {part.verdict for part in answer.parts} == {None}


def test_the_sheet_says_what_was_told_and_where_its_counts_come_from(book: Rulebook) -> None:
    sheet = minimal_sheet(
        book, layout(book, "vee"), 8, {"block": "aluminium"}, {"fuel": "petrol"}, ("v", "V")
    )
    assert sheet.counts == {"cylinders": 8, "mains": 5, "rod_journals": 4, "heads": 2}
    assert sheet.names == {"heads": ("left", "right")}
    assert sheet.conventions == {"layout": "V8", "fuel": "petrol"}
    assert sheet.materials == {"block": "aluminium"}
    assert (sheet.quantities, sheet.source) == ({}, "counts as usual for its layout; no manual was typed")


def test_a_number_without_a_row_is_no_sheet(book: Rulebook) -> None:
    with pytest.raises(KeyError):
        minimal_sheet(book, layout(book, "vee"), 7, {}, {})


def test_a_pack_need_not_have_the_table() -> None:
    assert pump_book().pack.begin is None
    assert list(begin_problems(pump_book())) == []


PUMP_BEGIN = """
[pack.begin]
ask = "gears"
basis = "judgement"
{more}
[[pack.begin.layout]]
id = "plain"
title = "Plain"
said = "{said}"
counts = [{{ {counts} }}]
"""


@pytest.mark.parametrize(
    ("more", "said", "counts", "words"),
    [
        ("", "plain", "gears = 2, wheels = 3", '"wheels" is no count of this pack.'),
        ("", "plain {wheels}", "gears = 2", "the words of this layout cannot be filled in"),
        ("", "plain", "gears = 0", "the words of this layout cannot be filled in"),
        (
            'material = [{ part = "lid", of = ["steel"] }]',
            "plain",
            "gears = 2",
            '"lid" is no part of this pack.',
        ),
        ("", "plain", "wheels = 2", 'each row of the layout "plain" needs its own number of gears'),
    ],
)
def test_a_table_that_makes_no_sound_sheet_is_refused_at_load(
    tmp_path: Path, more: str, said: str, counts: str, words: str
) -> None:
    folder = changed_pack(tmp_path)
    table = PUMP_BEGIN.format(more=more, said=said, counts=counts)
    path = folder / "parts.toml"
    before = path.read_text()
    at = before.index("[[count]]") if "[[count]]" in before else len(before)
    path.write_text(before[:at] + table + "\n" + before[at:])
    with pytest.raises(Problems) as caught:
        load_rulebook(folder)
    assert words in str(caught.value)


def test_two_layouts_of_one_id_are_refused() -> None:
    one = {"id": "plain", "title": "Plain", "said": "plain", "counts": [{"gears": 2}]}
    with pytest.raises(ValueError, match="two layouts have one id"):
        BeginForm.model_validate({"ask": "gears", "basis": "judgement", "layout": [one, one]})
