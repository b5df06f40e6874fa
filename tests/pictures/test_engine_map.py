from itertools import pairwise

import pytest

from inspect_app.pictures.callouts import state
from inspect_app.pictures.engine_map import NOTHING_DRAWN, engine_map
from inspect_app.pictures.frame import Frame
from inspect_app.pictures.plan import Plan, Seat, Spot, plan_of
from inspect_app.pictures.tokens import DARK, GROUNDS, LIGHT, PAPER, Ground
from inspect_app.rulebook.engine import Engine
from inspect_app.rulebook.forms_shapes import BoxShape, DiscShape, PanShape, SlabShape
from tests.judge import six
from tests.pictures.support import (
    LAYOUTS,
    NASTY,
    SPACE,
    answer,
    outside,
    parsed,
    plan,
    positions,
    sheet,
    texts,
)
from tests.support import pump_engine


@pytest.mark.parametrize("layout", LAYOUTS)
@pytest.mark.parametrize("with_words", [True, False])
def test_every_position_is_drawn_once_and_inside(layout: str, with_words: bool) -> None:
    drawing = engine_map(plan(layout), answer(block="recondition"), LIGHT, with_words=with_words)
    assert sorted(positions(drawing)) == sorted(Engine(six.book(), LAYOUTS[layout]).positions)
    assert outside(drawing) == []


@pytest.mark.parametrize("layout", LAYOUTS)
def test_bays_stations_and_ends_are_named(layout: str) -> None:
    drawn = texts(engine_map(plan(layout), answer(), LIGHT))
    counts = LAYOUTS[layout].counts
    for number in range(1, counts["cylinders"] + 1):
        assert drawn.count(str(number)) == 1
    assert [t for t in drawn if t[0] == "M" and t[1:].isdigit()] == [
        f"M{i}" for i in range(1, counts["mains"] + 1)
    ]
    assert "front" in drawn
    assert "rear" in drawn


@pytest.mark.parametrize(
    ("layout", "rows"),
    [
        ("inline 6", (("1", "2", "3", "4", "5", "6"),)),
        ("inline 6, two heads", (("1", "2", "3", "4", "5", "6"),)),
        ("V6", (("1", "3", "5"), ("2", "4", "6"))),
        ("V8", (("1", "2", "3", "4"), ("5", "6", "7", "8"))),
    ],
)
def test_banks_hold_the_bays_that_the_sheet_says(layout: str, rows: tuple[tuple[str, ...], ...]) -> None:
    assert plan(layout).rows == rows


def test_numbers_of_banks_that_the_sheet_does_not_list_are_owned_up_to() -> None:
    said = "cylinder numbers drawn from side to side: the sheet does not list them by bank"
    assert said in texts(engine_map(plan("V6"), answer(), LIGHT))
    assert said not in texts(engine_map(plan("V8"), answer(), LIGHT))


@pytest.mark.parametrize("told", ["1 2 3 / 4 5", "1 3 5 / 2 4 7", "1 3 5 2 4 6", "1 1 3 / 2 4 6"])
def test_a_list_of_banks_that_does_not_fit_is_not_believed(told: str) -> None:
    laid_out = plan_of(Engine(six.book(), sheet(6, 4, 2, conventions={"cylinder_rows": told})))
    assert laid_out.rows == (("1", "3", "5"), ("2", "4", "6"))
    assert laid_out.notes[-1].startswith("cylinder numbers drawn from side to side")


def test_banks_are_called_what_the_sheet_calls_them() -> None:
    drawn = texts(engine_map(plan("V6"), answer(), LIGHT))
    assert "opened along the centre line: left bank above, right bank below" in drawn
    assert {"Cylinder head, left bank", "Cylinder head, right bank", "Pistons, left bank"} <= set(drawn)
    assert "Pistons, bank 2" in texts(engine_map(plan("V8"), answer(), LIGHT))


def test_two_heads_in_a_row_share_its_length() -> None:
    heads = [seat for seat in plan("inline 6, two heads").seats if seat.position.startswith("cylinder_head")]
    assert [seat.spots for seat in heads] == [(Spot(0, (0, 1, 2)),), (Spot(0, (3, 4, 5)),)]


def test_verdicts_are_told_by_word_hatch_and_line() -> None:
    verdicts = {"block": "recondition", "crankshaft": "replace", "rod__1": "scrap", "piston__2": "reuse"}
    drawing = engine_map(plan("inline 4"), answer(**verdicts), LIGHT)
    groups = {node.get("data-position"): node for node in parsed(drawing).iter(f"{SPACE}g")}
    assert groups["block"].get("fill") == "url(#light-recondition)"
    assert groups["block"].get("stroke-dasharray")
    assert groups["crankshaft"].get("fill") == "url(#light-replace)"
    assert groups["crankshaft"].get("stroke-dasharray") is None
    assert groups["rod 1"].get("fill") == "url(#light-scrap)"
    assert groups["piston 1"].get("fill") == "url(#light-unjudged)"
    assert groups["rod 1"].findtext(f"{SPACE}title") == "Connecting rod 1: Scrap, provisional"
    drawn = texts(drawing)
    assert "Recondition, provisional" in drawn
    assert "Replace, settled" in drawn
    assert "1 scrap, 3 not judged" in drawn
    assert "1 reuse, 3 not judged" in drawn


def test_like_seats_with_one_verdict_say_how_many_are_settled() -> None:
    seats = [Seat(f"x {i}", f"X {i}", "X") for i in (1, 2)]
    judged = {part.position: part for part in answer(x__1="reuse", x__2="reuse").parts}
    assert state(seats, judged) == "Reuse, provisional"
    judged["x 1"] = judged["x 1"].model_copy(update={"standing": "settled"})
    assert state(seats, judged) == "Reuse, 1 of 2 settled"


@pytest.mark.parametrize("ground", GROUNDS.values())
def test_the_same_data_gives_the_same_bytes_on_every_ground(ground: Ground) -> None:
    drawing = engine_map(plan("V6"), answer(block="scrap"), ground)
    assert drawing == engine_map(plan("V6"), answer(block="scrap"), ground)
    others = {LIGHT, DARK, PAPER} - {ground}
    assert all(f'"{other.ink}"' not in drawing for other in others)


def test_what_a_person_typed_is_text_and_never_wider_than_the_drawing() -> None:
    drawing = engine_map(plan("inline 3"), answer(title=NASTY + "y" * 400), LIGHT)
    assert outside(drawing) == []
    assert texts(drawing)[0].startswith('<b>& "x" yy')


def test_a_machine_without_shapes_is_a_list_and_says_so() -> None:
    drawing = engine_map(plan_of(pump_engine()), answer(housing="reuse", gear__driver="replace"), LIGHT)
    assert sorted(positions(drawing)) == sorted(pump_engine().positions)
    assert NOTHING_DRAWN in texts(drawing)
    assert "Replace, settled" in texts(drawing)
    assert outside(drawing) == []


def extended(layout: str) -> Plan:
    """A plan with the kinds of geometry that the shipped parts do not use, and a part without a shape."""
    base = plan(layout)
    whole = Spot(0, tuple(range(len(base.rows[0]))))
    more = (
        Seat("wheel", "Wheel", "Wheel", DiscShape(kind="disc", at="rear", radius=62, width=15), (whole,)),
        Seat("damper", "Damper", "Damper", DiscShape(kind="disc", at="front", radius=40, width=20), (whole,)),
        Seat("tray", "Tray", "Tray", PanShape(kind="pan", start=66, end=112), (whole,)),
        Seat("pump", "Pump", "Pump", BoxShape(kind="box", start=34, end=60, along=0.1, width=34), (whole,)),
        Seat("bar", "Bar", "Bar", SlabShape(kind="slab", start=274, end=284, overhang=12), (whole,)),
        Seat("filter", "Filter", "Filter"),
    )
    return Plan(
        **{**{name: getattr(base, name) for name in Plan.__dataclass_fields__}, "seats": base.seats + more}
    )


@pytest.mark.parametrize("layout", ["inline 4", "V8"])
def test_other_kinds_of_geometry_are_drawn_and_the_shapeless_are_listed(layout: str) -> None:
    drawing = engine_map(extended(layout), answer(filter="reuse"), LIGHT)
    assert {"wheel", "damper", "tray", "pump", "bar", "filter"} <= set(positions(drawing))
    assert "Not on the map:" in texts(drawing)
    assert outside(drawing) == []


def test_the_words_at_the_leaders_keep_apart() -> None:
    for layout in LAYOUTS:
        root = parsed(engine_map(plan(layout), answer(), LIGHT))
        frame = Frame(plan(layout), 0)
        names = [n for n in root.iter(f"{SPACE}text") if float(n.get("x", "0")) > frame.right + 50]
        ys = sorted(float(node.get("y", "0")) for node in names)
        assert len(ys) >= 10
        assert min(b - a for a, b in pairwise(ys)) >= 14, layout


def test_throws_stand_where_the_phases_say_and_opposite_banks_mirror_them() -> None:
    inline, vee = Frame(plan("inline 4"), 300), Frame(plan("V6"), 300)
    assert [inline.throw(0, slot) for slot in range(4)] == pytest.approx([27, -27, -27, 27])
    assert [vee.throw(1, slot) for slot in range(3)] == pytest.approx([-27, 13.5, 13.5])
    assert inline.stroke(0, 0) == pytest.approx(1)
    assert vee.stroke(0, 0) == pytest.approx(vee.stroke(1, 0))
