"""Sizes brought to 20 degrees: signs, the soaked case, and what is left of the doubt at 20 degrees."""

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from inspect_app.metrology.estimate import Estimate
from inspect_app.metrology.temperature import Coefficient, correction, correction_soaked, expansion

IRON = Coefficient(10.5e-6, 11.5e-6)
ALUMINIUM = Coefficient(19e-6, 25e-6)
AT_20 = Estimate(20.0)
temperatures = st.floats(-20, 80)


@given(temperatures, temperatures)
@settings(deadline=None)
def test_swapping_part_and_gauge_turns_the_sign(part: float, gauge: float) -> None:
    there = correction(100, IRON, ALUMINIUM, Estimate(part), Estimate(gauge))
    back = correction(100, ALUMINIUM, IRON, Estimate(gauge), Estimate(part))
    assert there.value == pytest.approx(-back.value)
    assert there.u == pytest.approx(back.u)


@given(temperatures)
@settings(deadline=None)
def test_soaked_together_is_the_special_case_of_two_equal_temperatures(degrees: float) -> None:
    apart = correction(100, ALUMINIUM, IRON, Estimate(degrees), Estimate(degrees))
    soaked = correction_soaked(100, ALUMINIUM, IRON, Estimate(degrees))
    assert soaked.value == pytest.approx(apart.value, abs=1e-12)
    assert soaked.u == pytest.approx(apart.u, abs=1e-12)


def test_a_warm_part_reads_too_large_and_a_warm_gauge_too_small() -> None:
    assert correction(100, IRON, IRON, Estimate(30), AT_20).value > 0
    assert correction(100, IRON, IRON, AT_20, Estimate(30)).value < 0


def test_sharing_a_doubtful_temperature_costs_less_than_two_of_them() -> None:
    doubtful = Estimate(26.0, 2.0)
    soaked = correction_soaked(100, IRON, IRON, doubtful)
    apart = correction(100, IRON, IRON, doubtful, doubtful)
    assert soaked.u < 0.2 * apart.u


def test_at_20_degrees_only_second_order_doubt_is_left() -> None:
    assert correction_soaked(100, IRON, ALUMINIUM, AT_20) == Estimate(0.0, 0.0)
    left = correction_soaked(100, ALUMINIUM, ALUMINIUM, Estimate(20.0, 2.0)).u
    assert left == pytest.approx(100 * 2**0.5 * ALUMINIUM.estimate.u * 2.0)


def test_not_quite_soaked_counts() -> None:
    still = correction_soaked(100, IRON, IRON, AT_20, apart_u=1.0)
    assert still.u == pytest.approx(100 * 11e-6, rel=0.01)
    with pytest.raises(ValueError, match="at least 0"):
        correction_soaked(100, IRON, IRON, AT_20, apart_u=-1.0)


@pytest.mark.parametrize("ends", [(12e-6, 11e-6), (-1e-6, 1e-6), (11.0, 12.0)])
def test_what_is_no_range_of_coefficients_is_refused(ends: tuple[float, float]) -> None:
    with pytest.raises(ValueError, match="range"):
        Coefficient(*ends)


@given(st.floats(1, 500), temperatures)
@settings(deadline=None)
def test_first_order_is_enough(size: float, degrees: float) -> None:
    """Against the exact ratio: within a hundredth of a micrometre per 100 mm and 10 degrees squared."""
    exact = size - size / (1 + 11e-6 * (degrees - 20))
    mine = expansion(size, Coefficient(11e-6, 11e-6), Estimate(degrees)).value
    assert mine == pytest.approx(exact, abs=size * (11e-6 * (degrees - 20)) ** 2 * 1.01 + 1e-12)
