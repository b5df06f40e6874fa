"""What the fit check says: every fit with its window, and what the whole becomes by the ways chosen.

Sizes are in the unit named beside them, never rounded before comparing. Keys may be added in later
versions; a key never changes its meaning.
"""

from typing import Literal

from .answer import RulebookUsed
from .answer_figures import LimitShown, Measured
from .frozen import BuildStandard, Frozen, LimitFrom, Stage

FitState = Literal["out", "close", "open", "inside"]


class FitWindow(Frozen):
    """The range a fit must stand in, ends included; an end that nobody gives is null.

    `whose`: the maker's, the shop's, or usual ("pack"), with the words on which a usual one rests.
    """

    low: float | None
    high: float | None
    unit: str
    whose: LimitFrom
    basis: str = ""
    places: int | None = None


class FitChange(Frozen):
    """One thing that brings the fit inside its window when it alone is changed, by `least`.

    `least` and `to_middle` are signed amounts on `what` (positive: larger); null without a middle.
    `how` says what a person does, `by_cutting` whether metal is taken off.
    """

    what: str
    way: Literal["larger", "smaller"]
    least: float
    to_middle: float | None
    unit: str
    how: str
    by_cutting: bool


class FitMissing(Frozen):
    """One thing that a fit waits for: what to do, and at which place ("" where the sheet lacks it)."""

    what: str
    place: str = ""


class Fit(Frozen):
    """One fit at one place.

    `state` open: something is `missing`, or work comes first that changes it; close: inside by 5 to
    95 % of chance.

    `measured` is the end that stands nearer to leaving the window; `spread` both ends where the parts
    are not of one size. `set_to` is the cold setting of a gap set by hand. `position_percent`: 0 at the
    low end of the window, 100 at its high end.
    """

    fit: str
    title: str
    position: str
    place: str
    state: FitState
    known_by: Literal["measured", "parts"] | None = None
    measured: Measured | None = None
    spread: tuple[float, float] | None = None
    window: FitWindow | None = None
    set_to: LimitShown | None = None
    position_percent: float | None = None
    p_inside: float | None = None
    says: str = ""
    missing: tuple[FitMissing, ...] = ()
    changes: tuple[FitChange, ...] = ()
    evidence: tuple[str, ...] = ()


class Effect(Frozen):
    """What the whole was by its sheet and becomes by the ways chosen; null with what is `missing`."""

    effect: str
    title: str
    unit: str
    before: float | None
    after: float | None
    says: str = ""
    missing: tuple[str, ...] = ()


class FitAnswer(Frozen):
    """Every fit, place by place, and every effect, in the order of the rules.

    `machine` is the word for what is put together.
    """

    fit_answer_version: Literal[1] = 1
    id: str
    title: str
    stage: Stage
    build_standard: BuildStandard
    rulebook: RulebookUsed
    machine: str
    fits: tuple[Fit, ...]
    effects: tuple[Effect, ...]

    def counted(self, state: FitState) -> int:
        """How many fits are in this state."""
        return sum(fit.state == state for fit in self.fits)
