"""Gaps that are not clearances of a journal: play along an axis, ring gap, groove, wall left, lash.

Lengths in mm, estimates independent of each other unless a function says otherwise.
"""

from dataclasses import dataclass
from math import pi

from inspect_app.model.units import clean

from .estimate import Estimate, Undetermined, weighted_sum


def axial_play(between: Estimate, thrust: Estimate, washer: Estimate) -> Estimate:
    """Play along the axis from parts: width between faces - width over the thrust part - 2 * washer.

    Two washers of one kind, read once. With an indicator the play is the reading itself. Not for
    faces that are out of square: the closest place decides, so read there.

    >>> round(axial_play(Estimate(30.0), Estimate(25.0), Estimate(2.45)).value, 6)
    0.1
    """
    return _cleaned(weighted_sum((1.0, between), (-1.0, thrust), (-2.0, washer)))


def ring_gap_at(gap: Estimate, read_at: Estimate, used_at: Estimate) -> Estimate:
    """Gap of a ring at another diameter: gap + pi * (used_at - read_at), mm; may come out below 0.

    The ring stays as long as it is; it lies square and follows the hole. Below 0 its ends would
    meet: it does not go in. Source: geometry; two manuals print 0.003 for each 0.001 of bore wear (seen).

    >>> round(ring_gap_at(Estimate(0.30), Estimate(87.2), Estimate(87.3)).value, 4)
    0.6142
    """
    return _cleaned(weighted_sum((1.0, gap), (pi, used_at), (-pi, read_at)))


def taper_from_ring_gaps(wide: Estimate, narrow: Estimate) -> Estimate:
    """Difference of two diameters from the gaps of one ring pushed square to both: (a - b) / pi, mm.

    For want of a bore gauge. Blind to form: it compares circumferences. Source: geometry.

    >>> round(taper_from_ring_gaps(Estimate(0.614), Estimate(0.300)).value, 3)
    0.1
    """
    return _cleaned(weighted_sum((1 / pi, wide), (-1 / pi, narrow)))


def side_clearance(groove: Estimate, ring: Estimate) -> Estimate:
    """Width of a groove minus that of its ring, mm. Not for a groove worn in a wedge: read its mouth.

    >>> side_clearance(Estimate(2.06), Estimate(2.0)).value
    0.06
    """
    return _cleaned(weighted_sum((1.0, groove), (-1.0, ring)))


def wall_left(wall: Estimate, size_there: Estimate, cut_to: float, off_centre: float = 0.0) -> Estimate:
    """Wall that remains at one spot after cutting a hole from `size_there` to the diameter `cut_to`, mm.

    wall - (cut_to - size_there) / 2 - off_centre; the hole's axis moves by at most `off_centre` >= 0
    towards this spot. Take wall and size at the same, unworn height; each spot apart, the thinnest
    decides. Not after a wall was read through scale or on another metal than the gauge was set on.
    Common practice; geometry.

    >>> round(wall_left(Estimate(4.572), Estimate(101.6), 102.108).value, 3)
    4.318
    """
    if off_centre < 0:
        raise ValueError("how far an axis moves is at least 0")
    left = weighted_sum((1.0, wall), (0.5, size_there))
    return _cleaned(Estimate(left.value - cut_to / 2 - off_centre, left.u))


@dataclass(frozen=True)
class GapSheet:
    """What an engine's own sheet says of a gap set by hand: hot, cold, and how cold differs from hot (mm).

    Each is a value of the sheet or the reason why it has none.
    """

    hot: float | Undetermined
    cold: float | Undetermined
    cold_less_hot: float | Undetermined


NO_RULE = (
    "none proposed: the sheet gives no cold setting and no shift from hot to cold, and rules of thumb "
    "differ even in sign. Ask the maker of the parts, or set it hot and check again warm."
)


def cold_gap(sheet: GapSheet) -> float | Undetermined:
    """The gap to set cold, mm: the sheet's own, or its hot one with its own shift; otherwise none.

    The shift belongs to one engine's metals and lengths: it is never taken from another sheet, and
    there is no fallback. Undetermined, saying so, where the sheet does not tell, or where hot and
    shift would leave no gap at all.

    >>> sheet = GapSheet(hot=0.3, cold=Undetermined("not printed"), cold_less_hot=-0.1)
    >>> round(cold_gap(sheet), 6)
    0.2
    """
    if not isinstance(sheet.cold, Undetermined):
        return sheet.cold
    if isinstance(sheet.hot, Undetermined) or isinstance(sheet.cold_less_hot, Undetermined):
        return Undetermined(NO_RULE)
    cold = clean(sheet.hot + sheet.cold_less_hot)
    if cold <= 0:
        return Undetermined(
            f"none proposed: {sheet.hot:g} mm hot and its shift leave {cold:g} mm. Check the sheet."
        )
    return cold


def _cleaned(estimate: Estimate) -> Estimate:
    return Estimate(clean(estimate.value), estimate.u)
