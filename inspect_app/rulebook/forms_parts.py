"""The TOML forms that describe a machine: counts, parts with places and concerns, sources of pieces."""

from typing import Literal

from pydantic import Field, model_validator

from inspect_app.model.frozen import Frozen

from .forms_begin import BeginForm
from .forms_shapes import MapForm, ShapeForm

Identifier = str


class PackForm(Frozen):
    """Name and version of a rule pack.

    `freshen_reserve`: share of the wear band kept in hand; `thermometer_half_width`: by how many
    degrees Celsius a shop thermometer may be off.
    `contents` lists the parts that come with a bare, short or long core (one not listed: all parts).
    `keep_old_days`: how long the shop keeps a piece that was replaced before it goes; none: not said.
    """

    id: Identifier
    title: str
    version: str
    freshen_reserve: float = Field(default=0.25, ge=0, le=1)
    thermometer_half_width: float = Field(default=1.0, ge=0, allow_inf_nan=False)
    core_title: str = "core"
    keep_old_days: int | None = Field(default=None, ge=0, le=3660)
    contents: dict[Literal["bare", "short", "long"], tuple[Identifier, ...]] = Field(default_factory=dict)
    map: MapForm | None = None
    begin: BeginForm | None = None


class CountForm(Frozen):
    """A number that the engine sheet gives. `usual` sizes the check of couplings at load."""

    id: Identifier
    title: str
    usual: int = Field(gt=0)


class PlaceForm(Frozen):
    """A kind of place. `count` names a count of the sheet, or a quotient such as "cylinders/heads"."""

    kind: Identifier
    title: str = ""
    count: str | None = None
    zones: tuple[str, ...] = ()


class BillForm(Frozen):
    """A price taken `quantity` times with chance `chance`: per place done, per part, or once per core."""

    price: Identifier
    quantity: float = Field(default=1, gt=0, allow_inf_nan=False)
    chance: float = Field(default=1, gt=0, le=1)
    per: Literal["place", "part", "core"] = "part"


class WayForm(Frozen):
    """One rung: the operations it takes and, for couplings of amounts, the metal it removes.

    It removes what it `takes`, and more where the figure `at_least` proves that it needs more. `note` is
    what it does to other parts that no rule can count; it is told where the way is chosen.
    """

    id: Identifier
    title: str
    does: tuple[Identifier, ...] = ()
    takes: str | None = None
    at_least: Identifier | None = None
    note: str = ""


class ExceptionForm(WayForm):
    """A way open to single places while the others share a size, at most `at_most` of them."""

    at_most: int = Field(ge=1)


class KeepForm(Frozen):
    """Metal that must remain: `figure` less `loses` per unit of size, against the figure's limit.

    Asked for listed sizes after the first `after_sizes` of them; what is read counts at every size.
    """

    figure: Identifier
    loses: float = Field(gt=0)
    after_sizes: int = Field(default=0, ge=0)


class ConcernForm(Frozen):
    """A thing to solve if the own piece stays: a plain ladder of ways, or one size common to a set.

    `supplied` names the row (kind.quantity) whose listed sizes are those for which parts exist; where
    the sheet lists none there, every listed size is taken to have its parts.
    """

    id: Identifier
    title: str
    ladder: Literal["plain", "common_size"] = "plain"
    ways: tuple[WayForm, ...] = ()
    each: Identifier | None = None
    first: WayForm | None = None
    size: WayForm | None = None
    sizes: Identifier | None = None
    supplied: str | None = None
    usual_sizes: tuple[str, ...] = ()
    need: Identifier | None = None
    exception: ExceptionForm | None = None
    keep: KeepForm | None = None

    @model_validator(mode="after")
    def _complete(self) -> "ConcernForm":
        wanted = ("ways",) if self.ladder == "plain" else ("each", "first", "size", "sizes", "need")
        lacking = [name for name in wanted if not getattr(self, name)]
        if lacking:
            raise ValueError(f'a ladder "{self.ladder}" needs {", ".join(lacking)}')
        return self

    def rungs(self) -> tuple[WayForm, ...]:
        """The named ways, lowest first; the size way stands for every listed size."""
        return self.ways or tuple(way for way in (self.first, self.size) if way)


class SourceForm(Frozen):
    """A replacement: where it comes from, of which kind, and what it costs to make it fit to use."""

    source: Literal["another_core", "used", "exchange", "new"]
    kind: Literal["fitted", "other"] = "fitted"
    bills: tuple[BillForm, ...] = Field(min_length=1)


class TestForm(Frozen):
    """A test that keeping the own piece asks for, billed while a rule waits for it."""

    __test__ = False
    method: Identifier
    bills: tuple[BillForm, ...] = Field(min_length=1)


class SalvageForm(Frozen):
    """Prices that an old piece brings: sold as usable, as core credit, as scrap metal."""

    sell: Identifier | None = None
    core_credit: Identifier | None = None
    scrap: Identifier | None = None


class PartForm(Frozen):
    """A part of the machine. `positions` names a count: one position for each of it."""

    id: Identifier
    title: str
    decides_core: bool = False
    positions: str | None = None
    bought_as: Literal["each", "set"] = "each"
    first_looks: tuple[Identifier, ...] = ()
    places: tuple[PlaceForm, ...] = Field(min_length=1)
    concern: tuple[ConcernForm, ...] = ()
    source: tuple[SourceForm, ...] = ()
    test: tuple[TestForm, ...] = ()
    salvage: SalvageForm = SalvageForm()
    shape: ShapeForm | None = None
