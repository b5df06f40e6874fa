"""The rulebook bound to one engine sheet: positions, places with their numbers, limits and sizes in mm."""

from dataclasses import dataclass
from functools import cached_property
from typing import Literal

from inspect_app.model.frozen import BuildStandard, LimitFrom
from inspect_app.model.places import Place, zone_path
from inspect_app.model.problems import raise_if_any
from inspect_app.model.sheet import EngineSheet, SheetQuantity
from inspect_app.model.units import clean, size

from .book import Rulebook
from .check_sheet import sheet_problems
from .conditions import Threshold
from .forms_quantities import CalcForm, LimitForm, QuantityForm, Worse
from .shown_units import ShownQuantity, is_gap, shown_unit, usual_length


@dataclass(frozen=True)
class Position:
    """Where one piece sits: `id` is the part's id, with number or name where there are several."""

    part: str
    id: str
    index: str
    title: str


@dataclass(frozen=True)
class BoundLimit:
    """A limit for one build standard in the canonical unit, with whose it is and what it rests on."""

    value: float
    threshold: Threshold
    decision: Literal["simple", "guarded"]
    origin: LimitFrom
    basis: str


class Engine:
    """A checked rulebook with a checked sheet. Raises Problems if the sheet does not fit the pack."""

    def __init__(self, book: Rulebook, sheet: EngineSheet) -> None:
        raise_if_any(sheet_problems(book, sheet))
        self.book = book
        self.sheet = sheet
        self._places: dict[tuple[str, str], tuple[Place, ...]] = {}
        self._leaves: dict[tuple[str, str, tuple[str, ...]], tuple[tuple[str, ...], ...]] = {}
        self._limits: dict[tuple[str, str, str], BoundLimit | None] = {}
        self._of_kind: dict[tuple[str, str], Engine] = {}
        self._forms: dict[tuple[str, str], ShownQuantity] = {}

    def for_kind(self, part: str, kind: str | None) -> "Engine":
        """The engine as a piece of this kind sees it: with the rows in which its kind differs."""
        kinds = self.sheet.kinds.get(part)
        rows = kinds.rows.get(kind or "") if kinds else None
        if not rows:
            return self
        if (part, kind or "") not in self._of_kind:
            quantities = {**self.sheet.quantities, **rows}
            other = self.sheet.model_copy(update={"quantities": quantities})
            self._of_kind[(part, kind or "")] = Engine(self.book, other)
        return self._of_kind[(part, kind or "")]

    @cached_property
    def positions(self) -> dict[str, Position]:
        """Every position of the machine, in the order of the rule files."""
        found: dict[str, Position] = {}
        for part in self.book.parts.values():
            for index in self.indices(part.positions):
                name = f"{part.id} {index}".strip()
                found[name] = Position(part.id, name, index, f"{part.title} {index}".strip())
        return found

    def group(self, position: Position) -> str:
        """What is bought together: the part for a set, else the position."""
        part = self.book.parts[position.part]
        return part.id if part.bought_as == "set" else position.id

    def indices(self, count: str | None) -> tuple[str, ...]:
        """Names or numbers that a count gives, "1" upwards without names; one empty one for None."""
        if count is None:
            return ("",)
        number, _, shared = count.partition("/")
        total = self.sheet.counts[number] // (self.sheet.counts[shared] if shared else 1)
        return self.sheet.names.get(count) or tuple(str(i) for i in range(1, total + 1))

    def places(self, part: str, kind: str) -> tuple[Place, ...]:
        """The places of one kind on a part, without zones; () if the part has none."""
        key = (part, kind)
        if key not in self._places:
            form = self.book.place_form(part, kind)
            indices = self.indices(form.count) if form else ()
            self._places[key] = tuple(Place(kind, index) for index in indices)
        return self._places[key]

    def leaves(self, part: str, kind: str, zone: tuple[str, ...] = ()) -> tuple[tuple[str, ...], ...]:
        """The finest zones of a kind at or below `zone`; one empty path where it has none."""
        key = (part, kind, zone)
        if key not in self._leaves:
            form = self.book.place_form(part, kind)
            zones = [zone_path(text) for text in form.zones] if form else []
            self._leaves[key] = tuple(path for path in zones if path[: len(zone)] == zone) or ((zone,))
        return self._leaves[key]

    def material(self, part: str) -> str | None:
        """What the sheet says the part is made of."""
        return self.sheet.materials.get(part)

    def fitted_kind(self, part: str) -> str | None:
        kinds = self.sheet.kinds.get(part)
        return kinds.fitted if kinds else None

    def shown(self, quantity: str, kind: str) -> ShownQuantity:
        """A quantity of the pack, `shown_in` the unit of its row on the sheet, else of most lengths there."""
        key = (quantity, kind)
        if key not in self._forms:
            unit = shown_unit(self.book, self.sheet, self.usual_length, quantity, kind)
            form = self.book.quantities[key]
            fields = dict(form) | {"shown_in": unit, "gap": is_gap(self.book, form, kind)}
            self._forms[key] = ShownQuantity.model_construct(**fields)
        return self._forms[key]

    @cached_property
    def usual_length(self) -> str | None:
        """The unit, in or mm, of most lengths on the sheet; None where it leaves that open."""
        return usual_length(self.sheet)

    def row(self, quantity: str, kind: str) -> SheetQuantity:
        """The sheet's row for a quantity; empty if it has none."""
        return self.sheet.quantities.get(f"{kind}.{quantity}", SheetQuantity())

    def conditions(self, quantity: str, kind: str) -> tuple[str, ...]:
        """The conditions a reading must be taken in: the pack's, and those that the sheet adds."""
        asked = (*self.book.quantities[(quantity, kind)].conditions, *self.row(quantity, kind).conditions)
        return tuple(dict.fromkeys(asked))

    def nominal(self, quantity: str, kind: str) -> float | None:
        """Standard size in mm: the nominal, else the middle of the new range, else None."""
        row, form = self.row(quantity, kind), self.book.quantities[(quantity, kind)]
        if row.nominal:
            return size(row.nominal, form.dimension)
        if row.minimum and row.maximum:
            return clean((size(row.minimum, form.dimension) + size(row.maximum, form.dimension)) / 2)
        return None

    def new_end(self, quantity: str, kind: str) -> float | None:
        """The end of the sheet's new range on its worse side, else the standard size; None without either."""
        form = self.book.quantities[(quantity, kind)]
        _, new = self._typed_ends(quantity, kind, form.worse)
        if new is None and form.calc is not None:
            _, new = self._ends_of_source(form, form.calc, kind)
        standard = self.nominal(form.calc.of if form.calc else quantity, kind)
        return standard if new is None else new

    def sizes(self, quantity: str, kind: str, usual: tuple[str, ...]) -> tuple[tuple[str, float], ...]:
        """Listed steps as (text, mm) in rising order: the sheet's, else the pack's usual ones."""
        texts = self.row(quantity, kind).sizes or usual
        return tuple(sorted(((text, size(text)) for text in texts), key=lambda step: step[1]))

    def supplied(self, row: str | None) -> tuple[float, ...] | None:
        """The steps in mm for which the sheet lists parts, in the row "kind.quantity"; None: not told."""
        found = self.sheet.quantities.get(row or "")
        return tuple(size(text) for text in found.sizes) if found and found.sizes else None

    def limit(self, quantity: str, kind: str, standard: BuildStandard) -> BoundLimit | None:
        """The limit that counts: the maker's, else the shop's, else the pack's; None if nobody gives one."""
        key = (quantity, kind, standard)
        if key not in self._limits:
            self._limits[key] = self._bind(quantity, kind, standard)
        return self._limits[key]

    def _bind(self, quantity: str, kind: str, standard: BuildStandard) -> BoundLimit | None:
        form, rule = self.book.quantities[(quantity, kind)], self.book.limits.get((quantity, kind))
        decision = rule.decision if rule else "simple"
        text = rule.value(standard) if rule and self._speaks_of(rule, kind) else None
        fallback = size(text, form.dimension) if text else None
        maker, whole = self._maker_limit(quantity, kind, form, standard)
        itself = rule is not None and rule.itself_past
        if maker is not None and (fallback is None or whole or not _stricter(fallback, maker, form.worse)):
            threshold = Threshold(maker, form.worse, decision == "guarded", itself)
            return BoundLimit(maker, threshold, decision, "maker", self.sheet.source)
        if fallback is None:
            return None
        origin: LimitFrom = "shop" if self.book.from_shop("limit", f"{kind}.{quantity}") else "pack"
        threshold = Threshold(fallback, form.worse, decision == "guarded", itself)
        return BoundLimit(fallback, threshold, decision, origin, rule.basis if rule else "")

    def _speaks_of(self, rule: LimitForm, kind: str) -> bool:
        """Whether a limit counts for the material of the part that has this kind of place."""
        if not rule.of:
            return True
        owners = (part for part in self.book.parts if self.book.place_form(part, kind))
        return any(self.material(part) in rule.of for part in owners)

    def _maker_limit(
        self, quantity: str, kind: str, form: QuantityForm, standard: BuildStandard
    ) -> tuple[float | None, bool]:
        """Wear limit to run, wear limit less a reserve to freshen, end of the new range to rebuild.

        False beside it where the sheet lacks the new range: then a stricter limit of shop or pack counts.
        """
        wear, new = self._typed_ends(quantity, kind, form.worse)
        if wear is None and new is None and form.calc is not None:
            wear, new = self._ends_of_source(form, form.calc, kind)
        if standard == "run":
            return wear, True
        if new is None:
            return wear, False
        if standard == "rebuild" or wear is None:
            return new, True
        return clean(wear - self.book.pack.freshen_reserve * (wear - new)), True

    def _typed_ends(self, quantity: str, kind: str, worse: Worse) -> tuple[float | None, float | None]:
        """Wear limit and the end of the new range on the side that is worse, as the sheet's row gives them.

        A wear limit is typed for the side on which the quantity itself is worse.
        """
        row, form = self.row(quantity, kind), self.book.quantities[(quantity, kind)]
        wear = row.wear_limit if worse == form.worse else None
        new = row.maximum if worse == "above" else row.minimum
        return (
            size(wear, form.dimension) if wear else None,
            size(new, form.dimension) if new else None,
        )

    def _ends_of_source(
        self, form: QuantityForm, calc: CalcForm, kind: str
    ) -> tuple[float | None, float | None]:
        """The same for a computed figure without a row, from the row of what it is computed from.

        A worst size takes the end on its own side; without a wear limit it stays in its new range for
        every standard. Wear takes the wear limit's distance from the nominal size, and no new range: that
        is of sizes, not of what rubbed off them. Half a reading takes half its limits.
        """
        base = self.book.quantities[(calc.of, kind)]
        wear, new = self._typed_ends(calc.of, kind, form.worse if calc.name == "worst" else base.worse)
        match calc.name:
            case "worst":
                return (new if wear is None else wear), new
            case "wear":
                nominal = self.nominal(calc.of, kind)
                lost = None if wear is None or nominal is None else clean(abs(wear - nominal))
                return lost, None
            case "times" if calc.times > 0:
                return _scaled(wear, calc.times), _scaled(new, calc.times)
            case _:
                return None, None


def _scaled(value: float | None, times: float) -> float | None:
    return None if value is None else clean(value * times)


def _stricter(one: float, other: float, worse: str) -> bool:
    return one < other if worse == "above" else one > other
