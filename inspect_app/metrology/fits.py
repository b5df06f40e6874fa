"""Clearances: measured or from parts, where they stand in their window, and what to change.

Lengths in mm; a clearance is positive where the hole is larger, negative where the parts interfere.
Windows are closed: a clearance equal to either end is inside. Every size is one size at 20 degrees,
read where the fit is closest, in the condition it runs in (caps torqued, shells in).
"""

from dataclasses import dataclass
from math import inf, isinf

from inspect_app.model.units import clean

from .conformity import p_beyond
from .estimate import Estimate, Undetermined, weighted_sum
from .risk import p_outside


@dataclass(frozen=True)
class Window:
    """Allowed range of a fit, mm, low <= high (equal only for a single allowed value).

    Either end may be infinite: then only the other is asked for.
    """

    low: float = -inf
    high: float = inf

    def __post_init__(self) -> None:
        if not self.low <= self.high:
            raise ValueError(f"a window from {self.low} to {self.high} is the wrong way round")

    @property
    def middle(self) -> float:
        """Halfway between its ends; not a number to use where one of them is infinite.

        >>> Window(0.25, 0.75).middle
        0.5
        """
        return (self.low + self.high) / 2


def clearance(hole: Estimate, shaft: Estimate) -> Estimate:
    """Hole minus shaft, mm, for two sizes read with different gauges or settings (independent).

    Not for sizes read with one gauge in one session: their difference is better known than this says.

    >>> clearance(Estimate(50.84, 0.003), Estimate(50.80, 0.004)).u
    0.005
    """
    difference = weighted_sum((1.0, hole), (-1.0, shaft))
    return Estimate(clean(difference.value), difference.u)


def clearance_from_parts(housing: Estimate, shell: Estimate, journal: Estimate) -> Estimate:
    """Housing - 2 * shell - journal, mm: what the clearance will be before anything is assembled.

    `shell` is the wall of one half, the same for both and read once, so its doubt counts twice. Not
    for walls read off the thickest place (they thin towards the split), nor a housing without its
    crush: a fitted shell stands a little closer. Source: arithmetic; three manuals' tables agree.

    >>> clearance_from_parts(Estimate(82.58), Estimate(3.17), Estimate(76.19)).value
    0.05
    """
    total = weighted_sum((1.0, housing), (-2.0, shell), (-1.0, journal))
    return Estimate(clean(total.value), total.u)


def clearance_range(
    housing: tuple[float, float], shell: tuple[float, float], journal: tuple[float, float]
) -> Window:
    """Smallest and largest clearance that parts within these ranges (low, high) can give, mm.

    Not a tolerance for a *selective* fit, whose parts are matched: its window is narrower.

    >>> clearance_range((3.2510, 3.2520), (0.1245, 0.1250), (2.9990, 3.0000))
    Window(low=0.001, high=0.004)
    """
    low = housing[0] - 2 * shell[1] - journal[1]
    return Window(clean(low), clean(housing[1] - 2 * shell[0] - journal[0]))


def window_position(value: float, window: Window) -> float | Undetermined:
    """Where a value stands in its window, in percent: 0 at the low end, 100 at the high, outside too.

    Undetermined for a window of a single value, or with only one end.

    >>> round(window_position(0.0012, Window(0.0002, 0.0022)), 6)
    50.0
    """
    if isinf(window.low) or isinf(window.high):
        return Undetermined("a window with one end has no position in it")
    if window.low == window.high:
        return Undetermined("a window of a single value has no position in it")
    return 100 * clean(value - window.low) / (window.high - window.low)


def p_inside(fit: Estimate, window: Window) -> float:
    """Chance that the true fit is inside its window (0..1), normal; 0 or 1 where nothing is in doubt.

    Source: JCGM 106:2012, 7, formula seen in secondary texts.

    >>> round(p_inside(Estimate(0.05, 0.01), Window(0.03, 0.07)), 3)
    0.954
    """
    return 1 - p_outside(fit.value, fit.u, window.low, window.high)


def p_range_inside(closest: Estimate, widest: Estimate, window: Window) -> float:
    """Chance (0..1) that a fit is inside all round, from where its parts are closest to where widest.

    Each end is normal and held against its own end of the window; with one value for both it is
    `p_inside`. Not for parts of which only one size was read: then the ends are not known.

    >>> round(p_range_inside(Estimate(0.04, 0.01), Estimate(0.06, 0.01), Window(0.02, 0.08)), 3)
    0.954
    """
    too_close = p_beyond(closest.value, closest.u, window.low, "below")
    return max(0.0, 1 - too_close - p_beyond(widest.value, widest.u, window.high, "above"))


@dataclass(frozen=True)
class Shift:
    """By how much a fit must become wider (+) or closer (-), mm.

    `least` brings it just inside, `to_middle` to the middle of its window (Undetermined without one).
    """

    least: float
    to_middle: float | Undetermined


def shift_into(closest: float, widest: float, window: Window) -> Shift | Undetermined:
    """How a fit outside its window must change, by where its parts are closest and where widest.

    `least` is 0 inside. Undetermined where the parts are out of shape by more than the window is
    wide: then no change of a size brings all of it inside.

    >>> shift_into(0.02, 0.02, Window(0.03, 0.07))
    Shift(least=0.01, to_middle=0.03)
    """
    under, over = clean(window.low - closest), clean(widest - window.high)
    if clean((widest - closest) - (window.high - window.low)) > 0:
        return Undetermined(
            "the parts are out of shape by more than the window is wide: no change of one size brings all "
            "of it inside"
        )
    least = under if under > 0 else -over if over > 0 else 0.0
    if isinf(window.low) or isinf(window.high):
        return Shift(least, Undetermined("a window with one end has no middle"))
    return Shift(least, clean(window.middle - (closest + widest) / 2))


@dataclass(frozen=True)
class Change:
    """Change one `part` by `least` (mm, signed) to reach the window, by `to_middle` for its middle.

    `by_cutting` tells whether metal is taken off; otherwise only another part brings it.
    """

    part: str
    least: float
    to_middle: float
    by_cutting: bool


def what_to_change(fit: float, window: Window) -> tuple[Change, ...]:
    """Which part, which way, and how much, for a clearance outside its window; () inside it.

    One part at a time: the housing or the journal by the whole amount, or each of two shells by half
    of it against the sign. Whether a listed size brings it is another question (`sizes.next_listed`).

    >>> for change in what_to_change(0.02, Window(0.03, 0.07)):
    ...     print(change.part, change.least, change.by_cutting)
    shell -0.005 False
    journal -0.01 True
    housing 0.01 True
    """
    fit = clean(fit)
    if clean(fit - window.low) >= 0 and clean(fit - window.high) <= 0:
        return ()
    edge = window.low if fit < window.low else window.high
    least, middle = edge - fit, window.middle - fit
    wider = least > 0
    return (
        Change("shell", clean(-least / 2), clean(-middle / 2), by_cutting=False),
        Change("journal", clean(-least), clean(-middle), by_cutting=wider),
        Change("housing", clean(least), clean(middle), by_cutting=wider),
    )
