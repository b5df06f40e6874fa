"""Every figure and damage of the piston below, at and above its limit and unread, on the sound inline-six.

To run, ring side clearance 0.006 in is TM 5-3805-262-34's and pin play 0.002 in TM 5-3805-261-34's, which
gives 0.0013 in as the end of the new range; the others are common practice or judgement.
"""

import pytest

from inspect_app.model.evidence import Evidence, Reading
from inspect_app.model.pieces import Piece
from tests.judge import six
from tests.reference.support import closed_by, part_at

from .measured_six import EVERYTHING, asked, judged, read, seen, unread

PISTON = "piston 4"


def gone(items: list[Evidence], rule: str, place: str, standard: str = "rebuild") -> bool:
    """Whether the piston goes by this rule; the six keeps it settled otherwise."""
    part = judged(PISTON, items, standard=standard)
    closed = closed_by(part, rule, place)
    assert bool(closed) == (part.verdict == "replace")
    assert part.standing == "settled"
    return bool(closed)


# Made to 3.4980 in.
@pytest.mark.parametrize(("value", "goes"), [("3.4961", False), ("3.4960", False), ("3.4959", True)])
def test_a_collapsed_skirt(value: str, goes: bool) -> None:
    assert (
        gone(read(EVERYTHING, PISTON, "diameter", value, place="skirt"), "piston-skirt-collapsed", "skirt")
        == goes
    )


# An oversize of 0.020 in is made to 3.5180 in: stamped on the crown, it is metal added.
@pytest.mark.parametrize(("value", "goes"), [("3.5161", False), ("3.5160", False), ("3.5159", True)])
def test_a_collapsed_skirt_of_an_oversize_piston(value: str, goes: bool) -> None:
    stamped = [
        piece.model_copy(
            update={"marks": (piece.marks[0].model_copy(update={"text": "20", "size": "0.020 in"}),)}
        )
        if piece.id == PISTON
        else piece
        for piece in six.pieces()
    ]
    items = read(EVERYTHING, PISTON, "diameter", value, place="skirt")
    part = part_at(six.answer(items, pieces=tuple(stamped)), PISTON)
    assert bool(closed_by(part, "piston-skirt-collapsed", "skirt")) == goes
    assert (part.verdict, part.standing) == ("replace" if goes else "reuse", "settled")


def test_a_skirt_that_nobody_read_is_open() -> None:
    part = judged(PISTON, unread(EVERYTHING, PISTON, "diameter", place="skirt"))
    assert (part.verdict, part.standing) == ("reuse", "provisional")
    assert asked(part) == {("skirt diameter, square to the pin at the maker's height", "skirt")}


def test_a_piston_whose_size_nobody_read_off_its_crown_is_open() -> None:
    pieces = tuple(piece for piece in six.pieces() if piece.id != PISTON)
    part = part_at(six.answer(pieces=(*pieces, Piece(id=PISTON, position=PISTON))), PISTON)
    assert part.standing == "provisional"
    assert {place for _, place in asked(part)} == {"skirt"}


@pytest.mark.parametrize("station", ["top", "second"])
@pytest.mark.parametrize(
    ("standard", "value", "goes"),
    [
        ("rebuild", "0.0030", False),
        ("rebuild", "0.0040", False),
        ("rebuild", "0.0050", True),
        ("freshen", "0.0050", False),
        ("freshen", "0.0060", True),
        ("run", "0.0050", False),
        ("run", "0.0060", False),
        ("run", "0.0070", True),
    ],
)
def test_a_worn_ring_groove(station: str, standard: str, value: str, goes: bool) -> None:
    items = read(EVERYTHING, PISTON, "side_clearance", value, station=station)
    assert gone(items, "piston-groove-worn", "ring_lands", standard) == goes


@pytest.mark.parametrize(("value", "goes"), [("0.0070", False), ("0.0080", False), ("0.0090", True)])
def test_a_worn_oil_ring_groove(value: str, goes: bool) -> None:
    items = read(EVERYTHING, PISTON, "oil_side_clearance", value)
    assert gone(items, "piston-groove-worn", "ring_lands") == goes


@pytest.mark.parametrize(
    ("quantity", "title"),
    [
        ("side_clearance", "side clearance of a new compression ring"),
        ("oil_side_clearance", "side clearance of a new oil ring"),
    ],
)
def test_a_groove_tried_with_an_old_ring_or_not_at_all_is_open(quantity: str, title: str) -> None:
    part = judged(PISTON, unread(EVERYTHING, PISTON, quantity))
    assert (part.standing, asked(part)) == ("provisional", {(title, "ring lands")})
    old_ring = [
        item.model_copy(update={"conditions": ()})
        if isinstance(item, Reading) and (item.piece, item.quantity) == (PISTON, quantity)
        else item
        for item in EVERYTHING
    ]
    assert judged(PISTON, old_ring).standing == "provisional"


# The pin reads 0.9272 in.
@pytest.mark.parametrize(
    ("standard", "bore", "goes"),
    [
        ("rebuild", "0.9284", False),
        ("rebuild", "0.9285", False),
        ("rebuild", "0.9286", True),
        ("freshen", "0.9289", False),
        ("freshen", "0.9290", True),
        ("run", "0.9291", False),
        ("run", "0.9292", False),
        ("run", "0.9293", True),
    ],
)
def test_play_of_the_pin(standard: str, bore: str, goes: bool) -> None:
    items = read(EVERYTHING, PISTON, "diameter", bore, place="pin_boss", station="rear")
    assert gone(items, "piston-pin-loose", "pin_boss", standard) == goes


@pytest.mark.parametrize(
    ("quantity", "title"), [("diameter", "pin bore"), ("pin_diameter", "pin where it turns in the piston")]
)
def test_a_pin_or_its_hole_that_nobody_read_is_open(quantity: str, title: str) -> None:
    part = judged(PISTON, unread(EVERYTHING, PISTON, quantity, place="pin_boss"))
    assert (part.standing, asked(part)) == ("provisional", {(title, "pin boss")})


@pytest.mark.parametrize(("depth", "goes"), [("0.0190", False), ("0.0200", False), ("0.0210", True)])
def test_a_print_on_the_crown(depth: str, goes: bool) -> None:
    deep = six.reading("deep", PISTON, "print_depth", "crown", depth)
    items = [*EVERYTHING, seen(PISTON, "dent", "crown"), deep]
    assert gone(items, "piston-struck", "crown") == goes


def test_a_print_whose_depth_nobody_read_is_open() -> None:
    part = judged(PISTON, [*EVERYTHING, seen(PISTON, "dent", "crown")])
    assert (part.verdict, part.standing) == ("reuse", "provisional")
    assert asked(part) == {("depth of the deepest print", "crown")}


@pytest.mark.parametrize("place", ["skirt", "ring_lands"])
def test_a_dented_skirt_or_land_ends_the_piston(place: str) -> None:
    assert gone([*EVERYTHING, seen(PISTON, "dent", place)], "piston-dented", place)


@pytest.mark.parametrize("damage", ["score", "scuff", "pit", "heat colour", "bent", "broken"])
def test_a_damaged_pin_is_renewed_alone(damage: str) -> None:
    part = judged(PISTON, [*EVERYTHING, seen(PISTON, damage, "pin")])
    assert (part.verdict, part.standing) == ("recondition", "settled")
    assert [way.way for way in part.ways] == ["new_pin"]


def test_weight_of_one_piston_decides_nothing() -> None:
    weight = six.reading("weight", PISTON, "weight", "crown", "700", unit="g")
    part = judged(PISTON, [*EVERYTHING, weight])
    assert (part.verdict, part.standing, part.closed) == ("reuse", "settled", ())
