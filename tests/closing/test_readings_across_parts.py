"""A clearance lies between two parts: work on the other one, or another piece there, ends its reading."""

from typing import Any

import pytest

from inspect_app.closing.around import surely_before
from inspect_app.judge import fit_check
from inspect_app.model.core import Core
from inspect_app.model.evidence import Reading
from inspect_app.model.fit_answer import Fit
from inspect_app.model.pieces import OperationDone, Piece
from inspect_app.rulebook.engine import Engine
from tests.judge.fit_engine import BOLTED, COUNTS, SHELLS, VEE, book, fit_of, read, sheet

READ = "2026-11-20"
WORKED = "measure it again: the {} was worked on since"
UNDATED = "measure it again: the {} was worked on and no date shows that it was before"


def told(fit: str, place: str, *items: Reading, pieces: tuple[Piece, ...] = (), **changes: Any) -> Fit:
    core = Core(
        id="fitted",
        title="Fitted",
        stage="fit_check",
        build_standard="rebuild",
        pieces=pieces,
        evidence=items,
    )
    return fit_of(fit_check(core, Engine(book(), sheet(**changes))), fit, place)


def worked(position: str, operation: str, when: str, *places: str, size: str | None = None) -> Piece:
    done = OperationDone(operation=operation, places=places or ("*",), when=when, size=size)
    return Piece(id=position, position=position, operations=(done,))


def put_in(position: str, since: str) -> Piece:
    return Piece(id=f"{position} from the shelf", position=position, origin="used", since=since)


def main(*pieces: Piece, when: str = READ) -> Fit:
    """The clearance of main bearing 2, read directly on the block."""
    item = read("block", "oil_clearance", "main_web 2", "0.0015", conditions=SHELLS, when=when)
    return told("main-oil-clearance", "main web 2", item, pieces=pieces)


def again(fit: Fit) -> list[str]:
    return [item.what for item in fit.missing if item.what.startswith("measure it again")]


@pytest.mark.parametrize(
    ("when", "words"),
    [
        ("2026-11-19", None),
        ("2026-11-20", UNDATED),
        ("2026-11-21", WORKED),
        ("", UNDATED),
        ("last spring", UNDATED),
    ],
    ids=["before", "same day", "after", "unknown", "no date"],
)
def test_a_ground_crankshaft_ends_the_clearance_read_on_the_block(when: str, words: str | None) -> None:
    fit = main(worked("crankshaft", "grind", when, size="0.010 in"))
    assert again(fit) == ([] if words is None else [words.format("crankshaft")])
    assert (fit.measured is not None) == (words is None)


@pytest.mark.parametrize(
    ("since", "words"),
    [
        ("2026-11-19", []),
        ("2026-11-20", ["measure it again: another crankshaft came in and no date shows that it was before"]),
        ("2026-11-21", ["measure it again: another crankshaft came in since"]),
        ("", ["measure it again: another crankshaft came in and no date shows that it was before"]),
    ],
    ids=["before", "same day", "after", "unknown"],
)
def test_another_crankshaft_ends_it_too(since: str, words: list[str]) -> None:
    assert again(main(put_in("crankshaft", since))) == words


def test_on_one_day_the_time_tells() -> None:
    ground = worked("crankshaft", "grind", "2026-11-20T09:00")
    assert again(main(ground, when="2026-11-20T14:00")) == []
    assert again(main(ground, when="2026-11-20T09:00")) != []
    assert again(main(ground, when="2026-11-20T08:00")) != []


def test_work_elsewhere_on_the_other_part_ends_nothing() -> None:
    assert again(main(worked("crankshaft", "grind", "2026-11-21", "main_journal 3"))) == []
    assert again(main(worked("crankshaft", "polish seal track", "2026-11-21"))) == []
    assert again(main(worked("crankshaft", "grind", "2026-11-21", "main_journal 2"))) != []


@pytest.mark.parametrize(
    ("fit", "place", "item", "piece"),
    [
        ("rod-oil-clearance", "rod 2, big end",
         read("rod 2", "oil_clearance", "big_end", "0.0015", conditions=BOLTED),
         worked("crankshaft", "polish", "2026-11-21")),
        ("rod-side-clearance", "rod 2, big end", read("rod 2", "side_clearance", "big_end", "0.010"),
         worked("crankshaft", "grind", "2026-11-21")),
        ("crank-end-play", "thrust face", read("crankshaft", "end_play", "thrust_face", "0.005"),
         worked("block", "line hone", "2026-11-21")),
        ("deck-clearance", "Piston 2, crown", read("piston 2", "deck_clearance", "crown", "0.010"),
         worked("block", "mill deck", "2026-11-21")),
        ("squeeze-gap", "Piston 2, crown", read("piston 2", "squeeze_gap", "crown", "0.045"),
         worked("block", "mill deck", "2026-11-21")),
        ("squeeze-gap", "Piston 2, crown", read("piston 2", "squeeze_gap", "crown", "0.045"),
         worked("cylinder_head 1", "mill head", "2026-11-21")),
        ("squeeze-gap", "Piston 2, crown", read("piston 2", "squeeze_gap", "crown", "0.045"),
         worked("rod 2", "resize", "2026-11-21")),
        ("intake-lash", "chamber 2", read("cylinder_head 1", "intake_lash", "chamber 2", "0.012"),
         worked("block", "mill deck", "2026-11-21")),
        ("exhaust-valve-to-piston", "chamber 2",
         read("cylinder_head 1", "exhaust_valve_to_piston", "chamber 2", "0.150"),
         worked("rod 2", "straighten rod", "2026-11-21")),
        ("top-ring-gap", "bore 2", read("block", "ring_gap_top", "bore 2", "0.020"),
         put_in("piston 2", "2026-11-21")),
        ("pin-in-rod", "rod 2, small end", read("rod 2", "pin_clearance", "small_end", "0.0008"),
         worked("piston 2", "new pin", "2026-11-21")),
    ],
)  # fmt: skip
def test_each_clearance_ends_with_work_on_the_part_beside_it(
    fit: str, place: str, item: Reading, piece: Piece
) -> None:
    assert told(fit, place, item).measured is not None
    ended = told(fit, place, item, pieces=(piece,))
    assert ended.measured is None
    assert len(again(ended)) == 1


def test_the_rod_beside_a_piston_is_the_one_of_its_number() -> None:
    item = read("piston 2", "squeeze_gap", "crown", "0.045")
    resized = worked("rod 3", "resize", "2026-11-21")
    assert again(told("squeeze-gap", "Piston 2, crown", item, pieces=(resized,))) == []


def test_where_nobody_can_tell_which_journal_it_is_any_of_them_ends_it() -> None:
    item = read("rod 2", "oil_clearance", "big_end", "0.0015", conditions=BOLTED)
    ground = worked("crankshaft", "grind", "2026-11-21", "rod_journal 3")
    unlisted = told("rod-oil-clearance", "rod 2, big end", item, pieces=(ground,), counts=VEE)
    assert len(again(unlisted)) == 1
    rows = {"cylinder_rows": "1 3 5 / 2 4 6"}
    listed = told("rod-oil-clearance", "rod 2, big end", item, pieces=(ground,), counts=VEE, conventions=rows)
    assert again(listed) == []
    assert COUNTS["cylinders"] == 4


def test_a_fit_from_parts_is_told_though_its_direct_reading_ended() -> None:
    """Half of the parts read: both ways to an answer are named."""
    item = read("block", "oil_clearance", "main_web 2", "0.0015", conditions=SHELLS)
    half = read("block", "shell_wall", "main_web 2", "0.0620")
    ground = worked("crankshaft", "grind", "2026-11-21", size="0.010 in")
    fit = told("main-oil-clearance", "main web 2", item, half, pieces=(ground,))
    assert again(fit) == [WORKED.format("crankshaft")]
    assert len(fit.missing) > 1


@pytest.mark.parametrize("operation", ["mill head", "valve work", "seat inserts"])
@pytest.mark.parametrize("quantity", ["intake_lash", "intake_valve_to_piston"])
def test_work_on_the_head_voids_what_was_read_in_its_chambers(operation: str, quantity: str) -> None:
    item = read("cylinder_head 1", quantity, "chamber 2", "0.100")
    fit = {"intake_lash": "intake-lash", "intake_valve_to_piston": "intake-valve-to-piston"}[quantity]
    assert told(fit, "chamber 2", item).measured is not None
    done = worked("cylinder_head 1", operation, "2026-11-21")
    assert told(fit, "chamber 2", item, pieces=(done,)).measured is None


@pytest.mark.parametrize(
    ("earlier", "later", "sure"),
    [
        ("2026-11-19", "2026-11-20", True),
        ("2026-11-20", "2026-11-20", False),
        ("2026-11-21", "2026-11-20", False),
        ("2026-11-20T08:00", "2026-11-20", False),
        ("2026-11-20", "2026-11-20T08:00", False),
        ("2026-11-19", "2026-11-20T00:00", True),
        ("2026-11-20T08:00", "2026-11-20T08:01", True),
        ("2026-11-20T08:00", "2026-11-20T08:00", False),
        ("2026-11-20T08:00+02:00", "2026-11-20T07:00+00:00", True),
        ("2026-11-20T08:00+02:00", "2026-11-20T09:00", True),
        ("", "2026-11-20", False),
        ("2026-11-20", "", False),
    ],
)
def test_a_date_without_a_time_may_be_any_moment_of_its_day(earlier: str, later: str, sure: bool) -> None:
    assert surely_before(earlier, later) is sure
