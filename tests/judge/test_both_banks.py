"""An engine with two heads: what one is milled, the other is milled too, and not twice."""

from typing import Any

import pytest

from inspect_app.judge import judge
from inspect_app.model.answer import Answer, PartAnswer
from inspect_app.model.evidence import Evidence
from inspect_app.model.pieces import OperationDone, Piece
from inspect_app.rulebook.engine import Engine

from . import six

SECOND = "cylinder_head 2"
RULE = "both-banks-milled-alike"


def two_headed() -> list[Evidence]:
    """The sound six with its cylinders in two banks, the second as sound as the first."""
    items = [*six.looks_and_tests(), *six.readings()]
    twins: list[Evidence] = []
    for item in items:
        if item.piece == "cylinder_head 1":
            twins.append(item.model_copy(update={"piece": SECOND, "id": f"{item.id} of 2"}))
        elif getattr(item, "place", "") == "deck 1":
            twins.append(item.model_copy(update={"place": "deck 2", "id": f"{item.id} of 2"}))
    return [*items, *twins]


def judged(items: list[Evidence], *pieces: Piece) -> Answer:
    counts = six.sheet().counts | {"heads": 2}
    return judge(
        six.core(items, pieces=(*six.pieces(), *pieces)), Engine(six.book(), six.sheet(counts=counts))
    )


def head(answer: Answer, number: int) -> PartAnswer:
    return next(part for part in answer.parts if part.position == f"cylinder_head {number}")


def face(answer: Answer, number: int) -> str:
    return next(way.way for way in head(answer, number).ways if way.concern == "face")


def warped(number: int) -> list[Evidence]:
    """Both heads sound, but under the straightedge at the front of one a leaf of 0.006 in passes."""
    piece = f"cylinder_head {number}"
    passes: dict[str, Any] = {"station": "front", "direction": "passes", "gauge": "straightedge and feeler"}
    kept = [
        item.model_copy(update={"value": "0.007"})
        if (item.piece, getattr(item, "quantity", ""), getattr(item, "station", ""))
        == (piece, "edge_gap", "front")
        else item
        for item in two_headed()
    ]
    return [*kept, six.reading("warp", piece, "edge_gap", "head_face", "0.006", **passes)]


def test_two_sound_heads_are_left_as_they_are() -> None:
    answer = judged(two_headed())
    assert [face(answer, number) for number in (1, 2)] == ["as_is", "as_is"]


@pytest.mark.parametrize(("bad", "other"), [(1, 2), (2, 1)])
def test_a_head_that_is_milled_takes_the_other_with_it_and_says_so(bad: int, other: int) -> None:
    answer = judged(warped(bad))
    assert [face(answer, number) for number in (1, 2)] == ["mill", "mill"]
    assert [(one.position, one.why) for one in head(answer, other).forced_by] == [
        (f"cylinder_head {bad}", six.book().couplings[RULE].why)
    ]
    assert head(answer, bad).forced_by == ()


def milled(number: int) -> Piece:
    name = f"cylinder_head {number}"
    return Piece(id=name, position=name, operations=(OperationDone(operation="mill head"),))


def read_again(number: int) -> list[Evidence]:
    """The readings and looks of a head, taken once more after its first operation."""
    return [
        item.model_copy(update={"state": "after 1", "id": f"{item.id} again"})
        for item in two_headed()
        if item.piece == f"cylinder_head {number}"
    ]


def test_a_head_milled_already_takes_the_other_with_it() -> None:
    answer = judged([*two_headed(), *read_again(1)], milled(1))
    assert [face(answer, number) for number in (1, 2)] == ["as_is", "mill"]


def test_two_heads_milled_already_do_not_send_each_other_back() -> None:
    answer = judged([*two_headed(), *read_again(1), *read_again(2)], milled(1), milled(2))
    assert [face(answer, number) for number in (1, 2)] == ["as_is", "as_is"]
