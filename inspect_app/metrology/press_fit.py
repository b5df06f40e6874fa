"""A sleeve pressed into a hole: pressure between two thick rings, and the hoop stress it makes.

Thick-wall rings in plane stress (ends free), elastic, round, of even wall. Diameters and interference
in mm, moduli in GPa, pressure and stress in MPa, tension positive. Not for a hole in a casting whose
wall is uneven or open on one side (take its thinnest wall as outer diameter for the stress, and know
that it is a guess), nor past the yield point. Formula seen in secondary texts; no worked example
with a trustworthy printed answer was found, so it is checked by its limits and by solving the rings.
"""

from dataclasses import dataclass

from .estimate import Undetermined


@dataclass(frozen=True)
class Metal:
    """Modulus of elasticity in GPa (> 0) and Poisson's ratio (0..0.5)."""

    modulus_gpa: float
    poisson: float

    def __post_init__(self) -> None:
        if not self.modulus_gpa > 0 or not 0 <= self.poisson <= 0.5:
            raise ValueError("a modulus is above 0, and Poisson's ratio from 0 to 0.5")


@dataclass(frozen=True)
class Rings:
    """Two rings that meet at `joint_mm`; the inner from `inside_mm` (0: solid), the outer to `outside_mm`."""

    inside_mm: float
    joint_mm: float
    outside_mm: float
    inner: Metal
    outer: Metal

    def __post_init__(self) -> None:
        if not 0 <= self.inside_mm < self.joint_mm < self.outside_mm:
            raise ValueError("diameters rise from the inside over the joint to the outside")

    @property
    def outer_ratio(self) -> float:
        """(b^2 + c^2) / (b^2 - c^2): the outer ring's hoop stress at the joint over the pressure.

        >>> Rings(0.0, 60.0, 120.0, Metal(210.0, 0.3), Metal(210.0, 0.3)).outer_ratio
        1.6666666666666667
        """
        b, c = self.outside_mm**2, self.joint_mm**2
        return (b + c) / (b - c)

    @property
    def inner_ratio(self) -> float:
        """(c^2 + a^2) / (c^2 - a^2): the inner ring's hoop compression at the joint over the pressure."""
        c, a = self.joint_mm**2, self.inside_mm**2
        return (c + a) / (c - a)


@dataclass(frozen=True)
class Press:
    """Pressure in the joint; hoop stress of the outer ring and the inner one there, and inside it (MPa)."""

    pressure: float
    hoop_outer: float
    hoop_inner: float
    hoop_inside: float


def press(rings: Rings, interference_mm: float) -> Press | Undetermined:
    """Pressure and hoop stress from a diametral interference >= 0.

    p = interference / (c * ((outer_ratio + nu_o) / E_o + (inner_ratio - nu_i) / E_i)), c the diameter
    of the joint: it goes to 0 with the interference and, for one metal, does not depend on nu.
    `hoop_inside` is at the inner ring's inside (of a solid one: everywhere). Undetermined where the
    parts are loose. Source: formula seen in three secondary texts; recomputed.

    >>> steel = Metal(210.0, 0.292)
    >>> round(press(Rings(0.0, 60.0, 100.0, steel, steel), 0.030).pressure, 1)
    33.6
    """
    if interference_mm < 0:
        return Undetermined(f"the parts are loose by {-interference_mm:g} mm: nothing presses")
    give_outer = (rings.outer_ratio + rings.outer.poisson) / (1000 * rings.outer.modulus_gpa)
    give_inner = (rings.inner_ratio - rings.inner.poisson) / (1000 * rings.inner.modulus_gpa)
    p = interference_mm / (rings.joint_mm * (give_outer + give_inner))
    inside = -p * (rings.inner_ratio + 1) if rings.inside_mm > 0 else -p
    return Press(p, p * rings.outer_ratio, -p * rings.inner_ratio, inside)


def interference_at(
    interference_mm: float, joint_mm: float, outer_per_c: float, inner_per_c: float, above_c: float
) -> float:
    """Interference when both rings are `above_c` degrees warmer than where it was taken, mm.

    Coefficients are linear expansions per degree Celsius. An aluminium hole loosens an iron sleeve.
    Both rings at one temperature; not for a sleeve that runs hotter than its hole.

    >>> round(interference_at(0.08, 90.0, 21.5e-6, 11.4e-6, 80.0), 4)
    0.0073
    """
    return interference_mm - joint_mm * (outer_per_c - inner_per_c) * above_c
