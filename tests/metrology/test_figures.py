"""Figures from readings: worst, differences, wear and clean-up, also half-known and with nothing read."""

from math import inf

import pytest
from hypothesis import given
from hypothesis import strategies as st

from inspect_app.metrology.figure import NONE, UNKNOWN, Figure, Slot, Slots
from inspect_app.metrology.figures import clean_up, largest_minus_smallest, shifted, wear, worst
from inspect_app.metrology.readings import Value

INCH = 25.4


def at(station: str, direction: str = "") -> Slot:
    return ("diameter", station, direction)


def read(size: float, evidence: str = "r", own: float = 0.001, common: float = 0.002) -> tuple[Value, ...]:
    return (Value(size, own, common, "session", (evidence,)),)


def bore(**sizes: float | None) -> Slots:
    """Slots named station_direction with a size in mm, or None where nothing was read."""
    named = {at(*name.split("_")): size for name, size in sizes.items()}
    return {slot: () if size is None else read(size, "-".join(slot[1:])) for slot, size in named.items()}


@pytest.mark.parametrize(("worse", "size", "evidence"), [("above", 40.03, "b"), ("below", 40.01, "a")])
def test_the_worst_reading_counts(worse: str, size: float, evidence: str) -> None:
    figure = worst({at("1"): read(40.01, "a"), at("2"): read(40.03, "b")}, worse)
    assert (figure.lo, figure.hi, figure.evidence, figure.missing) == (size, size, (evidence,), ())


@pytest.mark.parametrize(("worse", "ends"), [("above", (40.01, inf)), ("below", (-inf, 40.01))])
def test_a_half_read_worst_can_exceed_its_limit_but_not_be_inside(
    worse: str, ends: tuple[float, float]
) -> None:
    figure = worst({at("1"): read(40.01), at("2"): ()}, worse)
    assert ((figure.lo, figure.hi), figure.missing) == (ends, (at("2"),))


def test_nothing_read_is_unknown_and_says_what_is_missing() -> None:
    figure = worst({at("1"): (), at("2"): ()}, "above")
    assert (figure.lo, figure.hi, figure.missing) == (-inf, inf, (at("1"), at("2")))
    assert not figure.known


def test_of_a_conflict_the_worse_value_counts() -> None:
    both = (*read(40.01, "a"), *read(40.05, "b"))
    assert worst({at("1"): both}, "above").lo == 40.05
    assert worst({at("1"): both}, "below").lo == 40.01


def test_a_difference_is_taken_along_one_way_and_the_worst_row_counts() -> None:
    slots = bore(top_x=40.08, low_x=40.02, top_y=40.05, low_y=40.04)
    # Along the stations: x 0.06, y 0.01. Along the directions: top 0.03, low 0.02.
    assert largest_minus_smallest(slots, "station").lo == 0.06
    assert largest_minus_smallest(slots, "direction").lo == 0.03


def test_the_shared_part_of_one_session_is_no_doubt_of_a_difference() -> None:
    # Worked by hand: sqrt(2) * 0.001 = 0.0014142, without the common 0.002.
    figure = largest_minus_smallest(bore(top_x=40.08, low_x=40.02), "station")
    assert figure.u == pytest.approx(0.0014142, abs=1e-7)


def test_a_half_known_difference_can_exceed_a_limit_but_not_be_inside_it() -> None:
    figure = largest_minus_smallest(bore(top_x=40.08, middle_x=None, low_x=40.02), "station")
    assert ((figure.lo, figure.hi), figure.missing) == ((0.06, inf), (at("middle", "x"),))


@pytest.mark.parametrize("slots", [bore(top_x=40.08, low_x=None), bore(top_x=None, low_x=None)])
def test_a_difference_of_fewer_than_two_readings_may_be_anything(slots: Slots) -> None:
    figure = largest_minus_smallest(slots, "station")
    assert (figure.lo, figure.hi) == (0.0, inf)


@given(st.lists(st.floats(39, 41), min_size=2, max_size=6), st.data())
def test_reading_more_never_shrinks_a_difference(sizes: list[float], data: st.DataObject) -> None:
    slots = {at(str(i)): read(size) for i, size in enumerate(sizes)}
    kept = data.draw(st.sets(st.sampled_from(sorted(slots))))
    part = {slot: values if slot in kept else () for slot, values in slots.items()}
    half, full = largest_minus_smallest(part, "station"), largest_minus_smallest(slots, "station")
    assert half.lo <= full.lo <= half.hi


def test_a_hole_wears_larger_and_a_shaft_smaller() -> None:
    unworn = Figure(40.0, 40.0)
    assert wear(Figure(40.05, 40.05), unworn, "hole").lo == pytest.approx(0.05, abs=1e-9)
    assert wear(Figure(39.97, 39.97), unworn, "shaft").lo == pytest.approx(0.03, abs=1e-9)


@pytest.mark.parametrize(("size", "body"), [(39.99, "hole"), (40.01, "shaft")])
def test_wear_is_never_below_nothing(size: float, body: str) -> None:
    figure = wear(Figure(size, size), Figure(40.0, 40.0), body)
    assert (figure.lo, figure.hi) == (0.0, 0.0)


@pytest.mark.parametrize("body", ["hole", "shaft"])
@pytest.mark.parametrize(
    ("extreme", "unworn"), [(UNKNOWN, UNKNOWN), (Figure(40.0, 40.0), UNKNOWN), (UNKNOWN, Figure(40.0, 40.0))]
)
def test_wear_from_an_unknown_size_is_open_upwards(extreme: Figure, unworn: Figure, body: str) -> None:
    figure = wear(extreme, unworn, body)
    assert (figure.lo, figure.hi) == (0.0, inf)


def test_wear_of_a_half_read_hole_is_at_least_what_was_read() -> None:
    figure = wear(Figure(40.05, inf), Figure(40.0, 40.0), "hole")
    assert (figure.lo, figure.hi) == (0.05, inf)


def test_a_clean_up_size_carries_the_whole_interval_of_k() -> None:
    # Worked by hand: step 0.20 + k * 0.05 + 2 * 0.01 + 0.02, k from 1 to 2: 0.29 to 0.34.
    need = clean_up(Figure(0.2, 0.2), Figure(0.05, 0.05), Figure(0.01, 0.01), 0.02, (1.0, 1.5, 2.0))
    assert (need.lo, need.hi) == (0.29, 0.34)


def test_a_clean_up_size_of_unknown_depth_is_at_least_what_wear_takes() -> None:
    need = clean_up(NONE, Figure(0.05, 0.05), Figure(0.0, inf), 0.02, (1.0, 1.5, 2.0))
    assert (need.lo, need.hi) == (0.07, inf)


def test_an_unknown_step_leaves_the_clean_up_size_open_both_ways() -> None:
    need = clean_up(UNKNOWN, Figure(0.05, 0.05), NONE, 0.02, (1.0, 1.5, 2.0))
    assert (need.lo, need.hi) == (-inf, inf)


@given(*[st.floats(0, 1) for _ in range(4)])
def test_more_wear_or_depth_never_needs_a_smaller_size(
    worn: float, more: float, depth: float, deeper: float
) -> None:
    one = clean_up(NONE, Figure(worn, worn), Figure(depth, depth), 0.02, (1.0, 1.5, 2.0))
    other = clean_up(
        NONE, Figure(worn + more, worn + more), Figure(depth + deeper, depth + deeper), 0.02, (1.0, 2.0)
    )
    assert one.lo <= other.lo
    assert one.hi <= other.hi


@pytest.mark.parametrize(("sign", "ends"), [(1, (0.1, 0.3)), (-1, (-0.3, -0.1))])
def test_a_step_counts_towards_less_metal(sign: int, ends: tuple[float, float]) -> None:
    figure = shifted(Figure(40.1, 40.3), 40.0, sign)
    assert (figure.lo, figure.hi) == ends


def test_a_worn_bore_worked_by_hand() -> None:
    # Inches: 4.000 standard; top 4.0080 / 4.0052, middle 4.0050 / 4.0038, bottom 4.0020 / 4.0015.
    inches = {
        "top_x": 4.0080,
        "top_y": 4.0052,
        "middle_x": 4.0050,
        "middle_y": 4.0038,
        "bottom_x": 4.0020,
        "bottom_y": 4.0015,
    }
    slots = bore(**{name: size * INCH for name, size in inches.items()})
    # Taper: x 4.0080 - 4.0020 = 0.0060, y 4.0052 - 4.0015 = 0.0037; the worse counts.
    assert largest_minus_smallest(slots, "station").lo == pytest.approx(0.0060 * INCH, abs=1e-9)
    # Out-of-round: top 0.0028, middle 0.0012, bottom 0.0005.
    assert largest_minus_smallest(slots, "direction").lo == pytest.approx(0.0028 * INCH, abs=1e-9)
    worn = wear(worst(slots, "above"), Figure(4 * INCH, 4 * INCH), "hole")
    assert worn.lo == worn.hi == pytest.approx(0.0080 * INCH, abs=1e-9)
    # At k = 1.5: 0.012 + 0.003 for honing = 0.015. k from 1 to 2: 0.011 to 0.019, so 0.020 cleans it.
    middle = clean_up(NONE, worn, NONE, 0.003 * INCH, (1.5, 1.5, 1.5))
    assert middle.lo == middle.hi == pytest.approx(0.015 * INCH, abs=1e-9)
    need = clean_up(NONE, worn, NONE, 0.003 * INCH, (1.0, 1.5, 2.0))
    assert (need.lo / INCH, need.hi / INCH) == pytest.approx((0.011, 0.019), abs=1e-9)
    assert need.lo / INCH > 0.010
    assert need.hi / INCH < 0.020


def test_a_scored_pin_worked_by_hand() -> None:
    # Inches: 2.1000 standard; front 2.0993 / 2.0989, rear 2.0991 / 2.0988; one score 0.002 deep.
    inches = {"front_x": 2.0993, "front_y": 2.0989, "rear_x": 2.0991, "rear_y": 2.0988}
    slots = bore(**{name: size * INCH for name, size in inches.items()})
    assert largest_minus_smallest(slots, "station").lo == pytest.approx(0.0002 * INCH, abs=1e-9)
    assert largest_minus_smallest(slots, "direction").lo == pytest.approx(0.0004 * INCH, abs=1e-9)
    worn = wear(worst(slots, "below"), Figure(2.1 * INCH, 2.1 * INCH), "shaft")
    assert worn.lo == pytest.approx(0.0012 * INCH, abs=1e-9)
    # At k = 1.5: 0.0018 + 2 * 0.002 + 0.001 = 0.0068, so 0.010 cleans it.
    score = Figure(0.002 * INCH, 0.002 * INCH)
    middle = clean_up(NONE, worn, score, 0.001 * INCH, (1.5, 1.5, 1.5))
    assert middle.lo == pytest.approx(0.0068 * INCH, abs=1e-9)
    # k from 1 to 2: 0.0062 to 0.0074, still one and the same size.
    need = clean_up(NONE, worn, score, 0.001 * INCH, (1.0, 1.5, 2.0))
    assert (need.lo / INCH, need.hi / INCH) == pytest.approx((0.0062, 0.0074), abs=1e-9)
