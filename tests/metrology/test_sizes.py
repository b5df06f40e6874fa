"""What a cut must reach and the next listed size: just below, at, above, none listed."""

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from inspect_app.metrology.estimate import Estimate, Undetermined
from inspect_app.metrology.figure import Figure
from inspect_app.metrology.figures import clean_up
from inspect_app.metrology.sizes import needed_step, next_listed

K = (1.0, 1.5, 2.0)
lengths = st.floats(0, 3)


@given(lengths, lengths, lengths, lengths)
@settings(deadline=None)
def test_it_agrees_with_the_figure_of_the_rules(
    present: float, worn: float, depth: float, stock: float
) -> None:
    mine = needed_step(Estimate(present, 0.01), Estimate(worn, 0.02), Estimate(depth, 0.03), stock, K)
    theirs = clean_up(
        Figure(present, present, 0.01),
        Figure(worn, worn, 0.02),
        Figure(depth, depth, 0.03),
        stock,
        (1.0, 2.0),
    )
    assert (mine.low, mine.high) == pytest.approx((theirs.lo, theirs.hi), abs=2e-9)
    assert mine.u == pytest.approx(theirs.u)
    assert mine.low <= mine.usual <= mine.high


def test_the_factor_is_shown() -> None:
    step = needed_step(Estimate(0.254), Estimate(0.2), Estimate(0.1), 0.08, K)
    assert step.shown == "0.254 + 1.5 x 0.2 + 2 x 0.1 + 0.08 = 0.834"


@pytest.mark.parametrize("k", [(0.5, 1.0, 2.0), (1.0, 1.5, 2.5), (1.5, 1.0, 2.0)])
def test_factors_outside_their_range_are_refused(k: tuple[float, float, float]) -> None:
    with pytest.raises(ValueError, match="factors"):
        needed_step(Estimate(0), Estimate(0.1), Estimate(0), 0.0, k)


def test_negative_wear_is_refused() -> None:
    with pytest.raises(ValueError, match="at least 0"):
        needed_step(Estimate(0), Estimate(-0.1), Estimate(0), 0.0, K)


@pytest.mark.parametrize(
    ("needed", "step"), [(0.5, 0.508), (0.508, 0.508), (0.5081, 0.762), (-1.0, 0.254), (1.016, 1.016)]
)
def test_the_next_size_is_at_least_what_is_needed(needed: float, step: float) -> None:
    assert next_listed(needed, [1.016, 0.254, 0.762, 0.508]) == step


def test_the_unit_typed_cannot_flip_it() -> None:
    assert next_listed(0.1 + 0.2, [0.3]) == 0.3


def test_no_size_is_made_up() -> None:
    assert next_listed(1.2, [0.5, 1.0]) == Undetermined("it needs 1.2 mm and the largest listed size is 1 mm")
    assert next_listed(0.0, []) == Undetermined("no size is listed to cut to")
