"""What can be chosen: sources of each group of positions, ways of each concern, and what they cost."""

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cached_property
from typing import Literal

import numpy as np

from inspect_app.closing.ladders import Ladder, Way
from inspect_app.closing.missing import of_row
from inspect_app.closing.piece_state import Closings, PieceState
from inspect_app.model.frozen import Source
from inspect_app.prices.bill import Need, mean, need_of, unpriced
from inspect_app.rulebook.engine import Engine
from inspect_app.rulebook.forms_parts import WayForm
from inspect_app.rulebook.forms_rules import PriceForm
from inspect_app.rulebook.pair import Bools

from .elimination import CLOSED, Table

UNPRICED = 1e9
"""Cost of an option whose price is missing: above any bill, so that it is never chosen for money."""
NO_SOURCE = 1e11
"""Cost of leaving a position empty: only when everything else is closed."""
_RUNG = 1e-7
"""A tie goes to the own piece, then to the lower rung."""
OWN: Literal["own"] = "own"
EMPTY: Literal["none"] = "none"


@dataclass(frozen=True)
class SourceOption:
    """A source of pieces for a group; `kind` is the kind of the piece that it brings."""

    source: Source | Literal["none"]
    kind: str | None
    needs: tuple[Need, ...]

    @property
    def named(self) -> Source | None:
        """The source as the answer names it; None for an empty position."""
        return None if self.source == "none" else self.source


@dataclass(frozen=True)
class Group:
    """Positions that are bought together, with their sources; the first option is the own pieces."""

    id: str
    part: str
    positions: tuple[str, ...]
    options: tuple[SourceOption, ...]

    @property
    def variable(self) -> str:
        """The name of the variable that decides its source."""
        return f"source of {self.id}"


@dataclass(frozen=True)
class Concern:
    """One concern of one position: its ladder and the needs of each way, without exceptions.

    `done` holds the operations that the lowest way need not repeat.
    """

    position: str
    part: str
    number: int
    ladder: Ladder
    needs: tuple[tuple[Need, ...], ...]
    done: frozenset[str] = frozenset()

    @property
    def id(self) -> str:
        """The id of the concern in its part."""
        return self.ladder.concern.id

    @property
    def variable(self) -> str:
        """The name of the variable that decides its way."""
        return f"{self.id} of {self.position}"

    @property
    def idle(self) -> int:
        """Index of the dummy way that a piece not kept takes."""
        return len(self.ladder.ways)


def way_needs(
    engine: Engine, form: WayForm, places: int, done: frozenset[str] = frozenset()
) -> tuple[Need, ...]:
    """What doing a way at `places` places needs, operations in `done` left out."""
    wanted = [engine.book.operations[name] for name in form.does if name not in done]
    return tuple(need_of(bill, places) for operation in wanted for bill in operation.bills)


def done_on(engine: Engine, state: PieceState) -> frozenset[str]:
    """Operations recorded on a piece, with those they include: the lowest rung need not repeat them.

    A higher rung is only taken where evidence asks for it again, and is billed whole.
    """
    done = [engine.book.operations[work.operation] for work in state.piece.operations]
    return frozenset(name for operation in done for name in (operation.id, *operation.includes))


def concerns_of(engine: Engine, state: PieceState) -> list[Concern]:
    """The concerns of a piece with what each way needs at all its places."""
    found, done = [], done_on(engine, state)
    for number, ladder in enumerate(state.real.ladders):
        each = ladder.concern.each
        count = len(ladder.places) or (len(engine.places(state.position.part, each)) if each else 1)
        needs = tuple(
            way_needs(engine, way.form, count, done if rung == 0 else frozenset())
            for rung, way in enumerate(ladder.ways)
        )
        found.append(Concern(state.position.id, state.position.part, number, ladder, needs, done))
    return found


def exception_needs(engine: Engine, concern: Concern, way: Way, count: int) -> tuple[Need, ...]:
    """Needs of `count` exceptions, and what their places no longer need of the common way (negative)."""
    form = concern.ladder.concern.exception
    if form is None or not count:
        return ()
    spared = concern.done if way is concern.ladder.ways[0] else frozenset()
    saved = [
        Need(bill.price, -bill.quantity * bill.chance * count)
        for name in way.form.does
        if name not in spared
        for bill in engine.book.operations[name].bills
        if bill.per == "place"
    ]
    return (*way_needs(engine, form, count), *saved)


def group_of(engine: Engine, id_: str, states: list[PieceState]) -> Group:
    """The sources of a group: its own pieces with the tests they still want, and every replacement."""
    part = engine.book.parts[states[0].position.part]
    own = tuple(need for state in states for need in tests_needed(engine, state))
    kinds = engine.sheet.kinds.get(part.id)
    options = [SourceOption(OWN, states[0].piece.kind or engine.fitted_kind(part.id), own)]
    for form in part.source:
        needs = tuple(need_of(bill) for bill in form.bills)
        fitted = (kinds.fitted if kinds else None,)
        for kind in fitted if form.kind == "fitted" else (kinds.others if kinds else ()):
            options.append(SourceOption(form.source, kind, needs))
    options.append(SourceOption(EMPTY, None, ()))
    return Group(id_, part.id, tuple(state.position.id for state in states), tuple(options))


def tests_needed(engine: Engine, state: PieceState) -> list[Need]:
    """Bills of the part's tests that some rule still waits for."""
    wanted = {item.what for row in state.rows for item in of_row(state, row)}
    return [
        need_of(bill)
        for form in engine.book.parts[state.position.part].test
        if engine.book.methods[form.method].title in wanted
        for bill in form.bills
    ]


class Pricing:
    """Money of needs: own lines as they stand, shared ones left to their own variable."""

    def __init__(self, prices: Mapping[str, PriceForm]) -> None:
        self.prices = prices
        self._means = {name: mean(price) for name, price in prices.items()}

    def unshared(self, needs: tuple[Need, ...]) -> float:
        """Mean cost of the needs that are not shared, with the penalty of every missing price."""
        lacking = len(unpriced(needs, self.prices)) * UNPRICED
        return lacking + sum(self._means.get(n.price, 0.0) * n.quantity for n in needs if not n.shared)

    def mean(self, price: str) -> float:
        """The mean of a price, 0 where it is missing: `unshared` adds the penalty."""
        return self._means.get(price, 0.0)


@dataclass(frozen=True)
class Costs:
    """Unary tables of one set of closings, [options, columns]."""

    engine: Engine
    pricing: Pricing

    def of_group(self, group: Group, closings: list[Closings]) -> Table:
        """Costs of a group's sources with CLOSED where any of its pieces is closed."""
        width = closings[0].own.shape[0]
        rows = []
        for rank, option in enumerate(group.options):
            cost = np.full(width, self.pricing.unshared(option.needs) + _RUNG * 1e3 * rank)
            if option.source == EMPTY:
                cost += NO_SOURCE
            else:
                cost += CLOSED * _any_closed(option.source, closings)
            rows.append(cost)
        return np.stack(rows)

    def of_concern(self, concern: Concern, ladder: Ladder) -> Table:
        """Costs of a concern's ways, exceptions at the places that fail included, then the idle way."""
        rows = []
        for rank, way in enumerate(ladder.ways):
            cost = CLOSED * ladder.closed[rank] + self.pricing.unshared(concern.needs[rank]) + _RUNG * rank
            if ladder.concern.exception is not None:
                one = exception_needs(self.engine, concern, way, 1)
                cost = cost + self.pricing.unshared(one) * ladder.exceptions[rank].sum(axis=0)
            rows.append(cost)
        rows.append(np.zeros(ladder.closed.shape[1]))
        return np.stack(rows)


def _any_closed(source: str, closings: list[Closings]) -> Bools:
    if source == OWN:
        return np.asarray(np.any([c.own for c in closings], axis=0))
    return np.asarray(np.any([c.sources[source] for c in closings], axis=0))


class Choices:
    """Everything that can be chosen for one core."""

    def __init__(self, engine: Engine, states: Mapping[str, PieceState]) -> None:
        self.engine = engine
        self.states = states
        groups: dict[str, list[PieceState]] = {}
        for state in states.values():
            groups.setdefault(engine.group(state.position), []).append(state)
        self.groups = {id_: group_of(engine, id_, members) for id_, members in groups.items()}
        self.concerns = {c.variable: c for state in states.values() for c in concerns_of(engine, state)}

    @cached_property
    def group_at(self) -> dict[str, Group]:
        """The group of each position."""
        return {position: group for group in self.groups.values() for position in group.positions}

    @cached_property
    def positions_of(self) -> dict[str, tuple[str, ...]]:
        """The positions that each variable decides about."""
        groups = {group.variable: group.positions for group in self.groups.values()}
        return groups | {name: (concern.position,) for name, concern in self.concerns.items()}

    @cached_property
    def concerns_at(self) -> dict[str, list[Concern]]:
        """The concerns of each position."""
        found: dict[str, list[Concern]] = {position: [] for position in self.states}
        for concern in self.concerns.values():
            found[concern.position].append(concern)
        return found
