"""Three-valued logic: met, open and not met through every combination of conditions, real or drawn."""

from collections.abc import Callable
from dataclasses import dataclass
from itertools import product

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from pydantic import TypeAdapter

from inspect_app.rulebook.conditions import Threshold, compile_one, open_leaves
from inspect_app.rulebook.forms_conditions import Condition
from inspect_app.rulebook.pair import Pair

STATES = {"met": (True, True), "open": (False, True), "not met": (False, False)}
WORDS = ("crack", "pitting", "scoring")
_form: TypeAdapter[Condition] = TypeAdapter(Condition)

# Kleene's three-valued logic, written out: the truth of "and" is the worse, of "or" the better one.
ORDER = ("not met", "open", "met")
TURNED = {"met": "not met", "open": "open", "not met": "met"}


def pair(*states: str) -> Pair:
    """One place for each state."""
    must, may = np.array([STATES[state] for state in states]).T
    return Pair(must, may)


def said(given: Pair) -> list[str]:
    names = {truth: name for name, truth in STATES.items()}
    return [names[(bool(must), bool(may))] for must, may in zip(given.must, given.may, strict=True)]


@dataclass(frozen=True)
class Table:
    """A scene that is nothing but a table: damage word -> what is known of it at each place."""

    states: dict[str, Pair]
    names: tuple[str, ...] = ("journal",)

    def finding(self, damage: str, kind: str, zone: tuple[str, ...]) -> Pair:
        return self.states[damage]

    def beyond(self, quantity: str, kind: str, threshold: Threshold | None, if_read: bool) -> Pair:
        return self.states[quantity]

    def test(self, method: str, kind: str | None, zone: tuple[str, ...]) -> Pair:
        return self.states[method]

    def look(self, method: str, kind: str | None, zone: tuple[str, ...]) -> Pair:
        return self.states[method]

    def report(self, says: str) -> Pair:
        return self.states[says]

    def sign(self, sign: str, answer: str) -> Pair:
        return self.states[sign]

    def kinds(self) -> tuple[str, ...]:
        return self.names


_states = st.sampled_from(ORDER)
_leaf = st.sampled_from(WORDS).map(lambda word: {"finding": word})
_trees = st.recursive(
    _leaf,
    lambda inner: st.one_of(
        st.lists(inner, min_size=1, max_size=3).map(lambda parts: {"all": parts}),
        st.lists(inner, min_size=1, max_size=3).map(lambda parts: {"any": parts}),
        inner.map(lambda part: {"not": part}),
    ),
    max_leaves=8,
)
_tables = st.fixed_dictionaries(dict.fromkeys(WORDS, _states))


def by_hand(tree: dict[str, object], known: dict[str, str]) -> str:
    """The same tree in the words met, open and not met, without arrays."""
    ((head, body),) = tree.items()
    if head == "finding":
        return known[str(body)]
    if head == "not":
        return TURNED[by_hand(body, known)]  # type: ignore[arg-type]
    choose: Callable[..., str] = min if head == "all" else max
    return choose((by_hand(part, known) for part in body), key=ORDER.index)  # type: ignore[attr-defined]


def run(tree: dict[str, object], known: dict[str, str]) -> str:
    scene = Table({word: pair(state) for word, state in known.items()})
    return said(compile_one(_form.validate_python(tree)).evaluate(scene, "journal"))[0]


@given(_trees, _tables)
def test_every_tree_says_what_three_valued_logic_says(tree: dict[str, object], known: dict[str, str]) -> None:
    assert run(tree, known) == by_hand(tree, known)


@given(_trees, _tables, st.data())
def test_finding_out_never_contradicts_what_was_decided(
    tree: dict[str, object], known: dict[str, str], data: st.DataObject
) -> None:
    settled = {
        w: data.draw(st.sampled_from(["met", "not met"])) if s == "open" else s for w, s in known.items()
    }
    before, after = run(tree, known), run(tree, settled)
    assert before in (after, "open")


@given(st.lists(st.tuples(_states, _states), min_size=1, max_size=6))
def test_de_morgan_holds_for_pairs(states: list[tuple[str, str]]) -> None:
    one, other = pair(*(a for a, _ in states)), pair(*(b for _, b in states))
    assert said(~(one & other)) == said(~one | ~other)
    assert said(~(one | other)) == said(~one & ~other)
    assert said(~~one) == said(one)


@given(st.lists(st.tuples(_states, _states), min_size=1, max_size=6))
def test_what_must_hold_may_hold(states: list[tuple[str, str]]) -> None:
    one, other = pair(*(a for a, _ in states)), pair(*(b for _, b in states))
    for result in (one & other, one | other, ~one, one.any_place()):
        assert not (result.must & ~result.may).any()


@given(st.lists(st.booleans(), min_size=1, max_size=8), st.data())
def test_without_doubt_the_second_half_is_never_computed(truth: list[bool], data: st.DataObject) -> None:
    one = Pair.known(np.array(truth))
    other = Pair.known(np.array(data.draw(st.lists(st.booleans(), min_size=len(truth), max_size=len(truth)))))
    for result in (one & other, one | other, ~one, one.any_place()):
        assert result.must is result.may
    assert (one & other).must.tolist() == [a and b for a, b in zip(truth, other.must.tolist(), strict=True)]


@pytest.mark.parametrize(
    ("places", "somewhere"),
    [(("met", "not met"), "met"), (("open", "not met"), "open"), (("not met",) * 2, "not met")],
)
def test_it_holds_somewhere_as_far_as_it_holds_anywhere(places: tuple[str, str], somewhere: str) -> None:
    assert said(pair(*places).any_place()) == [somewhere]


@pytest.mark.parametrize(("one", "other"), list(product(ORDER, repeat=2)))
def test_a_condition_at_another_place_holds_for_all_places_alike(one: str, other: str) -> None:
    scene = Table({"scoring": pair(one, other)})
    node = compile_one(_form.validate_python({"finding": "scoring", "place": "thrust"}))
    assert said(node.evaluate(scene, "journal")) == [max(one, other, key=ORDER.index)]
    assert said(node.evaluate(scene, "thrust")) == [one, other]


def test_a_condition_of_the_whole_part_asks_every_kind_of_place() -> None:
    scene = Table({"scoring": pair("not met", "open", "met")}, names=("journal", "thrust"))
    node = compile_one(_form.validate_python({"finding": "scoring"}))
    assert said(node.evaluate(scene, None)) == ["met"]


def _open(tree: dict[str, object], **known: str) -> list[str]:
    scene = Table({word: pair(known.get(word, "open")) for word in WORDS})
    node = compile_one(_form.validate_python(tree))
    return [leaf.form.finding for leaf in open_leaves(node, scene, "journal", 0)]  # type: ignore[union-attr]


ALL = {"all": [{"finding": word} for word in WORDS]}
ANY = {"any": [{"finding": word} for word in WORDS]}


def test_of_an_all_only_the_first_open_condition_is_asked_for() -> None:
    assert _open(ALL) == ["crack"]
    assert _open(ALL, crack="met") == ["pitting"]


def test_of_an_any_every_open_condition_is_asked_for() -> None:
    assert _open(ANY) == list(WORDS)
    assert _open(ANY, pitting="not met") == ["crack", "scoring"]


@pytest.mark.parametrize("decided", ["met", "not met"])
def test_nothing_is_asked_for_where_the_whole_is_decided(decided: str) -> None:
    assert _open(ANY if decided == "met" else ALL, scoring=decided) == []
