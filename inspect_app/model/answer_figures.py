"""The figures of an answer: what was measured, against what; profiles read; the plan of a set of sizes.

Lengths are in the unit named beside them, as the quantity is shown.
"""

from typing import Literal

from .frozen import Frozen, LimitFrom, Spread


class Measured(Frozen):
    """A value with its standard uncertainty. `bound`: what is not read yet can only move it that way.

    `places`: the decimal places to show it with; null: those of a gauge for the unit.
    """

    value: float
    unit: str
    u: float
    bound: Literal["exact", "at_least", "at_most"] = "exact"
    places: int | None = None


class LimitShown(Frozen):
    """A limit; `places` as in `Measured`."""

    value: float
    unit: str
    places: int | None = None


class FigureShown(Frozen):
    """One figure that was read at least in part, beside its limit if it has one.

    `limit_basis` is what the limit rests on: the sheet's source for the maker's, else the written basis.
    `state` is where the decision stands; `p_beyond` as in a reason that closes.
    """

    quantity: str
    title: str
    place: str
    measured: Measured
    worse: Literal["above", "below"]
    limit: LimitShown | None = None
    limit_from: LimitFrom | None = None
    limit_basis: str = ""
    decision: Literal["simple", "guarded"] | None = None
    p_beyond: float | None = None
    close_call: bool = False
    state: Literal["inside", "beyond", "open", "no limit"] = "no limit"


class ProfilePoint(Frozen):
    """A size read at one station and direction; null where nothing was read."""

    station: str
    direction: str
    value: float | None


class Profile(Frozen):
    """Sizes read at one round place, all in `unit`, with the present unworn size and that to be cut to."""

    place: str
    quantity: str
    body: Literal["hole", "shaft"]
    unit: str
    stations: tuple[str, ...]
    directions: tuple[str, ...]
    points: tuple[ProfilePoint, ...]
    unworn: float | None = None
    cut_to: float | None = None
    cut_name: str | None = None


class WayTaken(Frozen):
    """The way chosen for one concern; `except_at` names the places done otherwise, by `except_way`."""

    concern: str
    way: str
    size: str | None = None
    except_at: tuple[str, ...] = ()
    except_way: str | None = None


class SizeNeed(Frozen):
    """The step from standard at which one place cleans up, from the least factor of wear to the largest.

    `usual` is at the usual factor, `shown` its sum in words of arithmetic; the next listed size is that at
    which it cleans up for certain. Null where something is not read.
    """

    place: str
    low: float | None
    usual: float | None
    high: float | None
    shown: str
    next_size: str | None
    left: Measured | None = None


class SizeChange(Frozen):
    """The smallest change of one need, or of one price, under which another plan is the best.

    `by` is in the unit of the plan or in money; `then` null: no plan is left. A need is counted from the
    least that the place needs; `at` is the listed size, from standard, that it passes then. Before the least
    passes it the most does: between the two a trial cut tells.
    """

    of: Literal["need", "price"]
    what: str
    by: float
    then: WayTaken | None
    at: float | None = None


class SizePlan(Frozen):
    """The plan for a set of places that share one size: needs, the best plan by the readings, the next best.

    `decided_by` names the place that needs the most of those that are cut; `left_over` the listed sizes
    that remain for the next time. `why_not` says why there is no runner-up.
    """

    concern: str
    unit: str
    needs: tuple[SizeNeed, ...]
    best: WayTaken
    cost: Spread
    decided_by: str | None
    left_over: tuple[str, ...]
    runner_up: WayTaken | None
    costs_more: float | None
    why_not: str | None
    flips: tuple[SizeChange, ...]
