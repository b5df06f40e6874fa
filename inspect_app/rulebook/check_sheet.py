"""Checks of an engine sheet against a rule pack: names, counts, sizes; all problems at once."""

from collections.abc import Iterable, Iterator

from inspect_app.model.problems import Problem
from inspect_app.model.sheet import EngineSheet
from inspect_app.model.units import NotANumber, UnknownUnit, size

from .book import Rulebook


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
        if len(parts) == 2 and not lacking and sheet.counts[parts[0]] % sheet.counts[parts[1]]:
            what = f"{sheet.counts[parts[0]]} {parts[0]} cannot be shared by {sheet.counts[parts[1]]} {parts[1]}."
            yield Problem(f"{here}, counts", what, "Correct one of the two.")
    for count, names in sheet.names.items():
        if len(names) != sheet.counts.get(count) or len(set(names)) != len(names):
            what = f'"{count}" has the names {", ".join(names)} for a count of {sheet.counts.get(count)}.'
            yield Problem(f"{here}, names", what, "Give one name to each, all different.")


def _wanted(book: Rulebook) -> set[str]:
    counts = {part.positions for part in book.parts.values() if part.positions}
    return counts | {p.count for part in book.parts.values() for p in part.places if p.count}


def _name_problems(book: Rulebook, sheet: EngineSheet) -> Iterator[Problem]:
    here = f"engine sheet {sheet.id}"
    materials = {word for method in book.methods.values() for word in method.suits}
    for part, material in sheet.materials.items():
        if part not in book.parts:
            yield Problem(f"{here}, materials", f'"{part}" is no part of this pack.', use_one_of(book.parts))
        if material not in materials:
            what = f'"{material}" is no material that a test of this pack suits.'
            yield Problem(f"{here}, materials.{part}", what, use_one_of(materials))
    for part in sheet.kinds:
        if part not in book.parts:
            yield Problem(f"{here}, kinds", f'"{part}" is no part of this pack.', use_one_of(book.parts))


def _quantity_problems(book: Rulebook, sheet: EngineSheet) -> Iterator[Problem]:
    known = {f"{kind}.{name}": form for (name, kind), form in book.quantities.items()}
    for key, row in sheet.quantities.items():
        here = f"engine sheet {sheet.id}, quantities.{key}"
        if key not in known:
            yield Problem(here, "this pack has no such quantity.", use_one_of(known))
            continue
        for field, text in row.texts().items():
            try:
                value = size(text, "length" if field.startswith("sizes") else known[key].dimension)
            except (NotANumber, UnknownUnit) as error:
                yield Problem(f"{here}.{field}", str(error), "")
                continue
            if value < 0 and not known[key].signed:
                yield Problem(f"{here}.{field}", f'"{text}" is negative.', "Write the size itself.")


def use_one_of(names: Iterable[str]) -> str:
    """The advice that lists the names that are known."""
    return f"Use one of: {', '.join(sorted(names))}."
