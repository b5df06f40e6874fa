"""An engine sheet in a file of its own, JSON or CSV by the end of the file's name."""

import json
from pathlib import Path

from inspect_app.model.problems import Problem, Problems, raise_if_any
from inspect_app.model.sheet import EngineSheet

from .sheet_csv import TypedSheet, sheet_of_csv
from .sheet_csv_out import csv_of_sheet
from .text_files import read_json, read_text

_FORMS = (".csv", ".json")


def read_sheet(path: Path) -> EngineSheet:
    """The engine sheet in a .csv or .json file. Raises Problems with everything wrong in its form."""
    typed = read_typed_sheet(path)
    raise_if_any(typed.problems)
    return typed.sheet


def read_typed_sheet(path: Path) -> TypedSheet:
    """The same with the place of each entry, its misprints beside it. Raises Problems if it is no sheet."""
    _check_name(path)
    if path.suffix.lower() == ".csv":
        return sheet_of_csv(read_text(path, "Name the CSV file of an engine sheet."), path.name)
    return TypedSheet(read_json(path, EngineSheet, "Put the engine sheet there."), path.name)


def write_sheet(sheet: EngineSheet, path: Path) -> None:
    """Write the sheet in the form that the name of the new file asks for.

    CSV begins with a byte order mark, by which spreadsheets know UTF-8. Raises Problems when the file
    is there already, or the sheet holds what CSV cannot.
    """
    _check_name(path)
    if path.suffix.lower() == ".csv":
        data = csv_of_sheet(sheet).encode("utf-8-sig")
    else:
        held = {"sheet_version": sheet.sheet_version} | sheet.model_dump(mode="json", exclude_defaults=True)
        data = (json.dumps(held, ensure_ascii=False, indent=1) + "\n").encode()
    try:
        file = path.open("xb")
    except FileExistsError:
        raise Problems([Problem(str(path), "this file is there already.", "Name a new one.")]) from None
    try:
        with file:
            file.write(data)
    except BaseException:
        path.unlink(missing_ok=True)
        raise


def _check_name(path: Path) -> None:
    if path.suffix.lower() not in _FORMS:
        what = "an engine sheet is a .csv or a .json file."
        raise Problems([Problem(str(path), what, "Give the file one of these ends.")])
