"""A finding that does not say where counts at the worst zone, and the verdict says it turns on it."""

from inspect_app.judge import judge
from inspect_app.model.answer import PartAnswer
from inspect_app.model.evidence import Finding
from inspect_app.rulebook.engine import Engine
from inspect_app.rulebook.load import load_rulebook
from inspect_app.shipped import shipped
from tests.judge import six


def crankshaft(place: str) -> PartAnswer:
    evidence = [item for item in [*six.looks_and_tests(), *six.readings()] if item.kind != "test"]
    crack = Finding(id="c1", piece="crankshaft", damage="crack", place=place, strength="seen", **six.COMMON)
    answer = judge(six.core([*evidence, crack]), Engine(load_rulebook(shipped("rules")), six.sheet()))
    return next(part for part in answer.parts if part.position == "crankshaft")


def test_where_it_is_said_the_verdict_does_not_turn_on_it() -> None:
    part = crankshaft("rod_journal 1/fillet/front")
    assert part.verdict == "replace"
    asked = [] if part.fork is None else [item.what for item in part.fork.if_]
    assert "say where the crack is" not in asked


def test_where_it_is_not_said_the_worst_counts_and_the_fork_names_the_other_side() -> None:
    part = crankshaft("rod_journal 1")
    assert (part.verdict, part.standing) == ("replace", "provisional")
    assert part.fork is not None
    assert ("say where the crack is", "at the worst place") in [(i.what, i.answer) for i in part.fork.if_]
    assert part.fork.else_.verdict in ("reuse", "recondition")
    assert any(point.what == "say where the crack is" for point in part.open_points)
