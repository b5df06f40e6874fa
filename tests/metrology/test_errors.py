"""Errors by source: what two sizes share cancels between them, and nothing else does."""

from math import hypot, inf, isnan, sqrt

import pytest
from hypothesis import given
from hypothesis import strategies as st

from inspect_app.metrology.errors import NO_ERRORS, combined, u_of
from inspect_app.metrology.figure import NONE, UNKNOWN, Figure, added
from inspect_app.metrology.figures import clean_up, shifted, wear, worst
from inspect_app.metrology.readings import Value

K = (1.0, 1.5, 2.0)
_amounts = st.floats(-1, 1, allow_subnormal=False)
_errors = st.dictionaries(st.sampled_from("abcd"), _amounts, max_size=4)
_ends = st.one_of(st.just(-inf), st.just(inf), st.floats(-1e3, 1e3))


def size(value: float, session: str, evidence: str, own: float = 0.001, common: float = 0.002) -> Figure:
    """One slot read once."""
    read = (Value(value, own, common, session, (evidence,)),)
    return worst({("diameter", evidence, ""): read}, "above")


def test_sources_add_signed_and_those_that_cancel_are_left_out() -> None:
    # a: 2 * 3 - 1 * 6 = 0, left out; b: 2 * 1 = 2; c: -1 * 4 = -4.
    assert combined((2.0, {"a": 3.0, "b": 1.0}), (-1.0, {"a": 6.0, "c": 4.0})) == {"b": 2.0, "c": -4.0}


def test_independent_sources_add_by_their_squares() -> None:
    # sqrt(2^2 + 3^2 + 6^2) = 7.
    assert u_of({"a": 2.0, "b": -3.0, "c": 6.0}) == 7.0
    assert u_of(NO_ERRORS) == 0.0


@given(_errors, _errors, st.floats(-3, 3), st.floats(-3, 3))
def test_a_sum_is_never_surer_or_less_sure_than_its_parts_allow(
    one: dict[str, float], other: dict[str, float], a: float, b: float
) -> None:
    # The triangle rule: between |a u1| - |b u2| and their sum, whatever they share.
    u, first, second = u_of(combined((a, one), (b, other))), abs(a) * u_of(one), abs(b) * u_of(other)
    assert abs(first - second) - 1e-9 <= u <= first + second + 1e-9


@given(_errors, _errors, st.floats(-3, 3))
def test_the_order_of_a_sum_does_not_matter(one: dict[str, float], other: dict[str, float], a: float) -> None:
    forth, back = combined((a, one), (1.0, other)), combined((1.0, other), (a, one))
    assert u_of(forth) == pytest.approx(u_of(back))


def test_in_one_session_wear_is_free_of_the_calibration() -> None:
    # own 0.001 each: sqrt(2) * 0.001, without the 0.002 of the session.
    figure = wear(size(40.08, "s", "worn"), size(40.0, "s", "unworn"), "hole")
    assert figure.u == pytest.approx(sqrt(2) * 0.001)
    assert not any(source.startswith("session") for source in figure.errors)


def test_across_two_sessions_the_calibration_stays() -> None:
    # sqrt(2 * 0.001^2 + 2 * 0.002^2) = sqrt(10) * 0.001.
    figure = wear(size(40.08, "s", "worn"), size(40.0, "t", "unworn"), "hole")
    assert figure.u == pytest.approx(sqrt(10) * 0.001)


def test_a_clean_up_size_at_k_of_2_takes_twice_the_extreme_less_the_unworn_size() -> None:
    """Step (unworn - nominal) + 2 * (extreme - unworn): 2 e(extreme) - e(unworn)."""
    extreme, unworn = size(40.08, "s", "worn"), size(40.0, "s", "unworn")
    need = clean_up(shifted(unworn, 39.9), wear(extreme, unworn, "hole"), NONE, 0.0, K)
    assert need.errors == pytest.approx({"session s": 0.002, "reading worn": 0.002, "reading unworn": -0.001})
    # sqrt(0.002^2 + 0.002^2 + 0.001^2) = 0.003.
    assert need.u == pytest.approx(0.003)


def test_a_clean_up_size_of_two_sessions_keeps_both_calibrations() -> None:
    extreme, unworn = size(40.08, "s", "worn"), size(40.0, "t", "unworn")
    need = clean_up(shifted(unworn, 39.9), wear(extreme, unworn, "hole"), NONE, 0.0, K)
    # 2 * 0.002 and 2 * 0.001 of the extreme, 0.002 and 0.001 of the unworn size.
    assert need.u == pytest.approx(sqrt(0.004**2 + 0.002**2 + 0.002**2 + 0.001**2))


def test_a_shaft_wears_the_other_way_and_its_calibration_cancels_all_the_same() -> None:
    figure = wear(size(39.92, "s", "worn"), size(40.0, "s", "unworn"), "shaft")
    assert (figure.lo, figure.u) == (pytest.approx(0.08), pytest.approx(sqrt(2) * 0.001))


def test_errors_that_nobody_told_belong_to_their_figure_alone() -> None:
    """One figure in two sums is still one error; another figure in the same place of a sum is another."""
    gap = Figure(0.05, 0.05, 0.003, ("leaf",))
    other = Figure(0.02, 0.02, 0.004, ("pit",))
    halves = added((0.5, gap), (0.5, gap))
    assert halves.u == pytest.approx(0.003)
    assert added((1.0, added((2.0, gap))), (-1.0, added((2.0, other)))).u == pytest.approx(0.010)
    assert added((1.0, added((1.0, gap))), (-1.0, gap)).u == 0.0


@given(st.lists(st.tuples(st.sampled_from([-2.0, -1.0, 0.0, 0.5, 1.0]), _ends, _ends), max_size=4))
def test_no_sum_of_open_ends_is_no_number(terms: list[tuple[float, float, float]]) -> None:
    figures = [(factor, Figure(*sorted((a, b)), 0.01)) for factor, a, b in terms]
    total = added(*figures)
    assert not isnan(total.lo)
    assert not isnan(total.hi)
    assert not isnan(total.u)
    assert total.lo <= total.hi


@pytest.mark.parametrize("body", ["hole", "shaft"])
@pytest.mark.parametrize("extreme", [UNKNOWN, Figure(inf, inf), Figure(-inf, -inf), Figure(40.0, inf)])
@pytest.mark.parametrize("unworn", [UNKNOWN, Figure(inf, inf), Figure(-inf, -inf), Figure(-inf, 40.0)])
def test_unknown_less_unknown_is_unknown(extreme: Figure, unworn: Figure, body: str) -> None:
    figure = wear(extreme, unworn, body)
    assert 0.0 <= figure.lo <= figure.hi
    need = clean_up(shifted(unworn, 40.0), figure, UNKNOWN, 0.1, K)
    assert need.lo <= need.hi


@given(st.floats(0, 0.01), st.floats(0, 0.01), st.floats(0, 0.01))
def test_wear_in_one_session_never_doubts_more_than_across_two(
    own: float, other: float, common: float
) -> None:
    worn, same = size(40.1, "s", "a", own, common), size(40.0, "s", "b", other, common)
    apart = size(40.0, "t", "b", other, common)
    assert wear(worn, same, "hole").u == pytest.approx(hypot(own, other))
    assert wear(worn, same, "hole").u <= wear(worn, apart, "hole").u + 1e-15
