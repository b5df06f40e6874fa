"""Swept volume, compression ratio and milling: published numbers, right ones and wrong ones.

Seen on public web pages (secondary texts), all recomputed.
"""

from math import radians, sin

import pytest

from inspect_app.metrology.engine_arithmetic import (
    chamber_after_cut,
    clearance_cm3,
    clearance_for_ratio,
    compression_ratio,
    cut_for_ratio,
    disc_cm3,
    side_face_shift,
    swept_cm3,
    timing_lag,
)

CUBIC_INCH = 16.387064


@pytest.mark.parametrize(
    ("bore", "stroke", "count", "cm3"),
    [(80, 85, 1, 427.26), (80, 85, 4, 1709.0), (77, 80.4, 1, 374.39), (92, 82, 4, 2180.4)],
)
def test_swept_volume(bore: float, stroke: float, count: int, cm3: float) -> None:
    assert swept_cm3(bore, stroke, count) == pytest.approx(cm3, abs=0.06)


def test_swept_volume_in_inches() -> None:
    assert swept_cm3(4 * 25.4, 3 * 25.4, 8) / CUBIC_INCH == pytest.approx(301.6, abs=0.05)


def test_ratio_with_a_deck_height() -> None:
    """92 x 82, deck 0.020 in, chamber 48: 3.378 cm3 and 11.6."""
    assert disc_cm3(92, 0.020 * 25.4) == pytest.approx(3.378, abs=0.002)
    clearance = clearance_cm3(48, 92, 0.020 * 25.4, 92, 0.0, 0.0)
    assert compression_ratio(swept_cm3(92, 82), clearance) == pytest.approx(11.61, abs=0.005)


@pytest.mark.parametrize(("head", "ratio"), [(17.9, 3.769), (15.6, 4.236), (13.7, 4.759)])
def test_head_milling_table(head: float, ratio: float) -> None:
    """A club's newsletter, cubic inches: swept 44.2, top proud by 2.86, gasket 0.92; 3.77, 4.24, 4.76."""
    assert compression_ratio(44.2, head - 2.86 + 0.92) == pytest.approx(ratio, abs=5e-4)


def test_the_table_milled_by_an_eighth_of_an_inch() -> None:
    """17.9 becomes 15.6 by 1/8 in: a chamber of 18.4 square inches at its face, larger than the bore."""
    area = (17.9 - 15.6) / 0.125
    milled = chamber_after_cut(17.9 * CUBIC_INCH, area * 25.4**2, 0.125 * 25.4)
    assert milled == pytest.approx(15.6 * CUBIC_INCH)
    cut = cut_for_ratio(44.2 * CUBIC_INCH, 15.96 * CUBIC_INCH, area * 25.4**2, 4.2361)
    assert cut == pytest.approx(0.125 * 25.4, abs=0.01)


def test_a_published_ratio_that_dropped_the_one() -> None:
    """90.5 x 82, deck 1.5, chamber 46: given as 9.48, right is 10.48."""
    clearance = clearance_cm3(46, 90.5, 1.5, 90.5, 0.0, 0.0)
    ratio = compression_ratio(swept_cm3(90.5, 82), clearance)
    assert ratio == pytest.approx(10.48, abs=0.005)
    assert ratio != pytest.approx(9.48, abs=0.5)


def test_a_published_chamber_for_nine_and_a_half() -> None:
    """The same page gives 42.03 for 9.5 to 1; right is 52.41. A forum used swept / ratio, also wrong."""
    swept = swept_cm3(90.5, 82)
    chamber = clearance_for_ratio(swept, 9.5) - disc_cm3(90.5, 1.5)
    assert chamber == pytest.approx(52.41, abs=0.01)
    assert chamber != pytest.approx(42.03, abs=5)
    assert clearance_for_ratio(swept, 9.5) > swept / 9.5


def test_side_cut_of_a_right_angled_v() -> None:
    """h * 0.707 / sin(45 - face angle): a web page on milling manifolds (a secondary text)."""
    for face in (0.0, 5.0, 10.0):
        expected = 0.5 * 0.7071068 / sin(radians(45 - face))
        assert side_face_shift(0.5, 90.0, face).side == pytest.approx(expected, rel=1e-6)


@pytest.mark.parametrize("radius", [48.0, 55.0])
def test_timing_lag_by_rule_of_thumb(radius: float) -> None:
    """About one degree of the driver per 0.015 to 0.020 in on common wheels (common practice)."""
    assert timing_lag(0.015 * 25.4, radius).driver < 1.0 < timing_lag(0.020 * 25.4, radius).driver
