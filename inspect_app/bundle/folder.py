"""Read and write a core's folder: core.json first, then every file it lists, by hash."""

import hashlib
import json
import os
import shutil
import tempfile
from dataclasses import dataclass
from pathlib import Path

from inspect_app.model.core import Core
from inspect_app.model.evidence import Evidence, Photo
from inspect_app.model.problems import Problem, raise_if_any
from inspect_app.model.sheet import EngineSheet

from .sheet_file import read_sheet
from .text_files import read_json

CORE_FILE, SHEET_FILE = "core.json", "sheet.json"
SHEET_FILES = (SHEET_FILE, "sheet.csv")


@dataclass(frozen=True)
class Bundle:
    """A core with its engine sheet, as read from `folder`."""

    folder: Path
    core: Core
    sheet: EngineSheet


def read_core(folder: Path) -> Bundle:
    """Read and check a core's folder. Raises Problems with everything wrong in it; writes nothing."""
    core = read_json(folder / CORE_FILE, Core, "Name the folder of a core.")
    problems = _listing_problems(core)
    for entry in core.files:
        problems += _file_problems(folder, entry.path, entry.sha256)
    problems += _photo_problems(core)
    sheets = [name for name in SHEET_FILES if name in {entry.path for entry in core.files}]
    problems += _sheet_problems(sheets)
    raise_if_any(problems)
    return Bundle(folder, core, read_sheet(folder / sheets[0]))


def _sheet_problems(sheets: list[str]) -> list[Problem]:
    here, names = f"{CORE_FILE}, files", " and ".join(SHEET_FILES)
    if not sheets:
        what = "no engine sheet, sheet.json or sheet.csv, is among the files."
        return [Problem(here, what, "List the engine sheet with its SHA-256.")]
    return [Problem(here, f"{names} are both listed.", "Keep one of them.")] if len(sheets) > 1 else []


def _listing_problems(core: Core) -> list[Problem]:
    here, paths = f"{CORE_FILE}, files", [entry.path for entry in core.files]
    found = [
        Problem(here, f'"{path}" is listed twice.', "List it once.")
        for path in sorted({path for path in paths if paths.count(path) > 1})
    ]
    if CORE_FILE in paths:
        found.append(Problem(here, f'"{CORE_FILE}" lists itself.', "Take it out of the list."))
    return found


def _file_problems(folder: Path, name: str, sha256: str) -> list[Problem]:
    path = folder / name
    if not path.is_file() or not path.resolve().is_relative_to(folder.resolve()):
        return [Problem(f"{CORE_FILE}, files", f'"{name}" is not in the folder.', "Put the file back.")]
    found = file_sha256(path)
    if found != sha256:
        what = f'"{name}" was changed: its SHA-256 is {found[:12]}..., the core says {sha256[:12]}....'
        return [Problem(f"{CORE_FILE}, files", what, "Bring back the file that the core was made with.")]
    return []


def _photo_problems(core: Core) -> list[Problem]:
    listed = {entry.path: entry.sha256 for entry in core.files}
    return [
        Problem(f"evidence {item.id}", f'the photo "{item.path}" is not among the files.', "List it.")
        for item in core.evidence
        if isinstance(item, Photo) and listed.get(item.path) != item.sha256
    ]


def file_sha256(path: Path) -> str:
    """SHA-256 of a file's bytes, in hexadecimal."""
    with path.open("rb") as file:
        return hashlib.file_digest(file, "sha256").hexdigest()


def _item_data(item: Evidence) -> dict[str, object]:
    return {"id": item.id, "kind": item.kind} | item.model_dump(mode="json", exclude_defaults=True)


def write_core(folder: Path, core: Core) -> None:
    """Replace core.json in one step: a reader sees the old file or the new one, never a part."""
    data = core.model_dump(mode="json", exclude_defaults=True) | {"core_version": core.core_version}
    data["evidence"] = [_item_data(item) for item in core.evidence]
    handle, temporary = tempfile.mkstemp(dir=folder, prefix=".core-", suffix=".json")
    try:
        with os.fdopen(handle, "w", encoding="utf-8") as file:
            file.write(json.dumps(data, ensure_ascii=False, indent=1) + "\n")
            file.flush()
            os.fsync(file.fileno())
        give_usual_rights(temporary, folder / CORE_FILE)
        os.replace(temporary, folder / CORE_FILE)
    except BaseException:
        Path(temporary).unlink(missing_ok=True)
        raise


def give_usual_rights(temporary: str, target: Path) -> None:
    """Give a temporary file, made for its owner alone, the rights of the file that it becomes."""
    if target.exists():
        shutil.copymode(target, temporary)
        return
    mask = os.umask(0)
    os.umask(mask)
    Path(temporary).chmod(0o666 & ~mask)
