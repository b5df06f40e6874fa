"""The Part page through Streamlit's own test runner, over a real shop file."""

from collections.abc import Iterator
from pathlib import Path

import pytest
from streamlit.testing.v1 import AppTest

from inspect_app.model.core import Core
from inspect_app.model.evidence import Finding, Look, Reading, Sign, Test, Withdrawal, standing
from inspect_app.ui import entry, part_page_at, shelf
from inspect_app.ui.part_page_at import AtPart
from inspect_app.ui.shelf import Shelf
from tests.ui.own_core import shop_with_own
from tests.ui.shop_core import VEE, html, part_page

NASTY = '<script>alert(1)</script> **bold** "quoted" \x07 :red[x] $a$'


@pytest.fixture
def cores(tmp_path: Path) -> Iterator[Shelf]:
    with shop_with_own(tmp_path) as made:
        yield made


def core(cores: Shelf) -> Core:
    slot = cores.get(VEE)
    assert slot is not None
    assert slot.held is not None
    return slot.held.core


def press(app: AppTest, label: str) -> AppTest:
    return next(button for button in app.button if button.label == label).click().run()


def fill_finding(app: AppTest, damage: str, place: str, strength: str) -> AppTest:
    app.selectbox(key=f"finding_{VEE}_crankshaft_crankshaft_0_damage").set_value(damage).run()
    app.selectbox(key=f"finding_{VEE}_crankshaft_crankshaft_0_place").set_value(place).run()
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
    assert "Saved: Looked, nothing seen: every rod journal, look by eye." in shown


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
    note = next(area for area in app.text_area if area.key == f"finding_{VEE}_crankshaft_crankshaft_0_note")
    note.set_value("x" * 10_000).run()
    before = core(cores)
    press(app, "Save finding")
    assert "Note: it has 10,000 characters; there is room for 2,000." in html(app)
    assert core(cores) == before
    assert app.text_area(key=f"finding_{VEE}_crankshaft_crankshaft_0_note").value == "x" * 10_000
    note.set_value(NASTY).run()
    press(app, "Save finding")
    found = core(cores).evidence[-1]
    assert isinstance(found, Finding)
    assert found.note == NASTY
    shown = html(app)
    assert "<script>" not in shown
    assert "&lt;script&gt;alert(1)&lt;/script&gt; **bold**" in shown


def crack(cores: Shelf, id_: str = "f1", **changes: object) -> Finding:
    slot = cores.get(VEE)
    assert slot is not None
    fields = entry.stamp(slot, "K.O.") | {"id": id_, "piece": "crankshaft", "damage": "crack"}
    more = {"place": "rod_journal 1", "strength": "seen", "state": "washed"}
    return Finding.model_validate(fields | more | changes)


def withdrawal(cores: Shelf, of: str, id_: str = "w1", who: str = "K.O.") -> Withdrawal:
    slot = cores.get(VEE)
    assert slot is not None
    return Withdrawal(**entry.stamp(slot, who), id=id_, of=of, reason="It was dirt")


def test_a_correction_follows_what_it_corrects_and_both_stay(cores: Shelf) -> None:
    cores.add(VEE, [crack(cores)])
    app = part_page("crankshaft", item="f1").run()
    next(box for box in app.selectbox if box.key == "change_f1_place").set_value("rod_journal 3").run()
    press(app, "Save correction")
    corrected = core(cores).evidence[-1]
    assert isinstance(corrected, Finding)
    assert (corrected.place, corrected.supersedes, corrected.who) == ("rod_journal 3", "f1", "B.W.")
    assert corrected.strength == "seen"
    shown = html(app)
    assert "It corrects finding 36." in shown
    assert "<s>Crack, rod journal 1, seen</s>" in shown
    assert "Corrected by finding 37, B.W." in shown


def test_withdrawing_asks_why_and_strikes_through(cores: Shelf) -> None:
    cores.add(VEE, [crack(cores)])
    app = part_page("crankshaft", item="f1").run()
    assert "Withdraw finding 36? It stays in the record, struck through." in html(app)
    press(app, "Withdraw finding 36")
    assert "Why?: nothing is chosen." in html(app)
    assert len(core(cores).evidence) == 36
    app.text_input(key="change_f1_reason").set_value(NASTY)
    press(app, "Withdraw finding 36")
    shown = html(app)
    assert "<s>Crack, rod journal 1, seen</s>" in shown
    assert "&lt;script&gt;alert(1)&lt;/script&gt; **bold**" in shown


def test_withdrawing_what_somebody_withdrew_meanwhile_is_told_and_nothing_is_written(cores: Shelf) -> None:
    cores.add(VEE, [crack(cores)])
    slot = cores.get(VEE)
    assert slot is not None
    seen = part_page_at.at_part(slot, "crankshaft")
    cores.add(VEE, [withdrawal(cores, "f1")])
    count = len(core(cores).evidence)
    app = withdraw_as_seen(seen)
    assert "Finding 36 is withdrawn already, by K.O., " in html(app)
    assert "It was dirt" in html(app)
    assert len(core(cores).evidence) == count


def withdraw_as_seen(seen: AtPart) -> AppTest:
    """Withdraw f1 on a page that was drawn at `seen`."""

    def script(seen):  # type: ignore[no-untyped-def]
        from inspect_app.ui import entry, taking_back

        taking_back.withdraw(seen, next(i for i in seen.core.evidence if i.id == "f1"), "Twice")
        entry.show_told()

    app = AppTest.from_function(script, args=(seen,))
    app.session_state["who"] = "B.W."
    return app.run()


def test_what_was_withdrawn_can_be_brought_back(cores: Shelf) -> None:
    cores.add(VEE, [crack(cores), withdrawal(cores, "f1")])
    app = part_page("crankshaft", item="f1").run()
    press(app, "Bring finding 36 back")
    shown = html(app)
    assert "Saved: finding 36 counts again." in shown
    assert "<s>Crack, rod journal 1, seen</s>" not in shown
    assert "This withdrawal was taken back." in shown


def test_two_corrections_of_one_item_are_shown_and_one_is_settled_on(cores: Shelf) -> None:
    first = crack(cores, "c1", supersedes="f1", place="rod_journal 2", who="A.T.")
    second = crack(cores, "c2", supersedes="f1", place="rod_journal 3", who="B.W.")
    cores.add(VEE, [crack(cores), first, second])
    app = part_page("crankshaft").run()
    shown = html(app)
    assert "To settle: finding 36" in shown
    assert "Until one of these is settled on, all stand and the worse counts." in shown
    press(app, "Let finding 38 count")
    gone = core(cores).evidence[-1]
    assert isinstance(gone, Withdrawal)
    assert (gone.of, gone.reason) == ("c1", "Settled: finding 38 counts")
    assert "To settle" not in html(app)
    slot = cores.get(VEE)
    assert slot is not None
    assert slot.held is not None
    assert slot.held.contested == {}


def test_a_correction_and_a_withdrawal_of_one_item_can_be_settled_either_way(cores: Shelf) -> None:
    changed = crack(cores, "c1", supersedes="f1", place="rod_journal 2")
    cores.add(VEE, [crack(cores), changed, withdrawal(cores, "f1")])
    app = part_page("crankshaft").run()
    press(app, "Let it be withdrawn")
    counting = {item.id for item in standing(core(cores).evidence)}
    assert not {"f1", "c1"} & counting
    assert "To settle" not in html(app)


def test_two_that_withdrew_the_same_agree(cores: Shelf) -> None:
    cores.add(VEE, [crack(cores), withdrawal(cores, "f1"), withdrawal(cores, "f1", "w2", "A.T.")])
    assert "To settle" not in html(part_page("crankshaft").run())


def test_an_unwashed_part_is_told_what_a_look_does_not_settle(cores: Shelf) -> None:
    app = part_page("crankshaft").run()
    state = next(group for group in app.button_group if group.label == "The part is now")
    state.set_value("as_found").run()
    shown = html(app)
    assert "settles no damage word: it shows nothing before the part is washed." in shown
    assert "Nothing seen settles" not in shown
    app.button(key="look_nose").click().run()
    look = core(cores).evidence[-1]
    assert isinstance(look, Look)
    assert look.state == "as_found"


def test_a_test_can_cover_the_whole_piece_in_one_choice(cores: Shelf) -> None:
    app = part_page("crankshaft", enter="test").run()
    where = next(
        box for box in app.multiselect if "The whole piece" in box.options and "test" in str(box.key)
    )
    assert where.options[0] == "The whole piece"
    where.set_value(["*"])
    next(group for group in app.button_group if group.label == "What came of it?").set_value("nothing_found")
    press(app.run(), "Save test")
    test = core(cores).evidence[-1]
    assert isinstance(test, Test)
    assert test.places == ("*",)


@pytest.mark.usefixtures("cores")
def test_a_test_that_does_not_suit_says_why() -> None:
    app = part_page("piston 1").run()
    methods = next(box for box in app.selectbox if box.label == "Which test?").options
    assert any(
        text.startswith("Magnetic-particle test: it shows nothing on aluminium") for text in methods
    ), methods
    assert methods[0] == "Dye-penetrant test"


def test_an_open_point_leads_to_its_form_filled_in(cores: Shelf) -> None:
    asked = {"enter": "test", "name": "dye penetrant", "place": "rod_journal 2/fillet/front"}
    app = part_page("crankshaft", **asked).run()
    group = next(group for group in app.button_group if group.label == "What came of it?")
    group.set_value("nothing_found").run()
    press(app, "Save test")
    test = core(cores).evidence[-1]
    assert isinstance(test, Test)
    assert (test.method, test.places, test.outcome) == (
        "dye penetrant",
        ("rod_journal 2/fillet/front",),
        "nothing_found",
    )


@pytest.mark.parametrize(
    "asked", [{"item": "nobody"}, {"photo": "nobody"}, {"place": "moon 3"}, {"name": NASTY}]
)
@pytest.mark.usefixtures("cores")
def test_an_address_that_asks_for_what_is_not_there_harms_nothing(asked: dict[str, str]) -> None:
    shown = html(part_page("crankshaft", enter="finding", **asked).run())
    assert "Crankshaft" in shown
    if "photo" in asked:
        assert "That photo is not among those of this part any more." in shown


def test_two_that_correct_one_item_at_the_same_time_lose_nothing(cores: Shelf) -> None:
    cores.add(VEE, [crack(cores)])
    mine, theirs = part_page("crankshaft", item="f1").run(), part_page("crankshaft", item="f1").run()
    for app, place in ((mine, "rod_journal 2"), (theirs, "rod_journal 3")):
        next(box for box in app.selectbox if box.key == "change_f1_place").set_value(place)
    press(mine, "Save correction")
    press(theirs, "Save correction")
    places = [item.place for item in core(cores).evidence if isinstance(item, Finding) and item.supersedes]
    assert places == ["rod_journal 2", "rod_journal 3"]
    assert "To settle: finding 36" in html(theirs)


def test_what_somebody_changed_while_it_was_open_here_says_so_and_keeps_what_was_typed(cores: Shelf) -> None:
    cores.add(VEE, [crack(cores)])
    app = part_page("crankshaft", item="f1").run()
    app.text_area(key="change_f1_note").set_value("Two inches long")
    cores.add(VEE, [withdrawal(cores, "f1")])
    app.run()
    shown = html(app)
    assert "Somebody changed it while you had it open." in shown
    assert "Withdrawn by K.O." in shown
    assert app.text_area(key="change_f1_note").value == "Two inches long"


def test_a_question_is_answered_where_its_open_point_leads(cores: Shelf) -> None:
    app = part_page("cylinder_head left", enter="sign", name="where-camshaft-turns").run()
    group = next(group for group in app.button_group if group.label == "Answer")
    group.set_value("in the block").run()
    press(app, "Save answer")
    sign = core(cores).evidence[-1]
    assert isinstance(sign, Sign)
    assert (sign.sign, sign.answer, sign.piece) == (
        "where-camshaft-turns",
        "in the block",
        "cylinder_head left",
    )
    assert "an iron head or in an aluminium head? In the block." in html(app)


@pytest.mark.usefixtures("cores")
def test_a_part_that_is_not_here_is_told_and_never_shown_unsaid() -> None:
    shown = html(part_page("piston 99").run())
    assert "This core has no part &quot;piston 99&quot;. Shown is: " in shown
    assert "This core has no part" not in html(part_page("piston 1").run())


@pytest.mark.usefixtures("cores")
def test_a_part_without_anything_says_what_to_do_first() -> None:
    slot = shelf.current().get(VEE)
    assert slot is not None
    app = part_page("crankshaft").run()
    assert "None yet. Take them before washing: dirt and stains are evidence" in html(app)
    assert "None yet. Mark damage on a photo, or enter it here." in html(app)
    assert "None yet. What suits this part: magnetic-particle test, dye-penetrant test" in html(app)


@pytest.mark.usefixtures("cores")
def test_the_record_says_which_look_does_not_count_and_why() -> None:
    app = part_page("block").run()
    assert not app.exception
    assert "Does not count: not washed." in html(app)


def test_an_unlikely_reading_is_kept_only_as_meant(cores: Shelf) -> None:
    app = part_page("block", item="bore-1-top").run()
    app.text_input(key="change_bore-1-top_value").set_value("4.0005").run()
    before = core(cores)
    press(app, "Save correction")
    assert "Not saved." in html(app)
    assert core(cores) == before
    assert app.text_input(key="change_bore-1-top_value").value == "4.0005"
    app.checkbox(key="change_bore-1-top_as_meant").check().run()
    press(app, "Save correction")
    again = core(cores).evidence[-1]
    assert isinstance(again, Reading)
    assert (again.value, again.as_meant, again.supersedes) == ("4.0005", True, "bore-1-top")
