"""Groups of readings, how their boxes are laid out, what is asked once, and the questions beside them."""

from collections.abc import Iterator
from datetime import date
from typing import Any

import pytest

from inspect_app import store
from inspect_app.model.evidence import Reading
from inspect_app.ui import bench_layout, bench_setup, bench_view, shelf
from inspect_app.ui.bench_entry import Heard, Told
from inspect_app.ui.bench_groups import Group, groups, sources, standings
from inspect_app.ui.bench_questions import questions
from inspect_app.ui.bench_setup import Setup
from inspect_app.ui.shelf import Shelf, Slot
from tests.ui.bench_support import BORES, Shop


@pytest.fixture(scope="module")
def shop(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Shop]:
    file = tmp_path_factory.mktemp("bench") / "shop.sqlite"
    made = Shop(file)
    with store.create_shop_file(file) as opened:
        shelf.use(Shelf(opened, lambda: made.book))
        yield made
    shelf._current = None


@pytest.fixture(scope="module")
def measured(shop: Shop) -> Slot:
    return got(shop.begin_measured())


@pytest.fixture(scope="module")
def empty(shop: Shop) -> Slot:
    return got(shop.begin())


def got(core_id: str) -> Slot:
    slot = shelf.current().get(core_id)
    assert slot is not None
    return slot


def group(slot: Slot, key: str = BORES) -> Group:
    return next(one for one in groups(slot) if one.key == key)


def keys(slot: Slot) -> list[str]:
    return [one.key for one in groups(slot)]


def test_every_quantity_that_is_read_is_in_one_group_and_no_name_is_used_twice(empty: Slot) -> None:
    assert empty.engine is not None
    read = {(q, k) for (q, k), form in empty.engine.book.quantities.items() if form.calc is None}
    assert {(one.form.id, one.kind) for one in groups(empty)} == read
    titles = [one.title for one in groups(empty)]
    assert len(set(titles)) == len(titles)
    for one in groups(empty):
        assert one.boxes
        assert len({box.key for box in one.boxes}) == len(one.boxes)


def test_what_is_waited_for_comes_first_then_what_is_begun(shop: Shop, measured: Slot, empty: Slot) -> None:
    lacks = tuple(i for i in shop.bundle.core.evidence if i.kind not in ("photo", "region"))
    lacks = tuple(i for i in lacks if not (isinstance(i, Reading) and i.place == "bore 4"))
    found = standings(got(shop.begin(lacks)))
    order = [(not one.waits, not one.read) for one in found]
    assert order == sorted(order)
    assert BORES in [one.group.key for one in found if one.waits]
    bores = next(one for one in standings(measured) if one.group.key == BORES)
    assert bores.told == "32 of 32 read"
    assert {one.read for one in standings(empty)} == {0}


def test_a_figure_is_waited_for_by_what_it_is_computed_from(empty: Slot) -> None:
    assert empty.engine is not None
    assert sources(empty.engine.book, "taper", "bore") == {"diameter"}
    assert sources(empty.engine.book, "diameter", "bore") == {"diameter"}
    assert sources(empty.engine.book, "nobody", "bore") == {"nobody"}


def test_every_box_is_in_one_table_and_in_the_hand_once(empty: Slot) -> None:
    for one in groups(empty):
        for order in bench_layout.ORDERS:
            tables = bench_layout.tables(one, order)
            hand = [box for table in tables for box in table.hand]
            assert sorted(hand, key=lambda box: box.key) == sorted(one.boxes, key=lambda box: box.key), (
                one.key
            )
            for table in tables:
                assert {len(row.boxes) for row in table.rows} == {len(table.heads)}, one.key
                assert len(table.heads) <= 3, f"{one.key} is too wide for a phone"


def test_the_hand_goes_place_by_place_or_depth_by_depth(empty: Slot) -> None:
    bores = group(empty)
    by_place, by_depth = (bench_layout.tables(bores, order) for order in bench_layout.ORDERS)
    assert [table.title for table in by_place] == ["Bore 1", "Bore 2", "Bore 3", "Bore 4"]
    assert [table.title for table in by_depth] == ["Top", "Middle", "Bottom", "Below"]
    assert [(b.place, b.station, b.direction) for b in by_place[0].hand[:3]] == [
        ("bore 1", "top", "across"),
        ("bore 1", "top", "along"),
        ("bore 1", "middle", "across"),
    ]
    assert [(b.place, b.station, b.direction) for b in by_depth[0].hand[:3]] == [
        ("bore 1", "top", "across"),
        ("bore 1", "top", "along"),
        ("bore 2", "top", "across"),
    ]


def test_a_sweep_goes_round_one_station_before_the_next(empty: Slot) -> None:
    table = bench_layout.tables(group(empty, "block/bore/sweep"), "place")[0]
    assert table.heads == ("Top", "Bottom")
    assert [box.station for box in table.hand] == ["top"] * 8 + ["bottom"] * 8
    assert [box.direction for box in table.hand][:3] == ["0", "45", "90"]


def test_single_values_of_several_pieces_stand_in_one_table(empty: Slot) -> None:
    (table,) = bench_layout.tables(group(empty, "piston/skirt/diameter"), "place")
    assert [row.label for row in table.rows] == ["Piston 1", "Piston 2", "Piston 3", "Piston 4"]
    assert not bench_layout.has_orders(group(empty, "piston/skirt/diameter"))
    assert bench_layout.has_orders(group(empty))


def test_the_setup_begins_with_that_of_the_last_reading(measured: Slot) -> None:
    setup = bench_setup.usual(measured, group(measured))
    assert (setup.gauge, setup.setting, setup.unit) == ("dial bore gauge", "3.4370 in", "in")
    assert setup.state == "washed"


def test_without_readings_the_setup_comes_from_sheet_and_rules(empty: Slot) -> None:
    webs = group(empty, "block/main_web/diameter")
    setup = bench_setup.usual(empty, webs)
    assert (setup.gauge, setup.setting, setup.unit, setup.state) == (None, "", "in", "as_found")
    assert setup.conditions == ("caps torqued", "no shells")
    assert "shells in" in bench_setup.conditions(empty.engine, webs)  # type: ignore[arg-type]


def test_a_session_is_one_of_each_group_and_day(empty: Slot) -> None:
    one = bench_setup.own_session(group(empty), date(2026, 11, 25))
    assert one == "bore diameter, 25 Nov"
    assert one != bench_setup.own_session(group(empty), date(2026, 11, 26))
    assert one != bench_setup.own_session(group(empty, "block/bore/wall"), date(2026, 11, 25))


def test_what_does_not_count_yet_is_said(empty: Slot) -> None:
    webs = group(empty, "block/main_web/diameter")
    setup = bench_setup.usual(empty, webs)
    assert bench_setup.lacking(empty, webs, setup) == ["Saved, but not counted until read so: washed."]
    bare = setup.model_copy(update={"conditions": (), "state": "washed"})
    (said,) = bench_setup.lacking(empty, webs, bare)
    assert "caps torqued" in said
    assert bench_setup.lacking(empty, webs, setup.model_copy(update={"state": "washed"})) == []


@pytest.mark.parametrize(
    ("setting", "gauge", "said"),
    [
        ("", None, []),
        ("3.4370 in", "dial bore gauge", []),
        ("3.4370 in", None, ["Set to: choose the gauge that was set to it."]),
        ("3,43,7 in", "dial bore gauge", ['Set to: "3,43,7" is not a number.']),
        ("3.4370 kg", "dial bore gauge", ['Set to: "kg" is not a unit of length.']),
    ],
)
def test_a_wrong_setting_is_said_before_anything_is_read(
    empty: Slot, setting: str, gauge: str | None, said: list[str]
) -> None:
    setup = Setup(setting=setting, gauge=gauge, unit="in", state="washed")
    found = bench_setup.problems(setup, group(empty))
    assert len(found) == len(said)
    assert all(one.startswith(start) for one, start in zip(found, said, strict=True))


@pytest.mark.parametrize(
    ("typed", "unit", "setting"),
    [("3.4370", "in", "3.4370 in"), ("", "in", ""), ("87,30mm", "in", "87,30 mm"), ("x", "in", "x")],
)
def test_a_setting_takes_the_unit_of_the_group(typed: str, unit: str, setting: str) -> None:
    assert bench_setup.setting_of(typed, unit) == setting


SETUP = Setup(gauge="dial bore gauge", setting="3.4370 in", unit="in", session="one", state="washed")


def readings(one: Group, *values: str, **changes: Any) -> dict[Any, Reading]:
    made = {}
    for number, (box, value) in enumerate(zip(one.boxes, values, strict=False)):
        fields: dict[str, Any] = {
            "id": f"r{number}", "who": "B.W.", "when": "2026-11-25", "stage": "bench", "piece": "block",
            "state": "washed", "quantity": one.form.id, "place": box.place, "station": box.station,
            "direction": box.direction, "value": value, "unit": "in",
            "setting": "3.4370 in" if value[0] in "+-" else None, "gauge": "dial bore gauge",
        }  # fmt: skip
        made[box] = Reading.model_validate(fields | changes)
    return made


@pytest.mark.parametrize(
    ("value", "asked"),
    [
        ("+40", ""),
        ("+430", "+43 would fit: the point one place further left?"),
        ("-400", "Is it meant?"),
        ("3.4800", "Is it meant?"),
        ("-7", ""),
        ("-8", "+8 would fit: the other sign?"),
    ],
)
def test_a_reading_far_from_the_others_is_asked_about(empty: Slot, value: str, asked: str) -> None:
    assert empty.engine is not None
    one = group(empty)
    shown = readings(one, "+60", "+50", "+45", "+33", value)
    found = questions(empty.engine, one, shown)
    assert list(found) == ([one.boxes[4]] if asked else [])
    if asked:
        assert found[one.boxes[4]].startswith(f"{value} stands ")
        assert found[one.boxes[4]].endswith(asked)


def test_the_other_sign_and_a_length_typed_for_divisions_are_recognised(empty: Slot) -> None:
    assert empty.engine is not None
    one = group(empty)
    sign = questions(empty.engine, one, readings(one, "+60", "+58", "+57", "+59", "-58"))
    assert sign[one.boxes[4]].endswith("+58 would fit: the other sign?")
    length = questions(empty.engine, one, readings(one, "+60", "+58", "+57", "+59", "+0.0058"))
    assert length[one.boxes[4]].endswith("+58 would fit: in typed in place of divisions?")


@pytest.mark.parametrize(("away", "asks"), [("+70", False), ("+71", True)])
def test_ten_digits_outside_the_others_is_still_usual(empty: Slot, away: str, asks: bool) -> None:
    assert empty.engine is not None
    one = group(empty)
    found = questions(empty.engine, one, readings(one, "+60", "+60", "+60", away))
    assert bool(found) is asks


def test_the_next_depth_is_not_held_against_the_first(empty: Slot) -> None:
    """One depth across all: the first readings further down are smaller, and nothing is wrong with them."""
    assert empty.engine is not None
    one = group(empty)
    tops = [box for box in one.boxes if box.station == "top"]
    middles = [box for box in one.boxes if box.station == "middle"]
    shown = dict(zip(tops, readings(one, *["+60"] * 8).values(), strict=True))
    shown |= dict(zip(middles, readings(one, "+20", "+21", "+19", "+20", "+200").values(), strict=False))
    assert list(questions(empty.engine, one, shown)) == [middles[4]]


def test_two_others_say_nothing_about_what_is_usual_and_what_is_meant_is_not_asked(empty: Slot) -> None:
    assert empty.engine is not None
    one = group(empty)
    assert questions(empty.engine, one, readings(one, "+60", "+60", "+400")) == {}
    meant = readings(one, "+60", "+60", "+60", "+400", as_meant=True)
    assert questions(empty.engine, one, meant) == {}


def test_the_grid_shows_what_stands_and_what_was_told(measured: Slot) -> None:
    one = group(measured)
    told = Heard(7, one.boxes[0].key, {"ab": Told("refused", "no")})
    data = bench_view.grid(measured, one, SETUP, "place", told, "")
    assert (data["seq"], data["ready"], data["begun"]) == (7, False, True)
    assert data["told"] == {"ab": {"state": "refused", "words": "no"}}
    assert data["hint"] == "+0 or 3.4370"
    box = data["boxes"][one.boxes[0].key]
    assert (box["name"], box["text"], box["base"]) == ("Bore 1, top, across", "+62", "r-b1-ta")
    assert len(data["hand"]) == len(one.boxes)


def test_readings_by_another_gauge_or_session_stand_beside_the_box(measured: Slot) -> None:
    one = group(measured)
    other = bench_view.boxes(measured, one, SETUP.model_copy(update={"gauge": None}))[one.boxes[0].key]
    assert (other["text"], other["base"]) == ("", "")
    assert other["beside"] == ["also +62, 3.4432 in, dial bore gauge, 0.0001 in, K.O., 2026-11-10"]
    again = bench_view.boxes(measured, one, SETUP.model_copy(update={"again": True}))[one.boxes[0].key]
    assert again["text"] == ""
    moved = bench_view.boxes(measured, one, SETUP.model_copy(update={"setting": "3.4380 in"}))
    assert moved[one.boxes[0].key]["beside"] == ["from 3.4370 in"]
    later = bench_view.boxes(measured, one, SETUP.model_copy(update={"state": "as_found"}))[one.boxes[0].key]
    assert later["beside"] == []
