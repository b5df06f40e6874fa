"""The Part page through Streamlit's own test runner, over a real shop file: what is entered and what is told."""

from collections.abc import Iterator
from pathlib import Path

import pytest
from streamlit.testing.v1 import AppTest

from inspect_app.model.core import Core
from inspect_app.model.evidence import Finding, Look, Test, Withdrawal
from inspect_app.ui.shelf import Shelf
from tests.ui.shop_core import VEE, html, part_page, shop_with

NASTY = '<script>alert(1)</script> **bold** "quoted" \x07 :red[x] $a$'


@pytest.fixture
def cores(tmp_path: Path) -> Iterator[Shelf]:
    with shop_with(tmp_path, VEE) as made:
        yield made


def core(cores: Shelf) -> Core:
    slot = cores.get(VEE)
    assert slot is not None
    assert slot.held is not None
    return slot.held.core


def press(app: AppTest, label: str) -> AppTest:
    return next(button for button in app.button if button.label == label).click().run()


def fill_finding(app: AppTest, damage: str, place: str, strength: str) -> AppTest:
    app.selectbox(key="finding_crankshaft_0_damage").set_value(damage).run()
    app.selectbox(key="finding_crankshaft_0_place").set_value(place).run()
    next(group for group in app.button_group if group.label == "How sure?").set_value(strength).run()
    return app


@pytest.mark.usefixtures("cores")
def test_the_head_says_the_part_its_verdict_and_where_that_is_explained() -> None:
    shown = html(part_page("crankshaft").run())
    assert '<h1 class="ia-part-name" tabindex="-1">Crankshaft</h1>' in shown
    assert 'href="/verdict?core=brackwater-vee&amp;part=crankshaft"' in shown
    assert shown.count("<h1") == 1
    assert 'data-part="piston 6"' in shown


def test_one_tap_is_a_look_at_every_place_of_a_kind(cores: Shelf) -> None:
    before = len(core(cores).evidence)
    app = part_page("crankshaft").run()
    app.button(key="look_rod_journal").click().run()
    look = core(cores).evidence[-1]
    assert len(core(cores).evidence) == before + 1
    assert isinstance(look, Look)
    assert (look.places, look.method, look.lit, look.state, look.who) == (
        ("rod_journal *",),
        "eye",
        True,
        "washed",
        "B.W.",
    )
    shown = html(app)
    assert "Saved: Looked, nothing seen: every rod journal, look by eye, washed." in shown


def test_a_look_can_be_undone_by_one_tap_and_stays_in_the_record(cores: Shelf) -> None:
    app = part_page("crankshaft").run()
    app.button(key="look_nose").click().run()
    look = core(cores).evidence[-1]
    app.button(key="undo_nose").click().run()
    last = core(cores).evidence[-1]
    assert isinstance(last, Withdrawal)
    assert last.of == look.id
    assert "<s>Looked, nothing seen: nose" in html(app)
    assert app.button(key="look_nose").label == "Looked, nothing seen"


def test_nobody_named_saves_nothing(cores: Shelf) -> None:
    before = core(cores)
    app = part_page("crankshaft")
    app.session_state["who"] = " "
    app.run()
    app.button(key="look_nose").click().run()
    assert "Who enters: nobody is named. Type your initials at the head of the page." in html(app)
    assert core(cores) == before


def test_a_finding_is_saved_with_its_definition_on_the_spot(cores: Shelf) -> None:
    app = fill_finding(part_page("crankshaft").run(), "crack", "rod_journal 2", "seen")
    assert cores.book.damage["crack"].plain in html(app)
    press(app, "Save finding")
    found = core(cores).evidence[-1]
    assert isinstance(found, Finding)
    assert (found.damage, found.place, found.strength) == ("crack", "rod_journal 2", "seen")
    shown = html(app)
    assert "Saved: finding, Crack, rod journal 2, seen." in shown
    assert "<strong>Replace</strong>" in shown


def test_what_is_missing_is_told_all_at_once_and_nothing_is_saved(cores: Shelf) -> None:
    before = core(cores)
    app = press(part_page("crankshaft").run(), "Save finding")
    shown = html(app)
    for asked in ("What is it?", "Where?", "How sure?"):
        assert f"{asked}: nothing is chosen." in shown
    assert core(cores) == before


def test_confirmed_takes_a_test_entered_with_it(cores: Shelf) -> None:
    app = fill_finding(part_page("crankshaft").run(), "crack", "rod_journal 2", "confirmed")
    press(app, "Save finding")
    test, found = core(cores).evidence[-2:]
    assert isinstance(test, Test)
    assert isinstance(found, Finding)
    assert found.test == test.id
    assert (test.outcome, test.places) == ("found", ("rod_journal 2",))


def test_text_stays_text_and_too_long_is_refused_with_the_limit(cores: Shelf) -> None:
    app = fill_finding(part_page("crankshaft").run(), "pit", "rod_journal 1", "seen")
    note = next(area for area in app.text_area if area.key == "finding_crankshaft_0_note")
    note.set_value("x" * 10_000).run()
    before = core(cores)
    press(app, "Save finding")
    assert "Note: it has 10,000 characters; there is room for 2,000." in html(app)
    assert core(cores) == before
    assert next(a for a in app.text_area if a.key == "finding_crankshaft_0_note").value == "x" * 10_000
    note.set_value(NASTY).run()
    press(app, "Save finding")
    found = core(cores).evidence[-1]
    assert isinstance(found, Finding)
    assert found.note == NASTY
    shown = html(app)
    assert "<script>" not in shown
    assert "&lt;script&gt;alert(1)&lt;/script&gt; **bold**" in shown
