"""The plan of a set of sizes, told by a judgement: equal to brute force, and its flips flip."""

from dataclasses import replace
from functools import cache
from itertools import combinations
from pathlib import Path
from unittest.mock import patch

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from inspect_app.judge import judge
from inspect_app.metrology.size_plan import Listed, Plan, Planned, SizeTask, Spot, plan_sizes
from inspect_app.model.answer import Answer
from inspect_app.model.answer_figures import SizePlan, WayTaken
from inspect_app.model.evidence import Evidence, Finding, Reading
from inspect_app.model.pieces import Piece
from inspect_app.rulebook.engine import Engine
from inspect_app.rulebook.load import load_rulebook
from tests.support import problems_of

from . import drawn, six

SIZES = (0.020, 0.030, 0.040)
STOCK = 0.003
WORN = st.sampled_from([4, 30, 120, 169, 170, 171, 200, 270, 271, 320, 370, 371, 500])
"""Wear in ten-thousandths of an inch: hardly worn, and around what each size cleans up at least."""


@cache
def engine(cylinders: int) -> Engine:
    """The shipped rules with so many bores in line."""
    counts = {"cylinders": cylinders, "mains": cylinders + 1, "rod_journals": cylinders, "heads": 1}
    return Engine(six.book(), six.sheet(counts=counts))


@cache
def sound(cylinders: int) -> tuple[tuple[Evidence, ...], tuple[Piece, ...]]:
    """All that shows an engine of so many bores sound, and the pieces that sit in it."""
    with patch.multiple(six, CYLINDERS=cylinders, MAINS=cylinders + 1):
        return (*six.looks_and_tests(), *six.readings()), six.pieces()


def bores(worn: tuple[int, ...], walls: tuple[float, ...] = ()) -> list[Evidence]:
    """A sound block of so many bores, each with its wear (0.0001 in) at the top and its wall (inch)."""
    items = [
        item
        for item in sound(len(worn))[0]
        if not (isinstance(item, Reading) and item.place.startswith("bore "))
    ]
    for number, wear in enumerate(worn, 1):
        items += [
            sized(number, wear, at, way) for at in ("top", "middle", "bottom") for way in ("across", "along")
        ]
        items += [sized(number, 0, "below", way) for way in ("across", "along")]
        wall = walls[number - 1] if walls else 0.300
        items += [
            six.reading(
                f"w{number}{way}", "block", "wall", f"bore {number}", f"{wall:.3f}", direction=way,
                gauge="ultrasonic thickness gauge",
            )
            for way in ("thrust", "anti_thrust", "front", "rear")
        ]  # fmt: skip
    return items


def sized(number: int, wear: int, station: str, direction: str) -> Reading:
    value = f"{3.5 + (wear if station == 'top' else 0) / 10_000:.4f}"
    more = {"station": station, "direction": direction, "gauge": "dial bore gauge"}
    return six.reading(f"d{number}{station}{direction}", "block", "diameter", f"bore {number}", value, **more)


def judged(
    worn: tuple[int, ...], walls: tuple[float, ...] = (), bound: Engine | None = None, *more: Evidence
) -> Answer:
    """The block is worth much, so that it is kept wherever it can be."""
    record = {"value_built": 40_000, "value_in_parts": 300}
    dearer = dear(bound or engine(len(worn)))
    return judge(six.core([*bores(worn, walls), *more], record=record, pieces=sound(len(worn))[1]), dearer)


def dear(bound: Engine) -> Engine:
    """Other blocks cost a fortune."""
    prices = dict(bound.book.prices)
    for name in ("used-block", "exchange-block", "new-block"):
        prices[name] = drawn.scaled(prices[name], 100)
    return drawn.with_prices(bound, prices)


def block_of(answer: Answer) -> tuple[WayTaken | None, SizePlan | None]:
    """How the block's bores are done, and the plan that is told."""
    (block,) = [part for part in answer.parts if part.position == "block"]
    ways = [way for way in block.ways if way.concern == "bores"]
    plans = [plan for plan in block.size_plans if plan.concern == "bores"]
    return (ways[0] if ways else None), (plans[0] if plans else None)


def planned_of(answer: Answer) -> tuple[WayTaken, SizePlan]:
    """The same of a block that is bored."""
    way, plan = block_of(answer)
    assert way is not None
    assert plan is not None
    return way, plan


def mean(bound: Engine, price: str) -> float:
    form = bound.book.prices[price]
    return (form.low + form.likely + form.high) / 3


def needs_of(worn: tuple[int, ...]) -> list[float]:
    """At least the wear once and the stock, in inch."""
    return [round(wear / 10_000 + STOCK, 6) for wear in worn]


def brute(worn: tuple[int, ...], bound: Engine) -> tuple[float, tuple[int, ...], float] | None:
    """Every size and every subset of at most two sleeves: the cheapest, then the smaller, then fewer."""
    bore, sleeve = mean(bound, "bore-and-hone"), mean(bound, "sleeve-bore")
    needs, count = needs_of(worn), len(worn)
    found = [
        (round((count - k) * bore + k * sleeve, 6), size, k, lined)
        for size in SIZES
        for k in range(min(2, count - 1) + 1)
        for lined in combinations(range(count), k)
        if all(need <= size for i, need in enumerate(needs) if i not in lined)
    ]
    return (lambda best: (best[1], best[3], best[0]))(min(found)) if found else None


def named(places: tuple[int, ...]) -> tuple[str, ...]:
    return tuple(f"bore {i + 1}" for i in places)


def text(size: float) -> str:
    return f"{size:.3f} in"


@given(st.lists(WORN, min_size=1, max_size=12).map(tuple))
@settings(max_examples=25, deadline=None, suppress_health_check=[HealthCheck.too_slow])
def test_the_joint_choice_takes_the_plan_that_brute_force_finds(worn: tuple[int, ...]) -> None:
    way, plan = block_of(judged(worn))
    best = brute(worn, engine(len(worn)))
    if way is None or way.size is None:
        # The block is honed, or replaced: no size is planned, and if it is replaced none was left.
        assert plan is None
        assert way is not None or best is None
        return
    assert best is not None
    size, lined, cost = best
    assert (way.size, way.except_at) == (text(size), named(lined))
    assert plan is not None
    assert (plan.best.size, plan.best.except_at) == (text(size), named(lined))
    assert plan.cost.mean == pytest.approx(cost, abs=0.01)
    task = SizeTask(
        tuple(Spot(need) for need in needs_of(worn)),
        tuple(Listed(step, mean(engine(len(worn)), "bore-and-hone")) for step in SIZES),
        mean(engine(len(worn)), "sleeve-bore"),
        lambda places: len(places) <= 2,
        one_price=True,
    )
    planned = plan_sizes(task)
    assert isinstance(planned, Planned)
    assert planned.best == Plan(size, lined, pytest.approx(cost))
    others = [need for i, need in enumerate(needs_of(worn)) if i not in lined]
    assert plan.decided_by in named(tuple(i for i, n in enumerate(needs_of(worn)) if n == max(others)))
    assert plan.left_over == tuple(text(step) for step in SIZES if step > size)


SIX_WORN = (200, 200, 200, 200, 200, 320)
"""Needs 0.023 in five times and 0.035 in once: 0.040 in for all, or 0.030 in and one sleeve."""


def test_a_set_worked_by_hand() -> None:
    """Six at 0.040 in: 6 bores. At 0.030 in: 5 bores and a sleeve, so a sleeve less a bore dearer."""
    bound = engine(6)
    bore, sleeve = mean(bound, "bore-and-hone"), mean(bound, "sleeve-bore")
    way, plan = planned_of(judged(SIX_WORN))
    assert (way.size, way.except_at) == ("0.040 in", ())
    assert plan.cost.mean == pytest.approx(6 * bore, abs=0.01)
    assert plan.runner_up is not None
    assert (plan.runner_up.size, plan.runner_up.except_at) == ("0.030 in", ("bore 6",))
    assert plan.costs_more == pytest.approx(sleeve - bore, abs=0.01)
    assert (plan.decided_by, plan.left_over) == ("bore 6", ())
    (need,) = [need for need in plan.needs if need.place == "bore 6"]
    # 0.032 * (1 to 2) + 0.003: 0.035 to 0.067, usual 0.051; no listed size cleans it for certain.
    assert (need.low, need.usual, need.high) == (0.035, 0.051, 0.067)
    assert need.next_size is None
    assert need.shown == "0 + 1.5 x 0.032 + 2 x 0 + 0.003 = 0.051 in"


def test_the_need_that_would_flip_it_does_when_the_reading_changes() -> None:
    _, plan = block_of(judged(SIX_WORN))
    assert plan is not None
    (flip,) = [change for change in plan.flips if change.of == "need"]
    # Down from 0.035 to 0.030 and the smaller size cleans all; up by more than 0.005 none does.
    assert (flip.what, flip.by, flip.at) in (("bore 6", -0.005, 0.03), ("bore 6", 0.005, 0.04))
    assert flip.then is not None
    reading = 320 + round(flip.by * 10_000)
    past, short = (reading, reading + 1) if flip.by < 0 else (reading + 1, reading)
    after, before = (planned_of(judged((*SIX_WORN[:5], worn)))[0] for worn in (past, short))
    assert (after.size, after.except_at) == (flip.then.size, flip.then.except_at)
    assert (before.size, before.except_at) == ("0.040 in", ())


@pytest.mark.parametrize(
    ("worn", "asked", "size"),
    [(85, None, 0.020), (86, "0.020", 0.020), (170, "0.020", 0.020), (171, "0.030", 0.030)],
)
def test_between_the_most_and_the_least_a_trial_cut_is_asked_for(
    worn: int, asked: str | None, size: float
) -> None:
    """A bore needs its wear once to twice, and 0.003 in: 0.0085 in is the last wear that 0.020 in clears."""
    answer = judged((30, worn))
    way, plan = planned_of(answer)
    assert way.size == text(size)
    (block,) = [part for part in answer.parts if part.position == "block"]
    wanted = [(f"trial cut: does it clean up at {asked} in", "bore 2")] if asked else []
    assert [(p.what, p.place) for p in block.open_points] == wanted
    (flip,) = [change for change in plan.flips if change.of == "need"]
    assert (flip.what, flip.at) == ("bore 2", 0.020)
    assert flip.by == pytest.approx(0.020 - (worn / 10_000 + STOCK))


@pytest.mark.parametrize(("beyond", "flipped"), [(0.02, True), (-0.02, False)])
def test_the_price_that_would_flip_it_does_when_the_book_changes(beyond: float, flipped: bool) -> None:
    _, plan = block_of(judged(SIX_WORN))
    assert plan is not None
    (flip,) = [change for change in plan.flips if change.of == "price"]
    bound = engine(6)
    bore, sleeve = mean(bound, "bore-and-hone"), mean(bound, "sleeve-bore")
    # 6 bores cost as much as 5 and a sleeve once a bore costs as much as a sleeve.
    assert (flip.what, flip.by) == ("one place: bore to size", pytest.approx(sleeve - bore, abs=0.01))
    assert flip.then is not None
    assert (flip.then.size, flip.then.except_at) == ("0.030 in", ("bore 6",))
    prices = dict(bound.book.prices)
    prices["bore-and-hone"] = drawn.scaled(prices["bore-and-hone"], (bore + flip.by + beyond) / bore)
    way, _ = planned_of(judged(SIX_WORN, (), drawn.with_prices(bound, prices)))
    assert ((way.size, way.except_at) == (flip.then.size, flip.then.except_at)) is flipped


def test_of_sizes_that_cost_the_same_the_smaller_is_taken_and_the_larger_are_left_over() -> None:
    way, plan = planned_of(judged((120, 120, 120)))
    assert (way.size, plan.left_over) == ("0.020 in", ("0.030 in", "0.040 in"))
    assert plan.runner_up is not None
    assert (plan.runner_up.size, plan.costs_more) == ("0.030 in", 0.0)
    # One price for all sizes: no change of it makes the larger one cheaper.
    assert [change.of for change in plan.flips] == ["need"]


# Wall 0.125 in must remain, guarded; 0.040 in takes 0.020 in of it, 0.030 in takes 0.015 in. The ultrasonic
# gauge's u is hypot(0.001 / sqrt 12, 0.002, 0.003 / sqrt 3) = 0.002661 in, and 1.645 of it 0.00438 in.
@pytest.mark.parametrize(
    ("wall", "taken"),
    [
        (0.200, ("0.040 in", ())),
        (0.142, ("0.040 in", ())),  # 0.122 is left: thin, but not for certain
        (0.139, ("0.030 in", ("bore 6",))),  # 0.119 is left: 0.006 too little
    ],
)
def test_a_wall_too_thin_for_the_larger_size_takes_the_smaller_with_a_sleeve(
    wall: float, taken: tuple[str, tuple[str, ...]]
) -> None:
    walls = (wall, wall, wall, wall, wall, 0.300)
    way, plan = planned_of(judged(SIX_WORN, walls))
    assert (way.size, way.except_at) == taken
    assert (plan.best.size, plan.best.except_at) == taken
    if taken[1]:
        assert (plan.decided_by, plan.left_over) == ("bore 1", ())


def test_a_bore_that_fails_and_cannot_be_sleeved_leaves_no_plan() -> None:
    """Two bores need 0.045 in: sleeves. Cracked out to the deck one of them cannot be."""
    worn = (200, 420, 200, 420)
    way, plan = planned_of(judged(worn))
    assert (way.size, way.except_at) == ("0.030 in", ("bore 2", "bore 4"))
    at = {"piece": "block", "place": "bore 2/deck_edge", "damage": "crack", **six.COMMON}
    found = six.clean_test("t", "block", "magnetic particle", ("bore 2/deck_edge",))
    found = found.model_copy(update={"outcome": "found"})
    crack = Finding(id="c", strength="confirmed", test="t", **at)
    way, plan = block_of(judged(worn, (), None, found, crack))
    assert way is None or way.size is None
    assert plan is None


def test_three_that_fail_every_size_leave_no_plan() -> None:
    assert brute((420, 420, 420, 200), engine(4)) is None
    way, plan = block_of(judged((420, 420, 420, 200)))
    assert way is None
    assert plan is None


@pytest.mark.parametrize(
    ("listed", "taken"),
    [(None, "0.020 in"), (("0.030 in", "0.040 in"), "0.030 in"), (("0.020 in", "0.040 in"), "0.020 in")],
)
def test_only_sizes_for_which_parts_exist_are_planned(listed: tuple[str, ...] | None, taken: str) -> None:
    """The row that lists the parts is that of the rod journals here: any row of the sheet will do."""
    bound = engine(3)
    parts = dict(bound.book.parts)
    concerns = tuple(
        concern.model_copy(update={"supplied": "rod_journal.diameter"}) if concern.id == "bores" else concern
        for concern in parts["block"].concern
    )
    parts["block"] = parts["block"].model_copy(update={"concern": concerns})
    rows = dict(bound.sheet.quantities)
    rows["rod_journal.diameter"] = rows["rod_journal.diameter"].model_copy(update={"sizes": listed or ()})
    sheet = bound.sheet.model_copy(update={"quantities": rows})
    way, plan = planned_of(judged((120, 120, 120), (), Engine(replace(bound.book, parts=parts), sheet)))
    assert way.size == plan.best.size == taken
    left = [size for size in map(text, SIZES) if size > taken and (listed is None or size in listed)]
    assert plan.left_over == tuple(left)


def test_an_exception_cheaper_than_the_cut_it_replaces_is_refused(tmp_path: Path) -> None:
    """Else more sleeves than must be would be cheaper, and the ladder never takes them."""
    shop = tmp_path / "shop"
    shop.mkdir()
    price = '[[price]]\nid = "sleeving"\ntitle = "Sleeve a pocket"\nlow = {0}\nlikely = {0}\nhigh = {0}\n'
    pack = Path(__file__).parents[1] / "packs" / "gear_pump"
    for amount, told in ((45, []), (44, [CHEAP])):
        (shop / "prices.toml").write_text(price.format(amount))
        assert [str(problem) for problem in problems_of(pack, shop)] == told
    assert load_rulebook(pack).prices["sleeving"].likely == 160


CHEAP = (
    "parts.toml, part housing, concern pockets: sleeve costs 44 for one place and bore costs 45. "
    "sleeve is for places that fail: price it at 45 or more."
)
