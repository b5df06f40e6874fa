"""Lengths as shown: nearest step, halves away from zero, and a number that can be typed again."""

from decimal import Decimal

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from inspect_app.metrology.display import Unit, shown
from inspect_app.model.units import size

units = st.sampled_from(["mm", "in"])
steps = st.sampled_from([Decimal("0.01"), Decimal("0.001"), Decimal("0.0001"), Decimal("0.0005")])


@pytest.mark.parametrize(
    ("inches", "text"),
    [
        ("0.00124", "0.0012 in"),
        ("0.00125", "0.0013 in"),
        ("-0.00125", "−0.0013 in"),
        ("-0.00004", "0.0000 in"),
        ("3.5", "3.5000 in"),
    ],
)
def test_nearest_step_and_halves_away_from_zero(inches: str, text: str) -> None:
    assert shown(size(f"{inches} in"), "in", Decimal("0.0001")) == text


@pytest.mark.parametrize(
    ("value", "text"), [(0.0127, "0.0005 in"), (0.01904, "0.0005 in"), (0.01906, "0.0010 in")]
)
def test_a_gauge_of_half_thous_shows_half_thous(value: float, text: str) -> None:
    assert shown(value, "in", Decimal("0.0005")) == text


@given(st.floats(-500, 500), units, steps)
@settings(deadline=None)
def test_what_is_shown_can_be_typed_and_is_near(value: float, unit: Unit, step: Decimal) -> None:
    back = size(shown(value, unit, step))
    assert abs(back - value) <= float(step) * (25.4 if unit == "in" else 1) / 2 + 1e-6


def test_no_resolution_is_refused() -> None:
    with pytest.raises(ValueError, match="resolution"):
        shown(1.0, "mm", Decimal(0))
