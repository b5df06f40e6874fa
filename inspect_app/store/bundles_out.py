"""Cores out: each as a folder or a zip that stands alone."""

import os
import tempfile
from collections import Counter
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path, PurePosixPath

from inspect_app.bundle import CORE_FILE, export_zip, read_core, write_core
from inspect_app.model.core import Core, FileEntry
from inspect_app.model.evidence import Photo

from .cores import load_core
from .file import ShopFile
from .keeping import content_of
from .placing import refuse_taken, writing_to
from .texts import other_files, photos_among


def export_core(shop: ShopFile, core_id: str, folder: Path) -> None:
    """Write a core as a new folder, which `import_bundle` reads back without loss.

    Photos whose paths a folder cannot hold together get their hash into the name. Raises Problems when
    the core is not here, something of that name is, or the disk refuses.
    """
    refuse_taken(folder)
    with writing_to(folder), _folder_beside(folder) as parent:
        made = parent / "core"
        made.mkdir()
        _write_folder(shop, core_id, made)
        refuse_taken(folder)
        os.rename(made, folder)


def export_core_zip(shop: ShopFile, core_id: str, target: Path) -> None:
    """The same as one zip."""
    refuse_taken(target)
    with writing_to(target), _folder_beside(target) as folder:
        _write_folder(shop, core_id, folder)
        export_zip(folder, target)


@contextmanager
def _folder_beside(target: Path) -> Iterator[Path]:
    with tempfile.TemporaryDirectory(dir=target.resolve().parent, prefix=".export-") as name:
        yield Path(name)


def _write_folder(shop: ShopFile, core_id: str, folder: Path) -> None:
    core = _with_plain_paths(load_core(shop, core_id).core)
    for entry in core.files:
        target = folder / entry.path
        target.parent.mkdir(parents=True, exist_ok=True)
        with shop.reading() as connection:
            target.write_bytes(content_of(connection, entry.sha256))
    write_core(folder, core)
    read_core(folder)


def _with_plain_paths(core: Core) -> Core:
    """The core with every photo among its files, under paths that a folder can hold together."""
    others = other_files(core)
    photos = {(photo.path, photo.sha256) for photo in photos_among(core.evidence)}
    taken = [CORE_FILE, *(entry.path.casefold() for entry in others)]
    uses = Counter([*taken, *(path.casefold() for path, _ in photos)])
    folders = {str(above) for name in uses for above in PurePosixPath(name).parents}
    named = {
        (path, sha256): path
        if uses[path.casefold()] == 1 and path.casefold() not in folders
        else _with_hash(path, sha256)
        for path, sha256 in photos
    }
    evidence = tuple(
        item.model_copy(update={"path": named[item.path, item.sha256]}) if isinstance(item, Photo) else item
        for item in core.evidence
    )
    files = tuple(_entries(others, photos_among(evidence)))
    return core.model_copy(update={"evidence": evidence, "files": files})


def _with_hash(path: str, sha256: str) -> str:
    plain = PurePosixPath(path)
    return str(plain.with_name(f"{plain.stem}-{sha256[:12]}{plain.suffix}"))


def _entries(others: tuple[FileEntry, ...], photos: list[Photo]) -> Iterator[FileEntry]:
    yield from others
    for path, sha256 in dict.fromkeys((photo.path, photo.sha256) for photo in photos):
        yield FileEntry(path=path, sha256=sha256)
