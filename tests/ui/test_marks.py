"""Marks from a browser: what is kept, put on the edge, or refused in words; and which list is newer."""

import math
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from inspect_app.model.evidence import Region
from inspect_app.model.problems import Problems
from inspect_app.ui import marker
from inspect_app.ui.marks import (
    LONGEST_ID,
    MOST_MARKS,
    MOST_POINTS,
    POINTS,
    Mark,
    Sent,
    read_marks,
    read_sent,
)

WIDE, HIGH = 1600, 1200
LINE = {"id": "a", "shape": "crack_line", "points": [[10, 20], [30, 40.5]]}


def words(plain: Any) -> list[str]:
    with pytest.raises(Problems) as raised:
        read_marks(plain, WIDE, HIGH)
    return [str(problem) for problem in raised.value.items]


def test_a_mark_comes_back_as_it_was_written() -> None:
    (mark,) = read_marks([LINE], WIDE, HIGH)
    assert mark == Mark("a", "crack_line", ((10, 20), (30, 40.5)))
    assert read_marks([mark.plain()], WIDE, HIGH) == (mark,)


def test_a_mark_sent_twice_is_one_and_the_later_counts() -> None:
    later = {**LINE, "points": [[1, 1], [2, 2]]}
    assert read_marks([LINE, {**LINE, "id": "b"}, later], WIDE, HIGH) == (
        Mark("a", "crack_line", ((1, 1), (2, 2))),
        Mark("b", "crack_line", ((10, 20), (30, 40.5))),
    )


@pytest.mark.parametrize(("given", "kept"), [(-0.99, 0), (-1, 0), (0, 0), (1600, 1600), (1601, 1600)])
def test_a_point_up_to_a_pixel_outside_is_put_on_the_edge(given: float, kept: float) -> None:
    (mark,) = read_marks([{"id": "p", "shape": "point", "points": [[given, 5]]}], WIDE, HIGH)
    assert mark.points == ((kept, 5),)


@pytest.mark.parametrize("x", [-1.01, 1601.01])
def test_a_point_farther_outside_is_refused(x: float) -> None:
    assert words([{"id": "p", "shape": "point", "points": [[x, 5]]}]) == [
        f"mark 1: the point {x:g}, 5 lies outside the picture of 1600 by 1200 pixels. Move it inside."
    ]


@pytest.mark.parametrize(
    ("shape", "number", "wanted"),
    [
        ("rectangle", 1, "2"),
        ("rectangle", 3, "2"),
        ("ellipse", 4, "2"),
        ("scale_line", 3, "2"),
        ("point", 0, "1"),
        ("point", 2, "1"),
        ("polygon", 2, f"3 to {MOST_POINTS}"),
        ("crack_line", 1, f"2 to {MOST_POINTS}"),
        ("crack_line", MOST_POINTS + 1, f"2 to {MOST_POINTS}"),
    ],
)
def test_each_shape_has_its_number_of_points(shape: str, number: int, wanted: str) -> None:
    points = [[at, at % 7] for at in range(number)]
    word = shape.replace("_", " ")
    assert words([{"id": "a", "shape": shape, "points": points}]) == [
        f"mark 1: a {word} has {wanted} points, not {number}. Draw it again."
    ]


@pytest.mark.parametrize("shape", POINTS)
def test_the_fewest_and_the_most_points_are_taken(shape: str) -> None:
    for number in POINTS[shape]:  # type: ignore[index]
        points = [[at, at % 7] for at in range(number)]
        assert (
            len(read_marks([{"id": "a", "shape": shape, "points": points}], WIDE, HIGH)[0].points) == number
        )


@pytest.mark.parametrize("bad", [math.nan, math.inf, 10**400, True, "5", None])
def test_a_point_is_two_finite_numbers(bad: object) -> None:
    point = {"id": "p", "shape": "point", "points": [[bad, 5]]}
    assert words([point]) == ["mark 1: a point is not a pair of numbers. Draw it again."]


@pytest.mark.parametrize(
    ("shape", "points", "word"),
    [
        ("rectangle", [[5, 5], [5, 9]], "rectangle"),
        ("ellipse", [[5, 5], [9, 5]], "ellipse"),
        ("polygon", [[5, 5], [5, 6], [5, 7]], "polygon"),
        ("scale_line", [[5, 5], [5, 5]], "scale line"),
    ],
)
def test_a_shape_without_size_is_refused(shape: str, points: list[list[float]], word: str) -> None:
    assert words([{"id": "a", "shape": shape, "points": points}]) == [
        f"mark 1: the {word} has no size. Draw it larger."
    ]


def test_all_that_is_wrong_is_said_at_once() -> None:
    said = words([5, {"id": "", "shape": "star", "points": []}, {"id": "a" * (LONGEST_ID + 1), **{}}])
    assert said[0] == "mark 1: is not a mark. Draw it again."
    assert said[1].startswith("mark 2: has no id of 1 to 64 characters.")
    assert said[2].startswith('mark 2: "star" is no shape. Shapes are rectangle, ellipse,')
    assert {line[:6] for line in said} == {"mark 1", "mark 2", "mark 3"}


def test_at_most_so_many_marks() -> None:
    many = [{**LINE, "id": f"m{at}"} for at in range(MOST_MARKS + 1)]
    assert len(read_marks(many[:-1], WIDE, HIGH)) == MOST_MARKS
    assert words(many) == [
        "marks: 101 marks on one photo; at most 100 are kept. Take some away. Nothing was stored."
    ]


@pytest.mark.parametrize("plain", [None, 5, {}, {"revision": True, "photo": "p"}, {"revision": 1}])
def test_what_is_no_edit_is_refused(plain: object) -> None:
    with pytest.raises(Problems, match=r"Load the page again\. Nothing was stored"):
        read_sent(plain, WIDE, HIGH)


def test_the_chosen_mark_is_one_of_the_list() -> None:
    plain = {"revision": 4, "photo": "p", "marks": [LINE], "selected": "a"}
    assert read_sent(plain, WIDE, HIGH).selected == "a"
    for other in ("gone", None, ["a"], {"a": 1}, 4):
        assert read_sent({**plain, "selected": other}, WIDE, HIGH).selected is None


@pytest.mark.parametrize("revision", [-1, 1 << 53, 10**400, 1.5, "4", True, None])
def test_a_number_of_edits_that_cannot_be_kept_is_refused_in_words(revision: object) -> None:
    with pytest.raises(Problems, match="names no photo and no revision"):
        read_sent({"revision": revision, "photo": "p", "marks": []}, WIDE, HIGH)


any_json = st.recursive(
    st.none() | st.booleans() | st.integers() | st.floats() | st.text(),
    lambda inner: st.lists(inner) | st.dictionaries(st.sampled_from(["id", "shape", "points", "x"]), inner),
)


@given(any_json)
def test_whatever_comes_is_read_or_refused_in_words(plain: object) -> None:
    try:
        marks = read_marks(plain, WIDE, HIGH)
    except Problems:
        return
    assert all(0 <= x <= WIDE and 0 <= y <= HIGH for mark in marks for x, y in mark.points)


def held(revision: int = 3) -> marker._Held:
    return marker._Held("e", revision, ())


def edit(revision: object, photo: str = "p", points: object = ((1, 1), (9, 9))) -> dict[str, Any]:
    marks = [{"id": "a", "shape": "crack_line", "points": points}]
    return {"revision": revision, "photo": photo, "marks": marks, "selected": "a"}


def test_a_newer_list_is_stored_at_once() -> None:
    stored: list[Sent] = []
    now = held()
    marker.receive(now, edit(4), "p", (WIDE, HIGH), stored.append)
    assert [sent.revision for sent in stored] == [4]
    assert (now.revision, now.selected, now.marks) == (4, "a", stored[0].marks)


@pytest.mark.parametrize("plain", [edit(3), edit(2), edit(4, photo="other")])
def test_an_old_list_and_one_of_another_photo_are_ignored(plain: dict[str, Any]) -> None:
    stored: list[Sent] = []
    now = held()
    marker.receive(now, plain, "p", (WIDE, HIGH), stored.append)
    assert stored == []
    assert now == held()


def test_a_wrong_list_is_refused_in_words_and_the_stored_one_stays() -> None:
    stored: list[Sent] = []
    now = held()
    marker.receive(now, edit(9, points=[[1, 1]]), "p", (WIDE, HIGH), stored.append)
    assert stored == []
    assert now.marks == ()
    assert now.revision == 10, "newer than what the browser has, so that it takes the stored list over"
    assert now.problem == "mark 1: a crack line has 2 to 500 points, not 1. Draw it again."


def test_regions_get_letters_and_the_suspected_are_dashed() -> None:
    common = {"who": "T", "when": "2026-11-22", "stage": "bench", "piece": "head", "photo": "p1"}
    first = Region(id="r1", shape="point", points=((1, 1),), **common)
    drawn = marker.regions_drawn([(first, "suspected"), (first, "confirmed"), (first, None)])
    assert [(mark.letter, mark.dashed, mark.words) for mark in drawn] == [
        ("A", True, "suspected"),
        ("B", False, "confirmed"),
        ("C", False, "on record"),
    ]
