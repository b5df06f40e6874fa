"""The plan of a set equals brute force over all subsets; runner-up and flips are what they claim."""

from dataclasses import replace
from itertools import chain, combinations
from math import inf

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from inspect_app.metrology.estimate import Undetermined
from inspect_app.metrology.size_flips import Flips, NeedFlip, PriceFlip, what_would_flip
from inspect_app.metrology.size_plan import (
    Listed,
    Plan,
    Planned,
    SizeTask,
    Spot,
    plan_sizes,
)
from inspect_app.metrology.size_rules import Rule, all_of, at_most, no_two_neighbours

STEPS = (0.25, 0.5, 0.75, 1.0, 1.25, 1.5)
ROW = [tuple(range(12))]


def even(places: frozenset[int]) -> bool:
    """A rule that forbids one and allows two."""
    return len(places) % 2 == 0


RULES: dict[str, Rule] = {
    "none": at_most(0),
    "two": at_most(2),
    "no neighbours": no_two_neighbours(ROW),
    "two, no neighbours": all_of(at_most(2), no_two_neighbours(ROW)),
    "in pairs": even,
    "any": at_most(99),
}


def brute(task: SizeTask) -> list[Plan]:
    """Every allowed plan, cheapest first, by plain loops over sizes and subsets."""
    found, count = [], len(task.spots)
    subsets = chain.from_iterable(combinations(range(count), k) for k in range(count + 1))
    for lined in subsets:
        if not task.rule(frozenset(lined)) or not all(task.spots[i].exception for i in lined):
            continue
        lining = task.exception_each * len(lined) if lined else 0.0
        rest = [spot for i, spot in enumerate(task.spots) if i not in lined]
        if not rest:
            found.append(Plan(0.0, lined, lining))
            continue
        for item in task.listed:
            if item.exists and all(spot.need <= item.step <= spot.largest for spot in rest):
                found.append(Plan(item.step, lined, len(rest) * item.each + item.once + lining))
    return sorted(found, key=lambda p: (round(p.cost, 6), p.step, len(p.exceptions), p.exceptions))


def drawn(seed: int, count: int, rule: str) -> SizeTask:
    """A set with needs and prices on a coarse grid, so that ties and needs equal to a step occur."""
    g = np.random.default_rng(seed)
    spots = tuple(
        Spot(
            float(
                g.choice(
                    [0.0, 0.25, 0.3, 0.5, 0.7, 0.9, 1.2, 1.6], p=[0.2, 0.2, 0.2, 0.1, 0.1, 0.1, 0.05, 0.05]
                )
            ),
            float(g.choice([inf, inf, inf, 1.0, 0.6])),
            bool(g.random() < 0.85),
        )
        for _ in range(count)
    )
    listed = tuple(
        Listed(step, float(g.integers(4, 12) * 10), float(g.integers(0, 3) * 50), bool(g.random() < 0.9))
        for step in STEPS[: int(g.integers(1, 7))]
    )
    return SizeTask(spots, listed, float(g.integers(5, 30) * 10), RULES[rule])


def sure(found: Planned | Undetermined) -> Planned:
    assert not isinstance(found, Undetermined), found.reason
    return found


def same(mine: Plan, theirs: Plan) -> None:
    assert (mine.step, mine.exceptions) == (theirs.step, theirs.exceptions)
    assert mine.cost == pytest.approx(theirs.cost)


@pytest.mark.parametrize("rule", RULES)
@pytest.mark.parametrize("count", [1, 2, 4, 6, 8])
def test_it_equals_brute_force(count: int, rule: str) -> None:
    for seed in range(12):
        task = drawn(seed + 100 * count, count, rule)
        found, plans = plan_sizes(task), brute(task)
        if not plans:
            assert isinstance(found, Undetermined)
            continue
        planned = sure(found)
        same(planned.best, plans[0])
        other = [
            p
            for p in plans
            if (p.step, len(p.exceptions) == count) != (plans[0].step, len(plans[0].exceptions) == count)
        ]
        if other:
            assert not isinstance(planned.runner_up, Undetermined)
            same(planned.runner_up, other[0])
        else:
            assert isinstance(planned.runner_up, Undetermined)


@pytest.mark.parametrize("rule", ["no neighbours", "in pairs"])
def test_it_equals_brute_force_for_twelve_places(rule: str) -> None:
    compared = 0
    for seed in range(8):
        task = drawn(seed, 12, rule)
        bearing = tuple(replace(spot, largest=inf, exception=spot.need > 0.2) for spot in task.spots)
        task = replace(task, spots=bearing, listed=tuple(replace(item, exists=True) for item in task.listed))
        plans, found = brute(task), plan_sizes(task)
        if plans:
            same(sure(found).best, plans[0])
            compared += len(plans)
    assert compared > 50


def test_a_rule_that_forbids_one_and_allows_two_is_not_cut_short() -> None:
    """The one failing place alone is forbidden; with a second, needless exception it is allowed."""
    task = SizeTask((Spot(0.2), Spot(0.2), Spot(2.0)), (Listed(0.5, 100.0),), 150.0, even)
    assert sure(plan_sizes(task)).best == Plan(0.5, (0, 2), 400.0)


def test_neighbours_push_the_set_to_a_larger_size() -> None:
    needs = (Spot(0.2), Spot(0.9), Spot(0.7), Spot(0.2))
    sizes = (Listed(0.5, 100.0), Listed(0.75, 110.0), Listed(1.0, 160.0))
    free = sure(plan_sizes(SizeTask(needs, sizes, 120.0, at_most(2))))
    apart = sure(plan_sizes(SizeTask(needs, sizes, 120.0, no_two_neighbours([(0, 1, 2, 3)]))))
    assert free.best == Plan(0.5, (1, 2), 440.0)
    assert apart.best == Plan(0.75, (1,), 450.0)


def test_exceptions_that_cost_less_than_a_cut_are_taken_though_nothing_forces_them() -> None:
    task = SizeTask((Spot(0.2), Spot(0.2)), (Listed(0.5, 100.0),), 60.0, at_most(1))
    assert sure(plan_sizes(task)).best == Plan(0.5, (0,), 160.0)


def test_when_all_are_exceptions_nothing_is_cut() -> None:
    task = SizeTask((Spot(2.0), Spot(2.0)), (Listed(0.5, 100.0, 300.0),), 60.0, at_most(2))
    planned = sure(plan_sizes(task))
    assert planned.best == Plan(0.0, (0, 1), 120.0)
    assert planned.runner_up == Undetermined("no other listed size cleans every place")


def test_a_need_equal_to_a_size_is_cleaned_up_by_it() -> None:
    assert (
        sure(plan_sizes(SizeTask((Spot(0.1 + 0.2),), (Listed(0.3, 1.0), Listed(0.5, 2.0))))).best.step == 0.3
    )


def test_metal_exactly_enough_is_enough() -> None:
    sizes = (Listed(0.5, 1.0),)
    assert sure(plan_sizes(SizeTask((Spot(0.4, largest=0.5),), sizes))).best.step == 0.5
    assert isinstance(plan_sizes(SizeTask((Spot(0.4, largest=0.499),), sizes)), Undetermined)


def test_where_nothing_is_left_each_size_says_why() -> None:
    task = SizeTask(
        (Spot(0.3), Spot(0.9, largest=1.2)),
        (Listed(0.5, 1.0), Listed(1.0, 1.0, exists=False), Listed(1.5, 1.0)),
    )
    assert plan_sizes(task) == Undetermined(
        "no listed size is left: 0.5 mm: place 2 fails it and cannot all be done otherwise; "
        "1 mm: no parts exist; 1.5 mm: place 2 fails it and cannot all be done otherwise"
    )
    assert plan_sizes(SizeTask((Spot(0.3),), ())) == Undetermined("no size is listed to cut to")


@pytest.mark.parametrize("count", [0, 17])
def test_too_many_or_no_places_are_refused(count: int) -> None:
    with pytest.raises(ValueError, match="1 to 16 places"):
        SizeTask((Spot(0.0),) * count, ())


# ---- what would flip it ----


def flips_of(task: SizeTask) -> tuple[Planned, Flips]:
    planned = sure(plan_sizes(task))
    return planned, what_would_flip(planned)


def with_need(task: SizeTask, place: int, need: float) -> SizeTask:
    spots = list(task.spots)
    spots[place] = replace(spots[place], need=need)
    return replace(task, spots=tuple(spots))


def with_price(task: SizeTask, flip: PriceFlip, by: float) -> SizeTask:
    if flip.what == "one exception":
        return replace(task, exception_each=task.exception_each + by)
    field = flip.what.split()[0]
    listed = tuple(
        replace(item, **{field: getattr(item, field) + by})
        if flip.what.endswith(f" {item.step:g} mm")
        else item
        for item in task.listed
    )
    return replace(task, listed=listed)


def chosen(task: SizeTask) -> tuple[float, tuple[int, ...]] | None:
    plans = brute(task)
    return (plans[0].step, plans[0].exceptions) if plans else None


@given(st.integers(0, 2000), st.sampled_from([2, 3, 5]), st.sampled_from(list(RULES)))
@settings(max_examples=60, deadline=None)
def test_flips_flip_and_nothing_smaller_does(seed: int, count: int, rule: str) -> None:
    task = drawn(seed, count, rule)
    if isinstance(plan_sizes(task), Undetermined):
        return
    planned, flips = flips_of(task)
    best = (planned.best.step, planned.best.exceptions)
    _need_flips(task, best, flips.need)
    if isinstance(flips.price, PriceFlip) and abs(flips.price.by) > 0.01:
        past = np.sign(flips.price.by) * 0.01
        after = brute(with_price(task, flips.price, flips.price.by + past))
        assert after[0].cost < next(p.cost for p in after if (p.step, p.exceptions) == best)
        assert chosen(with_price(task, flips.price, flips.price.by - past)) == best


def _need_flips(task: SizeTask, best: tuple[float, tuple[int, ...]], flip: NeedFlip | Undetermined) -> None:
    least = inf
    if isinstance(flip, NeedFlip):
        least = abs(flip.by)
        need = task.spots[flip.place].need + flip.by
        assert chosen(with_need(task, flip.place, need + (1e-4 if flip.by >= 0 else -1e-4))) != best
    for place, spot in enumerate(task.spots):
        for change in np.arange(-2, 2, 0.02):
            if abs(change) < least - 1e-6:
                assert chosen(with_need(task, place, spot.need + float(change))) == best


def test_a_plan_that_nothing_changes_says_so() -> None:
    planned = sure(plan_sizes(SizeTask((Spot(-1.0),), (Listed(0.5, 10.0),))))
    flips = what_would_flip(planned)
    assert flips.price == Undetermined("no change of one price alone changes the plan")
    assert flips.need == NeedFlip(0, 1.5, None)
