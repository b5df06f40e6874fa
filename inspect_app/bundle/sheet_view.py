"""A sheet as text to read against the manual: every size in inch and mm, and which number is a limit."""

from collections.abc import Iterator, Mapping
from decimal import Decimal

from inspect_app.metrology.display import Unit, shown
from inspect_app.model.sheet import EngineSheet, SheetQuantity
from inspect_app.model.units import size
from inspect_app.rulebook.book import Rulebook
from inspect_app.rulebook.forms_quantities import QuantityForm
from inspect_app.rulebook.rows_read import rows_read

from .sheet_csv import TypedSheet

_FINEST: dict[Unit, tuple[int, int]] = {"in": (4, 1), "mm": (3, -1)}
"""Decimals at least, and how many more than were typed in the other unit."""

_ROWS = {"nominal": "nominal", "minimum": "minimum", "maximum": "maximum", "wear_limit": "wear limit"}


def sheet_text(typed: TypedSheet, book: Rulebook) -> str:
    """The whole sheet as lines of text; the sheet fits the pack."""
    return "\n".join([*_head(typed.sheet, book), *_quantities(typed, book)])


def counted(number: int, title: str) -> str:
    """A count with its title, which rules write in the plural: "1 cylinder head", "2 cylinder heads"."""
    return f"{number} {title.removesuffix('s') if number == 1 else title}"


def _head(sheet: EngineSheet, book: Rulebook) -> Iterator[str]:
    yield f"{sheet.title} ({sheet.id})"
    yield f"Typed from: {sheet.source}"
    counts = [counted(number, book.counts[name].title) for name, number in sheet.counts.items()]
    counts += [f"{count} are called {', '.join(names)}" for count, names in sheet.names.items()]
    yield f"Counts: {'; '.join(counts)}"
    made = [f"{book.parts[part].title} {material}" for part, material in sheet.materials.items()]
    yield f"Materials: {'; '.join(made) or 'none given'}"
    for part, kinds in sheet.kinds.items():
        others = f"; there are also {', '.join(kinds.others)}" if kinds.others else ""
        yield f"Kind of {book.parts[part].title}: {kinds.fitted} is fitted{others}"
    for name, words in sheet.conventions.items():
        yield f"Convention {name}: {words}"


def _quantities(typed: TypedSheet, book: Rulebook) -> Iterator[str]:
    yield from _rows(typed.sheet.quantities, typed, book, "quantities", "")
    for part, kinds in typed.sheet.kinds.items():
        for kind, rows in kinds.rows.items():
            words = f" of the kind {kind} of {book.parts[part].title}"
            yield from _rows(rows, typed, book, f"kinds.{part}.rows.{kind}", words)


def _rows(
    rows: Mapping[str, SheetQuantity], typed: TypedSheet, book: Rulebook, path: str, of: str
) -> Iterator[str]:
    forms = {f"{kind}.{name}": form for (name, kind), form in book.quantities.items()}
    read = {f"{kind}.{name}" for name, kind in rows_read(book)}
    for key, row in rows.items():
        place = typed.places.get(f"{path}.{key}")
        yield ""
        worse = "larger" if forms[key].worse == "above" else "smaller"
        yield f"{key}{of}: {forms[key].title}; {worse} is worse{f' ({place})' if place else ''}"
        yield from _row(row, forms[key])
        if key not in read and (row.minimum or row.maximum or row.wear_limit):
            yield "  no rule and no fit reads the limits of this row yet"


def _row(row: SheetQuantity, form: QuantityForm) -> Iterator[str]:
    end = "maximum" if form.worse == "above" else "minimum"
    for name, words in _ROWS.items():
        text = getattr(row, name)
        if text is not None:
            limit = {"wear_limit": "limit to run", end: "limit to rebuild"}.get(name, "")
            yield f"  {words:<12}{in_both(text, form.dimension):<27} {limit}".rstrip()
    for text in row.sizes:
        yield f"  {'listed size':<12}{in_both(text, form.dimension)}"
    for label, told in (("conditions", ", ".join(row.conditions)), ("note", row.note)):
        if told:
            yield f"  {label:<12}{told}"
    if row.wear_limit is None and getattr(row, end) is None:
        yield "  no limit in this sheet: the shop's counts, else the rule pack's"


def in_both(text: str, dimension: str = "length") -> str:
    """A size as typed, and a length beside it in the other of inch and mm (in both, if typed in neither).

    The other unit is shown so fine that a wrong last digit is seen: an inch number has one decimal
    more than its mm twin, and four at least.
    """
    number, _, unit = text.strip().partition(" ")
    if dimension != "length" or not unit.strip():
        return text
    decimals = len(number.replace(",", ".").partition(".")[2])
    others = [f"{_shown(text, other, decimals)}" for other in _FINEST if other != unit.strip()]
    return f"{text:<13} {' '.join(others)}"


def _shown(text: str, unit: Unit, typed: int) -> str:
    least, more = _FINEST[unit]
    return shown(size(text), unit, Decimal(1).scaleb(-max(least, typed + more)))
