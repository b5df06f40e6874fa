"""Volumes, ratio, and what milling a face moves. Geometry only: mm, mm2, cm3, degrees; no tolerances.

A face is milled by `cut` >= 0 mm of its stock, evenly. Values are exact for the geometry stated; the
uncertainty is that of what is put in.
"""

from dataclasses import dataclass
from math import cos, degrees, pi, radians, sin, tan

from .estimate import Undetermined


def disc_cm3(diameter: float, height: float) -> float:
    """Volume of a disc of `diameter` and `height` in mm, cm3; negative for one that is filled up.

    >>> round(disc_cm3(80.0, 85.0), 2)
    427.26
    """
    return pi / 4 * diameter**2 * height / 1000


def swept_cm3(bore: float, stroke: float, count: int = 1) -> float:
    """Swept volume of `count` bores, cm3, from bore and stroke in mm, both > 0.

    >>> round(swept_cm3(80.0, 85.0, 4), 1)
    1709.0
    """
    if bore <= 0 or stroke <= 0 or count < 1:
        raise ValueError("bore and stroke are above 0, and there is at least one bore")
    return count * disc_cm3(bore, stroke)


def clearance_cm3(
    chamber: float, bore: float, deck: float, gasket_bore: float, gasket: float, dish: float
) -> float:
    """Volume left at the top of the stroke, cm3: chamber + deck disc + gasket disc + dish.

    `chamber` and `dish` in cm3 (a dome is a negative dish), the rest in mm; `deck` is how far the top
    stands below the face (negative: proud), `gasket` its compressed thickness. Leaves out crevices
    above the first ring (about 1 %).

    >>> round(clearance_cm3(48.0, 92.0, 0.508, 92.0, 0.0, 0.0), 3)
    51.377
    """
    return chamber + disc_cm3(bore, deck) + disc_cm3(gasket_bore, gasket) + dish


def compression_ratio(swept: float, clearance: float) -> float:
    """(swept + clearance) / clearance, above 1; both > 0 and of one unit, for one bore.

    >>> round(compression_ratio(527.47, 55.65), 2)
    10.48
    """
    if swept <= 0 or clearance <= 0:
        raise ValueError("a ratio needs a swept and a clearance volume above 0")
    return (swept + clearance) / clearance


def clearance_for_ratio(swept: float, ratio: float) -> float:
    """Clearance volume that gives `ratio` > 1: swept / (ratio - 1), in the unit of `swept`.

    Not swept / ratio, a mistake seen in print.

    >>> round(clearance_for_ratio(527.47, 9.5), 2)
    62.06
    """
    if ratio <= 1:
        raise ValueError("a compression ratio is above 1")
    return swept / (ratio - 1)


def chamber_after_cut(chamber: float, face_area: float, cut: float) -> float | Undetermined:
    """Chamber volume, cm3, after its face is milled by `cut` mm: chamber - face_area * cut / 1000.

    `face_area` is the plan area of the chamber **at its face**, mm2, not that of the bore. Exact while
    the chamber's walls are square to the face over the depth of the cut. Undetermined where the cut
    would take all of it.

    >>> chamber_after_cut(48.0, 4800.0, 0.25)
    46.8
    """
    left = chamber - face_area * cut / 1000
    return left if left > 0 else Undetermined(f"a cut of {cut:g} mm leaves no chamber: check volume and area")


def cut_for_ratio(swept: float, clearance: float, face_area: float, ratio: float) -> float | Undetermined:
    """How much to mill (mm) off the chamber's face to bring a bore to `ratio` > 1; swept, clearance in cm3.

    Undetermined where it is there already or above: milling only raises it.

    >>> round(cut_for_ratio(500.0, 60.0, 4800.0, 9.5), 4)
    0.2451
    """
    less = clearance - clearance_for_ratio(swept, ratio)
    if less < 0:
        return Undetermined(f"the ratio is above {ratio:g} already, and milling only raises it")
    return less * 1000 / face_area


def stack_change(cuts: tuple[float, ...], gasket_now: float, gasket_before: float) -> float:
    """How much higher (+) or lower (-) a head sits after all `cuts` (mm) and a change of gasket, mm.

    What stands on its length (a rod that pushes, say) is too long by as much as the stack is lower.

    >>> round(stack_change((0.2, 0.1), 1.0, 1.2), 6)
    -0.5
    """
    return gasket_now - gasket_before - sum(cuts)


@dataclass(frozen=True)
class SideShift:
    """What a V's middle part must lose: off each side face, and by how much it then sinks (mm)."""

    side: float
    down: float


def side_face_shift(lower: float, bank_angle: float, face_angle: float = 0.0) -> SideShift:
    """How the part between two banks must be cut when both heads sit lower by `lower` mm.

    The banks are `bank_angle` apart (degrees).
    `face_angle` is how far the side face leans from square to the gasket face, towards lying flat.
    side = lower * sin(B/2) / sin(90 - B/2 - face_angle); it then sinks until the ports meet again. Both
    banks are lowered alike. Source: a magazine's formula for 90 degrees (seen in a secondary text),
    and the plane geometry of two moving faces for other angles, derived.

    >>> side_face_shift(1.0, 90.0).side, round(side_face_shift(1.0, 90.0).down, 3)
    (1.0, 1.414)
    """
    half, lie = radians(bank_angle / 2), radians(90 - bank_angle / 2 - face_angle)
    if not 0 < bank_angle < 180 or not 0 < lie < pi / 2:
        raise ValueError("banks are 0 to 180 degrees apart, and a side face neither flat nor upright")
    return SideShift(lower * sin(half) / sin(lie), lower * (cos(half) + sin(half) / tan(lie)))


@dataclass(frozen=True)
class TimingShift:
    """How far a driven wheel lags: in its own degrees and in those of the wheel that drives it."""

    driven: float
    driver: float


def timing_lag(lower: float, pitch_radius: float, turns: float = 2.0) -> TimingShift:
    """Lag of a wheel driven by chain or belt when its axis comes nearer by `lower` mm.

    lower / pitch_radius in radians at the driven wheel; the driver turns `turns` times as fast. The
    *pulling* run lies along the line that shortens, and a tensioner on the other run takes up the
    slack. Not for a run at an angle (multiply by its cosine) or over a fixed guide. Source: formula
    seen in a secondary text, whose own worked example does not match it; derived.

    >>> round(timing_lag(0.5, 57.3).driver, 2)
    1.0
    """
    if pitch_radius <= 0:
        raise ValueError("a pitch radius is above 0")
    lag = degrees(lower / pitch_radius)
    return TimingShift(lag, turns * lag)
