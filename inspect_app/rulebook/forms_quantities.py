"""The TOML forms of measuring: materials, gauges, conditions of reading, quantities, calculators, limits."""

from typing import Literal

from pydantic import Field, model_validator

from inspect_app.metrology.readings import Meaning
from inspect_app.model.frozen import BuildStandard, Frozen
from inspect_app.model.units import Dimension

from .forms_parts import Identifier

Worse = Literal["above", "below"]


class MaterialForm(Frozen):
    """A material: expansion per degree Celsius from..to; modulus in GPa and Poisson's ratio where given."""

    id: Identifier
    title: str
    expansion: tuple[float, float]
    modulus_gpa: float | None = Field(default=None, gt=0)
    poisson: float = Field(default=0.3, ge=0, le=0.5)
    basis: str = Field(min_length=1)

    @model_validator(mode="after")
    def _rising(self) -> "MaterialForm":
        if not 0 <= self.expansion[0] <= self.expansion[1] < 1e-3:
            raise ValueError("expansion is the smaller value, then the larger, per degree: [11e-6, 12e-6]")
        return self


class ConditionForm(Frozen):
    """A state of assembly in which a reading is taken; it cannot go with those it `excludes`."""

    id: Identifier
    title: str
    excludes: tuple[Identifier, ...] = ()


class GaugeForm(Frozen):
    """A gauge: resolution, repeatability (one standard deviation), calibration half-width and its meaning.

    `division` is what one count of a signed reading is worth; `material` what the gauge, or the master
    it is set on, is made of: it grows with it when it is warm.
    """

    id: Identifier
    title: str
    resolution: str
    half_width: str
    half_width_is: Meaning = "limits"
    repeatability: str | None = None
    division: str | None = None
    dimension: Dimension = "length"
    material: Identifier | None = None
    by: str = ""
    date: str = ""


class RingForm(Frozen):
    """A ring pressed into a hole: its wall, the interference on diameter, and its material."""

    wall: str
    interference: str
    material: Identifier


CalcName = Literal[
    "worst", "largest_minus_smallest", "wear", "clean_up", "straightedge", "flatness_zone",
    "flatness_plane", "roundness", "face_cut", "times", "minus", "press_stress", "past_new",
]  # fmt: skip
FROM_READINGS: tuple[CalcName, ...] = (
    "worst", "largest_minus_smallest", "wear", "clean_up", "straightedge", "flatness_zone",
    "flatness_plane", "roundness",
)  # fmt: skip
"""Calculators that take single readings; the others take a figure, which may be computed itself."""


class CalcForm(Frozen):
    """A figure computed by a named calculator of `inspect_app.metrology`.

    `of` and `depth` or `less` name other quantities of the same kind of place; `beside` a second way to
    measure `of`: where it was read, the worse of both counts. `k` is the smallest, usual and
    largest share of one-sided wear.
    """

    name: CalcName
    of: Identifier
    along: Literal["station", "direction"] | None = None
    depth: Identifier | None = None
    less: Identifier | None = None
    beside: Identifier | None = None
    times: float = Field(default=1, allow_inf_nan=False)
    unless_absent: tuple[Identifier, ...] = ()
    stock: str | None = None
    k: tuple[float, float, float] = (1.0, 1.5, 2.0)
    ring: RingForm | None = None

    @property
    def sources(self) -> tuple[Identifier, ...]:
        """The quantities it is computed from."""
        return tuple(name for name in (self.of, self.depth, self.less, self.beside) if name)


class ShareForm(Frozen):
    """The whole (kind.quantity) of which this is a small share: 0 or above `at_most` of it is a misprint."""

    quantity: str
    at_most: float = Field(gt=0, lt=1)


class QuantityForm(Frozen):
    """Something read (stations x directions) or computed (`calc`) at each place of a kind.

    `body` says whether more metal is gone when a hole grows or a shaft shrinks; `unworn` names the
    station that ring or bearing never reaches. A reading counts only in all of these `conditions`,
    and, with `washed`, only on a washed part. A step from standard is metal gone, unless `step_adds`:
    a shaft made larger to go with a hole that was cut.

    `rests_on`: what a reading also rests on at other parts. "kind.quantity" ends it when another piece
    comes in there or work voids that quantity there, "kind" alone when any quantity there is voided.
    """

    id: Identifier
    title: str
    each: tuple[Identifier, ...] = Field(min_length=1)
    dimension: Dimension = "length"
    worse: Worse
    body: Literal["hole", "shaft", "other"] = "other"
    stations: tuple[str, ...] = ("",)
    directions: tuple[str, ...] = ("",)
    unworn: str | None = None
    conditions: tuple[Identifier, ...] = ()
    washed: bool = False
    calc: CalcForm | None = None
    shown_in: str = "in"
    signed: bool = False
    share_of: ShareForm | None = None
    step_adds: bool = False
    rests_on: tuple[str, ...] = ()

    @model_validator(mode="after")
    def _made_larger(self) -> "QuantityForm":
        if self.step_adds and self.body != "shaft":
            raise ValueError('"step_adds" is for a shaft that is made larger: write body = "shaft"')
        return self


class LimitForm(Frozen):
    """A limit of the pack or shop, by build standard if it differs; it closes nothing itself.

    `itself_past`: what is equal to it is past it, as with a leaf that must not pass. Like `decision` it
    holds for the maker's limit as well. `of`: it counts only for parts of these materials (empty: all).
    """

    quantity: Identifier
    each: tuple[Identifier, ...] = Field(min_length=1)
    max: str | dict[BuildStandard, str] | None = None
    min: str | dict[BuildStandard, str] | None = None
    decision: Literal["simple", "guarded"] = "simple"
    itself_past: bool = False
    of: tuple[Identifier, ...] = ()
    basis: str = Field(min_length=1)

    @model_validator(mode="after")
    def _one_side(self) -> "LimitForm":
        if (self.max is None) == (self.min is None):
            raise ValueError('a limit has either "max" or "min"')
        return self

    def value(self, standard: BuildStandard) -> str | None:
        """The text of the limit for this build standard, or None where the table lacks it."""
        side = self.max if self.max is not None else self.min
        return side.get(standard) if isinstance(side, dict) else side
