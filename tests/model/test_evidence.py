"""Which evidence counts after corrections and withdrawals, and what an item must carry."""

from random import Random

import pytest
from hypothesis import given
from hypothesis import strategies as st
from pydantic import ValidationError

from inspect_app.model.evidence import Evidence, Finding, standing
from inspect_app.model.pieces import state_rank
from tests.support import decision, finding, look, reading, withdrawal


def counting(*items: Evidence) -> set[str]:
    """Ids that count, checked to be the same in every order of the items."""
    answers = set()
    for seed in range(6):
        shuffled = list(items)
        Random(seed).shuffle(shuffled)
        answers.add(frozenset(item.id for item in standing(tuple(shuffled))))
    assert len(answers) == 1, answers
    return set(answers.pop())


def test_evidence_without_corrections_counts() -> None:
    assert counting(look(id="a"), look(id="b")) == {"a", "b"}


def test_a_correction_takes_the_place_of_what_it_corrects() -> None:
    assert counting(look(id="a"), look(id="b", supersedes="a")) == {"b"}


def test_correcting_a_correction_leaves_only_the_last() -> None:
    assert counting(look(id="a"), look(id="b", supersedes="a"), look(id="c", supersedes="b")) == {"c"}


def test_withdrawing_the_last_correction_brings_back_the_one_before() -> None:
    items = look(id="a"), look(id="b", supersedes="a"), look(id="c", supersedes="b")
    assert counting(*items, withdrawal("c")) == {"b"}


def test_withdrawing_a_middle_correction_does_not_make_two_of_one_line_count() -> None:
    items = look(id="a"), look(id="b", supersedes="a"), look(id="c", supersedes="b")
    assert counting(*items, withdrawal("b")) == {"c"}


def test_withdrawing_every_correction_brings_back_the_first() -> None:
    items = look(id="a"), look(id="b", supersedes="a"), look(id="c", supersedes="b")
    assert counting(*items, withdrawal("b"), withdrawal("c")) == {"a"}


def test_two_withdrawals_that_withdraw_each_other_withdraw_nothing_else() -> None:
    assert counting(withdrawal("v", id="w"), withdrawal("w", id="v"), look(id="a")) == {"a"}


@given(st.lists(st.tuples(st.integers(0, 7), st.booleans()), max_size=8))
def test_of_one_line_of_corrections_one_at_most_counts(aims: list[tuple[int, bool]]) -> None:
    """Random trees of corrections and withdrawals below item 0."""
    items: list[Evidence] = [look(id="0")]
    line = {"0"}
    for number, (aim, withdraws) in enumerate(aims, 1):
        target = str(aim % number)
        if withdraws or target not in line:
            items.append(withdrawal(target, id=str(number)))
        elif not any(item.id in line and getattr(item, "supersedes", None) == target for item in items):
            items.append(look(id=str(number), supersedes=target))
            line.add(str(number))
    assert len(standing(tuple(items))) <= 1


def test_a_withdrawal_hides_its_item_and_itself() -> None:
    assert counting(look(id="a"), look(id="b"), withdrawal("a", id="w")) == {"b"}


def test_withdrawing_a_correction_brings_back_what_it_had_corrected() -> None:
    items = look(id="a"), look(id="b", supersedes="a"), withdrawal("b", id="w")
    assert counting(*items) == {"a"}


def test_withdrawing_a_withdrawal_brings_the_item_back() -> None:
    items = look(id="a"), withdrawal("a", id="w"), withdrawal("w", id="v")
    assert counting(*items) == {"a"}


@pytest.mark.parametrize("circle", [["a"], ["a", "b"], ["a", "b", "c"]])
def test_nothing_in_a_circle_of_corrections_counts(circle: list[str]) -> None:
    ring = [
        look(id=one, supersedes=other) for one, other in zip(circle, circle[1:] + circle[:1], strict=True)
    ]
    assert counting(*ring, look(id="apart")) == {"apart"}


def test_a_very_long_chain_of_corrections_is_followed_to_its_end() -> None:
    chain = [look(id="0"), *(look(id=str(i), supersedes=str(i - 1)) for i in range(1, 3000))]
    assert [item.id for item in standing(tuple(chain))] == ["2999"]


@pytest.mark.parametrize(
    ("state", "rank"), [("as_found", 0), ("washed", 1), ("after 1", 2), ("after 2", 3), ("after 10", 11)]
)
def test_states_rank_in_the_order_of_the_work(state: str, rank: int) -> None:
    assert state_rank(state) == rank


@pytest.mark.parametrize("state", ["", "after 0", "after", "after -1", "after 1.5", "clean", "washed "])
def test_an_unknown_state_is_refused_with_those_that_are_known(state: str) -> None:
    with pytest.raises(ValueError, match="is not a state") as error:
        state_rank(state)
    assert str(error.value) == (
        f'"{state}" is not a state. Use as_found, washed or "after 1" (after operation 1)'
    )


def test_a_confirmed_finding_names_its_test() -> None:
    with pytest.raises(ValidationError, match='needs the id of the test that confirmed it, in "test"'):
        finding("crack", "outside", "confirmed")


@pytest.mark.parametrize(
    ("what", "wanted"), [("waive", "rule"), ("overrule", "rule"), ("customer_answer", "answer")]
)
def test_a_decision_names_what_it_decides(what: str, wanted: str) -> None:
    with pytest.raises(ValidationError, match=f'needs "{wanted}"'):
        decision(what, None)  # type: ignore[arg-type]


@pytest.mark.parametrize("when", ["yesterday", "22.11.2026", "2026-13-01", ""])
def test_a_date_is_written_the_international_way(when: str) -> None:
    with pytest.raises(ValidationError, match="not a date"):
        look(when=when)


def test_evidence_cannot_be_changed_once_made() -> None:
    item = reading("diameter", "pocket driver", "40.01")
    with pytest.raises(ValidationError, match="frozen"):
        item.value = "39.00"  # type: ignore[misc]


def test_an_unknown_key_is_refused() -> None:
    with pytest.raises(ValidationError, match="severity"):
        Finding.model_validate({**finding("crack", "outside").model_dump(), "severity": 3})
