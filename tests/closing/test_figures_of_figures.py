"""Figures made from figures: half, less, what a face loses, the stress around a ring; how they are shown."""

from math import inf, isfinite, sqrt
from pathlib import Path
from typing import Any

import pytest

from inspect_app.closing.figure_state import FigureState
from inspect_app.closing.missing import of_row
from inspect_app.closing.piece_state import PieceState
from inspect_app.closing.pressed import press_stress
from inspect_app.closing.reasons import closed_reasons
from inspect_app.closing.shown import figures_shown, profiles
from inspect_app.metrology.conformity import past
from inspect_app.metrology.figures import worst
from inspect_app.metrology.press_fit import Metal, Press, Rings, press
from inspect_app.metrology.readings import Value
from inspect_app.model.answer_figures import FigureShown
from inspect_app.model.evidence import Evidence
from inspect_app.model.pieces import Piece
from inspect_app.model.places import Place
from inspect_app.rulebook.engine import Engine
from inspect_app.rulebook.load import load_rulebook
from tests.support import (
    changed_pack,
    finding,
    look,
    pocket,
    pump_engine,
    pump_sheet,
    reading,
    state_of,
)

DRIVER, FACE = Place("pocket", "driver"), Place("seal_face")
MORE = """
[[material]]
id = "aluminium"
title = "aluminium"
expansion = [19.0e-6, 23.6e-6]
modulus_gpa = 70
poisson = 0.33
basis = "x"

[[material]]
id = "steel"
title = "steel"
expansion = [11.0e-6, 12.0e-6]
modulus_gpa = 210
poisson = 0.3
basis = "x"

[[quantity]]
id = "edge_gap"
title = "gap under the edge"
each = ["seal_face"]
worse = "above"
shown_in = "mm"
stations = ["one", "two"]
directions = ["passes", "stops"]

[[quantity]]
id = "flatness"
title = "largest gap"
each = ["seal_face"]
worse = "above"
shown_in = "mm"
calc = { name = "straightedge", of = "edge_gap" }

[[quantity]]
id = "cut"
title = "metal to come off"
each = ["seal_face"]
worse = "above"
shown_in = "mm"
[quantity.calc]
name = "face_cut"
of = "flatness"
depth = "score_depth"
unless_absent = ["scoring"]
stock = "0.02 mm"

[[quantity]]
id = "height"
title = "height"
each = ["seal_face"]
worse = "below"
shown_in = "mm"

[[quantity]]
id = "height_after"
title = "height left"
each = ["seal_face"]
worse = "below"
shown_in = "mm"
calc = { name = "minus", of = "height", less = "cut" }

[[quantity]]
id = "half_rim"
title = "half the rim"
each = ["pocket"]
worse = "below"
shown_in = "mm"
calc = { name = "times", of = "rim", times = 0.5 }

[[quantity]]
id = "stress"
title = "stress around a ring"
each = ["pocket"]
dimension = "pressure"
shown_in = "MPa"
worse = "above"
[quantity.calc]
name = "press_stress"
of = "rim"
ring = { wall = "2 mm", interference = "0.04 mm", material = "steel" }

[[limit]]
quantity = "flatness"
each = ["seal_face"]
max = "0.06 mm"
basis = "x"

[[rule]]
id = "face-not-flat"
part = "cover"
each = ["seal_face"]
when = [{ figure = "flatness", is = "past limit" }]
closes = ["face.as_is"]
why = "x"
plain = "x"
basis = "x"
  [[rule.example]]
  given = [{ figure = "flatness", place = "seal_face", value = "0.07 mm" }]
  then = "met"

[[limit]]
quantity = "stress"
each = ["pocket"]
max = "60 MPa"
decision = "guarded"
basis = "x"

[[rule]]
id = "stress-too-high"
part = "housing"
each = ["pocket"]
when = [{ figure = "stress", is = "past limit" }]
closes = ["pockets.sleeve"]
why = "x"
plain = "x"
basis = "x"
  [[rule.example]]
  given = [{ figure = "stress", place = "pocket 1", value = "100 MPa" }]
  then = "met"
"""


def bound(tmp_path: Path) -> Engine:
    """The pump, with a face and a ring to compute."""
    return Engine(load_rulebook(changed_pack(tmp_path, more=MORE)), pump_sheet())


def face(tmp_path: Path, *items: Evidence) -> FigureState:
    return state_of("cover", *items, engine=bound(tmp_path)).scene.figures


def housing(tmp_path: Path, *items: Evidence, piece: Piece | None = None) -> PieceState:
    return state_of("housing", *items, engine=bound(tmp_path), piece=piece)


def leaf(station: str, direction: str, value: str) -> Evidence:
    gauge = {"gauge": "outside-micrometer", "piece": "cover"}
    return reading("edge_gap", "seal_face", value, f"{station} {direction}", **gauge)


def gaps() -> list[Evidence]:
    """0.05 passes and 0.08 does not on one line; 0.03 is stopped on the other."""
    return [leaf("one", "passes", "0.050"), leaf("one", "stops", "0.080"), leaf("two", "stops", "0.030")]


def depth(value: str) -> Evidence:
    return reading("score_depth", "seal_face", value, piece="cover", gauge="outside-micrometer")


def rim(value: str, **more: Any) -> Evidence:
    return reading("rim", "pocket driver", value, gauge="outside-micrometer", **more)


U = sqrt(0.001**2 / 12 + 0.001**2 + 0.002**2 / 3)
"""Of one reading of the micrometer."""


def test_a_half_halves_the_value_and_its_doubt(tmp_path: Path) -> None:
    figure = housing(tmp_path, rim("9.000")).scene.figures.figure("half_rim", DRIVER)
    assert (figure.lo, figure.hi, figure.u) == (4.5, 4.5, pytest.approx(U / 2))


# Without scores: the gap, 0.05 to 0.08, and 0.02 stock. With scores 0.06 deep at least the larger of both,
# 0.06 + 0.02, and at most their sum: 0.08 + 0.06 + 0.02. Scores that nobody measured leave it open.
@pytest.mark.parametrize(
    ("scores", "ends"),
    [
        ([look(piece="cover")], (0.07, 0.10)),
        ([finding("scoring", "seal_face", piece="cover"), depth("0.060")], (0.08, 0.16)),
        ([finding("scoring", "seal_face", piece="cover"), depth("0.030")], (0.07, 0.13)),
        ([finding("scoring", "seal_face", piece="cover")], (0.07, inf)),
    ],
)
def test_a_face_loses_at_least_the_deeper_of_gap_and_scores_and_at_most_both(
    tmp_path: Path, scores: list[Evidence], ends: tuple[float, float]
) -> None:
    figure = face(tmp_path, *gaps(), *scores).figure("cut", FACE)
    assert (figure.lo, figure.hi) == (pytest.approx(ends[0]), pytest.approx(ends[1]))


@pytest.mark.parametrize(
    ("leaves", "asked"),
    [
        # The limit of 0.06 lies between the leaves, and nothing is unread.
        (gaps(), {"largest gap, read more closely than 0.05 to 0.08 mm"}),
        # What passes on line one was stopped there too: tried again, and line two is done.
        ([leaf("one", "passes", "0.050"), leaf("one", "stops", "0.050"), leaf("two", "stops", "0.030")],
         {"gap under the edge, one, stops"}),
        ([leaf("one", "stops", "0.050"), leaf("two", "stops", "0.030")], set()),
    ],
)  # fmt: skip
def test_an_open_gap_says_which_leaf_is_wanted(
    tmp_path: Path, leaves: list[Evidence], asked: set[str]
) -> None:
    state = state_of("cover", *leaves, engine=bound(tmp_path))
    rows = [row for row in state.rows if row.rule.id == "face-not-flat"]
    assert {item.what for row in rows for item in of_row(state, row)} == asked


def test_what_is_left_of_a_height_turns_the_ends_round(tmp_path: Path) -> None:
    height = reading("height", "seal_face", "30.000", piece="cover", gauge="outside-micrometer")
    figure = face(tmp_path, *gaps(), look(piece="cover"), height).figure("height_after", FACE)
    # 30 less 0.07 to 0.10.
    assert (figure.lo, figure.hi) == (29.90, 29.93)
    # The leaf and the micrometer were used in one session: its calibration cancels, and both own parts stay.
    assert figure.u >= sqrt(2) * sqrt(0.001**2 / 12 + 0.001**2) - 1e-12


# ---- stress ----


def around(wall: float) -> Press:
    """The ring: 40 mm inside, 2 mm thick, 0.04 mm interference; steel in aluminium."""
    found = press(Rings(40.0, 44.0, 40.0 + 2 * wall, Metal(210, 0.3), Metal(70, 0.33)), 0.04)
    assert isinstance(found, Press)
    return found


@pytest.mark.parametrize("wall", [2.5, 4.0, 9.0, 60.0])
def test_the_stress_is_that_of_two_rings_told_in_kilopascal(tmp_path: Path, wall: float) -> None:
    figure = housing(tmp_path, rim(f"{wall:.3f}")).scene.figures.figure("stress", DRIVER)
    assert figure.lo == figure.hi == pytest.approx(1000 * around(wall).hoop_outer, rel=1e-6)
    assert figure.u == pytest.approx(1000 * (around(wall - U).hoop_outer - figure.lo / 1000), rel=1e-3)


def test_an_endless_wall_bears_least_and_what_is_not_read_leaves_the_stress_open(tmp_path: Path) -> None:
    figure = housing(tmp_path).scene.figures.figure("stress", DRIVER)
    assert (figure.hi, figure.missing) == (inf, (("rim", "", ""),))
    # A wall a hundred times the joint: the outer ratio is 1 to 4 decimals.
    assert figure.lo == pytest.approx(1000 * around(44.0 * 50 - 20).hoop_outer, rel=1e-6)


@pytest.mark.parametrize("wall", ["2.000", "1.500"])
def test_a_wall_no_thicker_than_the_ring_bears_nothing_and_its_reason_has_a_limit_but_no_number(
    tmp_path: Path, wall: str
) -> None:
    state = housing(tmp_path, rim(wall))
    assert state.scene.figures.figure("stress", DRIVER).lo == inf
    (closed,) = [c for c in closed_reasons(state) if c.rule == "stress-too-high"]
    assert closed.measured is None
    assert closed.limit is not None
    assert closed.limit.value == 60


def test_a_thinner_wall_by_a_coarse_gauge_does_not_lift_what_a_fine_one_shows(tmp_path: Path) -> None:
    """55 MPa is passed for sure at 2.9 mm (55.3), and hardly known at 2.8 mm plus or minus 0.5."""
    engine = bound(tmp_path)
    form = engine.book.quantities["stress", "pocket"]
    assert form.calc is not None
    assert form.calc.ring is not None
    fine, coarse = (Value(size, u, 0.0, "s", ("r",)) for size, u in ((2.9, 0.001), (2.8, 0.5)))
    for read in ({"a": (fine,)}, {"a": (fine,), "b": (coarse,)}):
        wall = worst({("rim", "", name): values for name, values in read.items()}, "below")
        figure = press_stress(engine, "aluminium", form.calc.ring, wall, "pocket")
        assert past(figure, 55_000, "above", guarded=True) == (True, True)


@pytest.mark.parametrize("metal", ["steel", None])
def test_the_stress_depends_on_the_metal_of_the_piece(tmp_path: Path, metal: str | None) -> None:
    piece = Piece(id="housing", position="housing", material=metal)
    figure = housing(tmp_path, rim("9.000"), piece=piece).scene.figures.figure("stress", DRIVER)
    outer = Metal(210, 0.3) if metal else Metal(70, 0.33)
    found = press(Rings(40.0, 44.0, 58.0, Metal(210, 0.3), outer), 0.04)
    assert isinstance(found, Press)
    assert figure.lo == pytest.approx(1000 * found.hoop_outer, rel=1e-6)


def test_without_a_modulus_or_a_nominal_size_nobody_knows(tmp_path: Path) -> None:
    book = load_rulebook(changed_pack(tmp_path, more=MORE))
    for sheet in (pump_sheet(materials={}), pump_sheet(quantities={})):
        state = state_of("housing", rim("9.000"), engine=Engine(book, sheet))
        figure = state.scene.figures.figure("stress", DRIVER)
        assert (figure.lo, figure.hi) == (-inf, inf)


# ---- shown ----


def shown(state: PieceState, quantity: str, place: str = "pocket driver") -> FigureShown | None:
    found = [f for f in figures_shown(state) if (f.quantity, f.place) == (quantity, place)]
    return found[0] if found else None


# Wear against 0.05 mm to rebuild, simple.
@pytest.mark.parametrize(
    ("worn", "state", "close"),
    [
        ("40.030", "inside", False),
        ("40.049", "inside", True),
        ("40.051", "beyond", True),
        ("40.080", "beyond", False),
    ],
)
def test_a_figure_is_shown_beside_its_limit_with_where_it_stands(worn: str, state: str, close: bool) -> None:
    found = shown(state_of("housing", *pocket("pocket driver", worn)), "wear")
    assert found is not None
    assert (found.state, found.close_call, found.measured.bound) == (state, close, "exact")
    assert found.measured.value == pytest.approx(float(worn) - 40)
    assert found.limit is not None
    assert (found.limit.value, found.limit.unit, found.limit_from) == (0.05, "mm", "pack")
    assert found.p_beyond is not None
    assert (found.p_beyond > 0.5) is (state == "beyond")


def test_a_half_read_figure_is_at_least_what_was_read() -> None:
    half = pocket("pocket driver", "40.030")[1:]
    found = shown(state_of("housing", *half), "wear")
    assert found is not None
    assert (found.measured.bound, found.state, found.close_call) == ("at_least", "open", False)


def test_of_a_conflict_the_worse_value_is_shown() -> None:
    read = pocket("pocket driver", "40.030")
    state = state_of("housing", *read, read[0].model_copy(update={"id": "again", "value": "40.080"}))
    found = shown(state, "wear")
    assert found is not None
    assert found.measured.value == pytest.approx(0.08)
    profile = next(profile for profile in profiles(state, {}) if profile.place == "pocket driver")
    assert {point.station: point.value for point in profile.points} == {"inlet": 40.08, "outlet": 40.03}


def test_where_smaller_is_worse_a_guarded_figure_is_open_inside_its_guard() -> None:
    # u is 0.00155: the guard of the rim's 6 mm reaches 0.0026.
    for value, stands in (("6.010", "inside"), ("6.001", "open"), ("5.990", "beyond")):
        found = shown(state_of("housing", rim(value)), "rim")
        assert found is not None
        assert (found.state, found.measured.bound, found.decision) == (stands, "exact", "guarded")


def test_what_nobody_read_is_not_shown(tmp_path: Path) -> None:
    assert list(figures_shown(state_of("housing"))) == []
    assert list(profiles(state_of("housing"), {})) == []
    # Open leaves on a face are shown as far as they go.
    cover = state_of("cover", leaf("one", "passes", "0.050"), engine=bound(tmp_path))
    found = shown(cover, "flatness", "seal_face")
    assert found is not None
    assert (found.measured.value, found.measured.bound, found.state) == (0.05, "at_least", "open")


def test_a_profile_tells_every_slot_the_unworn_size_and_the_cut() -> None:
    state = state_of("housing", *pocket("pocket driver", "40.030")[1:])
    (profile,) = profiles(state, {("diameter", DRIVER): ("0.20 mm", 40.2)})
    assert [(p.station, p.value) for p in profile.points] == [("inlet", None), ("outlet", 40.03)]
    assert (profile.unworn, profile.cut_to, profile.cut_name, profile.body) == (40.0, 40.2, "0.20 mm", "hole")


def test_everything_shown_is_a_number() -> None:
    state = state_of("housing", *pocket("pocket driver", "40.030"), rim("9.000"), engine=pump_engine())
    for found in figures_shown(state):
        assert isfinite(found.measured.value)
        assert isfinite(found.measured.u)
