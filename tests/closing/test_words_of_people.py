"""Decisions by named persons, outside reports and yard checks: what they close, lift or leave open."""

from pathlib import Path

import pytest

from inspect_app.model.evidence import Evidence
from tests.support import decision, engine_with, finding, look, report, said, sign, state_of, withdrawal

SCORED = finding("scoring", "pocket driver/wall")
SIGN_RULE = """
[[rule]]
id = "shaft-stuck"
part = "shaft"
when = [{ sign = "turns", answer = "stuck" }]
closes = ["journals.as_is"]
why = "x"
plain = "x"
basis = "x"
  [[rule.example]]
  then = "open"

[[rule]]
id = "keyway-not-looked-at"
part = "shaft"
each = ["keyway"]
when = [{ look = "eye" }]
closes = ["journals.as_is"]
why = "x"
plain = "x"
basis = "x"
  [[rule.example]]
  then = "open"
"""


def scored(*items: Evidence, place: str = "pocket driver") -> str:
    return said(state_of("housing", *items), "pocket-scored", place)


def test_overruling_lifts_what_is_met_and_only_that() -> None:
    assert scored(SCORED, decision("overrule", "pocket-scored")) == "not met"
    assert scored(decision("overrule", "pocket-scored")) == "open"


def test_waiving_lifts_what_is_open_and_only_that() -> None:
    assert scored(decision("waive", "pocket-scored")) == "not met"
    assert scored(SCORED, decision("waive", "pocket-scored")) == "met"


def test_a_decision_holds_only_at_its_place() -> None:
    here = decision("waive", "pocket-scored", "pocket driver")
    assert scored(here) == "not met"
    assert scored(here, place="pocket driven") == "open"


def test_a_decision_holds_only_for_its_rule_and_its_piece() -> None:
    assert scored(decision("waive", "pocket-worn")) == "open"
    assert scored(decision("waive", "pocket-scored", piece="cover")) == "open"


@pytest.mark.parametrize(("what", "found"), [("waive", "open"), ("overrule", "met")])
def test_no_decision_touches_a_hard_rule_and_the_core_says_so(what: str, found: str) -> None:
    items = [decision(what, "housing-cracked", id="d1")]
    if found == "met":
        items.append(finding("crack", "outside"))  # type: ignore[arg-type]
    state = state_of("housing", *items)
    assert said(state, "housing-cracked", "outside") == found
    assert state.notes == (
        f"A. Tester wants to {what} housing-cracked: it is a hard rule, so the decision d1 has no effect. "
        "Only stronger evidence lifts it.",
    )


def test_a_withdrawn_decision_no_longer_holds() -> None:
    assert scored(SCORED, decision("overrule", "pocket-scored", id="d"), withdrawal("d")) == "met"


def test_the_customers_answer_changes_no_rule() -> None:
    asked = decision("customer_answer", "pocket-scored", answer="leave_it")
    assert scored(SCORED, asked) == "met"
    assert scored(asked) == "open"


@pytest.mark.parametrize(
    ("told", "outcome"),
    [
        ([], "not met"),
        ([report("not worth boring")], "open"),
        ([report("not worth boring", "rim 4 mm")], "met"),
        ([report("not worth boring"), report("not worth boring", "rim 4 mm")], "met"),
        ([report("something else", "rim 4 mm")], "not met"),
        ([report("not worth boring", "rim 4 mm", piece="cover")], "not met"),
    ],
)
def test_a_report_closes_only_with_grounds(told: list[Evidence], outcome: str) -> None:
    assert said(state_of("housing", *told), "boring-not-worth-it") == outcome


@pytest.mark.parametrize(
    ("answers", "outcome"),
    [
        ([], "open"),
        (["not looked"], "open"),
        (["cannot tell"], "open"),
        (["turns"], "not met"),
        (["stuck"], "met"),
        (["cannot tell", "stuck"], "met"),
        (["turns", "stuck"], "met"),
    ],
)
def test_a_yard_check_counts_once_somebody_could_tell(
    tmp_path: Path, answers: list[str], outcome: str
) -> None:
    told = [sign("turns", answer, piece="shaft driver") for answer in answers]
    assert (
        said(state_of("shaft driver", *told, engine=engine_with(tmp_path, more=SIGN_RULE)), "shaft-stuck")
        == outcome
    )


@pytest.mark.parametrize(
    ("answer", "outcome"), [("broken", "met"), ("whole", "open"), ("not looked", "open")]
)
def test_a_yard_check_that_shows_damage_is_a_finding(answer: str, outcome: str) -> None:
    state = state_of("cover", sign("flange-broken", answer, piece="cover"))
    assert said(state, "cover-cracked", "flange") == outcome


def test_a_rule_on_a_look_is_never_met_and_ends_with_the_look(tmp_path: Path) -> None:
    engine = engine_with(tmp_path, more=SIGN_RULE)
    assert said(state_of("shaft driver", engine=engine), "keyway-not-looked-at", "keyway") == "open"
    seen = look("keyway", piece="shaft driver")
    assert said(state_of("shaft driver", seen, engine=engine), "keyway-not-looked-at", "keyway") == "not met"
