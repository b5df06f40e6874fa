"""Numbers a practitioner stated of his engines: common practice, in inch.

Each by the function that computes it and, where the program judges it, once more as a core in a folder.
"""

from collections.abc import Iterable
from pathlib import Path

import pytest

from inspect_app.metrology.estimate import Estimate, Undetermined
from inspect_app.metrology.fits import Window, p_inside, what_to_change, window_position
from inspect_app.metrology.gaps import GapSheet, cold_gap
from inspect_app.metrology.sizes import next_listed
from inspect_app.model.answer import Answer
from inspect_app.model.evidence import Evidence, Finding
from tests.judge import six

from .support import Spot, closed_by, judge_written, part_at, resized, walls, way_of

BEARINGS = Window(0.0002, 0.0022)
END_PLAY = Window(0.002, 0.007)


def test_twelve_tenths_is_the_middle_of_the_factory_window() -> None:
    assert BEARINGS.middle == pytest.approx(0.0012)
    assert window_position(0.0012, BEARINGS) == pytest.approx(50)
    assert what_to_change(0.0012, BEARINGS) == ()
    assert p_inside(Estimate(0.0012, 0.00015), BEARINGS) > 0.999


def test_five_thou_of_end_play_is_well_inside() -> None:
    assert window_position(0.005, END_PLAY) == pytest.approx(60)
    assert p_inside(Estimate(0.005, 0.0004), END_PLAY) > 0.999


@pytest.mark.parametrize(("needed", "taken"), [(0.032, 0.040), (0.030, 0.030), (0.0301, 0.040)])
def test_bores_that_need_thirty_two_over_get_forty(needed: float, taken: float) -> None:
    assert next_listed(needed, [0.020, 0.030, 0.040]) == taken


def test_mains_that_need_seven_under_get_ten() -> None:
    assert next_listed(0.007, [0.010, 0.020, 0.030]) == 0.010


EVERYTHING = [*six.looks_and_tests(), *six.readings()]
CYLINDERS = range(1, six.CYLINDERS + 1)


def scored(bore: int, depth: str) -> Iterable[Evidence]:
    place = f"bore {bore}"
    where = f"{place}/ring_travel"
    yield Finding(
        id=f"score {bore}", piece="block", damage="score", place=where, strength="seen", **six.COMMON
    )
    yield six.reading(f"depth {bore}", "block", "score_depth", place, depth, gauge="depth gauge")


def bored_before_and_scored(tmp_path: Path, depth: str, bores: Iterable[int] = CYLINDERS) -> Answer:
    """All bores at 0.020 over and unworn; scores so deep want 0.020 + 2 x depth + 0.003 of honing stock.

    Walls are thick enough for every listed size.
    """
    unworn: dict[Spot, str] = {
        (f"bore {n}", station, way): "3.5200"
        for n in CYLINDERS
        for station in ("top", "middle", "bottom", "below")
        for way in ("across", "along")
    }
    scores = [item for bore in bores for item in scored(bore, depth)]
    evidence = [*resized(EVERYTHING, "bore", "0", unworn), *walls("0.250"), *scores]
    return judge_written(tmp_path, six.core(evidence), six.sheet())


@pytest.mark.parametrize(
    ("depth", "taken"), [("0.0045", "0.040 in"), ("0.0035", "0.030 in"), ("0.00355", "0.040 in")]
)
def test_the_program_bores_them_to_forty(tmp_path: Path, depth: str, taken: str) -> None:
    """0.032 is wanted in the first case, the listed 0.030 exactly in the second, 0.0301 in the third."""
    answer = bored_before_and_scored(tmp_path, depth)
    block = part_at(answer, "block")
    bores = way_of(block, "bores")
    assert (block.verdict, block.standing) == ("recondition", "settled")
    assert (bores.way, bores.size, bores.except_at) == ("bore", taken, ())
    assert {part_at(answer, f"piston {number}").verdict for number in CYLINDERS} == {"replace"}


def test_the_program_says_what_they_need(tmp_path: Path) -> None:
    block = part_at(bored_before_and_scored(tmp_path, "0.0045"), "block")
    [short] = [one for one in block.closed if one.closes == "bores.0.030 in"]
    assert short.measured is not None
    assert (short.measured.value, short.measured.unit) == (pytest.approx(0.032, abs=1e-9), "in")
    assert short.why == "Bore 1 does not clean up at 0.030 in."
    [plan] = block.size_plans
    for need in plan.needs:
        assert (need.usual, need.next_size) == (pytest.approx(0.032, abs=1e-9), "0.040 in")


def worn_mains(tmp_path: Path, size: str) -> Answer:
    """Every main journal worn alike to this size of 2.5000; the listed undersizes are 0.010 and 0.020."""
    worn: dict[Spot, str] = {
        (f"main_journal {n}", end, way): size
        for n in range(1, six.MAINS + 1)
        for end in ("front", "rear")
        for way in ("vertical", "horizontal")
    }
    evidence = resized(EVERYTHING, "main_journal", "0", worn)
    return judge_written(tmp_path, six.core(evidence), six.sheet())


def test_the_program_grinds_mains_that_need_seven_to_ten(tmp_path: Path) -> None:
    """Worn 0.004: 0.005 to 0.009 with a stock of 0.001, usually 0.007."""
    answer = worn_mains(tmp_path, "2.4960")
    crankshaft = part_at(answer, "crankshaft")
    mains = way_of(crankshaft, "mains")
    assert (crankshaft.verdict, crankshaft.standing) == ("recondition", "settled")
    assert (mains.way, mains.size, mains.except_at) == ("grind", "0.010 in", ())
    assert {line.line: line.quantity for line in answer.bill}["Grind one journal"] == six.MAINS
    assert way_of(crankshaft, "pins").way == "polish"
    [worn] = closed_by(crankshaft, "main-journal-wear-past-polish", "main_journal 1")
    assert worn.measured is not None
    assert worn.measured.value == pytest.approx(0.004, abs=1e-9)
    [plan] = [plan for plan in crankshaft.size_plans if plan.concern == "mains"]
    for need in plan.needs:
        assert (need.usual, need.next_size) == (pytest.approx(0.007, abs=1e-9), "0.010 in")


@pytest.mark.parametrize(
    ("size", "standing"),
    [("2.4956", "settled"), ("2.4955", "settled"), ("2.4954", "provisional")],
    ids=["below", "at", "above"],
)
def test_ten_under_is_sure_as_long_as_wear_on_one_side_comes_clean(
    tmp_path: Path, size: str, standing: str
) -> None:
    """Worn 0.0045, all on one side: 0.010 to the last tenth. Shared evenly, more would come clean too."""
    crankshaft = part_at(worn_mains(tmp_path, size), "crankshaft")
    assert (way_of(crankshaft, "mains").size, crankshaft.standing) == ("0.010 in", standing)


@pytest.mark.parametrize(("hot", "cold"), [(0.012, 0.008), (0.014, 0.010)])
def test_the_cold_lash_of_one_engine_follows_from_its_own_sheet(hot: float, cold: float) -> None:
    """Iron on iron, its sheet sets it 0.004 less cold than hot."""
    not_printed = Undetermined("not printed")
    assert cold_gap(GapSheet(hot, not_printed, -0.004)) == pytest.approx(cold)


@pytest.mark.parametrize("hot", [0.012, 0.014])
def test_that_shift_is_nobody_elses(hot: float) -> None:
    not_printed = Undetermined("not printed")
    found = cold_gap(GapSheet(hot, not_printed, not_printed))
    assert isinstance(found, Undetermined)
    assert found.reason.startswith("none proposed")
