"""Readings as CSV: one row each, checked as a whole, then added to a core's folder or not at all."""

import csv
import hashlib
import io
from pathlib import Path
from typing import Any

from pydantic import ValidationError

from inspect_app.model.core import Core
from inspect_app.model.evidence import Evidence, Reading
from inspect_app.model.problems import Problem, Problems, from_validation, raise_if_any
from inspect_app.rulebook.book import Rulebook
from inspect_app.rulebook.check_core import core_problems
from inspect_app.rulebook.engine import Engine

from .folder import read_core, write_core
from .text_files import read_text

REQUIRED = ("piece", "quantity", "place", "value", "unit", "who", "when")
OPTIONAL = (
    "id", "state", "station", "direction", "setting", "gauge", "session", "conditions",
    "part_temperature", "gauge_temperature", "as_meant", "stage",
    "supersedes", "note",
)  # fmt: skip
_YES_NO = {"yes": True, "no": False, "": False}


def add_readings(folder: Path, source: Path, book: Rulebook) -> int:
    """Add the readings of a CSV file to the core in `folder`; returns how many.

    All or nothing: with any problem in the file Problems is raised, naming each line, and the core
    stays as it was. A row that the core already holds is a problem too.
    """
    bundle = read_core(folder)
    added = checked_readings(source, bundle.core, Engine(book, bundle.sheet))
    write_core(folder, bundle.core.model_copy(update={"evidence": (*bundle.core.evidence, *added)}))
    return len(added)


def checked_readings(source: Path, core: Core, engine: Engine) -> tuple[Reading, ...]:
    """The readings of a CSV file that `core` can take. Raises Problems as `add_readings` does."""
    rows, problems = _rows(source, core)
    lines = {reading.id: number for number, reading in rows}
    held = {item.id for item in core.evidence}
    problems += [_already(source, number) for number, reading in rows if reading.id in held]
    readings = tuple(reading for _, reading in rows if reading.id not in held)

    def spot(item: Evidence) -> str:
        return f"{source.name}, line {lines[item.id]}" if item.id in lines else f"evidence {item.id}"

    grown = core.model_copy(update={"evidence": (*core.evidence, *readings)})
    raise_if_any(sorted([*problems, *core_problems(engine, grown, spot)], key=_line))
    return readings


def _line(problem: Problem) -> int:
    """The line that a problem is told of; 0 for one of the whole file or core."""
    _, _, after = problem.where.partition(", line ")
    number = after.partition(",")[0]
    return int(number) if number.isdigit() else 0


def _already(source: Path, number: int) -> Problem:
    return Problem(
        f"{source.name}, line {number}", "the core holds this reading already.", "Take the row out."
    )


def read_rows(source: Path, core: Core) -> list[tuple[int, Reading]]:
    """The file's readings with their line numbers; Problems with every row that is none.

    Commas or semicolons between the columns; the first line names them. `stage` defaults to the
    core's; a row without `id` gets one made from its content.
    """
    rows, problems = _rows(source, core)
    raise_if_any(problems)
    return rows


def _rows(source: Path, core: Core) -> tuple[list[tuple[int, Reading]], list[Problem]]:
    """The readings, and what is wrong with the other rows; Problems where the file cannot be read."""
    text = read_text(source, "Name a CSV file of readings.")
    head = text.partition("\n")[0]
    table = csv.reader(io.StringIO(text), delimiter=";" if head.count(";") > head.count(",") else ",")
    try:
        columns = [name.strip() for name in next(table, [])]
        raise_if_any(_column_problems(source, columns))
        return _readings(source, core, columns, [(table.line_num, row) for row in table if any(row)])
    except csv.Error as error:
        where = f"{source.name}, line {table.line_num}"
        raise Problems([Problem(where, f"this is not CSV: {error}.", "Mend the line.")]) from None


def _column_problems(source: Path, columns: list[str]) -> list[Problem]:
    here = f"{source.name}, line 1"
    found = [
        Problem(here, f'the column "{name}" is missing.', "Add it.")
        for name in REQUIRED
        if name not in columns
    ]
    known = ", ".join((*REQUIRED, *OPTIONAL))
    found += [
        Problem(here, f'"{name}" is no column of readings.', f"Use: {known}.")
        for name in columns
        if name not in (*REQUIRED, *OPTIONAL)
    ]
    twice = {name for name in columns if columns.count(name) > 1}
    return found + [
        Problem(here, f'the column "{name}" stands twice.', "Keep one.") for name in sorted(twice)
    ]


def _readings(
    source: Path, core: Core, columns: list[str], rows: list[tuple[int, list[str]]]
) -> tuple[list[tuple[int, Reading]], list[Problem]]:
    problems, readings, seen = list[Problem](), list[tuple[int, Reading]](), dict[str, int]()
    for number, row in rows:
        here = f"{source.name}, line {number}"
        if len(row) != len(columns):
            what = f"{len(row)} cells under {len(columns)} columns."
            problems.append(Problem(here, what, "Put a value with a comma in quotes, or use semicolons."))
            continue
        try:
            reading = _reading(dict(zip(columns, (cell.strip() for cell in row), strict=True)), core)
        except ValidationError as error:
            problems += from_validation(error, here)
            continue
        if reading.id in seen:
            what = f"it has the same id or content as line {seen[reading.id]}."
            problems.append(Problem(here, what, "Take one out, or give each its own id."))
            continue
        seen[reading.id] = number
        readings.append((number, reading))
    if not rows:
        problems.append(Problem(source.name, "there are no readings below the first line.", "Add a row."))
    return readings, problems


def _reading(cells: dict[str, str], core: Core) -> Reading:
    data: dict[str, Any] = {name: cell for name, cell in cells.items() if cell}
    meant = data.pop("as_meant", "")
    data.setdefault("stage", core.stage)
    data.setdefault("id", _content_id(cells))
    data["conditions"] = [name.strip() for name in data.pop("conditions", "").split(";") if name.strip()]
    data["as_meant"] = _YES_NO.get(meant.lower(), meant)
    return Reading.model_validate(data)


def _content_id(cells: dict[str, str]) -> str:
    content = "\x1f".join(f"{name}={cells[name]}" for name in sorted(cells) if cells[name])
    return f"reading-{hashlib.sha256(content.encode()).hexdigest()[:12]}"
