"""Cores in: a bundle, folder or zip, is merged into the shop file by the ids of its evidence."""

import hashlib
import tempfile
import zipfile
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path
from typing import Literal

from sqlalchemy import Connection, insert

from inspect_app.bundle import CORE_FILE, Bundle, read_core
from inspect_app.model.evidence import Evidence
from inspect_app.model.problems import Problem, Problems, raise_if_any
from inspect_app.rulebook.book import Rulebook
from inspect_app.rulebook.check_core import core_problems
from inspect_app.rulebook.engine import Engine

from . import tables
from .cores import HeldCore, read_held
from .evidence import fresh_items, id_problems, write_items
from .file import ShopFile
from .keeping import holds, keep_files
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
    held: tuple[Evidence, ...] = ()
    if standing:
        here = read_held(connection, core.id)
        held = here.core.evidence
        raise_if_any([*_stranger(here, bundle), *id_problems(held, core.evidence)])
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


def _stranger(here: HeldCore, bundle: Bundle) -> Iterator[Problem]:
    """Two shops may well have given one id to two engines: those must not be mixed."""
    common = {item.id for item in here.core.evidence} & {item.id for item in bundle.core.evidence}
    if here.sheet.id != bundle.sheet.id and not common:
        what = (
            f'another engine is here under this id: its sheet is "{here.sheet.id}", that of the bundle '
            f'"{bundle.sheet.id}", and they have no evidence in common.'
        )
        yield Problem(f'core "{bundle.core.id}"', what, "Give one of the two another id.")


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
