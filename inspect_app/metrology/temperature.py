"""Sizes brought to 20 degrees Celsius, the reference temperature of ISO 1 (seen: clause 3, 2016).

A part and a gauge that are not at 20 degrees both differ from their sizes there. To first order in
the expansion, a reading D is too large by ``D * (a_part * (T_part - 20) - a_gauge * (T_gauge - 20))``.
Lengths in mm, temperatures in degrees Celsius, coefficients per degree and always given by the
caller, as ranges: handbooks differ by several percent for one material. Second-order terms of the
uncertainty (coefficient times temperature) are kept, because at 20 degrees they are all that is left.
Not for parts with a temperature gradient, nor beyond about 100 degrees from 20.
"""

from dataclasses import dataclass
from math import hypot

from .estimate import Estimate, rectangular_u

REFERENCE_C = 20.0


@dataclass(frozen=True)
class Coefficient:
    """Linear expansion per degree Celsius, known to lie from `low` to `high` (both >= 0, rectangular).

    >>> Coefficient(10.5e-6, 11.5e-6).estimate.value
    1.1e-05
    """

    low: float
    high: float

    def __post_init__(self) -> None:
        if not 0 <= self.low <= self.high < 1e-3:
            raise ValueError(f"an expansion from {self.low} to {self.high} per degree is no range")

    @property
    def estimate(self) -> Estimate:
        """The middle of the range with its standard uncertainty."""
        return Estimate((self.low + self.high) / 2, rectangular_u((self.high - self.low) / 2))


def expansion(size_mm: float, coefficient: Coefficient, temperature: Estimate) -> Estimate:
    """How much longer a `size_mm` long body is at `temperature` than at 20 degrees, in mm.

    First order in the expansion; the coefficient and the temperature are independent.

    >>> round(expansion(100.0, Coefficient(11e-6, 11e-6), Estimate(30.0)).value, 6)
    0.011
    """
    a, above = coefficient.estimate, temperature.value - REFERENCE_C
    u = hypot(a.u * above, a.value * temperature.u, a.u * temperature.u)
    return Estimate(size_mm * a.value * above, abs(size_mm) * u)


def correction(
    size_mm: float, part: Coefficient, gauge: Coefficient, part_c: Estimate, gauge_c: Estimate
) -> Estimate:
    """By how much a reading is too large, in mm; take it from the reading. Part and gauge apart.

    The two temperatures were read independently. A gauge true at 20 degrees and kept there has
    ``gauge_c = Estimate(20.0)``. Not for parts soaked together: see `correction_soaked`, which
    knows that the temperature is shared. Source: design formula, derived; ISO 1 for the 20 degrees.

    >>> iron = Coefficient(11.4e-6, 11.4e-6)
    >>> round(87.2 - correction(87.2, iron, iron, Estimate(35.0), Estimate(20.0)).value, 4)
    87.1851
    """
    longer, gauge_longer = expansion(size_mm, part, part_c), expansion(size_mm, gauge, gauge_c)
    return Estimate(longer.value - gauge_longer.value, hypot(longer.u, gauge_longer.u))


def correction_soaked(
    size_mm: float, part: Coefficient, gauge: Coefficient, together: Estimate, apart_u: float = 0.0
) -> Estimate:
    """The same for a part and a gauge soaked `together` at one temperature (the default of a shop).

    Only the difference of the coefficients counts. `apart_u` >= 0 is the standard uncertainty, in
    degrees, of their still being one temperature. Not where one was just handled or washed warm.
    Source: JCGM 100:2008, H.1 (model seen in secondary texts), with both coefficients ranged.

    >>> iron = Coefficient(11.4e-6, 11.4e-6)
    >>> correction_soaked(87.2, iron, iron, Estimate(35.0, 2.0)).value
    0.0
    """
    if apart_u < 0:
        raise ValueError("an uncertainty is at least 0")
    a, g, above = part.estimate, gauge.estimate, together.value - REFERENCE_C
    differ, doubt = a.value - g.value, hypot(a.u, g.u)
    u = hypot(doubt * above, differ * together.u, doubt * together.u, a.value * apart_u, a.u * apart_u)
    return Estimate(size_mm * differ * above, abs(size_mm) * u)
