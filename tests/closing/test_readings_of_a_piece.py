"""Readings on a piece: as typed into millimetres, by the gauge named, in the state that counts."""

from math import inf, sqrt

import pytest

from inspect_app.closing.figure_state import NOMINAL, STAMPED, FigureState
from inspect_app.closing.read_values import gauge_of, typed_size
from inspect_app.metrology.readings import Gauge
from inspect_app.model.evidence import Evidence
from inspect_app.model.pieces import Mark, Piece
from inspect_app.model.places import Place
from inspect_app.rulebook.engine import Engine
from tests.support import finding, look, pocket, pump_book, pump_engine, pump_sheet, reading, state_of

DRIVER = Place("pocket", "driver")


def inlet(value: str, **more: str) -> Evidence:
    return reading("diameter", "pocket driver", value, "inlet", **more)


def figures(*items: Evidence, **more: Piece) -> FigureState:
    return state_of("housing", *items, **more).scene.figures


@pytest.mark.parametrize(
    ("value", "more", "millimetres"),
    [
        ("40.08", {}, 40.08),
        ("40,08", {}, 40.08),
        ("1.5748", {"unit": "in"}, 39.99992),
        ("+8", {"setting": "40.00 mm", "gauge": "bore-gauge"}, 40.08),
        ("-2.5", {"setting": "40.00 mm", "gauge": "bore-gauge"}, 39.975),
        ("0", {"setting": "1.5748 in", "gauge": "bore-gauge"}, 39.99992),
    ],
)
def test_a_reading_is_a_full_size_or_counts_divisions_from_the_setting(
    value: str, more: dict[str, str], millimetres: float
) -> None:
    typed = reading("diameter", "pocket driver", value, "inlet", **more)
    assert typed_size(typed, pump_engine(), "pocket") == pytest.approx(millimetres, abs=1e-12)


def test_a_named_gauge_brings_its_own_uncertainty() -> None:
    typed = reading("diameter", "pocket driver", "40.08", gauge="bore-gauge")
    assert gauge_of(typed, pump_engine(), "length") == Gauge(0.001, 0.002, 0.001)


@pytest.mark.parametrize(
    ("value", "unit", "digit"), [("40.08", "mm", 0.01), ("40", "mm", 1.0), ("1.5748", "in", 0.00254)]
)
def test_without_a_gauge_the_last_digit_typed_is_the_uncertainty(value: str, unit: str, digit: float) -> None:
    gauge = gauge_of(reading("diameter", "pocket driver", value, unit=unit), pump_engine(), "length")
    assert (gauge.resolution, gauge.half_width) == (pytest.approx(digit), pytest.approx(digit))


def test_the_latest_state_counts_and_the_earlier_one_is_no_conflict() -> None:
    dirty, clean = inlet("40.150", state="as_found"), inlet("40.050", state="washed")
    state = state_of("housing", dirty, clean)
    assert state.scene.figures.figure("diameter", DRIVER).lo == 40.05
    assert state.conflicts() == []


def test_repeats_are_one_value_and_a_conflict_counts_the_worse() -> None:
    gauge = {"gauge": "bore-gauge"}
    assert figures(inlet("40.050", **gauge), inlet("40.052", **gauge)).figure("diameter", DRIVER).lo == 40.051
    state = state_of("housing", inlet("40.050", id="a", **gauge), inlet("40.080", id="b", **gauge))
    assert state.scene.figures.figure("diameter", DRIVER).lo == 40.08
    assert state.conflicts() == [("pocket diameter, pocket driver", "a and b")]


def test_a_reading_on_another_place_or_slot_fills_only_its_own() -> None:
    figure = figures(inlet("40.050")).figure("diameter", DRIVER)
    assert (figure.lo, figure.hi, figure.missing) == (40.05, inf, (("diameter", "outlet", ""),))
    assert figures(inlet("40.050")).figure("diameter", Place("pocket", "driven")).hi == inf


def test_the_unworn_size_is_read_where_nothing_rubs() -> None:
    given = figures(*pocket("pocket driver", "40.080", unworn="40.010"))
    assert given.figure("wear", DRIVER).lo == pytest.approx(0.07, abs=1e-9)
    assert given.step("diameter", DRIVER).lo == pytest.approx(0.01, abs=1e-9)


def test_of_two_unworn_sizes_that_contradict_each_other_the_one_with_more_wear_counts() -> None:
    other = reading("diameter", "pocket driver", "40.030", "unworn", gauge="bore-gauge")
    given = figures(*pocket("pocket driver", "40.080"), other)
    assert given.figure("wear", DRIVER).lo == pytest.approx(0.08, abs=1e-9)


def test_without_a_reading_there_the_stamp_tells_the_unworn_size() -> None:
    stamped = Piece(
        id="housing", position="housing", marks=(Mark(text="020", quantity="diameter", size="0.20 mm"),)
    )
    worn = pocket("pocket driver", "40.250")[:2]
    assert figures(*worn, piece=stamped).figure("wear", DRIVER).lo == pytest.approx(0.05, abs=1e-9)


def test_a_stamp_speaks_for_its_place_only() -> None:
    marks = (Mark(text="020", quantity="diameter", place="pocket driven", size="0.20 mm"),)
    given = figures(piece=Piece(id="housing", position="housing", marks=marks))
    assert given.step("diameter", Place("pocket", "driven")).lo == 0.2
    assert not given.step("diameter", DRIVER).known


@pytest.mark.parametrize(
    ("sheet", "station"),
    [(pump_sheet(), "unworn"), (pump_sheet(quantities={}), NOMINAL)],
    ids=["sheet", "no nominal"],
)
def test_what_the_unworn_size_waits_for_is_named(sheet: object, station: str) -> None:
    state = state_of("housing", engine=Engine(pump_book(), sheet))  # type: ignore[arg-type]
    assert station in {slot[1] for slot in state.scene.figures.step("diameter", DRIVER).missing}


def test_a_shaft_without_a_place_that_nothing_rubs_waits_for_its_stamp() -> None:
    step = state_of("shaft driver").scene.figures.step("diameter", Place("journal", "1"))
    assert [slot[1] for slot in step.missing] == [STAMPED]


def test_a_size_needs_no_depth_of_scores_that_a_look_shows_absent() -> None:
    sizes = pocket("pocket driver", "40.050")
    assert figures(*sizes, look()).figure("needed", DRIVER).hi == pytest.approx(0.12, abs=1e-9)
    assert figures(*sizes).figure("needed", DRIVER).hi == inf


def test_seen_scores_wait_for_their_depth_and_take_it_twice() -> None:
    sizes = [*pocket("pocket driver", "40.050"), finding("scoring", "pocket driver/wall")]
    waiting = figures(*sizes).figure("needed", DRIVER)
    assert (waiting.hi, waiting.missing) == (inf, (("score_depth", "", ""),))
    # 0.05 * 2 + 2 * 0.03 + 0.02 = 0.18.
    depth = reading("score_depth", "pocket driver", "0.030")
    assert figures(*sizes, depth).figure("needed", DRIVER).hi == pytest.approx(0.18, abs=1e-9)


def test_the_uncertainty_of_a_reading_is_resolution_repeatability_and_calibration() -> None:
    # Worked by hand: sqrt(0.001^2 / 12 + 0.001^2 + 0.002^2 / 3) = sqrt(2.4167e-6) = 0.0015546.
    figure = figures(*pocket("pocket driver", "40.050")).figure("diameter", DRIVER)
    assert figure.u == pytest.approx(sqrt(2.4166667e-6), rel=1e-6)


def test_a_figure_names_the_readings_it_rests_on() -> None:
    sizes = pocket("pocket driver", "40.050")
    wanted = {item.id for item in sizes if item.station == "unworn"}
    assert wanted <= set(figures(*sizes).figure("wear", DRIVER).evidence)
