"""An engine sheet written as CSV, for a spreadsheet: read again, it is the same sheet."""

import csv
import io
import re
from collections.abc import Iterator
from typing import Any

from inspect_app.model.problems import Problem, Problems, raise_if_any
from inspect_app.model.sheet import EngineSheet, SheetQuantity

from .sheet_csv import sheet_of_csv
from .sheet_twins import SIZES

_COLUMNS = ("section", "key", "value", *SIZES, "unit", "conditions", "note")
_NUMBER_UNIT = re.compile(r"([+\-−]?(?:\d+(?:[.,]\d+)?|[.,]\d+)) (\S.*)")
Cells = dict[str, str]


def csv_of_sheet(sheet: EngineSheet) -> str:
    """The sheet as CSV: with commas, or with semicolons where a size has a decimal comma.

    Raises Problems for what no cell can hold as it is: an empty size, spaces at the ends of a text, a
    "/" inside an entry of a list.
    """
    rows = [*_rows(sheet)]
    commas = any("," in row.get(name, "") for row in rows for name in SIZES)
    text = io.StringIO()
    table = csv.DictWriter(text, _COLUMNS, delimiter=";" if commas else ",", lineterminator="\r\n")
    table.writeheader()
    table.writerows(rows)
    raise_if_any([*_lost(sheet, text.getvalue())])
    return text.getvalue()


def _rows(sheet: EngineSheet) -> Iterator[Cells]:
    for name in ("id", "title", "source"):
        yield {"section": "sheet", "key": name, "value": getattr(sheet, name)}
    for count, number in sheet.counts.items():
        yield {"section": "counts", "key": count, "value": str(number)}
    for count, names in sheet.names.items():
        yield {"section": "names", "key": count, "value": " / ".join(names)}
    for part, material in sheet.materials.items():
        yield {"section": "materials", "key": part, "value": material}
    for part, kinds in sheet.kinds.items():
        yield {"section": "kinds", "key": part, "value": " / ".join((kinds.fitted, *kinds.others))}
        for kind, rows in kinds.rows.items():
            for key, row in rows.items():
                yield {"section": "kinds", "key": f"{part} / {kind} / {key}"} | _cells(row)
    for key, row in sheet.quantities.items():
        yield {"section": "quantities", "key": key} | _cells(row)
    for name, words in sheet.conventions.items():
        yield {"section": "conventions", "key": name, "value": words}


def _cells(row: SheetQuantity) -> Cells:
    """Numbers with their unit in its own column where the row has one unit, else each text as it is."""
    matches = [_NUMBER_UNIT.fullmatch(text) for text in row.texts().values()]
    units = {match[2] if match else None for match in matches}
    unit = units.pop() if len(units) == 1 else None

    def cell(text: str) -> str:
        return text.removesuffix(f" {unit}") if unit else text

    named = {name: getattr(row, name) for name in SIZES if name != "sizes"}
    cells = {name: cell(text) for name, text in named.items() if text is not None}
    lists = {"sizes": " / ".join(map(cell, row.sizes)), "conditions": " / ".join(row.conditions)}
    return cells | lists | {"unit": unit or "", "note": row.note}


def _lost(sheet: EngineSheet, text: str) -> Iterator[Problem]:
    """What would not come back from this text as it went in."""
    here = f"engine sheet {sheet.id}"
    try:
        typed = sheet_of_csv(text.replace("\r\n", "\n").replace("\r", "\n"), "CSV")
        raise_if_any(typed.problems)
    except Problems as problems:
        for problem in problems.items:
            yield Problem(here, f"it cannot be written as CSV: {problem.what}", problem.advice)
        return
    held, kept = dict(_leaves(sheet.model_dump(), "")), dict(_leaves(typed.sheet.model_dump(), ""))
    for path in [path for path in held if path not in kept or kept[path] != held[path]]:
        what = f"{held[path]!r} cannot stand in a CSV file as it is."
        yield Problem(f"{here}, {path}", what, "Leave it out, or write plain words and numbers.")


def _leaves(data: Any, path: str) -> Iterator[tuple[str, Any]]:
    if isinstance(data, dict) and data:
        for name, value in data.items():
            yield from _leaves(value, f"{path}.{name}" if path else str(name))
    else:
        yield path, data
