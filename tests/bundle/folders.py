"""Cores of the tests as folders on disk, and the same with something broken in their core.json."""

import hashlib
import json
from collections.abc import Callable, Sequence
from pathlib import Path
from typing import Any

from inspect_app.bundle import CORE_FILE, SHEET_FILE, write_core
from inspect_app.model.evidence import Evidence
from tests.judge import six

Data = dict[str, Any]


def sha256(data: bytes) -> str:
    return hashlib.sha256(data).hexdigest()


def six_folder(
    parent: Path, evidence: Sequence[Evidence] | None = None, files: dict[str, bytes] | None = None
) -> Path:
    """The sound six in a folder of its own, with more files if wanted."""
    folder = parent / "six"
    folder.mkdir()
    sheet = json.dumps(six.sheet().model_dump(mode="json", exclude_defaults=True)).encode()
    listed = {SHEET_FILE: sheet, **(files or {})}
    for name, data in listed.items():
        (folder / name).parent.mkdir(exist_ok=True)
        (folder / name).write_bytes(data)
    entries = [{"path": name, "sha256": sha256(data)} for name, data in listed.items()]
    write_core(folder, six.core(None if evidence is None else list(evidence), files=entries))
    return folder


def data_of(folder: Path) -> Data:
    return json.loads((folder / CORE_FILE).read_text(encoding="utf-8"))


def edit(folder: Path, change: Callable[[Data], object]) -> Path:
    """Change the core.json of a folder as data, whatever the model would say to it."""
    data = data_of(folder)
    change(data)
    (folder / CORE_FILE).write_text(json.dumps(data), encoding="utf-8")
    return folder


def add_item(folder: Path, kind: str, **fields: Any) -> Path:
    """Add an item of evidence as data: "x1" about the block, unless `fields` say otherwise."""
    usual = {"id": "x1", "who": "A.T.", "when": "2026-11-21", "stage": "bench", "piece": "block"}
    item = usual | {"kind": kind} | fields
    return edit(
        folder, lambda data: data["evidence"].append({k: v for k, v in item.items() if v is not None})
    )
