"""Reports and decisions written down on the Verdict page, over a real shop file."""

from collections.abc import Iterator
from pathlib import Path

import pytest
from streamlit.testing.v1 import AppTest

from inspect_app import store
from inspect_app.model.evidence import Decision, OutsideReport, Withdrawal
from inspect_app.rulebook.load import load_rulebook
from inspect_app.shipped import shipped
from inspect_app.ui import shelf
from inspect_app.ui.decidable import to_overrule, to_waive
from inspect_app.ui.shelf import Shelf
from tests.ui.made import NASTY

VEE = "brackwater-vee"


@pytest.fixture
def cores(tmp_path: Path) -> Iterator[Shelf]:
    book = load_rulebook(shipped("rules"))
    with store.create_shop_file(tmp_path / "shop.sqlite") as shop:
        store.import_bundle(shop, book, shipped("demo_cores") / VEE, "A.T.")
        cores = Shelf(shop, lambda: book)
        shelf.use(cores)
        yield cores
    shelf._current = None


def page(part: str, who: str = "B.W.") -> AppTest:
    def script() -> None:
        from inspect_app.ui import verdict

        verdict.page()

    app = AppTest.from_function(script, default_timeout=20)
    app.session_state["who"] = who
    app.query_params["core"] = VEE
    app.query_params["part"] = part
    return app.run()


def html(app: AppTest) -> str:
    assert not app.exception
    return "\n".join(element.proto.body for element in app.get("html"))


def kind(app: AppTest, chosen: str, part: str) -> AppTest:
    app.session_state[f"decide_{part}"] = chosen
    return app.run()


def field(app: AppTest, label: str):
    return next(w for w in (*app.text_area, *app.text_input, *app.radio, *app.selectbox) if w.label == label)


def press(app: AppTest, label: str) -> AppTest:
    return next(button for button in app.button if button.label == label).click().run()


def added(cores: Shelf, kind: type):
    slot = cores.get(VEE)
    assert slot is not None
    assert slot.held is not None
    return [i for i in slot.held.core.evidence if isinstance(i, kind) and i.when >= "2026-11-25"]


GROUNDS = "On what grounds? What was found, where exactly, by which test or reading"


def test_a_report_with_grounds_closes_the_piece_and_one_without_asks(cores: Shelf) -> None:
    app = kind(page("crankshaft"), "Report from outside", "crankshaft")
    assert "Without grounds this closes nothing." in html(app)
    field(app, "Who said it").set_value("the machine shop")
    app = press(app, "Save the report")
    (bare,) = added(cores, OutsideReport)
    assert (bare.who, bare.says, bare.grounds) == ("the machine shop", "unusable", "")
    assert bare.note == "Written down by B.W."
    assert "Saved: report on Crankshaft." in html(app)
    slot = cores.get(VEE)
    shaft = next(part for part in slot.answer.parts if part.position == "crankshaft")  # type: ignore[union-attr]
    assert shaft.verdict == "reuse"
    assert any("Ask the shop" in point.what for point in shaft.open_points)
    field(app, "Who said it").set_value("the machine shop")
    field(app, GROUNDS).set_value("crack in the rear fillet of rod journal 1, by magnetic-particle test")
    press(app, "Save the report")
    shaft = next(part for part in cores.get(VEE).answer.parts if part.position == "crankshaft")  # type: ignore[union-attr]
    assert shaft.verdict == "replace"


@pytest.mark.usefixtures("cores")
@pytest.mark.parametrize(
    ("who", "by", "said"),
    [("", "the shop", "Give your initials above first."), ("B.W.", "  ", "Say who said it.")],
)
def test_what_is_lacking_is_said_and_nothing_is_saved(cores: Shelf, who: str, by: str, said: str) -> None:
    app = kind(page("crankshaft", who), "Report from outside", "crankshaft")
    field(app, "Who said it").set_value(by)
    app = press(app, "Save the report")
    assert f"Not saved. {said}" in html(app)
    assert added(cores, OutsideReport) == []


def test_a_waiver_settles_what_it_names_and_is_told_with_its_reason(cores: Shelf) -> None:
    before = next(part for part in cores.get(VEE).answer.parts if part.position == "cylinder_head left")  # type: ignore[union-attr]
    choices = to_waive(cores.book, before)
    assert choices
    assert all(not cores.book.rules[c.rule].hard for c in choices if c.rule in cores.book.rules)
    app = kind(page("cylinder_head left"), "Waive a check", "cylinder_head left")
    assert "Not saved. Give the reason." in html(press(app, "Save the waiver"))
    field(app, "For what reason?").set_value(f"seen dry on the engine {NASTY}")
    app = press(app, "Save the waiver")
    (made,) = added(cores, Decision)
    assert (made.decision, made.who, made.rule) == ("waive", "B.W.", choices[0].rule)
    text = html(app)
    assert "<img" not in text
    assert "seen dry on the engine &lt;img" in text
    after = next(part for part in cores.get(VEE).answer.parts if part.position == "cylinder_head left")  # type: ignore[union-attr]
    assert choices[0].rule not in {rule for point in after.open_points for rule in point.rules}


def test_an_overruled_rule_closes_nothing_any_more(cores: Shelf) -> None:
    part = next(part for part in cores.get(VEE).answer.parts if part.position == "cylinder_head left")  # type: ignore[union-attr]
    choices = to_overrule(cores.book, part)
    assert [choice.rule for choice in choices] == list(dict.fromkeys(closed.rule for closed in part.closed))
    app = kind(page("cylinder_head left"), "Overrule a rule", "cylinder_head left")
    field(app, "For what reason?").set_value("the owner wants it so")
    press(app, "Save the overruling")
    after = next(part for part in cores.get(VEE).answer.parts if part.position == "cylinder_head left")  # type: ignore[union-attr]
    assert choices[0].rule not in {closed.rule for closed in after.closed}


def test_a_rule_that_says_the_same_at_two_places_is_offered_for_each(cores: Shelf) -> None:
    part = next(part for part in cores.get(VEE).answer.parts if part.closed)  # type: ignore[union-attr]
    rule = next(name for name, form in cores.book.rules.items() if not form.hard)
    closed = part.closed[0].model_copy(update={"rule": rule, "why": "Worn."})
    both = tuple(closed.model_copy(update={"place": f"rod_journal {at}"}) for at in (1, 2))
    choices = to_overrule(cores.book, part.model_copy(update={"closed": both}))
    assert [choice.place for choice in choices] == ["rod_journal 1", "rod_journal 2"]
    assert len({choice.said for choice in choices}) == 2
    assert all("rod journal" in choice.said for choice in choices)


def test_what_is_pressed_twice_is_decided_once(cores: Shelf) -> None:
    app = kind(page("cylinder_head left"), "Overrule a rule", "cylinder_head left")
    drawn = {button.key for button in app.button}
    field(app, "For what reason?").set_value("the owner wants it so")
    app = press(app, "Save the overruling")
    assert len(added(cores, Decision)) == 1
    # A second click of a double click names a button that was drawn before, and is for none now.
    assert "Save the overruling" not in {button.label for button in app.button if button.key in drawn}
    if "Save the overruling" in {button.label for button in app.button}:
        press(app, "Save the overruling")
    assert len(added(cores, Decision)) == 1


def test_what_is_typed_of_one_part_does_not_stand_at_another(cores: Shelf) -> None:
    app = kind(page("crankshaft"), "Report from outside", "crankshaft")
    field(app, "Who said it").set_value("the machine shop")
    field(app, GROUNDS).set_value("crack in the rear fillet")
    app.run()
    app.query_params["part"] = "block"
    app = kind(app, "Report from outside", "block")
    assert (field(app, "Who said it").value, field(app, GROUNDS).value) == ("", "")
    assert added(cores, OutsideReport) == []


def test_a_hard_rule_is_not_offered(cores: Shelf) -> None:
    slot = cores.get(VEE)
    assert slot is not None
    assert slot.answer is not None
    hard = next(rule for rule in cores.book.rules.values() if rule.hard)
    closed = next(c for part in slot.answer.parts for c in part.closed)
    part = next(part for part in slot.answer.parts if closed in part.closed)
    mixed = part.model_copy(update={"closed": (closed, closed.model_copy(update={"rule": hard.id}))})
    assert [choice.rule for choice in to_overrule(cores.book, mixed)] == [closed.rule]


def test_the_customers_answer_is_kept_and_can_be_withdrawn(cores: Shelf) -> None:
    app = kind(page("block"), "Customer's answer", "block")
    field(app, "What does the customer say?").set_value("leave_it")
    field(app, "In their words, and how they told it").set_value("by phone: too dear")
    app = press(app, "Save the answer")
    (answer,) = added(cores, Decision)
    assert (answer.decision, answer.answer, answer.piece) == ("customer_answer", "leave_it", "block")
    assert "Leave it, B.W., " in html(app)
    assert "Not saved. Give the reason." in html(press(app, "Withdraw it"))
    field(app, "Why? It stays in the record, struck through.").set_value("they called again")
    app = press(app, "Withdraw it")
    (gone,) = added(cores, Withdrawal)
    assert (gone.of, gone.reason) == (answer.id, "they called again")
    assert "Leave it, B.W., " not in html(app)
