"""The practitioner's fits checked by the whole program: common practice, in inch.

His fits are a shop's own folder over the rule pack; their windows are rows of the sheet. The core is the
inline-six of the tests, written to a folder with one reading for each fit.
"""

from functools import cache
from pathlib import Path

import pytest

from inspect_app.judge import fit_check
from inspect_app.model.evidence import Evidence
from inspect_app.model.fit_answer import Fit, FitAnswer
from inspect_app.model.pieces import OperationDone, Piece
from inspect_app.model.problems import Problems
from inspect_app.rulebook.book import Rulebook
from inspect_app.rulebook.engine import Engine
from inspect_app.rulebook.load import load_rulebook
from inspect_app.shipped import shipped
from tests.judge import six

BEARINGS = {"minimum": "0.0002 in", "maximum": "0.0022 in"}
END_PLAY = {"minimum": "0.002 in", "maximum": "0.007 in"}
BASE = [*six.looks_and_tests(), *six.readings()]
Rows = dict[str, dict[str, str]]


@cache
def book() -> Rulebook:
    return load_rulebook(shipped("rules"), [Path(__file__).parent / "fits"])


def checked(rows: Rows, readings: list[Evidence], **core: object) -> FitAnswer:
    sheet = six.sheet(quantities=six.sheet().model_dump()["quantities"] | rows)
    return fit_check(six.core([*BASE, *readings], **core), Engine(book(), sheet))


def read(piece: str, quantity: str, place: str, value: str, gauge: str = "outside micrometer") -> Evidence:
    return six.reading(f"{quantity} {place}", piece, quantity, place, value, gauge=gauge)


def fit_of(answer: FitAnswer, fit: str) -> Fit:
    return next(found for found in answer.fits if found.fit == fit)


@pytest.mark.parametrize(("fit", "kind"), [("main", "main_journal"), ("rod", "rod_journal")])
@pytest.mark.parametrize(
    ("value", "position", "state"),
    [("0.0012", 50, "inside"), ("0.0002", 0, "close"), ("0.0022", 100, "close"), ("0.0030", 140, "out")],
)
def test_twelve_tenths_is_the_middle_of_the_window(
    fit: str, kind: str, value: str, position: float, state: str
) -> None:
    rows = {f"{kind}.stated_clearance": BEARINGS}
    clearance = read("crankshaft", "stated_clearance", f"{kind} 1", value)
    # A clearance read before the shaft is polished is not that of the finished parts.
    polished = Piece(id="crankshaft", position="crankshaft", operations=(OperationDone(operation="polish"),))
    after = clearance.model_copy(update={"state": "after 1"})
    answer = checked(rows, [after], pieces=(polished,))
    found = fit_of(answer, f"stated-{fit}-clearance")
    assert found.window is not None
    assert (found.window.low, found.window.high, found.window.whose) == (0.0002, 0.0022, "maker")
    assert (found.position_percent, found.state) == (pytest.approx(position), state)
    assert bool(found.says) is (state == "out")


def test_the_clearance_of_the_mains_from_their_parts() -> None:
    """A seat of 2.6011 less two shells of 0.0500 less a journal of 2.4999 leaves 0.0012, half way up."""
    parts = [
        read("crankshaft", "stated_seat", "main_journal 1", "2.6011", "dial bore gauge"),
        read("crankshaft", "stated_shell", "main_journal 1", "0.0500"),
    ]
    found = fit_of(checked({"main_journal.stated_clearance": BEARINGS}, parts), "stated-main-clearance")
    assert found.measured is not None
    assert (found.known_by, found.measured.value) == ("parts", pytest.approx(0.0012, abs=1e-9))
    assert found.position_percent == pytest.approx(50)


@pytest.mark.parametrize(
    ("value", "state"), [("0.005", "inside"), ("0.001", "out"), ("0.002", "close"), ("0.009", "out")]
)
def test_five_thou_of_end_play_is_well_inside(value: str, state: str) -> None:
    play = [read("crankshaft", "stated_play", "thrust_face", value, "dial indicator")]
    found = fit_of(checked({"thrust_face.stated_play": END_PLAY}, play), "stated-end-play")
    assert found.state == state
    if value == "0.005":
        assert found.position_percent == pytest.approx(60)
        assert found.p_inside is not None
        assert found.p_inside > 0.999


def lash_rows(**nominal: str) -> Rows:
    return {f"chamber.stated_{name}": {"nominal": text} for name, text in nominal.items()}


@pytest.mark.parametrize(("hot", "cold"), [("0.012", 0.008), ("0.014", 0.010)])
def test_the_cold_lash_of_that_engine_follows_from_its_own_sheet(hot: str, cold: float) -> None:
    """Iron on iron; its sheet sets it 0.004 less cold than hot."""
    rows = lash_rows(lash_hot=f"{hot} in", cold_less_hot="-0.004 in")
    found = fit_of(checked(rows, []), "stated-lash")
    assert found.set_to is not None
    assert (found.set_to.value, found.set_to.unit) == (pytest.approx(cold, abs=1e-9), "in")


@pytest.mark.parametrize("value", [None, "0.008"])
def test_without_a_shift_of_its_own_no_cold_lash_is_proposed(value: str | None) -> None:
    """Not even where one was set: there is nothing to hold it against."""
    readings = [read("cylinder_head 1", "stated_lash", "chamber 1", value)] if value else []
    found = fit_of(checked(lash_rows(lash_hot="0.012 in"), readings), "stated-lash")
    assert (found.set_to, found.window, found.state) == (None, None, "open")
    assert "none proposed" in " ".join(str(item) for item in found.missing)


def test_a_slipped_point_is_still_asked_about_where_the_sheet_gives_a_range_of_sizes() -> None:
    """A window of a fit reaches far from its middle, so nothing there is too far off; a size does not."""
    rows = {"bore.diameter": {"minimum": "3.4990 in", "maximum": "3.5010 in"}}
    slipped = six.reading(
        "slipped", "block", "diameter", "bore 1", "35.004", station="top", direction="across"
    )
    with pytest.raises(Problems, match="Is the decimal point right"):
        checked(rows, [slipped])
