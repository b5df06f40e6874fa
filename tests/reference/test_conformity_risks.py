"""Guard bands and risks: JCGM 106:2012, ILAC-G8:09/2019, ISO 14253-1:2017, false accept and reject tables.

JCGM 106 and ISO 14253-1 were not seen; what secondary texts quote of them is named at each check.
The clause text of ILAC-G8 on w = 0 and w = U was seen. All numbers were recomputed.
"""

from math import inf

import pytest

from inspect_app.metrology.conformity import p_beyond
from inspect_app.metrology.estimate import Undetermined
from inspect_app.metrology.risk import (
    Statement,
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

BEARING = gamma_production(4.0, 0.25, 0.25)
"""Radial error motion in micrometres: mean 1, standard deviation 0.5; u of the check 0.25."""


def test_jcgm_106_ball_bearing() -> None:
    """9.5.4, quoted in an open-source notebook: 4.2 % bad, 0.8 % accepted, 1.67 for 0.1 %."""
    plain = global_risk(BEARING, (-inf, 2.0), (-inf, 2.0))
    assert plain.nonconforming == pytest.approx(0.042380, abs=1e-6)
    assert plain.consumer == pytest.approx(0.0080191, abs=1e-7)
    assert plain.producer == pytest.approx(0.01744, abs=1e-5)
    limit = acceptance_limit(BEARING, 2.0, 0.001)
    assert not isinstance(limit, Undetermined)
    assert limit == pytest.approx(1.6718, abs=1e-4)
    guarded = global_risk(BEARING, (-inf, 2.0), (-inf, limit))
    assert guarded.consumer == pytest.approx(0.001, abs=1e-9)
    assert guarded.producer == pytest.approx(0.0755, abs=1e-4)


def test_zener_diode_of_jcgm_106() -> None:
    """-5.47 V, u = 0.05 V, at most -5.40 V: z = 1.40 and 0.92; example from memory, recomputed 0.9192."""
    assert p_beyond(-5.47, 0.05, -5.40, "above") == pytest.approx(1 - 0.9192, abs=5e-5)


@pytest.mark.parametrize(
    ("chance", "z"), [(0.80, 0.84), (0.90, 1.28), (0.95, 1.64), (0.99, 2.33), (0.999, 3.09)]
)
def test_one_sided_factors_recomputed(chance: float, z: float) -> None:
    """The table of one-sided factors is from memory; the numbers are recomputed, so no clause is claimed."""
    assert guard_factor(1 - chance) == pytest.approx(z, abs=0.006)
    assert p_beyond(0.0, 1.0, guard_factor(1 - chance), "below") == pytest.approx(chance)


@pytest.mark.parametrize(
    ("r", "stated", "exact"),
    [
        (0.0, 0.5, 0.5),
        (0.83, 0.05, 0.04846),
        (1.0, 0.025, 0.02275),
        (1.5, 0.0016, 0.001350),
        (3.0, 1e-6, 9.9e-10),
    ],
    ids=["ILAC-G8 simple", "ISO 14253-1", "ILAC-G8 guarded", "3 sigma", "6 sigma"],
)
def test_guard_band_table(r: float, stated: float, exact: float) -> None:
    """The risk column "less than" was seen in secondary texts (for w = 0 and U also in the clause)."""
    risk = risk_at_acceptance_limit(r)
    assert risk == pytest.approx(exact, rel=0.01)
    assert risk <= stated


@pytest.mark.parametrize(("r", "accepted"), [(0.83, 0.834), (1.0, 0.8), (1.5, 0.7), (3.0, 0.4)])
def test_worked_acceptance_limits(r: float, accepted: float) -> None:
    """10 plus or minus 1 with U = 0.2, seen in a laboratory's note (a secondary text)."""
    assert 1.0 - guard_band(0.2, r) == pytest.approx(accepted, abs=1e-12)


@pytest.mark.parametrize(
    ("value", "told"),
    [
        (9.8, "pass"),
        (9.801, "conditional pass"),
        (10.0, "conditional pass"),
        (10.001, "conditional fail"),
        (10.2, "conditional fail"),
        (10.201, "fail"),
    ],
)
def test_four_statements_with_a_guard_band(value: float, told: Statement) -> None:
    """Pass up to T - w, conditional pass up to T, conditional fail up to T + w: a laboratory's page (a
    secondary text). Here T = 10 and w = 0.2; the numbers are made up."""
    assert four_way(value, 10.0, 0.2, "above") == told


@pytest.mark.parametrize(("z", "risk"), [(1.64, 0.05), (2.33, 0.01)])
def test_eurachem_factors(z: float, risk: float) -> None:
    """1.64 u for 5 %, 2.33 u for 1 %; seen in a secondary text."""
    assert guard_factor(risk) == pytest.approx(z, abs=0.006)


@pytest.mark.parametrize(
    ("limit", "ratio", "factor", "accept", "reject"),
    [
        (2.0, 4.0, 1.0, 0.008006, 0.01485),
        (2.5, 4.0, 1.0, 0.002445, 0.005319),
        (2.5, 1.0, 1.0, 0.004724, 0.0694),
        (2.0, 2.0, 0.91, 0.008052, 0.06611),
    ],
)
def test_false_accept_and_reject_table(
    limit: float, ratio: float, factor: float, accept: float, reject: float
) -> None:
    """Two-sided, normal production and check; 0.008, 0.0025, 0.005 and 0.008/0.066 are printed in a
    1990s conference paper on guard bands (seen in an open-source calculator's tests); rest recomputed."""
    check = normal_production(0.0, 1.0, 1.0 / ratio)
    risk = global_risk(check, (-limit, limit), (-limit * factor, limit * factor))
    assert risk.consumer == pytest.approx(accept, rel=2e-3)
    assert risk.producer == pytest.approx(reject, rel=2e-3)


@pytest.mark.parametrize(("value", "outside"), [(10.0, 0.01242), (10.5, 0.10574), (12.0, 0.99379)])
def test_one_item_between_two_limits(value: float, outside: float) -> None:
    """Limits 9 and 11, u = 0.4; seen in the same calculator's tests."""
    assert p_outside(value, 0.4, 9.0, 11.0) == pytest.approx(outside, abs=1e-5)


def test_few_degrees_of_freedom_cost_more() -> None:
    """1 % at four degrees needs 3.75 u; seen in a secondary text, recomputed."""
    assert guard_factor(0.01, 4) == pytest.approx(3.75, abs=0.005)


def test_four_and_a_half_u_is_no_six_sigma_at_four_degrees() -> None:
    """It buys 5.4e-3, not 3.4e-6; seen in the same text, recomputed."""
    assert guard_factor(5.4e-3, 4) == pytest.approx(4.5, abs=0.005)
    assert guard_factor(3.4e-6) == pytest.approx(4.5, abs=0.005)


def test_break_even_by_costs() -> None:
    """Accepting a bad one costs a hundred times as much: about 1 %, 2.33 u. Decision theory."""
    chance = break_even_risk(100, 1)
    assert chance == pytest.approx(0.0099, abs=1e-4)
    assert guard_factor(chance) == pytest.approx(2.33, abs=0.005)
