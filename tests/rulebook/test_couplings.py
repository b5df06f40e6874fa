"""The joint decision stays small: couplings that tie too much together are refused at load."""

from itertools import combinations
from math import prod
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from inspect_app.rulebook.check_couplings import largest_table
from inspect_app.rulebook.tables import LARGEST_TABLE, elimination_order
from tests.support import changed_pack, problems_of, pump_book

PARTS = ("housing", "gear", "shaft", "bushing", "cover")
CONCERNS = {"housing.pockets": "any size", "shaft.journals": "any size", "cover.face": "lap"}
WHY = 'why = "x"\nbasis = "x"\n'


def everything_with_everything() -> str:
    """A coupling between every two parts, every two concerns, and every part and concern."""
    pairs = [f'same_kind = ["{one}", "{other}"]\n' for one, other in combinations(PARTS, 2)]
    for (one, way), (other, its) in combinations(CONCERNS.items(), 2):
        ways = f'{{ of = "{one}", in = "{way}" }}, {{ of = "{other}", in = "{its}" }}'
        pairs.append(f'if_ways = [{ways}]\nadds = [{{ price = "boring" }}]\n')
    for concern, way in CONCERNS.items():
        for part in PARTS:
            if_way = f'if_way = {{ of = "{concern}", in = "{way}" }}\n'
            pairs.append(f'{if_way}closes = {{ part = "{part}", source = "own" }}\n')
    return "\n".join(f'[[coupling]]\nid = "c{i}"\n{WHY}{text}' for i, text in enumerate(pairs))


def test_couplings_that_tie_everything_together_are_refused(tmp_path: Path) -> None:
    (problem,) = problems_of(changed_pack(tmp_path, more=everything_with_everything()))
    # Sources and an empty place: housing 4, others 3 each. Ways and a dummy: pockets and journals 4, face 3.
    entries = 4 * 3 * 3 * 3 * 3 * 4 * 4 * 3
    assert problem.where == "couplings"
    assert problem.what == (
        "the couplings tie bushing, cover, cover.face, gear, housing, housing.pockets, shaft, shaft.journals "
        f"into one table of {entries} entries; {LARGEST_TABLE} is the most."
    )
    assert problem.advice == "Take out a coupling, or let one part of the loop decide alone."


def test_the_couplings_of_the_pump_make_small_tables() -> None:
    # housing 4 x pockets 4; no loop makes anything larger.
    assert largest_table(pump_book())[0] == 16


@pytest.mark.parametrize(
    ("text", "problem"),
    [
        ("", "a coupling has exactly one of if_way, if_source, same_kind, sum, if_ways."),
        (
            'same_kind = ["gear", "shaft"]\nif_source = { of = "gear", is = "replaced" }\n',
            "a coupling has exactly one of if_way, if_source, same_kind, sum, if_ways.",
        ),
        (
            'same_kind = ["gear", "shaft"]\nadds = [{ price = "boring" }]\n',
            '"adds" goes with if_ways, and only with it.',
        ),
        (
            'if_source = { of = "gear", is = "replaced" }\n',
            '"closes" goes with if_way or if_source, and only with them.',
        ),
    ],
)
def test_a_coupling_has_exactly_one_form(tmp_path: Path, text: str, problem: str) -> None:
    told = problems_of(changed_pack(tmp_path, more=f'[[coupling]]\nid = "c"\n{WHY}{text}'))
    assert [str(p) for p in told] == [f"more.toml, coupling c: {problem}"]


@st.composite
def _graphs(draw: st.DrawFn) -> tuple[dict[str, int], list[frozenset[str]]]:
    names = [f"v{i}" for i in range(draw(st.integers(1, 6)))]
    domains = {name: draw(st.integers(1, 4)) for name in names}
    scopes = draw(st.lists(st.frozensets(st.sampled_from(names), min_size=1, max_size=3), max_size=6))
    return domains, scopes


@given(_graphs())
def test_every_variable_is_eliminated_once_and_every_table_is_counted(
    graph: tuple[dict[str, int], list[frozenset[str]]],
) -> None:
    domains, scopes = graph
    order, largest, at = elimination_order(domains, scopes)
    assert sorted(order) == sorted(domains)
    assert largest == prod(domains[name] for name in at)
    assert all(prod(domains[name] for name in scope) <= largest for scope in scopes)
    assert largest <= prod(domains.values())


def test_a_chain_needs_no_table_larger_than_two_neighbours() -> None:
    chain = [frozenset({f"v{i}", f"v{i + 1}"}) for i in range(9)]
    assert elimination_order({f"v{i}": 3 for i in range(10)}, chain)[1] == 9


def test_a_loop_needs_a_table_of_three() -> None:
    loop = [frozenset({f"v{i}", f"v{(i + 1) % 10}"}) for i in range(10)]
    assert elimination_order({f"v{i}": 3 for i in range(10)}, loop)[1] == 27
