"""The sizes in one row of a sheet as CSV, and whether what it gives in inch and in mm is one size."""

import re
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from decimal import Decimal
from itertools import combinations
from typing import Any

from inspect_app.metrology.misprints import MM_PER_INCH, inch_mm_disagree
from inspect_app.model.units import NotANumber, UnknownUnit, decimal_of, factor

SIZES = ("nominal", "minimum", "maximum", "wear_limit", "sizes")
"""Fields of a row that hold sizes; `sizes` holds several, parted by "/"."""

TWINS = tuple(f"{name}_{unit}" for unit in ("in", "mm") for name in SIZES)
_BARE = re.compile(r"[+\-−]?(?:\d+(?:[.,]\d+)?|[.,]\d+)")
_TRUST = "One of them is misprinted: leave out the one you cannot trust."


@dataclass
class RowSizes:
    """The row as the sheet holds it, the column that each size came from, and (column, what, advice)."""

    row: dict[str, Any] = field(default_factory=dict)
    columns: dict[str, str] = field(default_factory=dict)
    problems: list[tuple[str, str, str]] = field(default_factory=list)


def sizes_of(cells: Mapping[str, str], semicolons: bool) -> RowSizes:
    """The sizes of one row by their names in the sheet: of twins the first that is filled, all compared."""
    found = RowSizes()
    for name in SIZES:
        units = {name: cells.get("unit", ""), f"{name}_in": "in", f"{name}_mm": "mm"}
        typed = {
            column: tuple(_with_unit(text.strip(), unit) for text in cells[column].split("/"))
            if name == "sizes"
            else (_with_unit(cells[column], unit),)
            for column, unit in units.items()
            if column in cells
        }
        if not typed:
            continue
        first = next(iter(typed))
        found.row[name] = typed[first] if name == "sizes" else typed[first][0]
        found.columns[name] = first
        found.columns |= {f"sizes.{number}": first for number in range(len(typed[first])) if name == "sizes"}
        commas = [] if semicolons else [column for column in typed if "," in cells[column]]
        found.problems += [_comma(column, cells[column]) for column in commas]
        found.problems += [] if commas else _twin_problems(typed)
    return found


def _with_unit(text: str, unit: str) -> str:
    """A bare number with the unit of its column or row; a text that has its own stays as it is."""
    return f"{text} {unit}" if unit and _BARE.fullmatch(text) else text


def _comma(column: str, text: str) -> tuple[str, str, str]:
    what = f'"{text}" has a comma in it, and commas part the columns of this file.'
    return column, what, "Write 86.02, or part the columns with semicolons."


def _twin_problems(typed: Mapping[str, tuple[str, ...]]) -> Iterator[tuple[str, str, str]]:
    for (one, texts), (other, twins) in combinations(typed.items(), 2):
        if len(texts) != len(twins):
            what = f"{len(twins)} sizes beside {len(texts)} in the column {one}."
            yield other, what, "List the same sizes in both."
            continue
        for text, twin in zip(texts, twins, strict=True):
            found = _disagreement(text, twin)
            if found:
                yield other, *found


def _disagreement(text: str, twin: str) -> tuple[str, str] | None:
    """What is wrong with two texts that should be one length, and what to do; None if nothing is."""
    try:
        (inch, one), (also_inch, other) = _inch_or_mm(text), _inch_or_mm(twin)
    except (NotANumber, UnknownUnit) as error:
        return str(error), ""
    if inch != also_inch:
        found = inch_mm_disagree(*((one, other) if inch else (other, one)))
        return (f"{found}.", _TRUST) if found else None
    return None if one == other else (f'"{twin}" is not "{text}".', _TRUST)


def _inch_or_mm(text: str) -> tuple[bool, Decimal]:
    """Whether a length is in (parts of) inches, and its amount of inches or mm with the digits typed."""
    number, _, unit = text.partition(" ")
    per_unit = factor(unit.strip()) if unit.strip() else Decimal(0)
    for inch, base in ((True, MM_PER_INCH), (False, Decimal(1))):
        steps = (per_unit / base).normalize() if per_unit else Decimal(0)
        if steps and steps.as_tuple().digits == (1,):
            return inch, decimal_of(number).scaleb(int(steps.as_tuple().exponent))
    raise UnknownUnit(f'"{text}" is no length in inch or mm. Type its number and unit in one column only.')
