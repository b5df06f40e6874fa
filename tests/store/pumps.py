"""Cores of the gear pump as the store gets them: in the shop file, as folders, with photos."""

import hashlib
import json
from collections.abc import Mapping, Sequence
from pathlib import Path
from typing import Any

from inspect_app.bundle import SHEET_FILE, write_core
from inspect_app.model.core import Core
from inspect_app.model.evidence import Evidence, Photo
from inspect_app.model.sheet import EngineSheet
from inspect_app.store import ShopFile, add_core, add_evidence
from tests.support import make_core, pump_book, pump_sheet, reading

PICTURE, OTHER = b"\xff\xd8 not a real picture", b"\xff\xd8 another"
COMMON: dict[str, Any] = {
    "who": "A. Tester",
    "when": "2026-03-02",
    "stage": "bench",
    "state": "washed",
    "piece": "housing",
}


def sha256(data: bytes) -> str:
    return hashlib.sha256(data).hexdigest()


def photo(name: str, picture: bytes = PICTURE, **given: Any) -> Photo:
    usual = {"id": name, "path": f"photos/{name}.jpg", "sha256": sha256(picture)}
    return Photo.model_validate(COMMON | usual | given)


def worn(name: str, value: str = "40.020", **given: Any) -> Evidence:
    """A reading of the driver's pocket at its inlet."""
    return reading("diameter", "pocket driver", value, "inlet", gauge="bore-gauge", id=name, **given)


def pump(name: str = "pump-1", **changes: Any) -> Core:
    return make_core().model_copy(update={"id": name} | changes)


def begin(shop: ShopFile, *items: Evidence, name: str = "pump-1") -> int:
    """A pump in the shop file with this evidence; its revision."""
    add_core(shop, pump_book(), pump(name), pump_sheet(), "A. Tester")
    return add_evidence(shop, pump_book(), name, items, [PICTURE, OTHER])


def folder_of(
    parent: Path,
    items: Sequence[Evidence] = (),
    files: Mapping[str, bytes] | None = None,
    sheet: EngineSheet | None = None,
    **changes: Any,
) -> Path:
    """A pump as a bundle in a folder of its own; `files` beside the sheet, by path."""
    parent.mkdir(exist_ok=True)
    rows = (sheet or pump_sheet()).model_dump(mode="json", exclude_defaults=True)
    held = {SHEET_FILE: json.dumps(rows).encode(), **(files or {})}
    for name, data in held.items():
        (parent / name).parent.mkdir(exist_ok=True, parents=True)
        (parent / name).write_bytes(data)
    entries = [{"path": name, "sha256": sha256(data)} for name, data in held.items()]
    core = pump().model_dump() | {"files": entries, "evidence": [i.model_dump() for i in items]} | changes
    write_core(parent, Core.model_validate(core))
    return parent
