"""Whether a damage word holds: a suited test beats measuring, measuring the eye, the eye a suspicion."""

from itertools import permutations
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from inspect_app.model.evidence import Evidence
from inspect_app.model.pieces import Piece
from tests.support import engine_with, finding, look, said, state_of, trial

ON_SHAFT = {"piece": "shaft driver"}
FILLET = "journal 1/fillet"
ORDER = ("not met", "open", "met")


def crack(strength: str = "seen", place: str = FILLET, **more: str) -> Evidence:
    return finding("crack", place, strength, **ON_SHAFT, **more)


def magnetic(*places: str, **more: str) -> Evidence:
    return trial("magnetic-particle", *places, **ON_SHAFT, **more)


def shaft(*items: Evidence, place: str = "journal 1") -> str:
    """What the rule on cracks in the fillet says."""
    return said(state_of("shaft driver", *items), "journal-cracked", place)


def housing(*items: Evidence) -> str:
    return said(state_of("housing", *items), "housing-cracked", "outside")


def cover(*items: Evidence) -> str:
    return said(state_of("cover", *items), "cover-scored", "seal_face")


def scoring(strength: str = "seen", **more: str) -> Evidence:
    return finding("scoring", "seal_face", strength, piece="cover", **more)


def test_what_nobody_looked_at_is_open() -> None:
    assert shaft() == "open"


def test_a_suspicion_closes_nothing() -> None:
    assert shaft(crack("suspected")) == "open"


def test_what_was_seen_counts() -> None:
    assert shaft(crack()) == "met"


def test_a_clean_test_settles_absence() -> None:
    assert shaft(magnetic()) == "not met"


def test_a_clean_look_settles_no_crack_since_the_eye_cannot_show_its_absence() -> None:
    assert shaft(look(**ON_SHAFT)) == "open"


@pytest.mark.parametrize("strength", ["suspected", "seen"])
def test_a_clean_test_beats_the_eye(strength: str) -> None:
    assert shaft(crack(strength), magnetic()) == "not met"


def test_a_suspicion_that_a_test_confirmed_counts() -> None:
    assert shaft(magnetic(id="t", outcome="found"), crack("confirmed", test="t")) == "met"


def test_two_tests_that_contradict_each_other_leave_the_worse_standing() -> None:
    found = magnetic(id="t1", outcome="found"), crack("confirmed", test="t1", id="f1")
    state = state_of("shaft driver", *found, magnetic(id="t2"))
    assert said(state, "journal-cracked", "journal 1") == "met"
    assert state.conflicts() == [("crack at journal 1, fillet", "f1 and t2")]


def test_only_tests_contradict_each_other() -> None:
    assert state_of("shaft driver", crack(), magnetic()).conflicts() == []
    assert state_of("cover", scoring(), look(piece="cover")).conflicts() == []


def test_a_look_says_nothing_else_and_yields_to_what_it_saw() -> None:
    assert cover(scoring(), look(piece="cover")) == "met"


def test_a_look_beats_a_suspicion() -> None:
    assert cover(scoring("suspected"), look(piece="cover")) == "not met"


def test_measuring_beats_the_eye() -> None:
    assert cover(scoring(), look(method="micrometer", piece="cover")) == "not met"


def test_the_eye_never_beats_a_test(tmp_path: Path) -> None:
    by_eye = {
        'settled_by = ["magnetic-particle", "dye-penetrant"]': 'settled_by = ["magnetic-particle", "eye"]'
    }
    engine = engine_with(tmp_path, by_eye)
    found = magnetic(id="t", outcome="found"), crack("confirmed", test="t")
    state = state_of("shaft driver", *found, look(**ON_SHAFT), engine=engine)
    assert said(state, "journal-cracked", "journal 1") == "met"


@pytest.mark.parametrize("more", [{"state": "as_found"}, {"lit": False}], ids=["unwashed", "in the dark"])
def test_a_look_that_could_not_have_shown_it_proves_nothing(more: dict[str, object]) -> None:
    assert cover(look(piece="cover", **more)) == "open"
    assert cover(look(piece="cover", **more), scoring()) == "met"


def test_a_test_on_a_metal_that_it_does_not_suit_proves_nothing() -> None:
    assert housing(trial("magnetic-particle")) == "open"
    assert housing(trial("dye-penetrant")) == "not met"


def test_the_material_of_the_piece_goes_before_that_of_the_sheet() -> None:
    steel = Piece(id="housing", position="housing", material="steel")
    assert (
        said(state_of("housing", trial("magnetic-particle"), piece=steel), "housing-cracked", "outside")
        == "not met"
    )


def test_a_test_that_wants_a_washed_part_proves_nothing_on_an_unwashed_one() -> None:
    assert housing(trial("dye-penetrant", state="as_found")) == "open"


def test_a_test_that_came_to_no_answer_proves_nothing() -> None:
    assert shaft(magnetic(outcome="cannot_tell")) == "open"


def test_what_an_unsuited_test_confirmed_counts_only_as_seen() -> None:
    confirmed = (
        trial("magnetic-particle", id="t", outcome="found"),
        finding("crack", "outside", "confirmed", test="t"),
    )
    assert housing(*confirmed) == "met"
    assert housing(*confirmed, trial("dye-penetrant")) == "not met"


@pytest.mark.parametrize(
    ("covered", "first", "second"),
    [
        ("*", "not met", "not met"),
        ("journal *", "not met", "not met"),
        ("journal 1", "not met", "open"),
        ("journal 1/fillet", "not met", "open"),
        ("journal */fillet", "not met", "not met"),
        ("journal 1/surface", "open", "open"),
        ("keyway", "open", "open"),
    ],
)
def test_a_test_speaks_only_for_what_it_covered(covered: str, first: str, second: str) -> None:
    assert (shaft(magnetic(covered)), shaft(magnetic(covered), place="journal 2")) == (first, second)


def test_a_test_that_found_something_without_saying_where_covers_nothing() -> None:
    assert shaft(magnetic(outcome="found")) == "open"


def test_a_test_that_names_what_it_found_covers_the_rest() -> None:
    found = magnetic(id="t", outcome="found"), crack("confirmed", "journal 2/surface", test="t")
    assert shaft(*found) == "not met"


def test_a_crack_elsewhere_on_the_place_does_not_meet_a_rule_on_one_zone() -> None:
    assert shaft(crack(place="journal 1/surface"), magnetic("journal 1/fillet")) == "not met"


def test_a_crack_that_does_not_say_where_on_the_journal_counts_at_its_fillet() -> None:
    assert shaft(crack(place="journal 1")) == "met"


def test_a_crack_that_does_not_say_where_yields_to_a_clean_test_of_the_fillet() -> None:
    assert shaft(crack(place="journal 1"), magnetic("journal 1/fillet")) == "not met"


def test_evidence_on_another_piece_says_nothing() -> None:
    assert shaft(finding("crack", FILLET, piece="shaft driven")) == "open"
    assert shaft(trial("magnetic-particle", piece="shaft driven")) == "open"


ITEMS = (
    crack("suspected", id="s"),
    crack("seen", id="e"),
    crack("seen", "journal 1", id="w"),
    magnetic(id="t", outcome="found"),
    crack("confirmed", test="t", id="c"),
    magnetic("journal 1/fillet", id="n"),
    magnetic("journal *", id="m", state="as_found"),
    look(id="l", **ON_SHAFT),
)
_some = st.lists(st.sampled_from(ITEMS), unique_by=lambda item: item.id, max_size=5)


@given(_some, st.randoms(use_true_random=False))
def test_the_order_of_evidence_changes_nothing(items: list[Evidence], random: object) -> None:
    shuffled = list(items)
    random.shuffle(shuffled)  # type: ignore[attr-defined]
    assert shaft(*shuffled) == shaft(*items)


@given(_some, st.sampled_from(["suspected", "seen"]))
def test_one_more_finding_never_makes_it_better(items: list[Evidence], strength: str) -> None:
    assert ORDER.index(shaft(*items, crack(strength, id="more"))) >= ORDER.index(shaft(*items))


@given(_some)
def test_one_more_clean_test_never_makes_it_worse(items: list[Evidence]) -> None:
    assert ORDER.index(shaft(*items, magnetic(id="more"))) <= ORDER.index(shaft(*items))


def test_all_orders_of_a_contradiction_agree() -> None:
    items = magnetic(id="t", outcome="found"), crack("confirmed", test="t", id="f"), magnetic(id="n")
    assert {shaft(*order) for order in permutations(items)} == {"met"}
