"""The rulebook in memory: every entry by id, with the folder it came from."""

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cached_property

from inspect_app.model.answer import OverlayUsed
from inspect_app.model.frozen import Frozen

from .conditions import Node, compile_all
from .forms_cautions import CautionForm
from .forms_fits import EffectForm, FitForm
from .forms_parts import ConcernForm, CountForm, PackForm, PartForm, PlaceForm
from .forms_quantities import ConditionForm, GaugeForm, LimitForm, MaterialForm, QuantityForm
from .forms_rules import (
    CoreLineForm,
    CouplingForm,
    DamageForm,
    MethodForm,
    OperationForm,
    PriceBookForm,
    PriceForm,
    ReportForm,
    RuleForm,
    SignForm,
)
from .forms_unruled import UnruledForm

TABLES: Mapping[str, type[Frozen]] = {
    "pack": PackForm,
    "count": CountForm,
    "part": PartForm,
    "quantity": QuantityForm,
    "damage": DamageForm,
    "method": MethodForm,
    "material": MaterialForm,
    "condition": ConditionForm,
    "gauge": GaugeForm,
    "operation": OperationForm,
    "limit": LimitForm,
    "fit": FitForm,
    "effect": EffectForm,
    "rule": RuleForm,
    "unruled": UnruledForm,
    "coupling": CouplingForm,
    "sign": SignForm,
    "report": ReportForm,
    "price_book": PriceBookForm,
    "price": PriceForm,
    "core_line": CoreLineForm,
    "caution": CautionForm,
}
SINGLE = ("pack", "price_book")


@dataclass(frozen=True)
class Where:
    """The file an entry stands in, and the overlay's id ("" for the pack itself)."""

    file: str
    overlay: str = ""


@dataclass(frozen=True)
class Rulebook:
    """Checked entries by id; quantities and limits by (quantity, kind of place).

    `sha256` covers the pack's files without prices, `prices_sha256` the price book, both over
    sorted names and bytes; each overlay carries its own.
    """

    pack: PackForm
    price_book: PriceBookForm
    counts: Mapping[str, CountForm]
    parts: Mapping[str, PartForm]
    quantities: Mapping[tuple[str, str], QuantityForm]
    damage: Mapping[str, DamageForm]
    methods: Mapping[str, MethodForm]
    materials: Mapping[str, MaterialForm]
    conditions: Mapping[str, ConditionForm]
    gauges: Mapping[str, GaugeForm]
    operations: Mapping[str, OperationForm]
    limits: Mapping[tuple[str, str], LimitForm]
    fits: Mapping[str, FitForm]
    effects: Mapping[str, EffectForm]
    rules: Mapping[str, RuleForm]
    unruled: Mapping[str, UnruledForm]
    couplings: Mapping[str, CouplingForm]
    signs: Mapping[str, SignForm]
    reports: Mapping[str, ReportForm]
    prices: Mapping[str, PriceForm]
    core_lines: Mapping[str, CoreLineForm]
    cautions: Mapping[str, CautionForm]
    where: Mapping[tuple[str, str], Where]
    sha256: str
    prices_sha256: str
    overlays: tuple[OverlayUsed, ...] = ()

    @cached_property
    def compiled(self) -> dict[str, Node]:
        """Each rule's condition as a tree that runs on any scene."""
        return {rule.id: compile_all(rule.when) for rule in self.rules.values()}

    @cached_property
    def rules_of(self) -> dict[str, tuple[RuleForm, ...]]:
        """The rules of each part, in the order of the files."""
        return {part: tuple(rule for rule in self.rules.values() if rule.part == part) for part in self.parts}

    def place_form(self, part: str, kind: str) -> PlaceForm | None:
        """The form of a kind of place on a part, or None if the part has no such place."""
        return next((place for place in self.parts[part].places if place.kind == kind), None)

    def concern(self, part: str, concern: str) -> ConcernForm | None:
        """A concern of a part by id, or None."""
        return next((form for form in self.parts[part].concern if form.id == concern), None)

    def from_shop(self, table: str, entry: str) -> bool:
        """Whether an entry came from an overlay rather than from the pack."""
        return bool(self.where[(table, entry)].overlay)
