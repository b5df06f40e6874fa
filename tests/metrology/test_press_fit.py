"""Press fit: its limits, and solving the two rings' equations as the other way round."""

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from inspect_app.metrology.estimate import Undetermined
from inspect_app.metrology.press_fit import Metal, Press, Rings, interference_at, press

IRON = Metal(110.0, 0.26)
STEEL = Metal(205.0, 0.29)
ALUMINIUM = Metal(71.0, 0.33)


def pressed(rings: Rings, interference: float) -> Press:
    found = press(rings, interference)
    assert not isinstance(found, Undetermined)
    return found


def solved(rings: Rings, interference: float) -> Press:
    """Radial and hoop stress of each ring are A -+ B / r^2; the four conditions, solved at once."""
    a, c, b = rings.inside_mm / 2, rings.joint_mm / 2, rings.outside_mm / 2
    ei, ni, eo, no = (
        1000 * rings.inner.modulus_gpa,
        rings.inner.poisson,
        1000 * rings.outer.modulus_gpa,
        rings.outer.poisson,
    )
    # Unknowns: A, B of the inner ring, A, B of the outer one. Radial stress A - B/r^2, hoop A + B/r^2.
    rows = np.zeros((4, 4))
    rows[0, :2] = 1, -1 / a**2
    rows[1, 2:] = 1, -1 / b**2
    rows[2] = 1, -1 / c**2, -1, 1 / c**2
    hoop, radial = np.array([1, 1 / c**2]), np.array([1, -1 / c**2])
    rows[3, :2] = -c / ei * (hoop - ni * radial)
    rows[3, 2:] = c / eo * (hoop - no * radial)
    inner_a, inner_b, outer_a, outer_b = np.linalg.solve(rows, [0, 0, 0, interference / 2])
    return Press(
        -(inner_a - inner_b / c**2),
        outer_a + outer_b / c**2,
        inner_a + inner_b / c**2,
        inner_a + inner_b / a**2,
    )


@given(st.floats(10, 80), st.floats(1, 20), st.floats(1, 60), st.floats(0.001, 0.2))
@settings(deadline=None)
def test_the_rings_solved_give_the_same(
    inside: float, wall: float, around: float, interference: float
) -> None:
    rings = Rings(inside, inside + 2 * wall, inside + 2 * wall + 2 * around, STEEL, IRON)
    mine, theirs = pressed(rings, interference), solved(rings, interference)
    for field in ("pressure", "hoop_outer", "hoop_inner", "hoop_inside"):
        assert getattr(mine, field) == pytest.approx(getattr(theirs, field), rel=1e-6)


@given(st.floats(0, 0.2))
@settings(deadline=None)
def test_pressure_grows_from_nothing_in_proportion(interference: float) -> None:
    rings = Rings(84.0, 90.0, 104.0, IRON, ALUMINIUM)
    assert pressed(rings, 0.0) == Press(0.0, 0.0, -0.0, -0.0)
    assert pressed(rings, interference).pressure == pytest.approx(interference * pressed(rings, 1.0).pressure)


@given(st.floats(0, 0.5), st.floats(0, 0.5))
@settings(deadline=None)
def test_of_one_metal_poissons_ratio_does_not_matter(one: float, other: float) -> None:
    first, second = Metal(200.0, one), Metal(200.0, other)
    p = [pressed(Rings(84.0, 90.0, 104.0, metal, metal), 0.05).pressure for metal in (first, second)]
    assert p[0] == pytest.approx(p[1])


def test_a_thicker_wall_holds_harder_and_is_stretched_less_for_its_pressure() -> None:
    thin, thick = (pressed(Rings(84.0, 90.0, outside, IRON, IRON), 0.05) for outside in (98.0, 140.0))
    assert thin.pressure < thick.pressure
    assert thin.hoop_outer / thin.pressure > thick.hoop_outer / thick.pressure


def test_a_solid_inside_is_pressed_alike_everywhere() -> None:
    found = pressed(Rings(0.0, 60.0, 100.0, STEEL, STEEL), 0.03)
    assert found.hoop_inner == found.hoop_inside == -found.pressure


def test_loose_parts_press_nothing_and_say_so() -> None:
    found = press(Rings(84.0, 90.0, 104.0, IRON, IRON), -0.02)
    assert found == Undetermined("the parts are loose by 0.02 mm: nothing presses")


@pytest.mark.parametrize("diameters", [(90.0, 90.0, 104.0), (84.0, 104.0, 104.0), (-1.0, 90.0, 104.0)])
def test_diameters_that_do_not_rise_are_refused(diameters: tuple[float, float, float]) -> None:
    with pytest.raises(ValueError, match="rise"):
        Rings(*diameters, IRON, IRON)


@pytest.mark.parametrize(("modulus", "poisson"), [(0.0, 0.3), (200.0, 0.6), (200.0, -0.1)])
def test_what_is_no_metal_is_refused(modulus: float, poisson: float) -> None:
    with pytest.raises(ValueError, match="modulus"):
        Metal(modulus, poisson)


def test_warm_aluminium_lets_an_iron_sleeve_go() -> None:
    assert interference_at(0.08, 90.0, 21.5e-6, 11.4e-6, 0.0) == 0.08
    assert interference_at(0.08, 90.0, 21.5e-6, 11.4e-6, 100.0) < 0
    assert interference_at(0.08, 90.0, 11.4e-6, 11.4e-6, 100.0) == 0.08
