"""One listed size for a set of places, with exceptions where a place is done otherwise: the exact plan.

Every place of a set is cut to one size, except those done another way (a hole that is lined and comes
back to standard, say). Over all listed sizes and **all** subsets of exceptions the cheapest allowed
plan is taken; no shortcut assumes that fewer exceptions are better, that the smallest size is
cheapest, or that a rule which forbids three also forbids four. Work grows as 2^places times sizes.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from math import inf

import numpy as np
from numpy.typing import NDArray

from .estimate import Undetermined
from .size_rules import Rule, at_most

MOST_PLACES = 16
NEAR = 1e-9
NO_EXCEPTION = at_most(0)


@dataclass(frozen=True)
class Spot:
    """One place: the step it needs, the largest step its metal bears (mm), whether an exception can be."""

    need: float
    largest: float = inf
    exception: bool = True


@dataclass(frozen=True)
class Listed:
    """One listed step (mm), its price for each place cut and once, and whether parts of it exist."""

    step: float
    each: float
    once: float = 0.0
    exists: bool = True


@dataclass(frozen=True)
class Plan:
    """Cut all places to `step` but the `exceptions` (counted from 0), for `cost`.

    Where every place is an exception nothing is cut, and `step` is 0.
    """

    step: float
    exceptions: tuple[int, ...]
    cost: float


@dataclass(frozen=True)
class SizeTask:
    """The set: places, listed sizes, the price of one exception and the rule on exceptions.

    `one_price`: all listed sizes have the same prices, and a change of one is a change of all.
    """

    spots: tuple[Spot, ...]
    listed: tuple[Listed, ...]
    exception_each: float = inf
    rule: Rule = NO_EXCEPTION
    one_price: bool = False

    def __post_init__(self) -> None:
        if not 1 <= len(self.spots) <= MOST_PLACES:
            raise ValueError(f"a set has 1 to {MOST_PLACES} places, not {len(self.spots)}")
        if self.one_price and len({(item.each, item.once) for item in self.listed}) > 1:
            raise ValueError("the listed sizes differ in price, and so have not one price")


Cell = tuple[int, int]
"""A plan in the table: its subset of exceptions as bits, and its column."""


class PlanTable:
    """Costs [subsets, columns] of a task, and which plans its rule allows.

    One column for each listed size by rising step, and a last one in which nothing is cut: there, and
    only there, every place is an exception.
    """

    def __init__(self, task: SizeTask) -> None:
        self.task = task
        self.listed = (*sorted(task.listed, key=lambda item: item.step), Listed(0.0, 0.0))
        count = len(task.spots)
        self.masks = np.arange(2**count)
        self.members = (self.masks[:, None] >> np.arange(count)) & 1 == 1
        self.excepted = self.members.sum(axis=1)
        self.steps = np.array([item.step for item in self.listed])
        self.possible = self._possible()
        self.cost = self._costs()

    def _possible(self) -> NDArray[np.bool_]:
        allowed = np.array([self._allowed(mask) for mask in range(len(self.masks))], dtype=bool)
        possible = allowed[:, None] & np.array([item.exists for item in self.listed], dtype=bool)
        possible[:-1, -1] = possible[-1, :-1] = False
        return np.asarray(possible)

    def _allowed(self, mask: int) -> bool:
        places = frozenset(self.places(mask))
        return all(self.task.spots[place].exception for place in places) and self.task.rule(places)

    def places(self, mask: int) -> tuple[int, ...]:
        """The places whose bits are set, counted from 0.

        >>> PlanTable(SizeTask((Spot(0.1),) * 3, ())).places(0b101)
        (0, 2)
        """
        return tuple(place for place in range(len(self.task.spots)) if mask >> place & 1)

    def _costs(self) -> NDArray[np.float64]:
        cut = (len(self.task.spots) - self.excepted)[:, None]
        each = np.array([item.each for item in self.listed])
        once = np.array([item.once for item in self.listed])
        lined = np.array([count * self.task.exception_each if count else 0.0 for count in self.excepted])
        return np.asarray(cut * each + np.where(cut > 0, once, 0.0) + lined[:, None])

    def failing(self, needs: Sequence[float]) -> NDArray[np.int64]:
        """For each column, the places (as bits) that it does not clean up or whose metal it passes.

        >>> table = PlanTable(SizeTask((Spot(0.3), Spot(0.7)), (Listed(0.5, 100.0), Listed(1.0, 130.0))))
        >>> table.failing([0.3, 0.7]).tolist()
        [2, 0, 3]
        """
        largest = np.array([spot.largest for spot in self.task.spots])[:, None]
        fails = (self.steps < np.array(needs)[:, None] - NEAR) | (self.steps > largest + NEAR)
        return np.asarray((fails << np.arange(len(needs))[:, None]).sum(axis=0), dtype=np.int64)

    def priced(self, needs: Sequence[float]) -> NDArray[np.float64]:
        """Costs [subsets, columns] of the plans that clean every place; infinite for all others."""
        covers = (self.failing(needs) & ~self.masks[:, None]) == 0
        return np.where(covers & self.possible, self.cost, inf)

    def best(self, priced: NDArray[np.float64]) -> Cell | None:
        """The cheapest; of equals the smaller step, then fewer exceptions, then the earlier places."""
        least = float(priced.min(initial=inf))
        if least == inf:
            return None
        rows, columns = np.nonzero(priced <= least + NEAR * (1 + abs(least)))
        cells = zip(rows.tolist(), columns.tolist(), strict=True)
        return min(
            cells, key=lambda cell: (self.steps[cell[1]], self.excepted[cell[0]], self.places(cell[0]))
        )

    def plan(self, cell: Cell) -> Plan:
        """The plan in one cell."""
        return Plan(self.listed[cell[1]].step, self.places(cell[0]), float(self.cost[cell]))


@dataclass(frozen=True)
class Planned:
    """The cheapest plan, the cheapest at another size, and where in which table the best one stands."""

    best: Plan
    runner_up: Plan | Undetermined
    table: PlanTable
    cell: Cell

    def unlike(self, cell: Cell) -> tuple[bool, int, Cell]:
        """What sorts plans at another size first, then those with few exceptions."""
        return (cell[1] == self.cell[1], int(self.table.excepted[cell[0]]), cell)


def plan_sizes(task: SizeTask) -> Planned | Undetermined:
    """The cheapest plan of a set, exactly, and the runner-up: the cheapest at any *other* listed size.

    Prices in one currency, steps in mm, at most 16 places. A step equal to a need cleans it up.
    Undetermined, naming the reason for each size, where nothing is allowed. Needs are taken as sure:
    ask `size_flips.what_would_flip` how much they may change.

    >>> spots = (Spot(0.3), Spot(0.3), Spot(0.9))
    >>> sizes = (Listed(0.5, 100.0), Listed(1.0, 130.0))
    >>> plan_sizes(SizeTask(spots, sizes, 150.0, at_most(1))).best
    Plan(step=0.5, exceptions=(2,), cost=350.0)
    """
    table = PlanTable(task)
    priced = table.priced([spot.need for spot in task.spots])
    cell = table.best(priced)
    if cell is None:
        return Undetermined(_nothing(table))
    others = priced.copy()
    others[:, cell[1]] = inf
    other = table.best(others)
    runner_up = table.plan(other) if other else Undetermined("no other listed size cleans every place")
    return Planned(table.plan(cell), runner_up, table, cell)


def _nothing(table: PlanTable) -> str:
    if not table.task.listed:
        return "no size is listed to cut to"
    fails = table.failing([spot.need for spot in table.task.spots]).tolist()
    reasons = [
        f"{item.step:g} mm: " + ("no parts exist" if not item.exists else _failing_words(table, mask))
        for item, mask in zip(table.listed[:-1], fails[:-1], strict=True)
    ]
    return "no listed size is left: " + "; ".join(reasons)


def _failing_words(table: PlanTable, mask: int) -> str:
    places = ", ".join(str(place + 1) for place in table.places(mask))
    return (
        f"place {places} fails it and cannot all be done otherwise"
        if mask
        else "the rule on exceptions forbids it"
    )
