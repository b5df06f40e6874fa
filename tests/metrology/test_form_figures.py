"""Figures of form from slots: leaves under an edge, zones of a grid, swept roundness; their stated rates."""

from collections.abc import Mapping
from math import cos, inf, pi, sqrt

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from inspect_app.metrology.conformity import chance_past, past
from inspect_app.metrology.figure import Figure, Slot, Slots
from inspect_app.metrology.form_figures import flatness_plane, flatness_zone, roundness, straightedge_gap
from inspect_app.metrology.readings import Value

PARTS = 1500
ROOM = 4.5 * sqrt(0.05 * 0.95 / PARTS)
"""Four and a half standard deviations of a binomial share of simulated parts."""


def value(number: float, evidence: str, own: float = 0.001, session: str = "s") -> Value:
    return Value(number, own, 0.005, session, (evidence,))


# ---- leaves ----


def leaves(**lines: tuple[float | None, float | None]) -> Slots:
    """Lines with the leaf that passes and the one that stops; None where none was tried."""
    found: dict[Slot, tuple[Value, ...]] = {}
    for name, pair in lines.items():
        for direction, leaf in zip(("passes", "stops"), pair, strict=True):
            read = () if leaf is None else (value(leaf, f"{name} {direction}"),)
            found["gap", name, direction] = read
    return found


def test_the_worst_line_gives_both_ends() -> None:
    # Front: 0 to 0.03. Diagonal: 0.05 to 0.08.
    figure = straightedge_gap(leaves(front=(None, 0.03), diagonal=(0.05, 0.08)))
    assert (figure.lo, figure.hi, figure.missing) == (0.05, 0.08, ())
    assert figure.evidence == ("diagonal passes",)


@pytest.mark.parametrize(
    ("limit", "states"),
    [
        (0.04, (True, True)),
        (0.05, (False, True)),  # the gap may be exactly 0.05, which is inside, or more
        (0.06, (False, True)),
        (0.08, (False, False)),  # below 0.08 for sure
        (0.10, (False, False)),
    ],
)
def test_a_limit_between_the_leaves_stays_open(limit: float, states: tuple[bool, bool]) -> None:
    assert past(straightedge_gap(leaves(front=(0.05, 0.08))), limit, "above", guarded=False) == states


def test_where_nothing_passes_the_gap_begins_at_nothing() -> None:
    figure = straightedge_gap(leaves(front=(None, 0.03), rear=(None, 0.05)))
    assert (figure.lo, figure.hi) == (0.0, 0.05)


def test_a_line_on_which_no_leaf_was_stopped_is_open_upwards_and_asked_for() -> None:
    figure = straightedge_gap(leaves(front=(0.05, None), rear=(None, 0.05), left=(None, None)))
    assert (figure.lo, figure.hi) == (0.05, inf)
    assert figure.missing == (("gap", "front", "stops"), ("gap", "left", "stops"))


@pytest.mark.parametrize("stops", [0.04, 0.05])
def test_a_leaf_that_passes_where_one_no_thicker_stopped_is_asked_for_again(stops: float) -> None:
    figure = straightedge_gap(leaves(front=(0.05, stops), rear=(None, 0.03)))
    assert (figure.lo, figure.hi, figure.missing) == (0.05, inf, (("gap", "front", "stops"),))


def test_without_any_leaf_nothing_is_known() -> None:
    figure = straightedge_gap(leaves(front=(None, None)))
    assert (figure.lo, figure.hi, figure.evidence) == (0.0, inf, ())
    assert straightedge_gap({}).hi == inf


_leaf = st.none() | st.sampled_from([0.03, 0.05, 0.08, 0.10])


@given(st.lists(st.tuples(_leaf, _leaf), min_size=1, max_size=4), st.data())
def test_trying_more_leaves_never_lowers_the_gap_nor_proves_less(
    pairs: list[tuple[float | None, float | None]], data: st.DataObject
) -> None:
    whole = leaves(**{f"line{i}": pair for i, pair in enumerate(pairs)})
    kept = data.draw(st.sets(st.sampled_from(sorted(whole))))
    part = straightedge_gap({slot: read if slot in kept else () for slot, read in whole.items()})
    full = straightedge_gap(whole)
    assert part.lo <= full.lo
    contradicted = any(slot in full.missing and whole[slot] for slot in whole)
    assert contradicted or full.hi <= part.hi


# ---- grids ----

LONG, WIDE = ("front", "middle", "rear"), ("left", "right")


def grid(heights: Mapping[tuple[str, str], float | None]) -> Slots:
    return {("height", *at): () if z is None else (value(z, "-".join(at)),) for at, z in heights.items()}


def twisted(corner: float | None = 0.08) -> Slots:
    """A face flat but for one corner; the middle lies half way, as on a ruled surface."""
    flat = {(station, direction): 0.0 for station in LONG for direction in WIDE}
    half = None if corner is None else corner / 2
    return grid({**flat, ("front", "left"): corner, ("middle", "left"): half})


def test_a_corner_80_high_lies_between_planes_40_apart() -> None:
    """Worked by hand: tilting about the diagonals shares it, +0.02 and -0.02 at the four corners."""
    corners = grid(
        {("front", "left"): 0.08, ("front", "right"): 0.0, ("rear", "left"): 0.0, ("rear", "right"): 0.0}
    )
    for flatness in (flatness_zone, flatness_plane):
        figure = flatness(corners, ("front", "rear"), WIDE)
        assert (figure.lo, figure.hi) == (pytest.approx(0.04), pytest.approx(0.04))
        # One reading has 0.001; a zone is a difference of two: sqrt(2) * 0.001.
        assert figure.u == pytest.approx(sqrt(2) * 0.001)
        assert figure.candidates == ((pytest.approx(0.04), 0.001),)


def test_the_least_squares_plane_is_never_below_the_narrowest_zone() -> None:
    zone, plane = (flatness(twisted(), LONG, WIDE) for flatness in (flatness_zone, flatness_plane))
    assert plane.lo >= zone.lo - 1e-9
    assert zone.lo == pytest.approx(0.04)


def test_a_tilted_face_is_flat() -> None:
    tilted = grid({(s, d): 0.3 * i + 0.1 * j for i, s in enumerate(LONG) for j, d in enumerate(WIDE)})
    assert flatness_zone(tilted, LONG, WIDE).lo == pytest.approx(0.0, abs=1e-9)


def test_points_not_read_leave_the_zone_open_upwards_and_are_named() -> None:
    figure = flatness_zone(twisted(None), LONG, WIDE)
    assert figure.hi == inf
    assert figure.missing == (("height", "front", "left"), ("height", "middle", "left"))
    # Four points are left of six, all at 0.
    assert figure.lo == 0.0


@pytest.mark.parametrize("read", [0, 1, 3])
def test_three_points_always_lie_on_a_plane(read: int) -> None:
    slots = twisted()
    few = {slot: found if i < read else () for i, (slot, found) in enumerate(slots.items())}
    figure = flatness_zone(few, LONG, WIDE)
    assert (figure.lo, figure.hi, len(figure.missing)) == (0.0, inf, 6 - read)


def test_heights_of_two_sessions_do_not_share_their_zero() -> None:
    slots = dict(twisted())
    slots["height", "rear", "right"] = (value(0.0, "again", session="t"),)
    figure = flatness_zone(slots, LONG, WIDE)
    # u of one reading over both sessions: sqrt(0.001^2 + 0.005^2) = 0.005099; a difference: sqrt(2) of it.
    assert figure.u == pytest.approx(0.0072111, abs=1e-7)
    assert [u for _, u in figure.candidates] == [pytest.approx(0.001), pytest.approx(0.0050990, abs=1e-7)]


@given(
    st.lists(st.floats(-0.1, 0.1).map(lambda z: round(z, 3)), min_size=6, max_size=6),
    st.sets(st.integers(0, 5)),
    st.integers(0, 63),
    st.sampled_from([0.0, 0.02, 0.05]),
)
@settings(max_examples=60, deadline=None)
def test_reading_more_points_never_lifts_what_a_zone_has_shown(
    heights: list[float], kept: set[int], sessions: int, limit: float
) -> None:
    places = [(station, direction) for station in LONG for direction in WIDE]
    whole = {
        ("height", *at): (value(z, f"{i}", session=f"{sessions >> i & 1}"),)
        for i, (at, z) in enumerate(zip(places, heights, strict=True))
    }
    part = {slot: read if i in kept else () for i, (slot, read) in enumerate(whole.items())}
    for guarded in (False, True):
        before = past(flatness_zone(part, LONG, WIDE), limit, "above", guarded)
        after = past(flatness_zone(whole, LONG, WIDE), limit, "above", guarded)
        assert not before[0] or after[0]


# ---- swept sections ----

TURN = tuple(str(degrees) for degrees in range(0, 360, 45))


def swept(radii: list[float | None], station: str = "top") -> Slots:
    return {
        ("sweep", station, direction): () if r is None else (value(r, f"{station} {direction}"),)
        for direction, r in zip(TURN, radii, strict=True)
    }


def lobes(count: int, amplitude: float) -> list[float | None]:
    return [amplitude * cos(2 * pi * i * count / 8) for i in range(8)]


@pytest.mark.parametrize("diameter", [None, 80.0])
def test_an_oval_reads_half_of_what_two_points_differ(diameter: float | None) -> None:
    # Radius +0.02 one way and -0.02 the other: peak to valley 0.04, while diameters differ by 0.08.
    assert roundness(swept(lobes(2, 0.02)), TURN, diameter).lo == pytest.approx(0.04, abs=1e-4)


def test_three_lobes_that_two_points_miss_are_seen() -> None:
    deviations = lobes(3, 0.02)
    diameters = [a + b for a, b in zip(deviations[:4], deviations[4:], strict=True) if a is not None and b]
    assert max(diameters) - min(diameters) == pytest.approx(0.0, abs=1e-12)
    # cos(3 x) at eighths of a turn reaches 1 and -1, so peak to valley 0.04.
    assert roundness(swept(deviations), TURN, 80.0).lo == pytest.approx(0.04, abs=1e-4)


def test_an_indicator_off_the_centre_shows_no_form() -> None:
    assert roundness(swept(lobes(1, 0.02)), TURN, 80.0).lo == pytest.approx(0.0, abs=1e-4)


def test_the_worst_section_counts() -> None:
    slots = {**swept(lobes(2, 0.01), "top"), **swept(lobes(2, 0.03), "bottom")}
    figure = roundness(slots, TURN, 80.0)
    assert figure.lo == pytest.approx(0.06, abs=1e-4)
    assert all(item.startswith("bottom") for item in figure.evidence)
    assert figure.layout is not None
    assert (figure.layout.readings, figure.layout.rows) == (8, 2)


def test_directions_not_read_leave_it_open_upwards_and_are_named() -> None:
    figure = roundness(swept([0.02, None, -0.02, 0.0, 0.02, 0.0, -0.02, None]), TURN, 80.0)
    assert (figure.hi, figure.missing) == (inf, (("sweep", "top", "45"), ("sweep", "top", "315")))
    assert figure.lo > 0.03


def test_three_directions_always_lie_on_a_circle() -> None:
    figure = roundness(swept([0.02, None, None, 0.0, None, None, -0.02, None]), TURN, 80.0)
    assert (figure.lo, figure.hi, figure.candidates) == (0.0, inf, ())


# ---- stated rates, on simulated parts ----

LIMIT, U = 0.010, 0.001


def noisy(slots: Slots, generator: np.random.Generator) -> Slots:
    """Read again with one calibration for all and a fresh error each."""
    shared = generator.normal(0, 0.005)
    return {slot: (value(v.value + shared + generator.normal(0, U), "r"),) for slot, (v,) in slots.items()}


def shares(figures: list[Figure]) -> tuple[float, float, float]:
    """How many are called beyond simply, beyond past the guard, and proven inside past the guard."""
    simple = [past(figure, LIMIT, "above", False)[0] for figure in figures]
    guarded = [past(figure, LIMIT, "above", True) for figure in figures]
    return (
        float(np.mean(simple)),
        float(np.mean([must for must, _ in guarded])),
        float(np.mean([not may for _, may in guarded])),
    )


BENT = grid({(s, d): LIMIT * (i % 2) for i, s in enumerate(LONG) for d in WIDE})
"""Out of flat by exactly the limit: the middle is up all across."""
SPIKE = grid({(s, d): LIMIT * 1.5 * (s == "front" and d == "left") for s in LONG for d in WIDE})
OVAL, TRIANGLE = swept(lobes(2, LIMIT / 2)), swept(lobes(3, LIMIT / 2))


@pytest.mark.parametrize("shape", ["bent", "spike", "oval", "triangle"])
def test_forms_exactly_at_the_limit_are_called_at_most_at_the_stated_rates(shape: str) -> None:
    generator = np.random.default_rng(11)
    made = {"bent": BENT, "spike": SPIKE, "oval": OVAL, "triangle": TRIANGLE}[shape]

    def read() -> Figure:
        slots = noisy(made, generator)
        if shape in ("bent", "spike"):
            return flatness_zone(slots, LONG, WIDE)
        return roundness(slots, TURN, 80.0)

    exact = (
        flatness_zone(made, LONG, WIDE).lo if shape in ("bent", "spike") else roundness(made, TURN, 80.0).lo
    )
    assert exact == pytest.approx(LIMIT, rel=0.06)
    simple, beyond, inside = shares([read() for _ in range(PARTS)])
    assert simple <= 0.5 + 3 * ROOM
    assert beyond <= 0.05 + ROOM
    assert inside <= 0.05 + ROOM


def test_a_plain_normal_around_a_zone_would_call_too_many() -> None:
    generator = np.random.default_rng(12)
    figures = [flatness_zone(noisy(BENT, generator), LONG, WIDE) for _ in range(300)]
    plain = float(np.mean([figure.lo > LIMIT for figure in figures]))
    held = float(np.mean([chance_past(figure, LIMIT, "above") > 0.5 for figure in figures]))
    assert plain > 0.6 > 0.5 > held
