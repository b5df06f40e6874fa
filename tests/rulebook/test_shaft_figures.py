"""Roundness, fillets, seal track, thrust face and least diameter of a crankshaft: at their limits, unread."""

from collections.abc import Iterable, Mapping
from typing import Any

import pytest

from inspect_app.judge import judge
from inspect_app.model.answer import PartAnswer
from inspect_app.model.evidence import Evidence, Finding, Reading
from inspect_app.rulebook.engine import Engine
from tests.judge import six
from tests.reference.support import closed_by, part_at, way_of

from .test_block_figures import EVERYTHING, swept

JOURNALS = pytest.mark.parametrize(
    ("kind", "concern", "rule"),
    [
        ("main_journal", "mains", "main-journal-roundness-past-polish"),
        ("rod_journal", "pins", "rod-journal-roundness-past-polish"),
    ],
)
FILLET = {"rod_journal.fillet_radius": {"minimum": "0.040 in", "wear_limit": "0.040 in"}}


def shaft_of(items: Iterable[Evidence], rows: Mapping[str, Any] | None = None) -> PartAnswer:
    """The crankshaft of the six with this evidence and these rows added to its sheet."""
    whole = six.sheet().model_dump()["quantities"] | dict(rows or {})
    engine = Engine(six.book(), six.sheet(quantities=whole))
    return part_at(judge(six.core(list(items)), engine), "crankshaft")


def found(damage: str, place: str) -> Finding:
    return Finding(id="found", piece="crankshaft", damage=damage, place=place, strength="seen", **six.COMMON)


def read(quantity: str, place: str, value: str, **slot: str) -> Reading:
    name = f"{quantity} {slot.get('station', '')}".strip()
    return six.reading(name, "crankshaft", quantity, place, value, **slot)


@JOURNALS
@pytest.mark.parametrize(("oval", "closed"), [("0.0002", False), ("0.00025", False), ("0.0003", True)])
def test_roundness_of_a_journal_below_at_and_above_its_limit(
    kind: str, concern: str, rule: str, oval: str, closed: bool
) -> None:
    sweep = swept(f"{kind} 2", "crankshaft", oval, ("front", "rear"))
    shaft = shaft_of([*EVERYTHING, *sweep])
    assert bool(closed_by(shaft, rule, f"{kind} 2")) == closed
    assert way_of(shaft, concern).way == ("grind" if closed else "polish")


@pytest.mark.parametrize(
    ("radius", "verdict"), [("0.039", "replace"), ("0.040", "reuse"), ("0.041", "reuse")]
)
def test_a_fillet_below_at_and_above_the_makers_least_radius(radius: str, verdict: str) -> None:
    both = [read("fillet_radius", "rod_journal 4", radius, station=s) for s in ("front", "rear")]
    shaft = shaft_of([*EVERYTHING, *both], FILLET)
    assert (shaft.verdict, shaft.standing) == (verdict, "settled")


def test_a_small_fillet_closes_nothing_where_the_maker_gives_none_and_is_told() -> None:
    """A rolled fillet is undercut, and far smaller than a cut one."""
    both = [read("fillet_radius", "rod_journal 4", "0.020", station=s) for s in ("front", "rear")]
    shaft = shaft_of([*EVERYTHING, *both])
    assert (shaft.verdict, shaft.standing) == ("reuse", "settled")
    assert six.answer([*EVERYTHING, *both]).core.notes == (
        "Fillet radius was read (Crankshaft), and nobody limits it: nothing rests on it. "
        "If the maker gives a limit, add rod_journal.fillet_radius to the engine sheet.",
    )


def test_one_fillet_of_a_journal_read_leaves_the_other_open() -> None:
    one = read("fillet_radius", "rod_journal 4", "0.060", station="front")
    shaft = shaft_of([*EVERYTHING, one], FILLET)
    assert (shaft.verdict, shaft.standing) == ("reuse", "provisional")


# ---- seal track and thrust face ----


@pytest.mark.parametrize(
    ("depth", "way", "standing"),
    [
        ("0.0049", "polish", "settled"),
        ("0.0050", "polish", "settled"),
        ("0.0051", "wear_sleeve", "settled"),
        (None, "polish", "provisional"),
    ],
)
def test_a_seal_groove_below_at_and_above_its_limit(depth: str | None, way: str, standing: str) -> None:
    deep = [read("groove_depth", "seal_track", depth)] if depth else []
    shaft = shaft_of([*EVERYTHING, found("score", "seal_track"), *deep])
    assert (way_of(shaft, "seal").way, shaft.standing) == (way, standing)


def test_without_a_groove_no_depth_is_asked() -> None:
    shaft = shaft_of(EVERYTHING)
    assert (way_of(shaft, "seal").way, shaft.standing) == ("as_is", "settled")


@pytest.mark.parametrize(
    ("depth", "way", "standing"),
    [
        ("0.009", "thicker_bearing", "settled"),
        ("0.010", "thicker_bearing", "settled"),
        ("0.011", "weld_and_grind", "settled"),
        (None, "thicker_bearing", "provisional"),
    ],
)
def test_a_scored_thrust_face_below_at_and_above_what_a_bearing_makes_up(
    depth: str | None, way: str, standing: str
) -> None:
    deep = [read("score_depth", "thrust_face", depth)] if depth else []
    shaft = shaft_of([*EVERYTHING, found("score", "thrust_face"), *deep])
    assert (way_of(shaft, "thrust").way, shaft.standing) == (way, standing)


@pytest.mark.parametrize(
    ("width", "way", "standing"),
    [
        ("1.2519", "as_is", "settled"),
        ("1.2520", "as_is", "settled"),
        ("1.2521", "thicker_bearing", "settled"),
        (None, "as_is", "settled"),
    ],
)
def test_the_width_between_the_thrust_faces_below_at_and_above_the_makers_limit(
    width: str | None, way: str, standing: str
) -> None:
    wide = [read("width", "thrust_face", width)] if width else []
    rows = {"thrust_face.width": {"wear_limit": "1.2520 in"}}
    shaft = shaft_of([*EVERYTHING, *wide], rows)
    assert (way_of(shaft, "thrust").way, shaft.standing) == (way, standing)


def test_a_width_without_the_makers_limit_is_open_and_asks_for_it() -> None:
    shaft = shaft_of([*EVERYTHING, read("width", "thrust_face", "1.2519")])
    assert shaft.standing == "provisional"
    assert [point.what for point in shaft.open_points] == [
        "a limit for width between the thrust faces on the engine sheet"
    ]


# ---- a least diameter typed from the maker's manual ----


@pytest.mark.parametrize(("size", "way"), [("2.4994", "polish"), ("2.4993", "polish"), ("2.4992", "grind")])
def test_a_journal_above_at_and_below_its_least_diameter(size: str, way: str) -> None:
    """A rebuild may lose 0.0010 in by the pack; this maker's least diameter leaves 0.0007 in of 2.5000 in."""
    rows = {"main_journal.diameter": {"nominal": "2.5000 in", "wear_limit": "2.4993 in"}}
    worn = [
        item.model_copy(update={"value": size})
        if isinstance(item, Reading) and item.place == "main_journal 2"
        else item
        for item in EVERYTHING
    ]
    assert way_of(shaft_of(worn, rows), "mains").way == way
