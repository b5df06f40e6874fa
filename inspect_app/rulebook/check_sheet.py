"""Checks of an engine sheet against a rule pack: names, counts, sizes; all problems at once."""

from collections.abc import Iterable, Iterator, Mapping
from decimal import Decimal

from inspect_app.metrology.misprints import limit_inside_new_range, range_reversed
from inspect_app.model.problems import Problem
from inspect_app.model.sheet import EngineSheet, SheetQuantity
from inspect_app.model.units import NotANumber, UnknownUnit, size

from .book import Rulebook
from .forms_rules import QuantityForm


def sheet_problems(book: Rulebook, sheet: EngineSheet) -> list[Problem]:
    """Everything in the sheet that does not fit the pack; [] when it can be used."""
    return [*_count_problems(book, sheet), *_name_problems(book, sheet), *_quantity_problems(book, sheet)]


def _count_problems(book: Rulebook, sheet: EngineSheet) -> Iterator[Problem]:
    here = f"engine sheet {sheet.id}"
    for name in sheet.counts:
        if name not in book.counts:
            yield Problem(f"{here}, counts", f'"{name}" is no count of this pack.', use_one_of(book.counts))
    for count in sorted(_wanted(book)):
        parts = count.split("/")
        lacking = [name for name in parts if name not in sheet.counts]
        for name in lacking:
            title = book.counts[name].title
            yield Problem(f"{here}, counts", f'"{name}" is missing.', f"Add the number of {title}.")
        numbers = [] if lacking else [sheet.counts[name] for name in parts]
        if len(numbers) == 2 and numbers[0] % numbers[1]:
            what = f"{numbers[0]} {parts[0]} cannot be shared by {numbers[1]} {parts[1]}."
            yield Problem(f"{here}, counts", what, "Correct one of the two.")
    for count, names in sheet.names.items():
        if len(names) != sheet.counts.get(count) or len(set(names)) != len(names):
            what = f'"{count}" has the names {", ".join(names)} for a count of {sheet.counts.get(count)}.'
            yield Problem(f"{here}, names", what, "Give one name to each, all different.")
        for name in names:
            if not name.strip() or set(name) & set("/*,"):
                what = f'"{name}" is no name for one of the {count}.'
                yield Problem(f"{here}, names", what, "Write a word without / * or a comma.")


def _wanted(book: Rulebook) -> set[str]:
    counts = {part.positions for part in book.parts.values() if part.positions}
    return counts | {p.count for part in book.parts.values() for p in part.places if p.count}


def _name_problems(book: Rulebook, sheet: EngineSheet) -> Iterator[Problem]:
    here = f"engine sheet {sheet.id}"
    materials = materials_of(book)
    for part, material in sheet.materials.items():
        if part not in book.parts:
            yield Problem(f"{here}, materials", f'"{part}" is no part of this pack.', use_one_of(book.parts))
        if material not in materials:
            what = f'"{material}" is no material that a test of this pack suits.'
            yield Problem(f"{here}, materials.{part}", what, use_one_of(materials))
    for part, kinds in sheet.kinds.items():
        if part not in book.parts:
            yield Problem(f"{here}, kinds", f'"{part}" is no part of this pack.', use_one_of(book.parts))
        for kind in kinds.rows:
            if kind not in kinds.others:
                what = f'"{kind}" has rows but is not among the other kinds.'
                yield Problem(f"{here}, kinds.{part}", what, "List it under others.")


def materials_of(book: Rulebook) -> set[str]:
    """The materials that some method of the pack suits."""
    return {word for method in book.methods.values() for word in method.suits}


def _quantity_problems(book: Rulebook, sheet: EngineSheet) -> Iterator[Problem]:
    here = f"engine sheet {sheet.id}"
    yield from _row_problems(book, sheet.quantities, f"{here}, quantities")
    for part, kinds in sheet.kinds.items():
        for kind, rows in kinds.rows.items():
            yield from _row_problems(book, rows, f"{here}, kinds.{part}.rows.{kind}")


def _row_problems(book: Rulebook, rows: Mapping[str, SheetQuantity], where: str) -> Iterator[Problem]:
    known = {f"{kind}.{name}": form for (name, kind), form in book.quantities.items()}
    for key, row in rows.items():
        here = f"{where}.{key}"
        if key not in known:
            yield Problem(here, "this pack has no such quantity.", use_one_of(known))
            continue
        faults = [
            p
            for name, text in row.texts().items()
            for p in _size_problems(known[key], text, f"{here}.{name}")
        ]
        yield from faults or _misprints(known[key], row, here)


def _misprints(form: QuantityForm, row: SheetQuantity, here: str) -> Iterator[Problem]:
    """A new range upside down, or a wear limit that a new part would fail."""
    if row.minimum is None or row.maximum is None:
        return
    low, high = (_decimal(text, form) for text in (row.minimum, row.maximum))
    if range_reversed(low, high):
        what = f"the minimum {row.minimum} is above the maximum {row.maximum}."
        yield Problem(here, what, "One of them is misprinted: look at the manual again.")
    elif row.wear_limit and limit_inside_new_range(low, high, _decimal(row.wear_limit, form), form.worse):
        what = f"the wear limit {row.wear_limit} lies inside the new range {row.minimum} to {row.maximum}."
        yield Problem(here, what, "One of them is misprinted: leave out the one you cannot trust.")


def _decimal(text: str, form: QuantityForm) -> Decimal:
    return Decimal(repr(size(text, form.dimension)))


def _size_problems(form: QuantityForm, text: str, here: str) -> Iterator[Problem]:
    try:
        value = size(text, form.dimension)
    except (NotANumber, UnknownUnit) as error:
        yield Problem(here, str(error), "")
        return
    if value < 0 and not form.signed:
        yield Problem(here, f'"{text}" is negative.', "Write the size itself.")


def use_one_of(names: Iterable[str]) -> str:
    """The advice that lists the names that are known."""
    return f"Use one of: {', '.join(sorted(names))}."
