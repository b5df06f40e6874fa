"""Backup to one file while the shop works on, and restore that keeps the file it takes the place of."""

import os
import sqlite3
import tempfile
from collections.abc import Iterator
from contextlib import closing, contextmanager, suppress
from dataclasses import replace
from datetime import datetime
from pathlib import Path

from inspect_app.bundle.folder import give_usual_rights
from inspect_app.model.problems import Problem, Problems, raise_if_any

from .checking import check_shop_file
from .connections import WAIT_S, connect
from .file import ShopFile, open_shop_file, refuse_other_files
from .pairing import forget_phones
from .placing import place_new, refuse_taken, sync_folder, writing_to
from .words import Busy, code_of, in_words


def back_up(shop: ShopFile, target: Path) -> None:
    """Write all that is saved at this moment to one new file, and check that copy through.

    Others read and write meanwhile. Raises Problems if `target` is there, the disk is full, or the
    copy is not sound; nothing is left under the name then.
    """
    refuse_taken(target)
    with _new_file_beside(target) as temporary:
        with shop.reading() as connection, in_words(target):
            source = connection.connection.driver_connection
            assert isinstance(source, sqlite3.Connection)
            _copy(source, temporary)
        _refuse_unsound(temporary, target)
        give_usual_rights(str(temporary), target)
        place_new(temporary, target)


def restore(backup: Path, target: Path, wait_s: float = WAIT_S) -> Path | None:
    """Put a backup in the place of the shop file; the file that was there is kept: returns where.

    The backup is copied, the copy brought up to this program and checked through; the backup stays as
    it is. Phones must be paired again: a backup does not know which were revoked since. Raises Problems
    when it is not sound, and Busy while any program has the old file open.
    """
    refuse_other_files(backup)
    with _new_file_beside(target) as temporary:
        with in_words(backup), closing(_open_to_read(backup, wait_s)) as source, in_words(target):
            _copy(source, temporary)
        _refuse_unsound(temporary, backup, forget=True)
        give_usual_rights(str(temporary), target)
        if not target.exists():
            place_new(temporary, target)
            return None
        with _alone_with(target, wait_s):
            kept = _keep_beside(target)
            os.replace(temporary, target)
            sync_folder(target.resolve().parent)
        return kept


def _open_to_read(backup: Path, wait_s: float) -> sqlite3.Connection:
    """Nobody has a file open that nothing lies beside, and then reading it leaves nothing beside it."""
    source = connect(backup, "ro" if Path(f"{backup}-wal").exists() else "immutable", wait_s)
    try:
        source.execute("SELECT count(*) FROM sqlite_master").fetchone()
    except BaseException:
        source.close()
        raise
    return source


@contextmanager
def _new_file_beside(target: Path) -> Iterator[Path]:
    with writing_to(target):
        handle, name = tempfile.mkstemp(dir=target.resolve().parent, prefix=".copy-", suffix=".sqlite")
    os.close(handle)
    try:
        yield Path(name)
    finally:
        for end in ("", "-wal", "-shm", "-journal"):
            Path(f"{name}{end}").unlink(missing_ok=True)


def _copy(source: sqlite3.Connection, path: Path) -> None:
    """Copy in one step, within the snapshot that `source` is in."""
    with closing(sqlite3.connect(path, isolation_level=None)) as copy:
        source.backup(copy)


def _refuse_unsound(copy: Path, named: Path, forget: bool = False) -> None:
    """Raise what is wrong with a copy under the name of the file that a person knows.

    A sound copy is wholly on the disk then, and needs no file beside it to be read. `forget` takes the
    paired phones out of it.
    """
    try:
        with in_words(copy):
            with open_shop_file(copy) as shop:
                raise_if_any(check_shop_file(shop))
                if forget:
                    with shop.writing() as connection:
                        forget_phones(connection)
            with closing(connect(copy)) as alone:
                alone.execute("PRAGMA journal_mode=DELETE")
    except Problems as problems:
        renamed = [replace(item, where=item.where.replace(str(copy), str(named))) for item in problems.items]
        raise type(problems)(renamed) from problems
    with copy.open("rb") as file:
        os.fsync(file.fileno())


@contextmanager
def _alone_with(target: Path, wait_s: float) -> Iterator[None]:
    """Hold the old file with nobody else in it and all of it in the one file; a damaged one as it is."""
    try:
        old = connect(target, wait_s=wait_s)
    except sqlite3.DatabaseError:
        yield
        return
    with closing(old):
        try:
            (mode,) = old.execute("PRAGMA journal_mode=DELETE").fetchone()
            old.execute("BEGIN EXCLUSIVE")
        except sqlite3.DatabaseError as error:
            mode = "in use" if code_of(error) in (sqlite3.SQLITE_BUSY, sqlite3.SQLITE_LOCKED) else "damaged"
        if mode in ("in use", "wal"):
            what = "a program has it open. Nothing was restored."
            raise Busy([Problem(str(target), what, "Close the program first.")])
        yield


def _keep_beside(target: Path) -> Path:
    """Give the old file a second name with the time in it, and what lies beside it the same."""
    stamp = datetime.now().strftime("%Y-%m-%d-%H%M%S")
    number, kept = 1, target.with_name(f"{target.stem}-before-restore-{stamp}{target.suffix}")
    while kept.exists():
        number += 1
        kept = target.with_name(f"{target.stem}-before-restore-{stamp}-{number}{target.suffix}")
    try:
        os.link(target, kept)
    except OSError:
        os.rename(target, kept)
    for end in ("-wal", "-shm"):
        with suppress(FileNotFoundError):
            os.rename(f"{target}{end}", f"{kept}{end}")
    return kept
