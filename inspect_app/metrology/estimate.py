"""What a measurement function hands back: a value with its uncertainty, or the reason why there is none."""

from dataclasses import dataclass
from math import fsum, hypot, isfinite, sqrt


@dataclass(frozen=True)
class Estimate:
    """A value and its standard uncertainty u >= 0, both in one unit (lengths: mm).

    Raises ValueError for anything that is not a finite number, or for u < 0.

    >>> Estimate(50.8, 0.003)
    Estimate(value=50.8, u=0.003)
    """

    value: float
    u: float = 0.0

    def __post_init__(self) -> None:
        if not (isfinite(self.value) and isfinite(self.u)) or self.u < 0:
            raise ValueError(f"{self.value} with uncertainty {self.u} is not a finite value with u >= 0")


@dataclass(frozen=True)
class Undetermined:
    """No value could be determined; `reason` tells a person why, and where possible what to do.

    It stands where a number would: never None, never 0. Show the reason instead of a figure.
    """

    reason: str


def weighted_sum(*terms: tuple[float, Estimate]) -> Estimate:
    """Sum of factor * estimate over independent estimates, u = root of the sum of (factor * u) squared.

    Not for estimates that share an error (one gauge in one session): their differences are better known.
    Source: JCGM 100:2008, 5.1.2, from memory; recomputed.

    >>> weighted_sum((1, Estimate(50.0, 0.003)), (-1, Estimate(49.9, 0.004))).u
    0.005
    """
    value = fsum(factor * item.value for factor, item in terms)
    return Estimate(value, hypot(*(factor * item.u for factor, item in terms)))


def rectangular_u(half_width: float, doubt: float = 0.0) -> float:
    """Standard uncertainty of a value known to lie within plus or minus `half_width` >= 0, in its unit.

    `doubt` is by how much the half-width itself may be wrong either way (0 <= doubt <= half_width).
    Source: JCGM 101:2008, 6.4.2 and 6.4.3.3, seen in secondary texts; u^2 = a^2/3 + d^2/9.

    >>> round(rectangular_u(0.05), 4)
    0.0289
    """
    if not 0 <= doubt <= half_width:
        raise ValueError("a half-width is at least 0, and its doubt at most the half-width")
    return sqrt(half_width**2 / 3 + doubt**2 / 9)


def arcsine_u(half_width: float) -> float:
    """Standard uncertainty of a value that swings like a sine within plus or minus `half_width` >= 0.

    For a room that is heated on and off. Source: JCGM 100:2008, H.1, seen in secondary texts; a/sqrt(2).

    >>> round(arcsine_u(0.5), 4)
    0.3536
    """
    if half_width < 0:
        raise ValueError("a half-width is at least 0")
    return half_width / sqrt(2)
