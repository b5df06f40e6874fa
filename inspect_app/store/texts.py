"""Records and evidence as the text that the shop file holds, and back."""

import hashlib
import json
from collections.abc import Iterable
from datetime import UTC, datetime
from typing import Any

from pydantic import TypeAdapter

from inspect_app.model.core import Core, FileEntry
from inspect_app.model.evidence import Evidence, Photo
from inspect_app.model.sheet import EngineSheet

_ITEM: TypeAdapter[Evidence] = TypeAdapter(Evidence)


def text_of(data: Any) -> str:
    """JSON in one form: the same content is the same text."""
    return json.dumps(data, ensure_ascii=False, sort_keys=True, separators=(",", ":"))


def item_text(item: Evidence) -> str:
    """An item of evidence, what is at its default left out."""
    held = item.model_dump(mode="json", exclude_defaults=True)
    return text_of({"id": item.id, "kind": item.kind} | held)


def item_of(text: str) -> Evidence:
    """The item of evidence in a text that the shop file holds."""
    return _ITEM.validate_json(text)


def same_item(one: Evidence, other: Evidence) -> bool:
    """Whether two items say the same. A photo is its bytes: where a folder keeps them says nothing."""
    if isinstance(one, Photo) and isinstance(other, Photo):
        return one.model_copy(update={"path": other.path}) == other
    return one == other


def record_text(core: Core) -> str:
    """The record of a core: core.json without its evidence and without the files of its photos."""
    kept = core.model_copy(update={"evidence": (), "files": other_files(core)})
    return text_of(kept.model_dump(mode="json", exclude_defaults=True))


def other_files(core: Core) -> tuple[FileEntry, ...]:
    """The files of a core that are no photos: its engine sheet and whatever else lies with it."""
    photos = {item.path for item in core.evidence if isinstance(item, Photo)}
    return tuple(entry for entry in core.files if entry.path not in photos)


def sheet_text(sheet: EngineSheet) -> str:
    """The engine sheet, what is at its default left out."""
    return text_of(sheet.model_dump(mode="json", exclude_defaults=True))


def digest_of(*texts: str) -> str:
    """SHA-256 over texts, in hexadecimal."""
    total = hashlib.sha256()
    for text in texts:
        total.update(text.encode() + b"\0")
    return total.hexdigest()


def now() -> str:
    """The present moment in universal time, to the second."""
    return datetime.now(UTC).isoformat(timespec="seconds")


def photos_among(items: Iterable[Evidence]) -> list[Photo]:
    """The photos among items of evidence."""
    return [item for item in items if isinstance(item, Photo)]
