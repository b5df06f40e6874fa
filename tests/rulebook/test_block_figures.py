"""Every figure of the block below, at and above its limit and unread, on the sound inline-six.

Limits are common practice or judgement, as the pack says beside each; rebuild is the build standard.
"""

from collections.abc import Iterable, Mapping
from typing import Any

import pytest

from inspect_app.judge import judge
from inspect_app.model.answer import PartAnswer
from inspect_app.model.evidence import Evidence, Finding, Reading, Test
from inspect_app.rulebook.engine import Engine
from tests.judge import six
from tests.reference.support import closed_by, part_at, walls, way_of, worn_out

EVERYTHING = [*six.looks_and_tests(), *six.readings()]
SEAT_LIMITS = (("2.6919", "off"), ("2.6920", ""), ("2.6929", ""), ("2.6930", ""), ("2.6931", "off"))
ROUND = ("0", "45", "90", "135", "180", "225", "270", "315")
STATIONS = ("front", "front_middle", "middle", "rear_middle", "rear")


def block_of(items: Iterable[Evidence], rows: Mapping[str, Any] | None = None) -> PartAnswer:
    """The block of the six with this evidence and these rows added to its sheet."""
    sheet = six.sheet()
    whole = sheet.model_dump()["quantities"] | dict(rows or {})
    core = six.core(list(items))
    return part_at(judge(core, Engine(six.book(), six.sheet(quantities=whole))), "block")


def seat(web: int, value: str, **at: str) -> list[Evidence]:
    """The evidence with every reading of one seat, or those at a slot, at this size."""
    place = f"main_web {web}"
    return [
        item.model_copy(update={"value": value})
        if isinstance(item, Reading)
        and (item.place, item.quantity) == (place, "diameter")
        and all(getattr(item, name) == text for name, text in at.items())
        else item
        for item in EVERYTHING
    ]


# ---- main bearing seats ----


@pytest.mark.parametrize(("value", "said"), SEAT_LIMITS)
def test_a_seat_below_at_and_above_its_ends(value: str, said: str) -> None:
    block = block_of(seat(3, value))
    assert way_of(block, "line").way == ("line_hone" if said else "as_is")
    assert bool(closed_by(block, "main-seat-off-size", "main_web 3")) == bool(said)
    assert block.standing == "settled"


def test_a_seat_that_nobody_read_leaves_the_line_open() -> None:
    unread = [i for i in EVERYTHING if getattr(i, "place", "") != "main_web 3"]
    block = block_of(unread)
    assert (way_of(block, "line").way, block.standing) == ("as_is", "provisional")
    assert {point.place for point in block.open_points} == {"main web 3"}


@pytest.mark.parametrize("conditions", [(), ("caps torqued",), ("no shells",)])
def test_a_seat_read_with_loose_caps_or_shells_in_does_not_count(conditions: tuple[str, ...]) -> None:
    loose = [
        item.model_copy(update={"conditions": conditions})
        if isinstance(item, Reading) and item.place == "main_web 3"
        else item
        for item in EVERYTHING
    ]
    assert block_of(loose).standing == "provisional"


def test_without_the_makers_size_of_the_seats_the_line_is_open_and_asks_for_it() -> None:
    rows = {key: row for key, row in six.sheet().quantities.items() if key != "main_web.diameter"}
    answer = judge(six.core(EVERYTHING), Engine(six.book(), six.sheet(quantities=rows)))
    points = [point.what for point in part_at(answer, "block").open_points]
    assert "a limit for largest diameter of the bearing seat on the engine sheet" in points


@pytest.mark.parametrize(
    ("value", "way"), [("2.6927", "as_is"), ("2.6930", "as_is"), ("2.6915", "line_hone")]
)
def test_out_of_round_of_a_seat_below_at_and_above_its_limit(value: str, way: str) -> None:
    block = block_of(seat(2, value, direction="vertical"), {"main_web.smallest": {"wear_limit": "2.6900 in"}})
    assert way_of(block, "line").way == way
    assert bool(closed_by(block, "main-seat-out-of-round")) == (way != "as_is")


@pytest.mark.parametrize(
    ("value", "way"), [("2.6885", "line_hone"), ("2.6875", "line_hone"), ("2.6865", "line_bore")]
)
def test_a_seat_out_of_round_by_0_005_is_still_honed_and_by_more_is_bored(value: str, way: str) -> None:
    assert way_of(block_of(seat(2, value, direction="vertical")), "line").way == way


@pytest.mark.parametrize(
    ("passes", "stops", "way", "standing"),
    [
        (None, "0.0015", "as_is", "settled"),
        ("0.0010", "0.0015", "as_is", "settled"),
        ("0.0015", "0.0020", "line_hone", "settled"),
        ("0.0010", "0.0020", "as_is", "provisional"),
        ("0.0020", "0.0030", "line_hone", "settled"),
    ],
)
def test_the_leaf_under_the_straightedge_along_the_seats(
    passes: str | None, stops: str, way: str, standing: str
) -> None:
    leaves = [("stops", stops), *([("passes", passes)] if passes else [])]
    read = [
        six.reading(f"leaf {d}", "block", "edge_gap", "main_web 4", value, direction=d) for d, value in leaves
    ]
    block = block_of([*EVERYTHING, *read])
    assert (way_of(block, "line").way, block.standing) == (way, standing)


# ---- bores ----


def swept(place: str, piece: str, oval: str, stations: tuple[str, ...]) -> list[Evidence]:
    """An indicator swept round an oval: this much from valley to peak, half of it each way."""
    half = float(oval) / 2
    heights = [half, 0.0, -half, 0.0] * 2
    return [
        six.reading(f"{place} {station} {at}", piece, "sweep", place, f"{height:.6f}",
                    station=station, direction=at)
        for station in stations
        for at, height in zip(ROUND, heights, strict=True)
    ]  # fmt: skip


@pytest.mark.parametrize(("oval", "closed"), [("0.0004", False), ("0.0005", False), ("0.0006", True)])
def test_roundness_of_a_bore_below_at_and_above_its_limit(oval: str, closed: bool) -> None:
    block = block_of([*EVERYTHING, *swept("bore 2", "block", oval, ("top", "bottom"))])
    assert bool(closed_by(block, "bore-roundness-past-hone", "bore 2")) == closed
    assert way_of(block, "bores").except_at == (("bore 2",) if closed else ())


def test_a_sweep_at_one_depth_alone_leaves_honing_open() -> None:
    block = block_of([*EVERYTHING, *swept("bore 2", "block", "0.0002", ("top",))])
    assert (way_of(block, "bores").way, block.standing) == ("hone", "provisional")


def past_the_sizes() -> list[Evidence]:
    """Bore 3 worn past the largest listed size, and no wall read."""
    return [item for item in worn_out([3]) if getattr(item, "quantity", "") != "wall"]


# The stress reaches 40 MPa at a wall of 0.127 in around this bore; the gauge is good to 0.003 in.
@pytest.mark.parametrize(
    ("wall", "verdict", "standing"),
    [
        ("0.200", "recondition", "settled"),
        ("0.128", "recondition", "provisional"),
        ("0.110", "replace", "settled"),
        ("0.090", "replace", "settled"),
    ],
)
def test_a_sleeve_wants_a_wall_that_bears_its_press_fit(wall: str, verdict: str, standing: str) -> None:
    block = block_of([*past_the_sizes(), *walls(wall)])
    assert (block.verdict, block.standing) == (verdict, standing)
    assert bool(closed_by(block, "bore-wall-too-weak-for-sleeve", "bore 3")) == (verdict == "replace")


def test_a_sleeve_without_a_wall_reading_is_open_and_asks_for_the_wall() -> None:
    block = block_of(past_the_sizes())
    assert (block.verdict, block.standing) == ("recondition", "provisional")
    assert way_of(block, "bores").except_at == ("bore 3",)
    assert {point.place for point in block.open_points} == {"bore 3"}
    assert all("wall" in point.what for point in block.open_points)


# ---- top face ----


def heights(bow: str) -> list[Evidence]:
    """A face that stands this much higher along its middle."""
    return [
        six.reading(f"h {s} {d}", "block", "height", "deck 1", bow if d == "centre" else "0.0000",
                    station=s, direction=d)
        for s in STATIONS
        for d in ("left", "centre", "right")
    ]  # fmt: skip


@pytest.mark.parametrize(("bow", "way"), [("0.0030", "as_is"), ("0.0040", "as_is"), ("0.0050", "mill")])
def test_flatness_by_heights_below_at_and_above_its_limit(bow: str, way: str) -> None:
    block = block_of([*EVERYTHING, *heights(bow)])
    assert way_of(block, "deck").way == way
    assert block.standing == "settled"


@pytest.mark.parametrize(
    ("bow", "verdict"), [("0.0280", "recondition"), ("0.0290", "recondition"), ("0.0300", "replace")]
)
def test_heights_that_contradict_the_straightedge_deepen_the_cut(bow: str, verdict: str) -> None:
    """The leaves show less than a thousandth; a thousandth is stock, and 0.030 in may come off."""
    low = {"deck.height_after": {"wear_limit": "8.000 in"}}
    block = block_of([*EVERYTHING, *heights(bow), *corners("9.0000")], low)
    assert block.verdict == verdict
    assert bool(closed_by(block, "deck-cut-too-deep")) == (verdict == "replace")


def test_heights_over_half_the_face_leave_it_open() -> None:
    half = [item for item in heights("0.0010") if item.station in STATIONS[:3]]
    assert block_of([*EVERYTHING, *half]).standing == "provisional"


def eaten(depth: str | None) -> list[Evidence]:
    """A top face eaten away, and how deep. The gap under the straightedge is 0 to 0.001 in."""
    found = Finding(
        id="eaten", piece="block", damage="erosion", place="deck 1/openings", strength="seen", **six.COMMON
    )
    read = [six.reading("pit", "block", "pit_depth", "deck 1", depth)] if depth else []
    return [*EVERYTHING, found, *read]


# The cut is at least the depth and 0.001 in of stock, and at most 0.001 in more by the gap.
@pytest.mark.parametrize(
    ("depth", "verdict", "standing"),
    [
        ("0.0080", "recondition", "settled"),
        ("0.0280", "recondition", "settled"),
        ("0.0285", "recondition", "provisional"),
        ("0.0295", "replace", "settled"),
        (None, "recondition", "provisional"),
    ],
)
def test_metal_to_mill_off_below_at_and_above_its_limit(
    depth: str | None, verdict: str, standing: str
) -> None:
    low = {"deck.height_after": {"wear_limit": "8.000 in"}}
    block = block_of([*eaten(depth), *corners("9.0000")], low)
    assert (block.verdict, block.standing) == (verdict, standing)
    assert bool(closed_by(block, "deck-cut-too-deep")) == (verdict == "replace")


def corners(height: str) -> list[Evidence]:
    return [
        six.reading(f"c {s} {d}", "block", "deck_height", "deck 1", height, station=s, direction=d)
        for s in ("front", "rear")
        for d in ("left", "right")
    ]


# The cut is 0.001 to 0.002 in more than the pits are deep, and 8.980 in must remain.
@pytest.mark.parametrize(
    ("pits", "height", "verdict", "standing"),
    [
        ("0.0120", "8.9990", "recondition", "settled"),
        ("0.0120", "8.9940", "recondition", "settled"),
        ("0.0120", "8.9935", "recondition", "provisional"),
        ("0.0120", "8.9920", "replace", "settled"),
        ("0.0120", None, "recondition", "provisional"),
        ("0.0080", "8.9900", "recondition", "settled"),
        ("0.0080", "8.9895", "recondition", "provisional"),
        ("0.0080", "8.9880", "replace", "settled"),
    ],
)
def test_height_left_after_milling_below_at_and_above_its_limit(
    pits: str, height: str | None, verdict: str, standing: str
) -> None:
    rows = {"deck.height_after": {"wear_limit": "8.980 in"}}
    block = block_of([*eaten(pits), *(corners(height) if height else [])], rows)
    assert (block.verdict, block.standing) == (verdict, standing)


def test_a_light_cut_asks_for_no_height() -> None:
    block = block_of(eaten("0.0080"))
    assert (way_of(block, "deck").way, block.standing) == ("mill", "settled")


# ---- cracks and fire ----


def cracked(place: str, leaks: bool) -> list[Evidence]:
    """A crack that the magnetic-particle test confirmed, and the pressure test's outcome."""
    kept = [item for item in EVERYTHING if item.id not in ("crack-block", "pressure-block")]
    outcome = "found" if leaks else "nothing_found"
    common: dict[str, Any] = {"piece": "block", **six.COMMON}
    whole: dict[str, Any] = {"places": ("*",), **common}
    return [
        *kept,
        Test(id="mpi", method="magnetic particle", outcome="found", **whole),
        Test(id="bath", method="pressure test", outcome=outcome, **whole),
        Finding(id="crack", damage="crack", place=place, strength="confirmed", test="mpi", **common),
    ]


@pytest.mark.parametrize(
    ("place", "leaks", "verdict"),
    [
        ("deck 1/bridge", True, "replace"),
        ("deck 1/bridge", False, "recondition"),
        ("deck 1/openings", True, "recondition"),
        ("oil_gallery", False, "replace"),
        ("jacket/valley", True, "recondition"),
    ],
)
def test_where_a_crack_ends_the_block_and_where_it_is_stitched(place: str, leaks: bool, verdict: str) -> None:
    block = block_of(cracked(place, leaks))
    assert (block.verdict, block.grounds) == (verdict, "evidence")
    if verdict == "recondition":
        assert way_of(block, "jacket").way == "stitch"


def test_a_block_out_of_a_fire_is_given_up() -> None:
    burnt = Finding(
        id="fire", piece="block", damage="burnt", place="outside/wall", strength="seen", **six.COMMON
    )
    assert block_of([*EVERYTHING, burnt]).closed[0].rule == "block-burnt-by-fire"


@pytest.mark.parametrize(
    ("value", "way"), [("2.6970", "line_hone"), ("2.6980", "line_hone"), ("2.6981", "line_bore")]
)
def test_a_round_seat_is_honed_only_while_its_cap_can_give_the_metal(value: str, way: str) -> None:
    """Its range ends at 2.6930; a cap gives five thousandths."""
    block = block_of(seat(2, value))
    assert (way_of(block, "line").way, block.standing) == (way, "settled")
    assert bool(closed_by(block, "main-seat-too-large-to-hone")) == (way == "line_bore")


def test_a_seat_that_turned_and_was_not_read_leaves_the_hone_open() -> None:
    turned = Finding(id="t", piece="block", state="washed", damage="spun bearing", place="main_web 2",
                     strength="seen", who="x", when="2026-11-20", stage="bench")  # fmt: skip
    unread = [i for i in EVERYTHING if getattr(i, "place", "") != "main_web 2"]
    block = block_of([*unread, turned])
    assert (way_of(block, "line").way, block.standing) == ("line_hone", "provisional")
    assert any("diameter of the bearing seat" in point.what for point in block.open_points)


def test_honing_the_line_says_what_it_does_to_the_timing_drive() -> None:
    """And only where it is chosen: no rule counts it."""
    honed = judge(six.core(seat(3, "2.6931")), six.engine()).core.notes
    assert [note.startswith("Block, line hone: the crankshaft comes nearer") for note in honed] == [True]
    assert judge(six.core(EVERYTHING), six.engine()).core.notes == ()


@pytest.mark.parametrize("operation", ["line hone", "line bore"])
def test_the_height_over_the_crankshaft_line_ends_when_that_line_is_cut(operation: str) -> None:
    assert six.book().operations[operation].voids_at("deck_height", "deck")
