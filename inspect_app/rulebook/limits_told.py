"""Limits as a person reads them: those of pack and shop by build standard, and which count for an engine."""

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Literal

from inspect_app.model.frozen import BuildStandard, LimitFrom
from inspect_app.model.sheet import SheetQuantity
from inspect_app.model.units import from_canonical

from .book import Rulebook
from .engine import BoundLimit, Engine
from .forms_quantities import LimitForm, QuantityForm

STANDARDS: tuple[BuildStandard, ...] = ("run", "freshen", "rebuild")
Decision = Literal["simple", "guarded"]


@dataclass(frozen=True)
class UsualLimit:
    """A limit of the pack or the shop: its text as typed for each of `STANDARDS`, None where it has none."""

    title: str
    where: str
    side: Literal["at most", "at least"]
    values: tuple[str | None, ...]
    decision: Decision
    basis: str
    whose: LimitFrom


@dataclass(frozen=True)
class CountingLimit:
    """The limit that counts for one quantity of an engine, in the unit it is shown in, and whose it is.

    `row` is the row of the engine sheet that it was taken from, "" where it is not the maker's; `note` what
    is typed beside that row. `basis` is that of the rulebook's own limit, "" where the maker's counts.
    """

    title: str
    where: str
    side: Literal["at most", "at least"]
    value: float
    unit: str
    decision: Decision
    whose: LimitFrom
    row: str = ""
    note: str = ""
    basis: str = ""


@dataclass(frozen=True)
class LimitsTold:
    """The usual limits of a rulebook; of an engine those that count too, and the source of its sheet."""

    usual: tuple[UsualLimit, ...]
    counting: tuple[CountingLimit, ...] = ()
    standard: BuildStandard | None = None
    sheet: str = ""
    source: str = ""


def usual_limits(book: Rulebook) -> tuple[UsualLimit, ...]:
    """Every limit of pack and shop in the order of the rule files, kinds of place of one limit together."""
    told: dict[UsualLimit, list[str]] = {}
    for (quantity, kind), limit in book.limits.items():
        shop = book.from_shop("limit", f"{kind}.{quantity}")
        one = _usual(book.quantities[(quantity, kind)], limit, "shop" if shop else "pack")
        told.setdefault(one, []).append(_where(book, kind))
    return tuple(
        UsualLimit(one.title, ", ".join(kinds), one.side, one.values, one.decision, one.basis, one.whose)
        for one, kinds in told.items()
    )


def _usual(form: QuantityForm, limit: LimitForm, whose: LimitFrom) -> UsualLimit:
    values = tuple(limit.value(standard) for standard in STANDARDS)
    side: Literal["at most", "at least"] = "at most" if limit.max is not None else "at least"
    return UsualLimit(form.title, "", side, values, limit.decision, limit.basis, whose)


def limits_told(engine: Engine, standard: BuildStandard) -> LimitsTold:
    """The usual limits, and of one engine those that count when it is built to `standard`."""
    sheet = engine.sheet
    return LimitsTold(
        usual_limits(engine.book), tuple(_counting(engine, standard)), standard, sheet.title, sheet.source
    )


def _counting(engine: Engine, standard: BuildStandard) -> Iterator[CountingLimit]:
    for quantity, kind in engine.book.quantities:
        limit = engine.limit(quantity, kind, standard)
        if limit is not None and _has_place(engine, kind):
            yield _told(engine, engine.shown(quantity, kind), kind, limit)


def _has_place(engine: Engine, kind: str) -> bool:
    return any(engine.places(part, kind) for part in engine.book.parts)


def _told(engine: Engine, form: QuantityForm, kind: str, limit: BoundLimit) -> CountingLimit:
    maker = limit.origin == "maker"
    row, typed = _row(engine, form, kind) if maker else ("", SheetQuantity())
    rule = engine.book.limits.get((form.id, kind))
    return CountingLimit(
        title=form.title,
        where=_where(engine.book, kind),
        side="at most" if form.worse == "above" else "at least",
        value=round(from_canonical(limit.value, form.shown_in, form.dimension), 9),
        unit=form.shown_in,
        decision=limit.decision,
        whose=limit.origin,
        row=row,
        note=typed.note,
        basis=rule.basis if rule is not None and not maker else "",
    )


def _row(engine: Engine, form: QuantityForm, kind: str) -> tuple[str, SheetQuantity]:
    """The row that a maker's limit was taken from: its own, else that of the size it is computed from."""
    own = engine.row(form.id, kind)
    if form.calc is None or own.wear_limit or own.minimum or own.maximum:
        return f"{kind}.{form.id}", own
    return f"{kind}.{form.calc.of}", engine.row(form.calc.of, kind)


def _where(book: Rulebook, kind: str) -> str:
    """The title of a kind of place, as the first part that has it calls it."""
    forms = (book.place_form(part, kind) for part in book.parts)
    return next((form.title for form in forms if form is not None), kind)
