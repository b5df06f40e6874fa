"""Risks and guard bands: ends, monotony, a plain simulation as the other way round."""

from math import inf

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from inspect_app.metrology.estimate import Undetermined
from inspect_app.metrology.risk import (
    acceptance_limit,
    break_even_risk,
    four_way,
    gamma_production,
    global_risk,
    guard_band,
    guard_factor,
    normal_production,
    p_outside,
    risk_at_acceptance_limit,
)


@pytest.mark.parametrize(
    ("value", "statement"),
    [
        (9.79, "pass"),
        (9.8, "pass"),
        (9.81, "conditional pass"),
        (10.0, "conditional pass"),
        (10.01, "conditional fail"),
        (10.2, "conditional fail"),
        (10.21, "fail"),
    ],
)
def test_the_four_statements_and_their_ends(value: float, statement: str) -> None:
    # 0.25 and 2.5 are exact in binary, so "at" is at.
    assert four_way(value * 1.25, 12.5, 0.25, "above") == statement
    assert four_way(-value * 1.25, -12.5, 0.25, "below") == statement


def test_a_simple_rule_lets_half_the_doubt_through() -> None:
    assert risk_at_acceptance_limit(0.0) == 0.5
    assert guard_band(0.2, 0.0) == 0.0


@given(st.floats(0, 3), st.floats(0, 3))
@settings(deadline=None)
def test_a_wider_band_never_risks_more(one: float, other: float) -> None:
    narrow, wide = sorted((one, other))
    assert risk_at_acceptance_limit(wide) <= risk_at_acceptance_limit(narrow)


@pytest.mark.parametrize("call", [lambda: guard_band(-1, 1), lambda: four_way(1, 1, -1, "above")])
def test_negative_widths_are_refused(call: object) -> None:
    assert callable(call)
    with pytest.raises(ValueError, match="at least 0"):
        call()


def test_an_open_side_is_no_risk() -> None:
    assert p_outside(10, 1, -inf, 10) == 0.5
    assert p_outside(10, 1, -inf, inf) == 0.0
    assert p_outside(10, 0, 10, 10) == 0.0


@pytest.mark.parametrize("risk", [0.0, 0.6])
def test_no_risk_is_refused(risk: float) -> None:
    with pytest.raises(ValueError, match="risk"):
        guard_factor(risk)


def test_break_even_moves_with_what_a_bad_part_costs() -> None:
    assert break_even_risk(1, 1) == 0.5
    assert break_even_risk(1000, 1) < break_even_risk(10, 1)


def test_global_risks_equal_a_plain_simulation() -> None:
    generator = np.random.default_rng(5)
    true = generator.gamma(4.0, 0.25, 400_000)
    read = true + generator.normal(0, 0.25, true.size)
    accepted = read <= 1.8
    shares = global_risk(gamma_production(4.0, 0.25, 0.25), (-inf, 2.0), (-inf, 1.8))
    noise = 4 * (0.05 / true.size) ** 0.5
    assert shares.nonconforming == pytest.approx(np.mean(true > 2), abs=noise)
    assert shares.consumer == pytest.approx(np.mean((true > 2) & accepted), abs=noise)
    assert shares.producer == pytest.approx(np.mean((true <= 2) & ~accepted), abs=noise)


def test_accepting_everything_accepts_all_that_is_bad() -> None:
    shares = global_risk(normal_production(0, 1, 0.3), (-2, 2), (-inf, inf))
    assert shares.consumer == pytest.approx(shares.nonconforming)
    assert shares.producer == pytest.approx(0.0, abs=1e-12)


def test_a_risk_nobody_can_reach_needs_no_limit() -> None:
    found = acceptance_limit(gamma_production(4.0, 0.25, 0.25), 2.0, 0.2)
    assert isinstance(found, Undetermined)
    assert "no acceptance limit" in found.reason


def test_a_smaller_risk_asks_for_a_lower_limit() -> None:
    bearing = gamma_production(4.0, 0.25, 0.25)
    limits = [acceptance_limit(bearing, 2.0, risk) for risk in (0.01, 0.001, 0.0001)]
    numbers = [limit for limit in limits if not isinstance(limit, Undetermined)]
    assert numbers == sorted(numbers, reverse=True)
    assert len(numbers) == 3
