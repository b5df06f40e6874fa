"""The joint decision of one core: variables, tables and the solution, for any set of closings."""

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cached_property

import numpy as np

from inspect_app.closing.piece_state import Closings
from inspect_app.model.frozen import BuildStandard
from inspect_app.prices.bill import Need, need_of
from inspect_app.rulebook.engine import Engine

from .choices import OWN, UNPRICED, Choices, Concern, Costs, Group, Pricing, SourceOption
from .couplings import Link, links
from .elimination import CLOSED, Factor, Solution, Solver

PositionClosings = Mapping[str, Closings]


def core_needs(engine: Engine, standard: BuildStandard) -> tuple[Need, ...]:
    """Lines of the whole core in every bill of this build standard."""
    forms = engine.book.core_lines.values()
    return tuple(need_of(form.bill) for form in forms if not form.standards or standard in form.standards)


class Joint:
    """Source of each group, way of each concern, and whether each shared line is bought.

    A shared line is a variable of its own: whatever needs it is closed while it is not bought, so
    it is paid once, and exactly. Lines of the whole core are paid in any case and need none.
    """

    def __init__(self, engine: Engine, choices: Choices, standard: BuildStandard) -> None:
        self.engine = engine
        self.choices = choices
        self.pricing = Pricing(engine.book.prices)
        self.links: list[Link] = links(engine, choices, standard)
        self.always = core_needs(engine, standard)
        self._paid = {need.price for need in self.always}
        self._costs = Costs(engine, self.pricing)
        self._fixed = [*self._link_factors(), *self._line_factors()]
        self._solver = Solver(self._domains(), [factor.scope for factor in self._all_scopes()])

    def _domains(self) -> dict[str, int]:
        groups = {g.variable: len(g.options) for g in self.choices.groups.values()}
        concerns = {name: c.idle + 1 for name, c in self.choices.concerns.items()}
        return groups | concerns | {_line_variable(price): 2 for price in self.shared}

    def _all_scopes(self) -> list[Factor]:
        bare = [Factor((name,), np.zeros((1, 1))) for name in self._domains()]
        return [*bare, *self._fixed]

    @cached_property
    def shared(self) -> dict[str, float]:
        """Shared prices that something may need, with their mean cost."""
        found: dict[str, float] = {}
        for _, needs in self._needing():
            for need in needs:
                if need.shared and need.price not in self._paid:
                    known = need.price in self.pricing.prices
                    cost = self.pricing.mean(need.price) * need.quantity if known else UNPRICED
                    found[need.price] = max(cost, found.get(need.price, 0.0))
        return found

    @cached_property
    def links_to(self) -> dict[str, list[Link]]:
        """The couplings that can force each position; lines that two ways add force nobody."""
        found: dict[str, list[Link]] = {position: [] for position in self.choices.states}
        for link in self.links:
            for position in () if link.adds else self.choices.positions_of[link.target]:
                found[position].append(link)
        return found

    def _needing(self) -> list[tuple[tuple[str, int], tuple[Need, ...]]]:
        """(variable, option) with what it needs."""
        groups = [
            ((g.variable, i), option.needs)
            for g in self.choices.groups.values()
            for i, option in enumerate(g.options)
        ]
        ways = [
            ((name, i), needs) for name, c in self.choices.concerns.items() for i, needs in enumerate(c.needs)
        ]
        return [*groups, *ways]

    def _link_factors(self) -> list[Factor]:
        kept = [
            Factor((group.variable, concern.variable), _kept_table(group, concern))
            for concern in self.choices.concerns.values()
            for group in [self.choices.group_at[concern.position]]
        ]
        return kept + [link.factor(self.pricing.unshared(link.adds)) for link in self.links]

    def _line_factors(self) -> list[Factor]:
        domains = self._domains()
        tables: dict[tuple[str, str], np.ndarray[tuple[int, ...], np.dtype[np.float64]]] = {}
        for (variable, option), needs in self._needing():
            for need in needs:
                if need.price in self.shared and need.shared:
                    key = (variable, _line_variable(need.price))
                    table = tables.setdefault(key, np.zeros((domains[variable], 2, 1)))
                    table[option, 0] = CLOSED
        bought = [
            Factor((_line_variable(price),), np.array([[0.0], [cost]])) for price, cost in self.shared.items()
        ]
        return [*bought, *(Factor(key, table) for key, table in tables.items())]

    def solve(self, closings: PositionClosings) -> Solution:
        """The cheapest joint choice in every column of the closings."""
        factors = list(self._fixed)
        for group in self.choices.groups.values():
            mine = [closings[position] for position in group.positions]
            factors.append(Factor((group.variable,), self._costs.of_group(group, mine)))
        for name, concern in self.choices.concerns.items():
            ladder = closings[concern.position].ladders[concern.number]
            factors.append(Factor((name,), self._costs.of_concern(concern, ladder)))
        return self._solver.solve(factors)

    def outcome(self, closings: PositionClosings, column: int = 0) -> "Outcome":
        """The joint choice in one column."""
        solution = self.solve(closings)
        picked = {name: int(choice[column]) for name, choice in solution.choice.items()}
        return Outcome(self, closings, picked, float(solution.cost[column]))


def _line_variable(price: str) -> str:
    return f"line {price}"


def _kept_table(group: Group, concern: Concern) -> np.ndarray[tuple[int, ...], np.dtype[np.float64]]:
    """A piece that is kept takes a way; one that is not takes the idle way."""
    table = np.zeros((len(group.options), concern.idle + 1, 1))
    for number, option in enumerate(group.options):
        if option.source == OWN:
            table[number, concern.idle] = CLOSED
        else:
            table[number, : concern.idle] = CLOSED
    return table


@dataclass(frozen=True)
class Outcome:
    """One joint choice, read position by position."""

    joint: Joint
    closings: PositionClosings
    picked: Mapping[str, int]
    cost: float

    def option(self, position: str) -> SourceOption:
        """The source taken for the group that a position is bought with."""
        group = self.joint.choices.group_at[position]
        return group.options[self.picked[group.variable]]

    def keeps(self, position: str) -> bool:
        """Whether the own piece stays."""
        return self.option(position).source == OWN

    def ways(self, position: str) -> list[tuple[Concern, int]]:
        """The way taken for each concern of a piece that stays."""
        if not self.keeps(position):
            return []
        return [(c, self.picked[c.variable]) for c in self.joint.choices.concerns_at[position]]

    def same_at(self, position: str, other: "Outcome") -> bool:
        """Whether another outcome takes the same source and ways here."""
        mine = [(c.variable, way) for c, way in self.ways(position)]
        theirs = [(c.variable, way) for c, way in other.ways(position)]
        return self.option(position) == other.option(position) and mine == theirs
