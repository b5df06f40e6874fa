"""Values with an uncertainty: what is refused, and how they add up."""

from math import inf, nan, sqrt

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from inspect_app.metrology.estimate import Estimate, arcsine_u, rectangular_u, weighted_sum


@pytest.mark.parametrize(("value", "u"), [(nan, 0.0), (inf, 0.0), (1.0, nan), (1.0, inf), (1.0, -0.1)])
def test_what_is_no_value_is_refused(value: float, u: float) -> None:
    with pytest.raises(ValueError, match="finite"):
        Estimate(value, u)


@given(st.lists(st.floats(0, 100), min_size=1, max_size=6))
@settings(deadline=None)
def test_doubt_never_cancels(doubts: list[float]) -> None:
    total = weighted_sum(*((-1.0, Estimate(1.0, u)) for u in doubts))
    assert total.u >= max(doubts) * (1 - 1e-12)
    assert total.value == -len(doubts)


def test_a_doubtful_half_width_adds_doubt() -> None:
    assert rectangular_u(1.0, 0.0) == pytest.approx(1 / sqrt(3))
    assert rectangular_u(1.0, 0.5) > rectangular_u(1.0)
    with pytest.raises(ValueError, match="doubt"):
        rectangular_u(1.0, 1.5)


def test_a_swing_is_at_its_ends_most_of_the_time() -> None:
    assert arcsine_u(1.0) > rectangular_u(1.0)
    with pytest.raises(ValueError, match="half-width"):
        arcsine_u(-1.0)
