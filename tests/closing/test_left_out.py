"""A look or test that does not count is told with why; one that counts is not."""

from inspect_app.closing.left_out import left_out
from inspect_app.model.evidence import Evidence
from inspect_app.model.pieces import OperationDone, Piece
from inspect_app.rulebook.engine import Engine
from tests.support import look, pump_book, pump_sheet, state_of, trial

SHAFT = {"piece": "shaft driver"}
GROUND = Piece(
    id="shaft driver",
    position="shaft driver",
    operations=(OperationDone(operation="grind-journal", places=("journal 1",)),),
)


def why(position: str, *items: Evidence, piece: Piece | None = None) -> dict[str, str]:
    """Why each item that is left out is, by its id."""
    return {one.evidence: one.why for one in left_out(state_of(position, *items, piece=piece).scene.evidence)}


def test_what_counts_is_not_told() -> None:
    items = look(id="l", **SHAFT), trial("magnetic-particle", id="t", **SHAFT)
    assert why("shaft driver", *items) == {}


def test_an_unwashed_part_is_named() -> None:
    assert why("shaft driver", trial("dye-penetrant", id="t", state="as_found", **SHAFT)) == {
        "t": "not washed"
    }


def test_all_that_is_wrong_is_named() -> None:
    dark = look(id="l", method="eye", lit=False, state="as_found", **SHAFT)
    assert why("shaft driver", dark) == {"l": "not washed; in poor light"}


def test_a_method_that_the_material_does_not_suit_is_named() -> None:
    assert why("housing", trial("magnetic-particle", id="t")) == {
        "t": "no magnetic particle test shows anything on aluminium"
    }


def test_a_material_that_nobody_named_is_told() -> None:
    engine = Engine(pump_book(), pump_sheet(materials={}))
    state = state_of("housing", trial("magnetic-particle", id="t"), engine=engine)
    assert [one.why for one in left_out(state.scene.evidence)] == [
        "the engine sheet does not name the material, and no magnetic particle test suits all"
    ]


def test_a_test_from_before_the_work_is_told_for_the_places_that_were_worked_on() -> None:
    before = trial("magnetic-particle", id="t", **SHAFT)
    assert why("shaft driver", before, piece=GROUND) == {
        "t": "no longer for crack at journal 1, since this work was done: grind the journals"
    }


def test_a_test_from_after_the_work_counts() -> None:
    after = trial("magnetic-particle", id="t", state="after 1", **SHAFT)
    assert why("shaft driver", after, piece=GROUND) == {}


def test_it_says_who_made_it_when_and_where() -> None:
    item = trial("magnetic-particle", "outside", id="t", who="K.O.", when="2026-11-20")
    (one,) = left_out(state_of("housing", item).scene.evidence)
    assert (one.kind, one.who, one.when, one.places) == ("test", "K.O.", "2026-11-20", ("outside",))
