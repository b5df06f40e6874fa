"""The worked cases of the trade as cores in folders, judged by the whole program: common practice.

Lengths in inch. Everything else on the inline-six of the tests is sound and fully evidenced.
"""

from collections.abc import Iterable, Sequence
from pathlib import Path

import pytest

from inspect_app.model.answer import Answer, Closed, PartAnswer
from inspect_app.model.evidence import Evidence, Finding, Reading
from inspect_app.model.sheet import EngineSheet
from tests.judge import six

from .support import Spot, closed_by, judge_written, part_at, resized, walls, way_of

EVERYTHING = [*six.looks_and_tests(), *six.readings()]
BORES = ["0.010 in", "0.020 in", "0.030 in", "0.040 in", "0.060 in"]
PINS = ["0.010 in", "0.020 in", "0.030 in"]


def sheet_with(row: str, nominal: str, sizes: Sequence[str], **more: dict[str, str]) -> EngineSheet:
    """The sheet of the six with another standard size, other listed sizes, and rows of its own."""
    rows = six.sheet().model_dump()["quantities"]
    return six.sheet(quantities=rows | {row: {"nominal": nominal, "sizes": list(sizes)}} | more)


def measured(part: PartAnswer, rule: str, place: str) -> Closed:
    """What one rule closes at one place; it must be there once for each way that it closes."""
    return closed_by(part, rule, place)[0]


def value_in_inch(closed: Closed) -> float:
    assert closed.measured is not None
    assert closed.measured.unit == "in"
    return closed.measured.value


# ---- a bore worn 0.008 of 4.000, its wall 0.180 ----

WORN_BORE = {
    ("top", "across"): "4.0080",
    ("top", "along"): "4.0052",
    ("middle", "across"): "4.0050",
    ("middle", "along"): "4.0038",
    ("bottom", "across"): "4.0020",
    ("bottom", "along"): "4.0015",
}
CYLINDERS = range(1, six.CYLINDERS + 1)


def worn_alike(numbers: Iterable[int]) -> dict[Spot, str]:
    return {(f"bore {n}", *slot): value for n in numbers for slot, value in WORN_BORE.items()}


def worn_bore(
    tmp_path: Path,
    wall: str | None = "0.180",
    least_wall: str = "0.125 in",
    worn: Iterable[int] = CYLINDERS,
) -> Answer:
    sheet = sheet_with("bore.diameter", "4.0000 in", BORES, **{"bore.wall": {"wear_limit": least_wall}})
    evidence = resized(EVERYTHING, "bore", "0.5", worn_alike(worn)) + (walls(wall) if wall else [])
    return judge_written(tmp_path, six.core(evidence), sheet)


def test_the_worn_bore_is_bored_with_all_others_and_gets_new_pistons(tmp_path: Path) -> None:
    answer = worn_bore(tmp_path)
    block = part_at(answer, "block")
    assert (block.verdict, block.grounds, block.standing) == ("recondition", "evidence", "settled")
    bores = way_of(block, "bores")
    assert (bores.way, bores.size, bores.except_at) == ("bore", "0.020 in", ())
    pistons = [part_at(answer, f"piston {number}") for number in CYLINDERS]
    assert {(p.verdict, p.grounds, p.source) for p in pistons} == {("replace", "coupling", "new")}


def test_worn_alone_it_is_lined_instead_because_that_costs_less(tmp_path: Path) -> None:
    """A sleeve brings one bore back to the size of the others: money chooses among the ways left."""
    answer = worn_bore(tmp_path, worn=[1])
    bores = way_of(part_at(answer, "block"), "bores")
    assert (bores.way, bores.except_at, bores.except_way) == ("hone", ("bore 1",), "sleeve")
    assert part_at(answer, "piston 1").verdict == "reuse"


def test_the_plan_shows_the_sum_and_the_wall(tmp_path: Path) -> None:
    """1.5 x 0.008 + 0.003 = 0.015, from 0.011 to 0.019 by the side the wear is on; 0.170 of wall remains."""
    [plan] = part_at(worn_bore(tmp_path), "block").size_plans
    assert (plan.concern, plan.unit, plan.best.size) == ("bores", "in", "0.020 in")
    for need in plan.needs:
        assert (need.low, need.usual, need.high) == pytest.approx((0.011, 0.015, 0.019), abs=1e-9)
        assert need.next_size == "0.020 in"
        assert need.left is not None
        assert need.left.value == pytest.approx(0.170, abs=1e-9)
    assert plan.needs[0].shown == "0 + 1.5 x 0.008 + 2 x 0 + 0.003 = 0.015 in"


@pytest.mark.parametrize(
    ("rule", "figure"),
    [
        ("bore-taper-past-hone", 0.0060),
        ("bore-out-of-round-past-hone", 0.0028),
        ("bore-wear-past-hone", 0.0080),
    ],
)
def test_the_figures_that_close_its_honing(tmp_path: Path, rule: str, figure: float) -> None:
    block = part_at(worn_bore(tmp_path), "block")
    assert value_in_inch(measured(block, rule, "bore 1")) == pytest.approx(figure, abs=1e-9)


def test_its_first_listed_size_does_not_clean_it_up(tmp_path: Path) -> None:
    """Even if the wear is shared evenly it wants 0.011, and up to 0.019 if all of it is on one side."""
    block = part_at(worn_bore(tmp_path), "block")
    [first] = [one for one in block.closed if one.closes == "bores.0.010 in"]
    assert value_in_inch(first) == pytest.approx(0.011, abs=1e-9)


def test_a_wall_of_0_170_remains(tmp_path: Path) -> None:
    """A sheet that wants more than remains makes the program tell how much that is."""
    block = part_at(worn_bore(tmp_path, least_wall="0.178 in"), "block")
    [left] = [one for one in block.closed if one.closes == "bores.0.020 in"]
    assert (left.limit_from, left.why) == ("maker", "Bore 1 would keep too little metal at 0.020 in.")
    assert value_in_inch(left) == pytest.approx(0.170, abs=1e-9)


@pytest.mark.parametrize(("least_wall", "standing"), [("0.164 in", "settled"), ("0.167 in", "provisional")])
def test_a_wall_nearer_to_its_limit_than_the_gauge_can_tell_is_not_settled(
    tmp_path: Path, least_wall: str, standing: str
) -> None:
    """0.170 remains, known to 0.0027; a guarded limit wants 1.64 of that beyond it, 0.0044."""
    block = part_at(worn_bore(tmp_path, least_wall=least_wall), "block")
    assert (way_of(block, "bores").size, block.standing) == ("0.020 in", standing)


def test_without_a_wall_reading_the_second_size_stays_open(tmp_path: Path) -> None:
    block = part_at(worn_bore(tmp_path, wall=None), "block")
    assert (way_of(block, "bores").size, block.standing) == ("0.020 in", "provisional")
    assert {point.what for point in block.open_points if "wall" in point.what}


# ---- a rod journal worn 0.0012 of 2.100, one score 0.002 deep; then a crack in a fillet ----

WORN_PIN: dict[Spot, str] = {
    ("rod_journal 3", "front", "vertical"): "2.0993",
    ("rod_journal 3", "front", "horizontal"): "2.0989",
    ("rod_journal 3", "rear", "vertical"): "2.0991",
    ("rod_journal 3", "rear", "horizontal"): "2.0988",
}
SCORE = [
    Finding(
        id="score",
        piece="crankshaft",
        damage="score",
        place="rod_journal 3/surface",
        strength="seen",
        **six.COMMON,
    ),
    six.reading("score depth", "crankshaft", "score_depth", "rod_journal 3", "0.002", gauge="depth gauge"),
]
FILLET = "rod_journal 2/fillet/rear"


def scored_pin(tmp_path: Path, evidence: Sequence[Evidence] = EVERYTHING) -> Answer:
    resizes = resized(evidence, "rod_journal", "0.1", WORN_PIN)
    sheet = sheet_with("rod_journal.diameter", "2.1000 in", PINS)
    return judge_written(tmp_path, six.core([*resizes, *SCORE]), sheet)


def cracked() -> list[Evidence]:
    kept = [item for item in EVERYTHING if item.id != "crack-crankshaft"]
    return [*kept, *six.confirmed_crack(FILLET, "crack-crankshaft")]


def test_the_scored_pin_is_ground_with_all_others(tmp_path: Path) -> None:
    """It wants 0.0062 to 0.0074."""
    answer = scored_pin(tmp_path)
    crankshaft = part_at(answer, "crankshaft")
    assert (crankshaft.verdict, crankshaft.standing) == ("recondition", "settled")
    pins = way_of(crankshaft, "pins")
    assert (pins.way, pins.size, pins.except_at) == ("grind", "0.010 in", ())
    assert {line.line: line.quantity for line in answer.bill}["Grind one journal"] == six.CYLINDERS
    assert way_of(crankshaft, "mains").way == "polish"


def test_the_plan_of_the_pins_shows_the_sum_of_the_scored_one(tmp_path: Path) -> None:
    """1.5 x 0.0012 + 2 x 0.002 + 0.001 = 0.0068."""
    [plan] = [p for p in part_at(scored_pin(tmp_path), "crankshaft").size_plans if p.concern == "pins"]
    [need] = [need for need in plan.needs if need.place == "rod_journal 3"]
    assert (need.usual, need.next_size) == (pytest.approx(0.0068, abs=1e-9), "0.010 in")
    assert need.shown == "0 + 1.5 x 0.0012 + 2 x 0.002 + 0.001 = 0.0068 in"
    assert plan.decided_by == "rod_journal 3"


def test_the_score_and_its_wear_close_the_polishing_but_its_form_does_not(tmp_path: Path) -> None:
    """Taper 0.0002 and out-of-round 0.0004 are inside 0.0005; 0.0012 of wear is not inside 0.001."""
    crankshaft = part_at(scored_pin(tmp_path), "crankshaft")
    assert {one.rule for one in crankshaft.closed} == {"rod-journal-marked", "rod-journal-wear-past-polish"}
    worn = measured(crankshaft, "rod-journal-wear-past-polish", "rod_journal 3")
    assert value_in_inch(worn) == pytest.approx(0.0012, abs=1e-9)


def test_with_a_crack_in_a_fillet_the_measuring_is_irrelevant(tmp_path: Path) -> None:
    unmeasured = [item for item in cracked() if (item.kind, item.piece) != ("reading", "crankshaft")]
    sheet = sheet_with("rod_journal.diameter", "2.1000 in", PINS)
    with_readings = part_at(scored_pin(tmp_path / "measured", cracked()), "crankshaft")
    without = part_at(judge_written(tmp_path / "not measured", six.core(unmeasured), sheet), "crankshaft")
    for crankshaft in (with_readings, without):
        assert (crankshaft.verdict, crankshaft.grounds, crankshaft.standing) == (
            "replace",
            "evidence",
            "settled",
        )
        assert "crack-in-journal-fillet" in {one.rule for one in crankshaft.closed if one.closes == "own"}
        assert crankshaft.open_points == ()
    assert (with_readings.source, with_readings.cost) == (without.source, without.cost)


# ---- an overheated aluminium head, warped 0.007 on one diagonal, tight under pressure ----


def warped_head(tmp_path: Path, passes: str, stops: str) -> Answer:
    """A leaf of one thickness passes on the diagonal, the next does not; on all other lines none does."""
    leaf = next(
        item
        for item in EVERYTHING
        if isinstance(item, Reading) and (item.place, item.station) == ("head_face", "diagonal_1")
    )
    through = leaf.model_copy(update={"id": "through", "direction": "passes", "value": passes})
    stopped = leaf.model_copy(update={"value": stops})
    kept = [item for item in EVERYTHING if item.id not in (leaf.id, "crack-cylinder_head 1")]
    tested = six.clean_test("crack-cylinder_head 1", "cylinder_head 1", "dye penetrant")
    sheet = six.sheet(materials=six.sheet().materials | {"cylinder_head": "aluminium"})
    return judge_written(tmp_path, six.core([*kept, tested, through, stopped]), sheet)


def test_the_warped_head_cannot_stay_as_it_is(tmp_path: Path) -> None:
    head = part_at(warped_head(tmp_path, "0.007", "0.008"), "cylinder_head 1")
    assert head.verdict == "recondition"
    assert way_of(head, "face").way != "as_is"
    [closed] = closed_by(head, "head-face-not-flat", "head_face")
    assert (closed.closes, value_in_inch(closed)) == ("face.as_is", pytest.approx(0.007, abs=1e-9))
    assert way_of(head, "casting").way == "as_is", "it holds pressure"


@pytest.mark.parametrize(
    ("passes", "stops", "settled"), [("0.002", "0.003", True), ("0.003", "0.005", False)]
)
def test_a_head_within_a_tenth_of_a_millimetre_stays(
    tmp_path: Path, passes: str, stops: str, settled: bool
) -> None:
    """The limit of 0.1 mm lies between the last two leaves: nobody knows yet."""
    head = part_at(warped_head(tmp_path, passes, stops), "cylinder_head 1")
    assert way_of(head, "face").way == "as_is"
    assert (head.standing == "settled") is settled
