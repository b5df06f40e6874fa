"""An engine sheet as rows of a table, one for all that the rules can know of an engine, and back."""

import csv
import io
from collections.abc import Mapping

from inspect_app.bundle.sheet_csv import TypedSheet, sheet_of_csv
from inspect_app.bundle.sheet_csv_out import csv_of_sheet
from inspect_app.model.sheet import EngineSheet
from inspect_app.rulebook.book import Rulebook
from inspect_app.ui import words
from inspect_app.ui.typed_rows import Row

CELLS = ("value", "nominal", "minimum", "maximum", "wear_limit", "sizes", "unit", "conditions", "note")
FILE = "the sheet"


def rows_of(sheet: EngineSheet, book: Rulebook) -> dict[str, Row]:
    """Rows by section and key, those typed first, then those not yet typed; line 2 is the first.

    Raises Problems where the sheet holds what a table cannot.
    """
    typed = _typed(sheet)
    known = [(section, key) for section, key in _known(book) if (section, key) not in typed]
    whole = typed | {at: {} for at in known}
    ordered = sorted(whole, key=lambda at: (_SECTIONS.index(at[0]), *_place(book, at)))
    rows: dict[str, Row] = {}
    for line, (section, key) in enumerate(ordered, 2):
        cells = {name: whole[(section, key)].get(name, "") for name in CELLS}
        said = {"line": str(line), "section": section, "key": key, "what": _what(book, section, key)}
        rows[f"{section} {key}"] = said | cells
    return rows


_SECTIONS = ("sheet", "counts", "names", "materials", "kinds", "conventions", "quantities")


def _typed(sheet: EngineSheet) -> dict[tuple[str, str], Row]:
    text = csv_of_sheet(sheet)
    delimiter = ";" if text.partition("\n")[0].count(";") else ","
    table = csv.DictReader(io.StringIO(text), delimiter=delimiter)
    return {(row["section"], row["key"]): {name: row.get(name) or "" for name in CELLS} for row in table}


def _known(book: Rulebook) -> list[tuple[str, str]]:
    return [
        *(("counts", name) for name in book.counts),
        *(("materials", part) for part in book.parts),
        *(("quantities", f"{kind}.{name}") for name, kind in book.quantities),
    ]


def _place(book: Rulebook, at: tuple[str, str]) -> tuple[int, str]:
    """Quantities in the order of the rules, which keep a part together; the rest as it was typed."""
    section, key = at
    if section != "quantities":
        return 0, ""
    order = [f"{kind}.{name}" for name, kind in book.quantities]
    return (order.index(key) if key in order else len(order)), key


def _what(book: Rulebook, section: str, key: str) -> str:
    if section == "counts":
        return f"number of {book.counts[key].title}" if key in book.counts else ""
    if section == "materials":
        return f"material, {book.parts[key].title}" if key in book.parts else ""
    if section == "quantities":
        kind, _, name = key.partition(".")
        form = book.quantities.get((name, kind))
        return f"{words.plain(kind)}: {form.title}" if form else ""
    return ""


def typed_sheet(rows: Mapping[str, Row]) -> TypedSheet:
    """The sheet that the rows are, faults by line and column. Raises Problems where rows cannot be read."""
    text = io.StringIO()
    table = csv.writer(text, delimiter=";", lineterminator="\n")
    table.writerow(("section", "key", *CELLS))
    for row in rows.values():
        cells = [row.get(name, "") for name in CELLS]
        # An empty line keeps the numbers of those below it.
        table.writerow([row["section"], row["key"], *cells] if any(cells) else [])
    return sheet_of_csv(text.getvalue(), FILE)
