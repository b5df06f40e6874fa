"""ISO 1:2016, clause 3 (seen: 20 degrees Celsius), and mean coefficients of a textbook's Table B.6 (seen)."""

import pytest

from inspect_app.metrology.estimate import Estimate
from inspect_app.metrology.temperature import (
    REFERENCE_C,
    Coefficient,
    correction,
    correction_soaked,
    expansion,
)

IRON = Coefficient(11.4e-6, 11.4e-6)
"""Grey iron, Table B.6: 11.4e-6 for all three grades there; other handbooks 10.6 to 10.8e-6."""

STEEL = Coefficient(11.5e-6, 11.5e-6)
"""Gauge steel as JCGM 100:2008, H.1 chooses it (seen in secondary texts)."""

ALUMINIUM = Coefficient(21.5e-6, 21.5e-6)
"""Cast 356.0, Table B.6."""

AT_20, WARM = Estimate(20.0), Estimate(35.0)
BORE = 87.2


def test_the_reference_is_20_degrees() -> None:
    assert REFERENCE_C == 20.0


def test_a_gauge_true_at_20_degrees_on_warm_iron() -> None:
    """Recomputed: 87.200 mm read at 35 degrees is 87.1851 mm at 20, by the exact ratio."""
    at_20 = BORE - correction(BORE, IRON, STEEL, WARM, AT_20).value
    assert at_20 == pytest.approx(BORE / (1 + 11.4e-6 * 15), abs=1e-5)
    assert round(at_20, 4) == 87.1851


def test_a_steel_gauge_soaked_with_iron_needs_next_to_nothing() -> None:
    soaked = correction_soaked(BORE, IRON, STEEL, WARM)
    assert soaked.value == pytest.approx(87.2 * -0.1e-6 * 15)
    assert abs(soaked.value) < 0.0002


def test_a_steel_gauge_soaked_with_aluminium_still_does() -> None:
    soaked = correction_soaked(BORE, ALUMINIUM, STEEL, WARM)
    assert soaked.value == pytest.approx(87.2 * 10e-6 * 15)
    assert soaked.value > 0.013, "half a thou: soaking does not help where the metals differ"


def test_ranges_of_handbooks_are_carried() -> None:
    """Grey iron 10.5 to 11.5e-6 and aluminium castings up to 25e-6 over the handbooks seen; their low end
    of 19e-6, of piston alloys, is from memory."""
    iron, aluminium = Coefficient(10.5e-6, 11.5e-6), Coefficient(19e-6, 25e-6)
    on_iron = correction_soaked(BORE, iron, STEEL, WARM)
    on_aluminium = correction_soaked(BORE, aluminium, STEEL, WARM)
    assert on_iron.u == pytest.approx(BORE * 15 * 0.5e-6 / 3**0.5)
    assert on_aluminium.u == pytest.approx(BORE * 15 * 3e-6 / 3**0.5)


@pytest.mark.parametrize(("degrees", "metres"), [(-30.0, -0.120), (40.0, 0.048)])
def test_a_long_steel_body(degrees: float, metres: float) -> None:
    """200 m, 12e-6; seen in a physics problem set."""
    grown = expansion(200.0, Coefficient(12e-6, 12e-6), Estimate(degrees))
    assert grown.value == pytest.approx(metres)


def test_a_gap_that_closes() -> None:
    """215 m with a gap of 0.180 m at -15 degrees closes at 54.8 degrees (12e-6); seen, recomputed."""
    steel = Coefficient(12e-6, 12e-6)
    grown = expansion(215.0, steel, Estimate(54.8)).value - expansion(215.0, steel, Estimate(-15.0)).value
    assert grown == pytest.approx(0.180, abs=1e-3)
