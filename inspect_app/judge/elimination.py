"""The cheapest joint choice, exactly: min-sum elimination of one variable after the other.

A factor is a cost table over a few variables, with one last axis of columns (draws, or floor and
roof); an axis of length 1 stands for all columns alike. Exact for any graph of factors: a loop
only makes a larger table (R. Dechter, "Bucket elimination", Artificial Intelligence 113, 1999, the
method by its name, cited from memory).
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from inspect_app.model.problems import Problem, Problems
from inspect_app.rulebook.tables import LARGEST_TABLE, elimination_order

Table = NDArray[np.float64]
Choice = NDArray[np.intp]

CLOSED = 1e12
"""Added for what is closed: far above any money, and finite, so that no sum becomes undefined."""


@dataclass(frozen=True)
class Factor:
    """Costs over `scope`: table of shape (*domain sizes in the order of scope, columns or 1)."""

    scope: tuple[str, ...]
    table: Table


@dataclass(frozen=True)
class Solution:
    """Least cost per column, and for each variable the option that attains it."""

    cost: Table
    choice: Mapping[str, Choice]


class Solver:
    """Elimination over a fixed graph; `solve` may be called with other tables of the same scopes.

    Raises Problems when the couplings make a table larger than the bound.
    """

    def __init__(self, domains: Mapping[str, int], scopes: Sequence[tuple[str, ...]]) -> None:
        self._domains = dict(domains)
        self._order, size, at = elimination_order(domains, map(frozenset, scopes))
        if size > LARGEST_TABLE:
            what = f"the couplings tie {', '.join(sorted(at))} into one table of {size} entries"
            advice = f"{LARGEST_TABLE} is the most. Take out a coupling or a line billed per core."
            raise Problems([Problem("couplings", f"{what}.", advice)])

    def solve(self, factors: Sequence[Factor]) -> Solution:
        """The joint minimum of the sum of all factors, per column; the first option wins a tie."""
        columns = max((f.table.shape[-1] for f in factors), default=1)
        buckets = list(factors)
        traces: list[tuple[str, tuple[str, ...], Choice]] = []
        for name in self._order:
            here = [f for f in buckets if name in f.scope]
            buckets = [f for f in buckets if name not in f.scope]
            reduced, best = self._eliminate(name, here)
            traces.append((name, reduced.scope, best))
            buckets.append(reduced)
        cost = sum((f.table for f in buckets), np.zeros(1))
        return Solution(np.broadcast_to(cost, (columns,)), _trace(traces, columns))

    def _eliminate(self, name: str, factors: list[Factor]) -> tuple[Factor, Choice]:
        """Sum the factors that hold `name`, and minimise over it."""
        others = tuple(sorted({v for f in factors for v in f.scope} - {name}))
        scope = (*others, name)
        total: Table = np.zeros([self._domains[v] for v in scope] + [1])
        for factor in factors:
            total = total + _expanded(factor, scope)
        axis = len(others)
        return Factor(others, np.asarray(total.min(axis=axis))), np.asarray(total.argmin(axis=axis))


def _expanded(factor: Factor, scope: tuple[str, ...]) -> Table:
    """The factor's table with its axes in the order of `scope` and length 1 for the others."""
    present = [v for v in scope if v in factor.scope]
    order = [factor.scope.index(v) for v in present] + [len(factor.scope)]
    table = factor.table.transpose(order)
    sizes = iter(table.shape)
    shape = [next(sizes) if v in factor.scope else 1 for v in scope]
    return table.reshape([*shape, table.shape[-1]])


def _trace(traces: list[tuple[str, tuple[str, ...], Choice]], columns: int) -> dict[str, Choice]:
    """Choices read back in reverse order of elimination."""
    chosen: dict[str, Choice] = {}
    at = np.arange(columns)
    for name, others, best in reversed(traces):
        column = at if best.shape[-1] > 1 else np.zeros(columns, dtype=np.intp)
        chosen[name] = best[(*(chosen[v] for v in others), column)]
    return chosen
