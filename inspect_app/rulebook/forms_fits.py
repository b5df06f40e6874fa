"""The TOML forms of putting together: fits with their windows, settings, and what the machine becomes."""

from typing import Literal

from pydantic import Field, model_validator

from inspect_app.model.frozen import Frozen
from inspect_app.model.units import Dimension

from .forms_parts import Identifier

Way = Literal["larger", "smaller"]


class FitAtForm(Frozen):
    """Where a fit is told: at each place of this kind, on each piece of the part."""

    part: Identifier
    kind: Identifier


class _Lever(Frozen):
    """What a person can do to it: words for each way that exists; `cut` names the one that takes metal."""

    times: float = Field(default=1, allow_inf_nan=False)
    larger: str | None = None
    smaller: str | None = None
    cut: Way | None = None

    @model_validator(mode="after")
    def _usable(self) -> "_Lever":
        if self.times == 0:
            raise ValueError("times = 0 leaves it out of the fit: write how often it counts, with its sign")
        if self.cut and getattr(self, self.cut) is None:
            raise ValueError(f'cut = "{self.cut}" needs the words of {self.cut}')
        return self


class FitTermForm(_Lever):
    """One size of the sum that is the fit, `times` over; read in these stations and directions (empty: all).

    `new_part`: where nothing is read of it, the new range of the sheet stands for a new part.
    """

    part: Identifier
    kind: Identifier
    of: Identifier
    stations: tuple[str, ...] = ()
    directions: tuple[str, ...] = ()
    new_part: bool = False


class LeverForm(_Lever):
    """Something that is no size of the sum but changes it: shims, an adjuster. `what` names it."""

    what: str


class UsualForm(Frozen):
    """The window where the sheet gives none. With `per`, its numbers are shares of that kind.quantity."""

    low: str | None = None
    high: str | None = None
    wear_limit: str | None = None
    per: str | None = None
    basis: str = Field(min_length=1)

    @model_validator(mode="after")
    def _an_end(self) -> "UsualForm":
        if self.low is None and self.high is None:
            raise ValueError('a window has "low", "high" or both')
        return self


class SharedForm(UsualForm):
    """The usual window where there are half as many places of this kind: two of the fit share one."""

    part: Identifier
    kind: Identifier


class SettingForm(Frozen):
    """Rows of the sheet that say what a gap is set to: hot, cold, and cold less hot (signed).

    `within`: how near the setting must be met.
    """

    hot: Identifier
    cold: Identifier
    cold_less_hot: Identifier
    within: str


class FitForm(Frozen):
    """A fit: measured directly as a quantity of its place, from parts as a sum of `term`s, or both.

    `stations`: those in which it is read, of a quantity that has several fits (empty: all).
    `compared`: told once, as the largest less the smallest of all places. `only_if_given`: told where
    the sheet has a row for it or something was read. `unless` names fits that, if told, replace it.
    """

    id: Identifier
    title: str
    at: FitAtForm
    measured: Identifier
    stations: tuple[str, ...] = ()
    term: tuple[FitTermForm, ...] = ()
    lever: tuple[LeverForm, ...] = ()
    usual: UsualForm | None = None
    shared: SharedForm | None = None
    setting: SettingForm | None = None
    compared: bool = False
    only_if_given: bool = False
    unless: tuple[Identifier, ...] = ()
    too_small: str
    too_large: str

    @model_validator(mode="after")
    def _one_form(self) -> "FitForm":
        if self.compared and (self.term or self.setting):
            raise ValueError("a compared fit is measured directly: it has neither terms nor a setting")
        if self.compared and (self.usual is None or self.usual.high is None):
            raise ValueError(
                'a compared fit needs usual = { low = "0", high = ... }: how far places may differ'
            )
        if self.setting and self.usual:
            raise ValueError("a gap that is set has no usual window: only the sheet tells its setting")
        return self


EffectName = Literal["swept_volume", "compression_ratio", "stack_height", "side_faces", "drive_lag"]
ROLES: dict[EffectName, tuple[str, ...]] = {
    "swept_volume": ("bore", "stroke"),
    "compression_ratio": (
        "bore", "stroke", "chamber", "face_area", "deck", "gasket_bore", "gasket", "dish",
    ),
    "stack_height": (),
    "side_faces": ("bank_angle", "face_angle"),
    "drive_lag": ("pitch_radius",),
}  # fmt: skip
OPTIONAL = ("gasket",)
"""Inputs that any effect may take: a gasket of another thickness moves a stack as a cut does."""
DIMENSIONS: dict[EffectName, Dimension] = {
    "swept_volume": "volume",
    "compression_ratio": "ratio",
    "stack_height": "length",
    "side_faces": "length",
    "drive_lag": "angle",
}


class EffectForm(Frozen):
    """Something the whole becomes by the ways chosen, worked out by a named calculator of `metrology`.

    `takes` gives a quantity (kind.quantity) for each input of the calculator; `sized_by` names the
    concern (part.concern) whose listed size the bores get, `cuts` those that take metal off a face.
    """

    id: Identifier
    title: str
    name: EffectName
    takes: dict[str, str] = Field(default_factory=dict)
    sized_by: str | None = None
    cuts: tuple[str, ...] = ()
    shown_in: str
    only_if_given: bool = False
    note: str = ""
