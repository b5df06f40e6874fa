"""The probability that a figure lies past its limit, against published quantiles and SciPy."""

import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.stats import norm

from inspect_app.metrology.conformity import GUARD_Z, is_close_call, p_beyond

_u = st.floats(1e-6, 10)
_offset = st.floats(-20, 20)


# JCGM 106:2012, 7.3, Table 1: conformance probability against z = (TU - y) / u, one-sided.
@pytest.mark.parametrize(
    ("conforms", "z"), [(0.80, 0.8416), (0.90, 1.2816), (0.95, 1.6449), (0.99, 2.3263), (0.999, 3.0902)]
)
def test_the_probability_of_conforming_follows_the_table(conforms: float, z: float) -> None:
    assert 1 - p_beyond(100.0 - z * 0.02, 0.02, 100.0, "above") == pytest.approx(conforms, abs=2e-5)


@pytest.mark.parametrize(("conforms", "z"), [(0.80, 0.8416), (0.95, 1.6449)])
def test_a_lower_limit_is_the_mirror_of_an_upper_one(conforms: float, z: float) -> None:
    assert 1 - p_beyond(100.0 + z * 0.02, 0.02, 100.0, "below") == pytest.approx(conforms, abs=2e-5)


@given(_offset, _u)
def test_it_is_the_normal_distribution_function(offset: float, u: float) -> None:
    # scipy.stats.norm; the offset is rounded to a picometre before it counts.
    assert p_beyond(50 + offset, u, 50.0, "above") == pytest.approx(
        norm.cdf(offset, scale=u), abs=1e-3 if u < 1e-5 else 1e-4
    )


def test_the_guard_is_the_95_percent_quantile() -> None:
    assert pytest.approx(norm.ppf(0.95), abs=1e-14) == GUARD_Z


def test_at_the_limit_both_sides_are_equally_likely() -> None:
    assert p_beyond(40.0, 0.01, 40.0, "above") == p_beyond(40.0, 0.01, 40.0, "below") == 0.5


@pytest.mark.parametrize(
    ("value", "worse", "probability"),
    [
        (39.9, "above", 0),
        (40.0, "above", 0),
        (40.1, "above", 1),
        (39.9, "below", 1),
        (40.0, "below", 0),
        (40.1, "below", 0),
    ],
)
def test_without_uncertainty_the_limit_itself_still_conforms(
    value: float, worse: str, probability: float
) -> None:
    assert p_beyond(value, 0.0, 40.0, worse) == probability


@given(_offset, _u)
def test_above_and_below_share_all_the_probability(offset: float, u: float) -> None:
    total = p_beyond(50 + offset, u, 50, "above") + p_beyond(50 + offset, u, 50, "below")
    assert total == pytest.approx(1, abs=1e-12)


@pytest.mark.parametrize(
    ("probability", "close"),
    [(0.049, False), (0.05, False), (0.051, True), (0.5, True), (0.949, True), (0.95, False), (0.96, False)],
)
def test_a_simple_decision_is_close_strictly_between_5_and_95_percent(
    probability: float, close: bool
) -> None:
    assert is_close_call(probability, "simple") is close


def test_a_guarded_decision_is_never_a_close_call() -> None:
    assert not is_close_call(0.5, "guarded")
