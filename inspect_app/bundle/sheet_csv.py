"""An engine sheet as CSV, as a person types it from a manual: one row for each count, name or quantity.

The columns `section` and `key` say what a row is, `value` holds what is no quantity. A quantity has
its sizes in `nominal`, `minimum`, `maximum`, `wear_limit` and `sizes`, numbers in the row's `unit`, or
each with a unit of its own. Manuals that print inch and mm have both typed, in the same names with
`_in` and `_mm` behind them: the first that is filled counts, the others must agree with it.
"""

import csv
import io
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from typing import Any

from pydantic import ValidationError

from inspect_app.model.problems import Problem, Problems, from_validation, raise_if_any
from inspect_app.model.sheet import EngineSheet

from .sheet_twins import SIZES, TWINS, sizes_of

COLUMNS = ("section", "key", "value", *SIZES, "unit", *TWINS, "conditions", "note")
SECTIONS = ("sheet", "counts", "names", "materials", "kinds", "quantities", "conventions")
_SHEET_KEYS = ("sheet_version", "id", "title", "source")


@dataclass(frozen=True)
class TypedSheet:
    """A sheet as it stands in a file, with the place of each entry ("quantities.bore.diameter.minimum").

    `problems` are misprints and slips within rows that were read whole; nobody may use such a sheet.
    """

    sheet: EngineSheet
    file: str
    places: Mapping[str, str] = field(default_factory=dict)
    problems: tuple[Problem, ...] = ()

    def spot(self, part: str, entry: str) -> str:
        """Where an entry stands: its line and column, else its line, else the part of the sheet."""
        return _spot(self.file, self.places, entry) or f"{self.file}, {part}"


def _spot(file: str, places: Mapping[str, str], entry: str) -> str | None:
    while entry and entry not in places:
        entry = entry.rpartition(".")[0]
    return f"{file}, {places[entry]}" if entry else None


def sheet_of_csv(text: str, file: str) -> TypedSheet:
    """The engine sheet in the text of a file of that name: commas or semicolons between the columns.

    A number with a decimal comma is taken only where semicolons part the columns. Raises Problems, by
    line and column, when rows cannot be read; what is wrong in rows that can is in the result.
    """
    head = text.partition("\n")[0]
    semicolons = head.count(";") > head.count(",")
    table = csv.reader(io.StringIO(text), delimiter=";" if semicolons else ",", strict=True)
    intake = _Intake(file, semicolons)
    try:
        intake.columns = [name.strip().lower() for name in next(table, [])]
        raise_if_any([*_column_problems(intake)])
        for row in table:
            if any(cell.strip() for cell in row):
                intake.take(table.line_num, [cell.strip() for cell in row])
    except csv.Error as error:
        where = f"{file}, line {table.line_num}"
        raise Problems([Problem(where, f"this is not CSV: {error}.", "Mend the line.")]) from None
    return intake.done()


def _column_problems(intake: "_Intake") -> Iterator[Problem]:
    here = f"{intake.file}, line 1"
    columns = [name for name in intake.columns if name]
    for name in ("section", "key"):
        if name not in columns:
            yield Problem(here, f'the column "{name}" is missing.', "Add it.")
    for name in dict.fromkeys(columns):
        if name not in COLUMNS:
            yield Problem(here, f'"{name}" is no column of a sheet.', f"Use: {', '.join(COLUMNS)}.")
        elif columns.count(name) > 1:
            yield Problem(here, f'the column "{name}" stands twice.', "Keep one.")


@dataclass
class _Intake:
    """What has been read so far, where it stood, and everything found wrong with it."""

    file: str
    semicolons: bool
    columns: list[str] = field(default_factory=list)
    data: dict[str, Any] = field(default_factory=dict)
    places: dict[str, str] = field(default_factory=dict)
    problems: list[Problem] = field(default_factory=list)
    lost: bool = False

    def take(self, line: int, row: list[str]) -> None:
        """Add one row that is not empty."""
        spare = [cell for cell in row[len(self.columns) :] if cell]
        cells = dict(zip(self.columns, row, strict=False))
        section = cells.get("section", "").lower()
        quantity = section == "quantities" or (section == "kinds" and cells.get("key", "").count("/") == 2)
        wrong = self._unreadable(cells, bool(spare) or (quantity and len(row) < len(self.columns)), len(row))
        if wrong is None:
            self._take_entry(line, section, {name: cell for name, cell in cells.items() if cell}, quantity)
        else:
            self.note(line, *wrong)
            self.lost = True

    def _unreadable(self, cells: dict[str, str], uneven: bool, width: int) -> tuple[str, str, str] | None:
        """Why a row cannot be placed in the sheet: the column, what is wrong, what to do."""
        section = cells.get("section", "").lower()
        if uneven:
            what = f"{width} cells under {len(self.columns)} columns."
            return "", what, "Fill the row up with empty cells; a text with a comma needs quotes."
        if section not in SECTIONS:
            what = f'"{section}" is no section of a sheet.' if section else "the section is missing."
            return "section", what, f"Use one of: {', '.join(SECTIONS)}."
        if not cells.get("key"):
            return "key", "the key is missing.", "Say what the row is about."
        if _path(section, cells["key"]) is None:
            what = f'"{cells["key"]}" names no part, or no kind and quantity of one.'
            return "key", what, 'Write "part", or "part / kind / quantity" for a row of another kind.'
        if section == "sheet" and cells["key"] not in _SHEET_KEYS:
            what = f'"{cells["key"]}" is nothing that a sheet says of itself.'
            return "key", what, f"Use one of: {', '.join(_SHEET_KEYS)}."
        return None

    def _take_entry(self, line: int, section: str, cells: dict[str, str], quantity: bool) -> None:
        path = _path(section, cells["key"]) or []
        stray = [name for name in cells if name not in ("section", "key") and (name == "value") == quantity]
        for name in stray:
            what = f'"{cells[name]}" stands where this row has nothing.'
            self.note(line, name, what, "Take it out; a text with a comma needs quotes.")
        entry = ".".join(path)
        if entry in self.places:
            self.note(line, "key", f"this entry stands already in {self.places[entry]}.", "Keep one.")
            return
        self.places[entry] = f"line {line}"
        self._put(path, self._row(line, entry, cells) if quantity else self._value(line, path, cells))

    def _row(self, line: int, entry: str, cells: dict[str, str]) -> dict[str, Any]:
        found = sizes_of(cells, self.semicolons)
        for column, what, advice in found.problems:
            self.note(line, column, what, advice)
        for name, column in found.columns.items():
            self.places[f"{entry}.{name}"] = f"line {line}, column {column}"
        lists = {"conditions": listed(cells.get("conditions", ""))}
        return found.row | lists | {name: cells[name] for name in ("note",) if name in cells}

    def _value(self, line: int, path: list[str], cells: dict[str, str]) -> Any:
        self.places[".".join(path)] = f"line {line}, column value" if "value" in cells else f"line {line}"
        value = cells.get("value", "")
        section, key = path[0], path[-1]
        if section == "names":
            return listed(value)
        if section == "kinds":
            fitted, *others = listed(value) or [""]
            return {"fitted": fitted, "others": others}
        return 1 if (section, key, value) == ("sheet", "sheet_version", "1") else value

    def _put(self, path: list[str], value: Any) -> None:
        """Put an entry in its place in the data; a row of a kind may stand before or after the kind's own."""
        if path[0] == "sheet":
            self.data[path[1]] = value
            return
        held = self.data
        for step in path[:-1]:
            held = held.setdefault(step, {})
        held[path[-1]] = {**held.get(path[-1], {}), **value} if isinstance(value, dict) else value

    def note(self, line: int, column: str, what: str, advice: str) -> None:
        where = f"{self.file}, line {line}" + (f", column {column}" if column else "")
        self.problems.append(Problem(where, what, advice))

    def done(self) -> TypedSheet:
        """The sheet; Problems with all that was found wrong when it is no sheet, or lacks a row typed."""
        try:
            sheet = EngineSheet.model_validate(self.data)
        except ValidationError as error:
            raise Problems([*self.problems, *map(self._placed, from_validation(error, self.file))]) from None
        raise_if_any(self.problems if self.lost else [])
        return TypedSheet(sheet, self.file, self.places, tuple(self.problems))

    def _placed(self, problem: Problem) -> Problem:
        """A problem of the sheet's form at the line that it comes from, if it comes from one."""
        entry = problem.where.removeprefix(f"{self.file}, ")
        own = f"sheet.{entry}" if entry in _SHEET_KEYS else entry
        where = _spot(self.file, self.places, own)
        if where is None and entry in _SHEET_KEYS:
            return Problem(self.file, f'the sheet has no "{entry}".', f"Add a row: sheet, {entry}.")
        if where is None and entry.endswith(".fitted"):
            part = entry.removeprefix("kinds.").removesuffix(".fitted")
            what = f"{part} has rows of another kind, but none that names the kind fitted."
            return Problem(self.file, what, f"Add a row: kinds, {part}.")
        return Problem(where or problem.where, problem.what, problem.advice)


def _path(section: str, key: str) -> list[str] | None:
    """The steps to an entry: kinds.crankshaft, or kinds.crankshaft.rows.forged.main_journal.diameter."""
    if section != "kinds":
        return [section, key]
    steps = [step.strip() for step in key.split("/")]
    if len(steps) not in (1, 3) or not all(steps):
        return None
    return [section, steps[0]] if len(steps) == 1 else [section, steps[0], "rows", *steps[1:]]


def listed(text: str) -> list[str]:
    """The entries of a list in one cell, parted by "/"; [] for an empty cell."""
    return [entry.strip() for entry in text.split("/")] if text else []
