"""Work on a piece: figures voided, findings to look at again, tests to do again, sizes cut."""

from pathlib import Path

import pytest

from inspect_app.model.evidence import Evidence
from inspect_app.model.pieces import OperationDone, Piece
from inspect_app.model.places import Place
from tests.support import engine_with, finding, look, pocket, said, sign, state_of, trial

DRIVER = Place("pocket", "driver")
DRIVEN = Place("pocket", "driven")
TEST_RULE = """
[[rule]]
id = "shaft-failed-its-test"
part = "shaft"
each = ["journal"]
when = [{ test = "magnetic-particle" }]
closes = ["own"]
why = "x"
plain = "x"
basis = "x"
  [[rule.example]]
  then = "open"
"""


def worked(position: str, operation: str, *places: str, size: str | None = None) -> Piece:
    done = OperationDone(operation=operation, places=places or ("*",), size=size)
    return Piece(id=position, position=position, operations=(done,))


def scored(*items: Evidence, places: tuple[str, ...] = ()) -> str:
    """What the rule on scored pockets says of a housing whose pockets were bored."""
    bored = worked("housing", "bore-pocket", *places, size="0.20 mm")
    return said(state_of("housing", *items, piece=bored), "pocket-scored", "pocket driver")


SCORING = finding("scoring", "pocket driver/wall", id="f")


def test_what_the_work_may_have_removed_is_only_suspected_after_it() -> None:
    assert scored(SCORING) == "open"


def test_a_look_from_before_the_work_does_not_lift_what_was_seen_before_it() -> None:
    assert scored(SCORING, look()) == "open"


def test_a_look_after_the_work_lifts_it() -> None:
    assert scored(SCORING, look(state="after 1")) == "not met"


def test_what_is_seen_after_the_work_counts() -> None:
    assert scored(SCORING, finding("scoring", "pocket driver/wall", state="after 1")) == "met"


def test_work_elsewhere_on_the_piece_lifts_nothing_here() -> None:
    assert scored(SCORING, places=("pocket driven",)) == "met"
    assert scored(SCORING, places=("pocket driver",)) == "open"


def test_an_operation_that_does_not_clear_a_damage_leaves_it() -> None:
    bored = worked("housing", "bore-pocket")
    cracked = finding("crack", "pocket driver/wall")
    assert said(state_of("housing", cracked, piece=bored), "housing-cracked", "pocket driver") == "met"


def test_what_a_yard_check_showed_is_cleared_like_any_finding(tmp_path: Path) -> None:
    engine = engine_with(tmp_path, {'clears = ["scoring"]\nvoids = ["score_depth"]': 'clears = ["crack"]'})
    broken = sign("flange-broken", "broken", piece="cover")
    lapped = worked("cover", "lap-face")
    assert said(state_of("cover", broken, engine=engine), "cover-cracked", "flange") == "met"
    assert said(state_of("cover", broken, engine=engine, piece=lapped), "cover-cracked", "flange") == "open"


def test_a_clean_test_no_longer_holds_after_work_that_can_crack_the_metal() -> None:
    ground = worked("shaft driver", "grind-journal")
    before = trial("magnetic-particle", piece="shaft driver")
    after = trial("magnetic-particle", piece="shaft driver", state="after 1")
    assert said(state_of("shaft driver", before), "journal-cracked", "journal 1") == "not met"
    assert said(state_of("shaft driver", before, piece=ground), "journal-cracked", "journal 1") == "open"
    assert (
        said(state_of("shaft driver", before, after, piece=ground), "journal-cracked", "journal 1")
        == "not met"
    )


def test_work_that_asks_for_a_new_test_does_not_remove_a_crack() -> None:
    ground = worked("shaft driver", "grind-journal")
    cracked = finding("crack", "journal 1/fillet", piece="shaft driver")
    assert said(state_of("shaft driver", cracked, piece=ground), "journal-cracked", "journal 1") == "met"


def test_a_new_test_is_asked_for_only_where_the_work_was() -> None:
    ground = worked("shaft driver", "grind-journal", "journal 2")
    state = state_of("shaft driver", trial("magnetic-particle", piece="shaft driver"), piece=ground)
    assert said(state, "journal-cracked", "journal 1") == "not met"
    assert said(state, "journal-cracked", "journal 2") == "open"


@pytest.mark.parametrize(
    ("outcomes", "before", "after"),
    [
        ([], "open", "open"),
        (["nothing_found"], "not met", "open"),
        (["found"], "met", "met"),
        (["cannot_tell"], "open", "open"),
        (["nothing_found", "found"], "met", "met"),
    ],
)
def test_a_rule_on_a_test_follows_the_test_and_the_work(
    tmp_path: Path, outcomes: list[str], before: str, after: str
) -> None:
    engine = engine_with(tmp_path, more=TEST_RULE)
    items = [trial("magnetic-particle", piece="shaft driver", outcome=outcome) for outcome in outcomes]
    ground = worked("shaft driver", "grind-journal")
    assert (
        said(state_of("shaft driver", *items, engine=engine), "shaft-failed-its-test", "journal 1") == before
    )
    state = state_of("shaft driver", *items, engine=engine, piece=ground)
    assert said(state, "shaft-failed-its-test", "journal 1") == after


def test_a_failed_test_that_the_work_may_have_mended_wants_a_new_one(tmp_path: Path) -> None:
    mends = {'retest = ["crack", "magnetic-particle"]': 'clears = ["magnetic-particle"]'}
    engine = engine_with(tmp_path, mends, more=TEST_RULE)
    ground = worked("shaft driver", "grind-journal")
    first = trial("magnetic-particle", piece="shaft driver")
    failed = trial("magnetic-particle", piece="shaft driver", outcome="found")
    passed = trial("magnetic-particle", piece="shaft driver", state="after 1")
    rule = "shaft-failed-its-test", "journal 1"
    assert said(state_of("shaft driver", first, failed, engine=engine, piece=ground), *rule) == "open"
    assert said(state_of("shaft driver", failed, passed, engine=engine, piece=ground), *rule) == "not met"


def test_readings_from_before_the_work_are_void_and_later_ones_count() -> None:
    bored = worked("housing", "bore-pocket", size="0.20 mm")
    before, after = (
        pocket("pocket driver", "40.080"),
        pocket("pocket driver", "40.210", "40.200", state="after 1"),
    )
    assert not state_of("housing", *before, piece=bored).scene.figures.figure("diameter", DRIVER).known
    figures = state_of("housing", *before, *after, piece=bored).scene.figures
    assert figures.figure("diameter", DRIVER).lo == 40.21
    assert figures.figure("wear", DRIVER).lo == 0.01


def test_readings_where_no_work_was_done_stay() -> None:
    bored = worked("housing", "bore-pocket", "pocket driven", size="0.20 mm")
    figures = state_of("housing", *pocket("pocket driver", "40.080"), piece=bored).scene.figures
    assert figures.figure("wear", DRIVER).lo == 0.08


def test_the_size_cut_is_the_unworn_size_where_none_was_read() -> None:
    bored = worked("housing", "bore-pocket", size="0.20 mm")
    figures = state_of("housing", piece=bored).scene.figures
    # 40.00 nominal and 0.20 cut.
    assert figures.step("diameter", DRIVER).lo == figures.step("diameter", DRIVER).hi == 0.2


def test_the_last_of_two_cuts_counts() -> None:
    twice = tuple(OperationDone(operation="bore-pocket", size=size) for size in ("0.20 mm", "0.40 mm"))
    piece = Piece(id="housing", position="housing", operations=twice)
    assert state_of("housing", piece=piece).scene.figures.step("diameter", DRIVEN).lo == 0.4
