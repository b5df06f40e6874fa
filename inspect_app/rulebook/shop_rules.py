"""The shop's own entries: a folder of TOML whose entries replace shipped ones by id.

Each change writes one file anew; the file before it is kept under `history/`. What a person wrote in a
file by hand, comments too, stays.
"""

import os
import tempfile
from datetime import datetime
from pathlib import Path
from typing import Any

from inspect_app.model.frozen import Frozen
from inspect_app.model.problems import Problem, Problems

from .book import SINGLE

FILES = {"price": "prices.toml", "price_book": "prices.toml", "gauge": "gauges.toml", "limit": "limits.toml"}
"""The tables that can be changed from a screen, and the file of each."""

HISTORY = "history"


def folder_beside(shop_file: Path) -> Path:
    """The folder of the shop's own entries that belongs to a shop file: `ours.sqlite` has `ours-rules`."""
    return shop_file.with_name(f"{shop_file.stem}-rules")


def in_use(folder: Path) -> list[Path]:
    """The folder as a list of overlays: empty where it holds no entries yet."""
    return [folder] if any(folder.glob("*.toml")) else []


def put_entry(folder: Path, table: str, entry: Frozen) -> None:
    """Write an entry of `table` into the shop's folder, in the place of the one with its id.

    The folder is made if need be. Raises Problems where a file there is not TOML, or cannot be written.
    """
    _change(folder, table, entry.model_dump(mode="json", exclude_defaults=True, exclude_none=True))


def drop_entry(folder: Path, table: str, entry_id: str) -> None:
    """Take an entry out of the shop's folder, if it is there: the shipped one counts again."""
    _change(folder, table, {"id": entry_id}, drop=True)


def _change(folder: Path, table: str, entry: dict[str, Any], drop: bool = False) -> None:
    import tomlkit
    from tomlkit.exceptions import TOMLKitError

    path = folder / FILES[table]
    try:
        before = path.read_bytes() if path.exists() else b""
        document = tomlkit.parse(before.decode("utf-8"))
        if table in SINGLE:
            document[table] = tomlkit.item(entry)
        else:
            _change_rows(document, table, entry, drop)
        _write(path, tomlkit.dumps(document).encode(), before)
    except (TOMLKitError, UnicodeDecodeError) as error:
        what = f"this is not TOML: {error}."
        raise Problems([Problem(str(path), what, "Mend the line named; nothing was changed.")]) from error
    except OSError as error:
        what = f"it cannot be written: {error.strerror or error}. Nothing was changed."
        raise Problems([Problem(str(path), what, "Give this user the right to write there.")]) from error


def _change_rows(document: Any, table: str, entry: dict[str, Any], drop: bool) -> None:
    import tomlkit

    rows = document.get(table)
    if rows is None:
        rows = tomlkit.aot()
        document[table] = rows
    at = next((at for at, row in enumerate(rows) if row.get("id") == entry["id"]), None)
    if drop:
        if at is not None:
            del rows[at]
    elif at is None:
        made = tomlkit.table()
        made.update(entry)
        rows.append(made)
    else:
        for key in [key for key in rows[at] if key not in entry]:
            del rows[at][key]
        rows[at].update(entry)


def _write(path: Path, content: bytes, before: bytes) -> None:
    """Write through a file beside it, so that a power cut leaves the old one or the new one."""
    path.parent.mkdir(parents=True, exist_ok=True)
    if before:
        history = path.parent / HISTORY
        history.mkdir(exist_ok=True)
        stamp = datetime.now().strftime("%Y-%m-%d-%H%M%S-%f")
        (history / f"{path.stem}-{stamp}.toml").write_bytes(before)
    handle, name = tempfile.mkstemp(dir=path.parent, prefix=".rules-")
    try:
        with os.fdopen(handle, "wb") as file:
            file.write(content)
            file.flush()
            os.fsync(file.fileno())
        os.chmod(name, 0o644)
        os.replace(name, path)
    except BaseException:
        Path(name).unlink(missing_ok=True)
        raise


def put_back(folder: Path, table: str, before: bytes | None) -> None:
    """Put the file of a table back as it was before a change that the whole rulebook does not bear.

    Raises Problems where it cannot be written.
    """
    path = folder / FILES[table]
    if file_of(folder, table) == before:
        return
    try:
        if before is None:
            path.unlink(missing_ok=True)
        else:
            _write(path, before, b"")
    except OSError as error:
        what = f"what was changed cannot be taken back: {error.strerror or error}."
        advice = f"Make room, and copy the newest file of {path.parent / HISTORY} over it."
        raise Problems([Problem(str(path), what, advice)]) from error


def file_of(folder: Path, table: str) -> bytes | None:
    """The bytes of the shop's file of a table, or None where it has none."""
    path = folder / FILES[table]
    return path.read_bytes() if path.exists() else None
