"""Checks of an engine sheet against a rule pack: names, counts, sizes; all problems at once."""

from collections.abc import Callable, Iterable, Iterator, Mapping

from inspect_app.model.problems import Problem
from inspect_app.model.sheet import EngineSheet, SheetQuantity
from inspect_app.model.units import NotANumber, UnknownUnit, size

from .book import Rulebook
from .forms_quantities import QuantityForm
from .sheet_misprints import row_misprints, share_misprints

Spot = Callable[[str, str], str]
"""Says where a problem stands, from the part of the sheet and the entry (and field) that it is about."""


def sheet_problems(book: Rulebook, sheet: EngineSheet, spot: Spot | None = None) -> list[Problem]:
    """Everything in the sheet that does not fit the pack, or cannot be right; [] when it can be used.

    `spot` names the places of a file that the sheet was typed in, e.g. by line.
    """

    def usual(part: str, _: str) -> str:
        return f"engine sheet {sheet.id}, {part}"

    at = spot or usual
    return [
        *_count_problems(book, sheet, at),
        *_name_problems(book, sheet, at),
        *_part_problems(book, sheet, at),
        *_quantity_problems(book, sheet, at),
    ]


def _count_problems(book: Rulebook, sheet: EngineSheet, at: Spot) -> Iterator[Problem]:
    for name in sheet.counts:
        if name not in book.counts:
            here = at("counts", f"counts.{name}")
            yield Problem(here, f'"{name}" is no count of this pack.', use_one_of(book.counts))
    for count in sorted(_wanted(book)):
        parts = count.split("/")
        lacking = [name for name in parts if name not in sheet.counts]
        for name in lacking:
            title = book.counts[name].title
            yield Problem(at("counts", ""), f'"{name}" is missing.', f"Add the number of {title}.")
        numbers = [] if lacking else [sheet.counts[name] for name in parts]
        if len(numbers) == 2 and numbers[0] % numbers[1]:
            what = f"{numbers[0]} {parts[0]} cannot be shared by {numbers[1]} {parts[1]}."
            yield Problem(at("counts", f"counts.{parts[0]}"), what, "Correct one of the two.")


def _name_problems(book: Rulebook, sheet: EngineSheet, at: Spot) -> Iterator[Problem]:
    for count, names in sheet.names.items():
        if len(names) != sheet.counts.get(count) or len(set(names)) != len(names):
            what = f'"{count}" has the names {", ".join(names)} for a count of {sheet.counts.get(count)}.'
            yield Problem(at("names", f"names.{count}"), what, "Give one name to each, all different.")
        for name in names:
            if not name.strip() or set(name) & set("/*,"):
                what = f'"{name}" is no name for one of the {count}.'
                yield Problem(at("names", f"names.{count}"), what, "Write a word without / * or a comma.")


def _wanted(book: Rulebook) -> set[str]:
    counts = {part.positions for part in book.parts.values() if part.positions}
    return counts | {p.count for part in book.parts.values() for p in part.places if p.count}


def _part_problems(book: Rulebook, sheet: EngineSheet, at: Spot) -> Iterator[Problem]:
    materials = materials_of(book)
    for part, material in sheet.materials.items():
        spot = f"materials.{part}"
        if part not in book.parts:
            what = f'"{part}" is no part of this pack.'
            yield Problem(at("materials", spot), what, use_one_of(book.parts))
        if material not in materials:
            what = f'"{material}" is no material that a test of this pack suits.'
            yield Problem(at(spot, spot), what, use_one_of(materials))
    for part, kinds in sheet.kinds.items():
        spot = f"kinds.{part}"
        if part not in book.parts:
            what = f'"{part}" is no part of this pack.'
            yield Problem(at("kinds", spot), what, use_one_of(book.parts))
        for kind in kinds.rows:
            if kind not in kinds.others:
                what = f'"{kind}" has rows but is not among the other kinds.'
                yield Problem(at(spot, spot), what, "List it under others.")


def materials_of(book: Rulebook) -> set[str]:
    """The materials that some method of the pack suits."""
    return {word for method in book.methods.values() for word in method.suits}


def _quantity_problems(book: Rulebook, sheet: EngineSheet, at: Spot) -> Iterator[Problem]:
    yield from _row_problems(book, sheet.quantities, sheet.quantities, "quantities", at)
    for part, kinds in sheet.kinds.items():
        for kind, rows in kinds.rows.items():
            whole = {**sheet.quantities, **rows}
            yield from _row_problems(book, rows, whole, f"kinds.{part}.rows.{kind}", at)


def _row_problems(
    book: Rulebook,
    rows: Mapping[str, SheetQuantity],
    whole: Mapping[str, SheetQuantity],
    where: str,
    at: Spot,
) -> Iterator[Problem]:
    known = {f"{kind}.{name}": form for (name, kind), form in book.quantities.items()}
    for key, row in rows.items():
        spot = f"{where}.{key}"
        form = known.get(key)
        if form is None:
            yield Problem(at(spot, spot), "this pack has no such quantity.", use_one_of(known))
            continue
        faults = [
            problem
            for name, text in row.texts().items()
            for problem in _size_problems(form, text, at(f"{spot}.{name}", f"{spot}.{name}"))
        ]
        yield from faults
        if not faults:
            found = [*row_misprints(form, row)]
            if form.share_of:
                found += share_misprints(form, row, whole, known[form.share_of.quantity])
            yield from (Problem(at(spot, f"{spot}.{name}"), what, advice) for name, what, advice in found)


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
