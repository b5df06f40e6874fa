"""Cores in and out as bundles: a folder or a zip is merged into the shop file by the ids of its evidence."""

import hashlib
import os
import tempfile
import zipfile
from collections import Counter
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path, PurePosixPath
from typing import Literal

from sqlalchemy import Connection, insert

from inspect_app.bundle import CORE_FILE, Bundle, export_zip, read_core, write_core
from inspect_app.model.core import Core, FileEntry
from inspect_app.model.evidence import Photo
from inspect_app.model.problems import Problem, Problems, raise_if_any
from inspect_app.rulebook.book import Rulebook
from inspect_app.rulebook.check_core import core_problems
from inspect_app.rulebook.engine import Engine

from . import tables
from .cores import load_core, read_held
from .evidence import fresh_items, id_problems, write_items
from .file import ShopFile
from .keeping import content_of, holds, keep_files
from .placing import refuse_taken
from .records import heads, is_held, write_record
from .texts import now, other_files, photos_among
from .zips import Limits, unpack


@dataclass(frozen=True)
class Imported:
    """What an import did: how many items came in and how many were here already.

    `record`: of a new core; the same as one that is or was here; or another, which stands beside the
    one here until somebody settles it.
    """

    core: str
    added: int
    already: int
    record: Literal["new", "same", "differs"]


def import_bundle(
    shop: ShopFile, book: Rulebook, source: Path, who: str, limits: Limits | None = None
) -> Imported:
    """Bring a core's folder or zip into the shop file: all of it or nothing, and twice is once.

    Of a core that is here already the items with new ids are added. Raises Problems with everything
    wrong: in the zip, in the folder, in what the rulebook knows, and ids held with other content.
    """
    if source.is_dir():
        return _import_folder(shop, book, source, who)
    if not zipfile.is_zipfile(source):
        there = "this is neither the folder of a core nor a zip."
        what = there if source.exists() else "there is no such file."
        raise Problems([Problem(str(source), what, "Name a core's folder, or a zip that was exported.")])
    with tempfile.TemporaryDirectory(prefix="core-") as folder:
        unpack(source, Path(folder), limits)
        return _import_folder(shop, book, Path(folder), who)


def _import_folder(shop: ShopFile, book: Rulebook, folder: Path, who: str) -> Imported:
    bundle = read_core(folder)
    raise_if_any(core_problems(Engine(book, bundle.sheet), bundle.core))
    with shop.writing() as connection:
        return _merge(connection, bundle, who)


def _merge(connection: Connection, bundle: Bundle, who: str) -> Imported:
    core = bundle.core
    standing = heads(connection, core.id).get(core.id, [])
    held = read_held(connection, core.id).core.evidence if standing else ()
    raise_if_any([*id_problems(held, core.evidence)])
    fresh = fresh_items(held, core.evidence)
    if not standing:
        connection.execute(insert(tables.core).values(id=core.id, made=now()))
    record = _record_state(connection, bundle, bool(standing))
    photos = {photo.path for photo in photos_among(fresh)}
    others = {entry.path for entry in other_files(core)} if record != "same" else set()
    _keep_listed(connection, bundle, photos | others)
    if record != "same":
        write_record(connection, core, bundle.sheet, who, ())
    write_items(connection, core.id, fresh)
    return Imported(core.id, len(fresh), len(core.evidence) - len(fresh), record)


def _record_state(connection: Connection, bundle: Bundle, known: bool) -> Literal["new", "same", "differs"]:
    if not known:
        return "new"
    return "same" if is_held(connection, bundle.core, bundle.sheet) else "differs"


def _keep_listed(connection: Connection, bundle: Bundle, paths: set[str]) -> None:
    """Keep the bytes of listed files one at a time; what was changed since it was checked is refused."""
    for entry in bundle.core.files:
        if entry.path in paths and not holds(connection, entry.sha256):
            content = (bundle.folder / entry.path).read_bytes()
            if hashlib.sha256(content).hexdigest() != entry.sha256:
                what = f'"{entry.path}" was changed while it was read.'
                raise Problems([Problem(f"{CORE_FILE}, files", what, "Import it again.")])
            keep_files(connection, [content])


def export_core(shop: ShopFile, core_id: str, folder: Path) -> None:
    """Write a core as a new folder, which `import_bundle` reads back without loss.

    Photos whose paths a folder cannot hold together get their hash into the name. Raises Problems when
    the core is not here or something of that name is.
    """
    refuse_taken(folder)
    with tempfile.TemporaryDirectory(dir=folder.resolve().parent, prefix=".export-") as parent:
        made = Path(parent) / "core"
        made.mkdir()
        _write_folder(shop, core_id, made)
        refuse_taken(folder)
        os.rename(made, folder)


def export_core_zip(shop: ShopFile, core_id: str, target: Path) -> None:
    """The same as one zip."""
    refuse_taken(target)
    with tempfile.TemporaryDirectory(dir=target.resolve().parent, prefix=".export-") as folder:
        _write_folder(shop, core_id, Path(folder))
        export_zip(Path(folder), target)


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
