"""Work that is done is not billed again; a contradiction keeps a verdict provisional until it is settled."""

from typing import Any

import pytest

from inspect_app.model.answer import Answer, PartAnswer
from inspect_app.model.evidence import Decision, Evidence, Finding, Reading, Test
from inspect_app.model.pieces import OperationDone, Piece
from inspect_app.rulebook.load import load_rulebook
from tests.support import changed_pack, problems_of

from . import six

EVERYTHING = six.looks_and_tests() + six.readings()


def part(answer: Answer, position: str) -> PartAnswer:
    return next(p for p in answer.parts if p.position == position)


def lines(answer: Answer) -> dict[str, float]:
    return {line.line: line.quantity for line in answer.bill}


def test_finished_valve_work_leaves_the_bill() -> None:
    work = OperationDone(operation="valve work")
    done = Piece(id="cylinder_head 1", position="cylinder_head 1", operations=(work,))
    assert "Valves, seats and guides of a head" in lines(six.answer())
    assert "Valves, seats and guides of a head" not in lines(six.answer(pieces=(*six.pieces(), done)))


def test_a_bored_block_is_not_billed_a_hone_as_well() -> None:
    work = OperationDone(operation="bore", places=("bore *",), size="0.020 in")
    block = Piece(id="block", position="block", operations=(work,))
    bored = [
        reading.model_copy(
            update={
                "id": f"{reading.id}-after",
                "value": f"{float(reading.value) + 0.020:.4f}",
                "state": "after 1",
            }
        )
        for reading in six.readings()
        if isinstance(reading, Reading) and reading.place.startswith("bore ")
    ]
    test = six.clean_test("crack-again", "block", "magnetic particle").model_copy(update={"state": "after 1"})
    answer = six.answer([*EVERYTHING, *bored, test], pieces=(*six.pieces(), block))
    assert [(way.way, way.size) for way in part(answer, "block").ways if way.concern == "bores"] == [
        ("hone", None)
    ]
    assert "Hone one bore" not in lines(answer)


def test_work_reaches_only_its_own_kinds_of_place() -> None:
    """Stitching the jacket says nothing of a crack in a main web."""
    crack: dict[str, Any] = {"damage": "crack", "strength": "confirmed", "test": "t", "piece": "block"}
    found = Test(
        id="t", piece="block", method="magnetic particle", places=("*",), outcome="found", **six.COMMON
    )
    web = Finding(id="f", place="main_web 3", **crack, **six.COMMON)
    stitched = Piece(id="block", position="block", operations=(OperationDone(operation="stitch"),))
    evidence = [item for item in EVERYTHING if item.id != "crack-block"] + [found, web]
    answer = six.answer(evidence, pieces=(*six.pieces(), stitched))
    assert (part(answer, "block").verdict, part(answer, "block").grounds) == ("replace", "evidence")


def contradicted() -> list[Evidence]:
    """A crack that one test confirmed and another, equally strong, did not find."""
    return EVERYTHING + six.confirmed_crack("rod_journal 2/fillet/front", "dye", "dye penetrant")


def test_of_two_tests_that_contradict_each_other_the_worse_counts_provisionally() -> None:
    shaft = part(six.answer(contradicted()), "crankshaft")
    assert (shaft.verdict, shaft.standing) == ("replace", "provisional")
    assert shaft.fork is not None
    assert [(item.what, item.place, item.answer) for item in shaft.fork.if_] == [
        (
            "settle crack and crack-crankshaft: they contradict each other",
            "crack at rod journal 2, fillet, front",
            "the worse one holds",
        )
    ]
    assert (shaft.fork.else_.verdict, shaft.fork.else_.source) == ("reuse", "own")


def test_the_fork_tells_the_ways_of_the_other_case() -> None:
    answer = six.answer([item for item in EVERYTHING if item.id != "block deck 1 front"])
    fork = part(answer, "block").fork
    assert fork is not None
    assert fork.else_.verdict == "recondition"
    assert ("deck", "mill") in [(way.concern, way.way) for way in fork.else_.ways]


def test_a_fork_says_why_it_turns_on_another_part() -> None:
    answer = six.answer([item for item in EVERYTHING if item.id != "crack-block"])
    own, other = part(answer, "block").fork, part(answer, "piston 2").fork
    assert own is not None
    assert other is not None
    assert {(item.positions, item.because) for item in own.if_} == {(("block",), "")}
    why = "Another block has bores of its own size and wear, and the old pistons do not belong to them."
    assert {(item.positions, item.because) for item in other.if_} == {(("block",), why)}


def test_a_fork_of_a_set_says_that_it_is_one() -> None:
    answer = six.answer([item for item in EVERYTHING if item.id != "crack-piston 3"])
    fork = part(answer, "piston 2").fork
    assert fork is not None
    why = "They are bought as a set: one that must go takes the others with it."
    assert {(item.positions, item.because) for item in fork.if_} == {(("piston 3",), why)}


@pytest.mark.parametrize(("content", "missing"), [("bare", True), ("short", False), ("complete", False)])
def test_a_bare_core_has_no_crankshaft(content: str, missing: bool) -> None:
    record = {"value_built": 4000, "content": content}
    shaft = part(six.answer(record=record), "crankshaft")
    assert ("not-there" in {reason.rule for reason in shaft.closed}) is missing


def test_a_piece_taken_out_with_none_put_in_is_not_there() -> None:
    out = Piece(id="rod 2", position="rod 2", sits=False)
    rod = part(six.answer(pieces=(*six.pieces(), out)), "rod 2")
    assert (rod.verdict, rod.grounds) == ("replace", "evidence")


def straddling() -> list[Evidence]:
    """Bore 1 worn so that its clean-up size lies between 0.0155 and 0.0290 in: 0.020 in may not be enough."""
    worn = {"top": "3.5125", "middle": "3.5120", "bottom": "3.5100"}
    return [
        item.model_copy(update={"value": worn[item.station]})
        if isinstance(item, Reading) and item.place in ("bore 1", "bore 2", "bore 3") and item.station in worn
        else item
        for item in EVERYTHING
    ]


def test_a_trial_cut_can_be_answered_for_by_name() -> None:
    block = part(six.answer(straddling()), "block")
    assert "trial cut: does it clean up at 0.020 in" in {point.what for point in block.open_points}
    answered = Decision(
        id="d",
        piece="block",
        decision="waive",
        rule="bores: size",
        place="*",
        reason="cut and clean",
        **six.COMMON,
    )
    after = six.answer([*straddling(), answered])
    assert (part(after, "block").standing, part(after, "block").open_points) == ("settled", ())
    assert after.core.notes == ()


def test_a_line_that_two_ways_add_is_billed_per_part(tmp_path: Any) -> None:
    more = """
[[coupling]]
id = "both"
if_ways = [{ of = "cover.face", in = "lap" }, { of = "housing.pockets", in = "any size" }]
adds = [{ price = "lapping", per = "core" }]
why = "Both."
basis = "judgement"
"""
    assert [str(p) for p in problems_of(changed_pack(tmp_path, more=more))] == [
        "more.toml, coupling both: a line that two ways add is billed per core. Bill it per part."
    ]


def test_the_shipped_pack_loads() -> None:
    assert load_rulebook(six.shipped("rules")).pack.contents["bare"] == ("block",)
