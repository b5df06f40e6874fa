"""The joint choice is exact: equal to trying every joint assignment."""

from itertools import product

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from inspect_app.judge.elimination import CLOSED, Factor, Solver
from inspect_app.model.problems import Problems


def brute_force(domains: dict[str, int], factors: list[Factor], columns: int) -> np.ndarray:
    names = list(domains)
    best = np.full(columns, np.inf)
    for values in product(*(range(size) for size in domains.values())):
        at = dict(zip(names, values, strict=True))
        total = sum(np.broadcast_to(f.table[tuple(at[v] for v in f.scope)], (columns,)) for f in factors)
        best = np.minimum(best, total)
    return best


@st.composite
def problems(draw: st.DrawFn) -> tuple[dict[str, int], list[Factor], int]:
    domains = {f"v{i}": draw(st.integers(1, 4)) for i in range(draw(st.integers(1, 6)))}
    columns = draw(st.sampled_from([1, 3]))
    rng = np.random.default_rng(draw(st.integers(0, 2**32 - 1)))
    factors = [
        Factor((name,), rng.integers(0, 50, (size, columns)).astype(float)) for name, size in domains.items()
    ]
    pairs = draw(st.lists(st.sampled_from(list(product(domains, domains))), max_size=8))
    for one, other in pairs:
        if one != other:
            table = rng.integers(
                0, 50, (domains[one], domains[other], draw(st.sampled_from([1, columns])))
            ).astype(float)
            table[rng.random(table.shape) < 0.2] = CLOSED
            factors.append(Factor((one, other), table))
    return domains, factors, columns


@given(problems())
@settings(max_examples=150, deadline=None)
def test_cost_equals_the_best_of_all_joint_assignments(
    problem: tuple[dict[str, int], list[Factor], int],
) -> None:
    domains, factors, columns = problem
    solution = Solver(domains, [f.scope for f in factors]).solve(factors)
    assert np.allclose(solution.cost, brute_force(domains, factors, columns), rtol=1e-12)


@given(problems())
@settings(max_examples=100, deadline=None)
def test_the_choice_read_back_attains_the_cost(problem: tuple[dict[str, int], list[Factor], int]) -> None:
    domains, factors, columns = problem
    solution = Solver(domains, [f.scope for f in factors]).solve(factors)
    for column in range(columns):
        at = {name: int(choice[column]) for name, choice in solution.choice.items()}
        total = sum(f.table[tuple(at[v] for v in f.scope)][column % f.table.shape[-1]] for f in factors)
        assert total == pytest.approx(solution.cost[column], rel=1e-12)


def test_the_first_option_wins_a_tie() -> None:
    factors = [Factor(("a",), np.array([[5.0], [5.0]]))]
    assert Solver({"a": 2}, [("a",)]).solve(factors).choice["a"][0] == 0


def test_a_loop_too_large_is_refused_with_its_variables() -> None:
    names = [f"v{i}" for i in range(5)]
    scopes = [(a, b) for a in names for b in names if a < b]
    with pytest.raises(Problems) as refused:
        Solver(dict.fromkeys(names, 6), scopes)
    text = str(refused.value)
    assert "the couplings tie v0, v1, v2, v3, v4 into one table of 7776 entries" in text
    assert "512 is the most" in text
