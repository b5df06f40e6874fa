"""The uncertainty budget: laws it must keep, its ends, and simulation as the other way round."""

from math import inf, isinf

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from inspect_app.metrology.budget import (
    Contribution,
    budget,
    combined_u,
    coverage_factor,
    effective_dof,
    simulated_interval,
)
from inspect_app.metrology.estimate import Undetermined

contributions = st.lists(
    st.builds(
        Contribution,
        st.just("any"),
        st.floats(0.001, 1000),
        st.floats(0.01, 10),
        st.one_of(st.just(inf), st.floats(1, 200)),
    ),
    min_size=1,
    max_size=8,
)


@given(contributions)
@settings(deadline=None)
def test_effective_degrees_lie_between_the_fewest_and_their_sum(items: list[Contribution]) -> None:
    dof = effective_dof(items)
    fewest = min(item.dof for item in items)
    total = sum(item.dof for item in items)
    assert fewest * (1 - 1e-9) <= dof
    assert dof <= total * (1 + 1e-9) or isinf(total)


@given(contributions, st.floats(0.001, 1000))
@settings(deadline=None)
def test_the_unit_does_not_matter(items: list[Contribution], factor: float) -> None:
    scaled = [Contribution("any", item.u * factor, item.sensitivity, item.dof) for item in items]
    assert combined_u(scaled) == pytest.approx(factor * combined_u(items))
    assert effective_dof(scaled) == pytest.approx(effective_dof(items))


def test_nothing_at_all_is_known_exactly() -> None:
    account = budget([])
    assert not isinstance(account, Undetermined)
    assert (account.u, account.dof, account.expanded) == (0.0, inf, 0.0)


def test_too_few_degrees_of_freedom_is_said_in_words() -> None:
    found = budget([Contribution("one guess", 1.0, dof=0.5)])
    assert isinstance(found, Undetermined)
    assert "too few" in found.reason


def test_degrees_are_cut_not_rounded() -> None:
    assert coverage_factor(16.99) == coverage_factor(16)
    assert coverage_factor(40.0 - 1e-12) == coverage_factor(40), "float noise is no lost degree"


def test_the_factor_falls_to_that_of_the_normal() -> None:
    factors = [coverage_factor(dof) for dof in (1, 2, 5, 30, inf)]
    numbers = [factor for factor in factors if not isinstance(factor, Undetermined)]
    assert numbers == sorted(numbers, reverse=True)
    assert numbers[-1] == pytest.approx(1.959964, abs=1e-6)


@pytest.mark.parametrize("level", [0.0, 1.0, 95.0])
def test_no_coverage_is_refused(level: float) -> None:
    with pytest.raises(ValueError, match="between 0 and 1"):
        coverage_factor(10, level)


@pytest.mark.parametrize(("u", "dof"), [(-1.0, inf), (inf, inf), (1.0, 0.0)])
def test_no_contribution_is_refused(u: float, dof: float) -> None:
    with pytest.raises(ValueError, match="gauge"):
        Contribution("gauge", u, dof=dof)


def test_a_simulated_swing_stays_within_its_half_width() -> None:
    low, high = simulated_interval([Contribution("room", 1.0, shape="arcsine")], 0.5)
    assert (low, high) == pytest.approx((-1.0, 1.0), abs=0.02), "half of a swing is beyond 1 u either way"
    low, high = simulated_interval([Contribution("room", 1.0, shape="arcsine")], 0.999)
    assert -(2**0.5) <= low < -1.41
    assert 1.41 < high <= 2**0.5


def test_the_same_seed_gives_the_same_interval() -> None:
    items = [Contribution("a", 1.0), Contribution("b", 2.0, shape="rectangular")]
    assert simulated_interval(items, draws=1000) == simulated_interval(items, draws=1000)
    assert simulated_interval(items, draws=1000, seed=1) != simulated_interval(items, draws=1000)
