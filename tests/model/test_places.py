"""Places: what a pattern covers, what shares metal, and how many are written in one line."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from inspect_app.model.places import Place, listing, overlap, parse_place, runs

_names = st.sampled_from(["journal", "pocket", "face"])
_zones = st.lists(st.sampled_from(["fillet", "front", "wall"]), max_size=3).map(tuple)
_places = st.builds(Place, _names, st.sampled_from(["", "1", "2", "driver"]), _zones)


@given(_places)
def test_a_place_reads_back_as_it_was_written(place: Place) -> None:
    assert parse_place(str(place)) == place


@pytest.mark.parametrize(
    ("pattern", "place"),
    [
        ("*", "journal 2/fillet"),
        ("journal *", "journal 2/fillet/front"),
        ("journal 2", "journal 2/fillet"),
        ("journal */fillet", "journal 1/fillet/front"),
        ("face", "face"),
    ],
)
def test_a_pattern_covers_everything_below_it(pattern: str, place: str) -> None:
    assert parse_place(pattern).covers(parse_place(place))


@pytest.mark.parametrize(
    ("pattern", "place"),
    [
        ("journal 2/fillet", "journal 2"),
        ("journal 2/fillet/front", "journal 2/fillet/rear"),
        ("journal 1", "journal 2"),
        ("journal 1", "journal 11"),
        ("journal", "journal 1"),
        ("journal 2/fill", "journal 2/fillet"),
    ],
)
def test_a_pattern_covers_nothing_beside_or_above_it(pattern: str, place: str) -> None:
    assert not parse_place(pattern).covers(parse_place(place))


@given(_zones, _zones)
def test_zones_overlap_both_ways_or_not_at_all(one: tuple[str, ...], other: tuple[str, ...]) -> None:
    assert overlap(one, other) == overlap(other, one)


@given(_zones, _zones)
def test_a_zone_overlaps_all_that_lies_below_it(one: tuple[str, ...], more: tuple[str, ...]) -> None:
    assert overlap(one, one + more)


def test_zones_beside_each_other_share_no_metal() -> None:
    assert not overlap(("fillet", "front"), ("fillet", "rear"))


@pytest.mark.parametrize("text", ["", " ", "/fillet", "journal 2/", "journal 2//front"])
def test_a_place_without_a_kind_or_with_an_empty_zone_is_refused(text: str) -> None:
    with pytest.raises(ValueError, match="is not a place") as error:
        parse_place(text)
    assert str(error.value) == f'"{text}" is not a place. Write it as "bore 3/wall/front".'


@pytest.mark.parametrize(
    ("indices", "line"),
    [
        (["1"], "1"),
        (["1", "2"], "1, 2"),
        (["1", "2", "3"], "1 to 3"),
        (["1", "2", "3", "5", "7", "8"], "1 to 3, 5, 7, 8"),
        (["9", "10", "11"], "9 to 11"),
        (["driver", "driven"], "driver, driven"),
        ([], ""),
    ],
)
def test_three_or_more_in_a_row_are_drawn_together(indices: list[str], line: str) -> None:
    assert runs(indices) == line


def test_a_listing_keeps_kinds_and_zones_apart() -> None:
    places = [Place("journal", str(i), ("fillet",)) for i in (1, 2, 3)] + [Place("snout")]
    assert listing(places) == "journal 1 to 3/fillet, snout"
