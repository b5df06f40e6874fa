"""The TOML forms of trade knowledge: damage, methods, rules, couplings, operations, signs, prices."""

from typing import Any, Literal

from pydantic import Field, model_validator

from inspect_app.model.frozen import BuildStandard, Frozen

from .forms_conditions import Condition
from .forms_parts import BillForm, Identifier


class DamageForm(Frozen):
    """A damage word, its definition, and the methods whose "nothing seen" proves its absence."""

    id: Identifier
    plain: str
    settled_by: tuple[Identifier, ...] = Field(min_length=1)


class MethodForm(Frozen):
    """A way to look or test. `suits` lists materials (empty: all); `washed`: only on a washed part.

    `ask` is how it is asked for where that says more than its title.
    """

    id: Identifier
    title: str
    ask: str = ""
    kind: Literal["look", "gauge", "test"]
    suits: tuple[str, ...] = ()
    washed: bool = False


class ExampleForm(Frozen):
    """Evidence on an otherwise unseen piece, and what the rule says of it."""

    given: tuple[dict[str, Any], ...] = ()
    then: Literal["met", "open", "not met"]
    standard: BuildStandard = "rebuild"
    place: str | None = None


class RuleForm(Frozen):
    """Evidence in, ways closed. `when` is a list that means all; `hard` can only be disproved."""

    id: Identifier
    part: Identifier
    each: tuple[Identifier, ...] = ()
    when: tuple[Condition, ...] = Field(min_length=1)
    closes: tuple[str, ...] = Field(min_length=1)
    hard: bool = False
    why: str = Field(min_length=1)
    plain: str = Field(min_length=1)
    basis: str = Field(min_length=1)
    example: tuple[ExampleForm, ...] = Field(min_length=1)


class WayTakenForm(Frozen):
    """`of` = part.concern; `in` = a way, a list of ways, or "any size"."""

    of: str
    in_: str | tuple[str, ...] = Field(alias="in")

    @property
    def ways(self) -> tuple[str, ...]:
        return (self.in_,) if isinstance(self.in_, str) else self.in_


class ReplacedForm(Frozen):
    of: Identifier
    is_: Literal["replaced"] = Field(alias="is")


class CoupledForm(Frozen):
    """What a coupling closes: a source of a part, or one way (concern.way) of its own piece."""

    part: Identifier
    source: Literal["own"] | None = None
    way: str | None = None

    @model_validator(mode="after")
    def _one(self) -> "CoupledForm":
        if (self.source is None) == (self.way is None):
            raise ValueError('closes names either "source" or "way"')
        return self


class SumForm(Frozen):
    """Metal removed by the ways of two concerns together, and before them, against a limit (kind.quantity).

    What was read or stamped of the same quantity is what is gone already.
    """

    of: tuple[str, str]
    at_most: str


class CouplingForm(Frozen):
    """The only thing that reads a chosen way, in exactly one of four forms.

    `if_way` or `if_source` with `closes`; `same_kind`; `sum`; `if_ways` with `adds`.
    `same_index` pairs positions of equal number only.
    """

    id: Identifier
    why: str = Field(min_length=1)
    basis: str = Field(min_length=1)
    if_way: WayTakenForm | None = None
    if_source: ReplacedForm | None = None
    closes: CoupledForm | None = None
    same_kind: tuple[Identifier, Identifier] | None = None
    sum: SumForm | None = None
    if_ways: tuple[WayTakenForm, WayTakenForm] | None = None
    adds: tuple[BillForm, ...] = ()
    same_index: bool = False

    @model_validator(mode="after")
    def _one_form(self) -> "CouplingForm":
        heads = [self.if_way, self.if_source, self.same_kind, self.sum, self.if_ways]
        if sum(head is not None for head in heads) != 1:
            raise ValueError("a coupling has exactly one of if_way, if_source, same_kind, sum, if_ways")
        if (self.closes is not None) != (self.if_way is not None or self.if_source is not None):
            raise ValueError('"closes" goes with if_way or if_source, and only with them')
        if bool(self.adds) != (self.if_ways is not None):
            raise ValueError('"adds" goes with if_ways, and only with it')
        return self


class OperationForm(Frozen):
    """Work on a piece: what it costs, which figures it voids and which quantity it sets to a size.

    `clears` lists damage words and methods whose earlier findings only a new look or test can
    confirm or lift; `retest` those whose earlier "nothing found" no longer holds. All three only at
    the kinds of place that it `reaches` (empty: all). A void written "kind.quantity" holds at that kind
    wherever the work is done, though it does not reach there. `includes` names operations done with it.
    """

    id: Identifier
    title: str
    bills: tuple[BillForm, ...] = ()
    sets: Identifier | None = None
    reaches: tuple[Identifier, ...] = ()
    includes: tuple[Identifier, ...] = ()
    voids: tuple[str, ...] = ()
    clears: tuple[Identifier, ...] = ()
    retest: tuple[Identifier, ...] = ()

    def reached(self, kind: str) -> bool:
        """Whether the work itself is done at this kind of place."""
        return not self.reaches or kind in self.reaches

    def voids_at(self, quantity: str, kind: str) -> bool:
        """Whether it makes a figure of this kind of place worthless: there, or from elsewhere."""
        return f"{kind}.{quantity}" in self.voids or (self.reached(kind) and quantity in self.voids)

    def voids_any(self, kind: str) -> bool:
        """Whether it makes any figure of this kind of place worthless."""
        plain = any("." not in name for name in self.voids)
        return (plain and self.reached(kind)) or any(name.startswith(f"{kind}.") for name in self.voids)


class ShownForm(Frozen):
    damage: Identifier
    place: str


class SignForm(Frozen):
    """A yard check. An answer under `shows` is a finding at once; the others shift odds only."""

    id: Identifier
    question: str
    part: Identifier
    answers: tuple[str, ...] = Field(min_length=2)
    shows: dict[str, ShownForm] = Field(default_factory=dict)


class ReportForm(Frozen):
    """Something an outside shop may say, and what to ask when it gives no grounds."""

    id: Identifier
    ask: str


class PriceBookForm(Frozen):
    title: str
    date: str
    currency: str = Field(pattern="^[A-Z]{3}$")


class PriceForm(Frozen):
    """One price in the currency of the book, as low, likely and high, with days and who supplies.

    `by` and `date` say who wrote it down and when.
    """

    id: Identifier
    title: str
    low: float = Field(ge=0, allow_inf_nan=False)
    likely: float = Field(ge=0, allow_inf_nan=False)
    high: float = Field(ge=0, allow_inf_nan=False)
    days: float = Field(default=0, ge=0, allow_inf_nan=False)
    supplier: str = "shop"
    by: str = ""
    date: str = ""

    @model_validator(mode="after")
    def _ordered(self) -> "PriceForm":
        if not self.low <= self.likely <= self.high:
            raise ValueError(f"low {self.low:g}, likely {self.likely:g}, high {self.high:g} are out of order")
        return self


class CoreLineForm(Frozen):
    """A line of the whole core: in every bill of these build standards (empty: all)."""

    id: Identifier
    bill: BillForm
    standards: tuple[BuildStandard, ...] = ()
