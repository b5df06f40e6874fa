"""The shop file: make it, open it, read from it and write to it, with words for whatever prevents it."""

import os
import sqlite3
import tempfile
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

from sqlalchemy import Connection, Engine
from sqlalchemy.exc import DBAPIError

from inspect_app.bundle.folder import give_usual_rights
from inspect_app.model.problems import Problem, Problems

from .connections import WAIT_S, Access, make_engine, writer
from .migrations import APPLICATION_ID, REVISIONS, migrate, version_of
from .placing import place_new, refuse_taken, writing_to
from .words import Busy, Damaged, NewerShopFile, NotAShopFile, ReadOnly, code_of, in_words, said

_MAGIC, _ID_AT = b"SQLite format 3\x00", 68


class ShopFile:
    """One open shop file, for as many threads as ask.

    `reads_only` holds the reason in words where the file cannot be written; reading works all the same.
    """

    def __init__(self, path: Path, wait_s: float) -> None:
        self.path = path
        self._wait_s = wait_s
        self._engine, self.reads_only = _engine(path, wait_s)

    @contextmanager
    def reading(self) -> Iterator[Connection]:
        """A snapshot: what others write meanwhile is not seen."""
        with in_words(self.path), self._engine.begin() as connection:
            yield connection

    @contextmanager
    def writing(self) -> Iterator[Connection]:
        """A transaction that is wholly on the disk when the block is left, or leaves nothing behind.

        Raises ReadOnly, Busy, DiskFull or DiskTrouble.
        """
        with in_words(self.path):
            if self.reads_only is not None:
                self._try_again()
            with writer(self._engine).begin() as connection:
                yield connection

    def _try_again(self) -> None:
        """The disk may have room by now, or the right to write been given."""
        engine, self.reads_only = _engine(self.path, self._wait_s)
        self._engine, before = engine, self._engine
        before.dispose()
        if self.reads_only is not None:
            raise self.reads_only

    def close(self) -> None:
        """Close every connection; the last to close leaves one file."""
        self._engine.dispose()

    def __enter__(self) -> "ShopFile":
        return self

    def __exit__(self, *_: object) -> None:
        self.close()


def create_shop_file(path: Path, wait_s: float = WAIT_S) -> ShopFile:
    """Make a new, empty shop file and open it. Raises Problems when something is there already.

    It appears under its name when it is complete.
    """
    refuse_taken(path)
    with writing_to(path):
        handle, name = tempfile.mkstemp(dir=path.resolve().parent, prefix=".shop-", suffix=".sqlite")
    os.close(handle)
    temporary = Path(name)
    try:
        with in_words(path):
            _migrate(temporary, wait_s)
        give_usual_rights(name, path)
        place_new(temporary, path)
    finally:
        for end in ("", "-wal", "-shm"):
            Path(f"{temporary}{end}").unlink(missing_ok=True)
    return open_shop_file(path, wait_s)


def open_shop_file(path: Path, wait_s: float = WAIT_S) -> ShopFile:
    """Open a shop file, brought to the present version if it is older.

    `wait_s` is how long a write waits for others. Raises NotAShopFile, NewerShopFile, Damaged, or what
    `ReadOnly` and its neighbours say when an older file cannot be brought up.
    """
    refuse_other_files(path)
    with in_words(path):
        shop = ShopFile(path, wait_s)
        try:
            if _version(shop) != REVISIONS[-1]:
                if shop.reads_only is not None:
                    raise _older(path) from shop.reads_only
                _migrate(path, wait_s)
        except BaseException:
            shop.close()
            raise
    return shop


def refuse_other_files(path: Path) -> None:
    """Raise NotAShopFile for a path that does not hold a shop file, before SQLite touches it."""
    try:
        with path.open("rb") as file:
            begins = file.read(_ID_AT + 4)
    except OSError as error:
        what = f"it cannot be read: {error.strerror}."
        raise NotAShopFile([Problem(str(path), what, "Name the shop's own file.")]) from None
    if not begins.startswith(_MAGIC):
        raise NotAShopFile([Problem(str(path), "this is not a shop file.", "Name the shop's own file.")])
    if int.from_bytes(begins[_ID_AT:], "big") != APPLICATION_ID:
        what = "this database is not a shop file."
        raise NotAShopFile([Problem(str(path), what, "Name the shop's own file.")])


def _version(shop: ShopFile) -> str:
    with shop.reading() as connection:
        version = version_of(connection)
    if version is None:
        raise Damaged([Problem(str(shop.path), "it does not say its version.", "Restore the latest backup.")])
    if version not in REVISIONS:
        what = f"a newer program has written it (version {version}; this program knows {REVISIONS[-1]})."
        raise NewerShopFile([Problem(str(shop.path), what, "Update this program. The file was not touched.")])
    return version


def _older(path: Path) -> ReadOnly:
    what = "it is of an older version and cannot be written, so it cannot be brought up to this program."
    return ReadOnly([Problem(str(path), what, "Copy it to where it can be written and open the copy.")])


def _engine(path: Path, wait_s: float) -> tuple[Engine, Problems | None]:
    """An engine that can write; else one that can read, with the reason why it cannot write."""
    engine = make_engine(path, "rw", wait_s)
    try:
        with writer(engine).connect() as connection, connection.begin() as transaction:
            # On a file that can only be read BEGIN IMMEDIATE begins a read and says nothing.
            connection.exec_driver_sql("PRAGMA user_version = 0")
            transaction.rollback()
        return engine, None
    except DBAPIError as error:
        problems = said(path, code_of(error))
        if problems is None or isinstance(problems, NotAShopFile | Damaged):
            raise
        if isinstance(problems, Busy):
            return engine, None
        engine.dispose()
        reading = _reading_engine(path, wait_s, problems)
        # Where it can be read, what cannot be opened is a file beside it, which only writing needs.
        told = said(path, sqlite3.SQLITE_READONLY) if code_of(error) == sqlite3.SQLITE_CANTOPEN else problems
        return reading, told


def _reading_engine(path: Path, wait_s: float, why: Problems) -> Engine:
    """The plainest way of reading that works; `immutable` needs no file beside the shop file."""
    ways: tuple[Access, ...] = ("ro",) if _unwritten(path) else ("ro", "immutable")
    for access in ways:
        engine = make_engine(path, access, wait_s)
        try:
            with engine.begin() as connection:
                version_of(connection)
            return engine
        except DBAPIError as error:
            engine.dispose()
            if isinstance(said(path, code_of(error)), NotAShopFile | Damaged):
                raise
    advice = f"Copy it and {path.name}-wal together to where they can be written, and open the copy."
    raise ReadOnly([Problem(str(path), "it can be neither written nor read where it lies.", advice)]) from why


def _unwritten(path: Path) -> bool:
    """Whether something that was saved lies beside the file still: who reads it alone would miss that."""
    beside = Path(f"{path}-wal")
    return beside.exists() and beside.stat().st_size > 0


def _migrate(path: Path, wait_s: float) -> None:
    engine = make_engine(path, "rw", wait_s, foreign_keys=False)
    try:
        with writer(engine).begin() as connection:
            migrate(connection)
            if connection.exec_driver_sql("PRAGMA foreign_key_check").first() is not None:
                what = "after bringing it up to this program, rows in it refer to others that are not there."
                raise Damaged([Problem(str(path), what, "Nothing was changed. Restore the latest backup.")])
    finally:
        engine.dispose()
