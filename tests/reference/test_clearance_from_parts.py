"""Bearing clearance from parts against printed clearances, in inch, of several technical manuals (seen).

The journal of the first engine is implied by the other numbers, not printed; recomputed.
"""

import pytest

from inspect_app.metrology.estimate import Estimate
from inspect_app.metrology.fits import Window, clearance_from_parts, clearance_range


def test_main_bearing_of_one_engine_family_from_three_manuals() -> None:
    """Housing TM 5-4320-300-14 p. 6-45, shell TM 10-3930-243-34, clearance 0.0010/0.0040 TM 5-3895-346-14."""
    assert clearance_range((3.2510, 3.2520), (0.1245, 0.1250), (2.9990, 3.0000)) == Window(0.001, 0.004)


def test_its_printed_bearing_sizes() -> None:
    """Largest 3.0030 fits housing and shell; the smallest printed, 3.0020, does not (3.0010 would)."""
    fitted = clearance_range((3.2510, 3.2520), (0.1245, 0.1250), (0.0, 0.0))
    assert (fitted.low, fitted.high) == (3.0010, 3.0030)


def test_rod_bearing_of_the_same_family() -> None:
    """Bearing 2.5015-2.5035, clearance 0.0015-0.0045 (TM 5-3895-346-14): journal 2.4990-2.5000 implied."""
    assert clearance_range((2.5015, 2.5035), (0.0, 0.0), (2.4990, 2.5000)) == Window(0.0015, 0.0045)
    assert clearance_range((2.7515, 2.7525), (0.1245, 0.1250), (2.4990, 2.5000)) == Window(0.0015, 0.0045)


def test_main_bearing_of_the_six() -> None:
    """TM 9-2815-225-34&P: parts give 0.0009 to 0.0055 around the printed 0.0015 to 0.005."""
    window = clearance_range((4.7485, 4.750), (0.123, 0.1238), (4.4985, 4.500))
    assert (window.low, window.high) == (0.0009, 0.0055)
    assert window.low < 0.0015 < 0.005 < window.high


def test_one_set_of_parts_lies_within_the_range() -> None:
    fit = clearance_from_parts(Estimate(3.2515, 0.0001), Estimate(0.12475, 0.00005), Estimate(2.9995, 0.0001))
    assert fit.value == pytest.approx(0.0025)
    assert fit.u == pytest.approx(3**0.5 * 0.0001)
