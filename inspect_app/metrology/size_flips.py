"""What would flip a plan of sizes: the smallest change of one need, or of one price, that changes it.

Each change is of one number alone. A plan counts as changed when its size or any exception differs.
"""

from collections.abc import Iterator
from dataclasses import dataclass
from math import inf

import numpy as np
from numpy.typing import NDArray

from .estimate import Undetermined
from .size_plan import NEAR, Plan, Planned, PlanTable

JUST_MORE = 1e-6


@dataclass(frozen=True)
class NeedFlip:
    """The need of `place` (from 0) changed by `by` mm gives `then`; None: no plan is left.

    For `by` >= 0 the change must be *more* than `by`: a step equal to a need still cleans it up.
    """

    place: int
    by: float
    then: Plan | None


@dataclass(frozen=True)
class PriceFlip:
    """The price of `what` changed by `by` makes `then` cost as much as the best plan."""

    what: str
    by: float
    then: Plan


@dataclass(frozen=True)
class Flips:
    """The smallest change of each sort."""

    need: NeedFlip | Undetermined
    price: PriceFlip | Undetermined


def what_would_flip(planned: Planned) -> Flips:
    """The smallest change of one need (mm) and of one price that would change the best plan.

    No price is let fall below 0. Undetermined where no change of one number alone does it.

    >>> from .size_plan import Listed, SizeTask, Spot, plan_sizes
    >>> task = SizeTask((Spot(0.3), Spot(0.4)), (Listed(0.5, 100.0), Listed(1.0, 130.0)))
    >>> flips = what_would_flip(plan_sizes(task))
    >>> flips.need.place, round(flips.need.by, 3), flips.price.what, flips.price.by
    (1, 0.1, 'each at 0.5 mm', 30.0)
    """
    return Flips(_need_flip(planned), _price_flip(planned))


def _need_flip(planned: Planned) -> NeedFlip | Undetermined:
    """Needs matter only where they cross a listed step, so only these changes are tried, nearest first."""
    table, needs = planned.table, [spot.need for spot in planned.table.task.spots]
    steps = table.steps[:-1].tolist()
    changes = [(step - need, place) for place, need in enumerate(needs) if need < inf for step in steps]
    for by, place in sorted(changes, key=lambda change: (abs(change[0]), change[1])):
        changed = list(needs)
        changed[place] += by + (JUST_MORE if by >= -NEAR else 0.0)
        cell = table.best(table.priced(changed))
        if cell != planned.cell:
            return NeedFlip(place, by, table.plan(cell) if cell else None)
    return Undetermined("no change of one need alone changes the plan")


def _price_flip(planned: Planned) -> PriceFlip | Undetermined:
    table = planned.table
    priced = table.priced([spot.need for spot in table.task.spots])
    nearest = (_nearest(planned, priced, *price) for price in _prices(table))
    found = [flip for flip in nearest if flip is not None]
    if not found:
        return Undetermined("no change of one price alone changes the plan")
    return min(found, key=lambda flip: (abs(flip.by), flip.what))


def _prices(table: PlanTable) -> Iterator[tuple[str, NDArray[np.float64], float]]:
    """Each price: its name, how often every plan [subsets, columns] pays it, and its amount."""
    cut = len(table.task.spots) - table.excepted
    zero = np.zeros(table.cost.shape)
    if table.task.one_price and table.task.listed:
        item = table.task.listed[0]
        yield "each cut", zero + cut[:, None], item.each
        yield "all cuts once", zero + (cut > 0)[:, None], item.once
    for index, item in enumerate(() if table.task.one_price else table.listed[:-1]):
        each, once = zero.copy(), zero.copy()
        each[:, index], once[:, index] = cut, cut > 0
        yield f"each at {item.step:g} mm", each, item.each
        yield f"once at {item.step:g} mm", once, item.once
    yield "one exception", zero + table.excepted[:, None], table.task.exception_each


def _nearest(
    planned: Planned, priced: NDArray[np.float64], what: str, counts: NDArray[np.float64], price: float
) -> PriceFlip | None:
    """The smallest change of one price at which some other plan draws level with the best."""
    fewer = counts[planned.cell] - counts
    reachable = np.isfinite(priced) & (fewer != 0)
    with np.errstate(divide="ignore", invalid="ignore"):
        by = np.where(reachable, (priced - planned.best.cost) / fewer, inf)
    by = np.where(by < -price, inf, by)
    least = float(np.abs(by).min())
    if least == inf:
        return None
    rows, columns = np.nonzero(np.abs(by) <= least + NEAR * (1 + least))
    row, column = min(zip(rows.tolist(), columns.tolist(), strict=True), key=planned.unlike)
    return PriceFlip(what, float(by[row, column]), planned.table.plan((row, column)))
