"""A sound engine, fully evidenced: nothing is open; take one thing away and exactly that is."""

import pytest

from inspect_app.model.answer import OpenPoint

from . import six

EVERYTHING = six.looks_and_tests() + six.readings()


def open_points(without: str | None = None) -> list[tuple[str, OpenPoint]]:
    answer = six.answer([item for item in EVERYTHING if item.id != without])
    return [(part.position, point) for part in answer.parts for point in part.open_points]


def test_a_sound_six_has_no_open_point_and_is_built() -> None:
    answer = six.answer()
    assert open_points() == []
    assert {part.verdict for part in answer.parts} == {"reuse"}
    assert {part.standing for part in answer.parts} == {"settled"}
    assert (answer.core.verdict, answer.core.standing) == ("build", "settled")
    assert answer.core.not_judged == ()


UNWORN_TWICE = {item.id for item in EVERYTHING if getattr(item, "station", "") == "below"}
"""The unworn size is read in two directions, and one is enough."""


@pytest.mark.parametrize(
    "gone", [item for item in EVERYTHING if item.id not in UNWORN_TWICE], ids=lambda i: i.id
)
def test_taking_away_one_item_lists_exactly_that_item(gone) -> None:
    points = open_points(gone.id)
    assert len(points) == 1
    position, point = points[0]
    assert position == gone.piece
    if gone.kind == "reading":
        titles = {"deck 1": "top face", "head_face": "gasket face"}
        assert titles.get(gone.place, gone.place.replace("_", " ")) in point.place
        for word in (gone.station, gone.direction):
            assert word.replace("_", " ") in point.what
    else:
        method = six.book().methods[gone.method]
        assert point.what in {method.ask or method.title, "first look"}


def test_without_both_unworn_readings_of_a_bore_that_size_is_open() -> None:
    gone = {i.id for i in EVERYTHING if i.id in UNWORN_TWICE and i.place == "bore 3"}
    answer = six.answer([item for item in EVERYTHING if item.id not in gone])
    points = [(p.position, o.what, o.place) for p in answer.parts for o in p.open_points]
    assert points == [("block", "diameter, below, across", "bore 3")]


def test_nobody_looked_is_not_judged_and_says_where_to_look() -> None:
    answer = six.answer([])
    assert {part.verdict for part in answer.parts} == {None}
    assert answer.core.verdict is None
    assert answer.core.waits_for == "first look at block"
    crankshaft = next(part for part in answer.parts if part.position == "crankshaft")
    assert [(p.what, p.place) for p in crankshaft.open_points] == [
        ("first look", "webs and counterweights, main journal 1 to 7, rod journal 1 to 6")
    ]
    assert crankshaft.cost is None
    assert crankshaft.fork is None


def test_the_shares_of_a_set_and_the_bill_add_up() -> None:
    answer = six.answer()
    assert sum(line.mean for line in answer.bill) == pytest.approx(answer.core.cost.mean, abs=1e-9)
