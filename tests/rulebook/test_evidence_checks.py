"""Evidence that contradicts itself is told before anything is judged."""

from typing import Any

from inspect_app.model.evidence import Decision, Evidence, Finding, Look, Reading, Test, Withdrawal
from inspect_app.model.pieces import OperationDone, Piece
from inspect_app.rulebook.check_core import core_problems
from tests.judge import six


def told(*evidence: Evidence, **core: Any) -> list[str]:
    return [str(problem) for problem in core_problems(six.engine(), six.core(list(evidence), **core))]


def crack(test: Test, place: str = "rod_journal 2/fillet/front") -> list[str]:
    finding = Finding(
        id="f",
        piece="crankshaft",
        damage="crack",
        place=place,
        strength="confirmed",
        test=test.id,
        **six.COMMON,
    )
    return told(test, finding)


def magnetic(places: tuple[str, ...], outcome: str = "found", piece: str = "crankshaft") -> Test:
    return Test.model_validate(
        {"id": "t", "piece": piece, "method": "magnetic particle", "places": places, "outcome": outcome}
        | six.COMMON
    )


def test_a_crack_is_confirmed_by_a_test_that_covered_its_place() -> None:
    assert crack(magnetic(("*",))) == []
    assert crack(magnetic(("rod_journal *",))) == []
    assert crack(magnetic(("rod_journal 2/fillet/front",))) == []
    assert crack(magnetic(("rod_journal 1",))) == [
        'evidence f: the test "t" did not cover rod_journal 2/fillet/front. '
        "Name the test that did, or add the place to the test."
    ]


def test_a_test_that_found_nothing_confirms_nothing() -> None:
    assert crack(magnetic(("*",), outcome="nothing_found")) == [
        'evidence f: the test "t" found nothing, so it confirms nothing. '
        "Name another test, or write the strength as seen."
    ]


def test_a_test_of_another_piece_confirms_nothing() -> None:
    assert crack(magnetic(("*",), piece="block")) == [
        'evidence f: the test "t" is no test of crankshaft. Name the id of a test on the same piece.'
    ]


def test_looking_is_not_testing() -> None:
    look = Look(id="l", piece="block", method="magnetic particle", places=("*",), **six.COMMON)
    test = Test(id="t", piece="block", method="eye", places=("*",), outcome="nothing_found", **six.COMMON)
    assert told(look, test) == [
        'evidence l: "magnetic particle" is no way to look. Record it as a test.',
        'evidence t: "eye" is no way to test. Record it as a look.',
    ]


def test_a_decision_speaks_of_a_whole_place() -> None:
    waiver = Decision(
        id="d",
        piece="crankshaft",
        decision="waive",
        rule="crack-in-journal-fillet",
        place="rod_journal 2/fillet",
        reason="customer's risk",
        **six.COMMON,
    )
    assert told(waiver) == [
        'evidence d: a decision speaks of a whole place, not of "rod_journal 2/fillet". '
        'Write "rod_journal 2".'
    ]


def test_work_is_recorded_on_the_piece_it_was_done_on() -> None:
    ground = Piece(id="block", position="block", operations=(OperationDone(operation="grind"),))
    assert told(pieces=(ground,)) == [
        'piece block: "grind" is not done on block. Record it on the piece it was done on.'
    ]


def bore(item_id: str, value: str, supersedes: str | None = None) -> Reading:
    return Reading(
        id=item_id,
        piece="block",
        quantity="diameter",
        place="bore 1",
        station="top",
        direction="across",
        value=value,
        unit="in",
        supersedes=supersedes,
        **six.COMMON,
    )


def test_an_unlikely_size_is_told_only_while_it_counts() -> None:
    slip = bore("slip", "7.5000")
    asked = "evidence slip: 7.5000 in is 2.14 times the nominal 88.9 mm. Is the decimal point right?"
    assert [text.startswith(asked) for text in told(slip)] == [True]
    assert told(slip, bore("right", "3.5010", "slip")) == []
    taken_back = {"id": "w", "of": "slip", "reason": "a slip", "who": "A.T.", "when": "2026-11-22"}
    assert told(slip, Withdrawal.model_validate(taken_back | {"stage": "bench"})) == []
    assert len(told(slip, bore("worse", "35.010", "slip"))) == 1
