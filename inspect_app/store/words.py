"""What SQLite and the disk say, in words: one exception for each situation that a person can act on."""

import sqlite3
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

from sqlalchemy.exc import DBAPIError

from inspect_app.model.problems import Problem, Problems


class NotAShopFile(Problems):
    """The path holds something else, or nothing."""


class NewerShopFile(Problems):
    """A later version of the program has written this file."""


class ReadOnly(Problems):
    """The file can be read and not be written."""


class DiskFull(Problems):
    """There is no room left; nothing of what was being written is kept."""


class DiskTrouble(Problems):
    """The disk refused to read or write."""


class Busy(Problems):
    """Somebody else has been writing for longer than the wait."""


class Damaged(Problems):
    """The file is a shop file that can no longer be read as one."""


_SAID: dict[int, tuple[type[Problems], str, str]] = {
    sqlite3.SQLITE_BUSY: (
        Busy,
        "somebody else is writing to it. Nothing of this was saved.",
        "Try again in a moment; if it stays so, close the other program.",
    ),
    sqlite3.SQLITE_LOCKED: (
        Busy,
        "another part of the program is using it. Nothing of this was saved.",
        "Try again in a moment.",
    ),
    sqlite3.SQLITE_READONLY: (
        ReadOnly,
        "it can be read, but not written. Nothing of this was saved.",
        "Give this user the right to write to the file and its folder, or copy the file to where it can be.",
    ),
    sqlite3.SQLITE_FULL: (
        DiskFull,
        "the disk is full. Nothing of this was saved; what was saved before is safe.",
        "Make room on the disk and save it again.",
    ),
    sqlite3.SQLITE_IOERR: (
        DiskTrouble,
        "the disk refused to read or write. Nothing of this was saved.",
        "Look whether the disk is full or failing, and save it again.",
    ),
    sqlite3.SQLITE_CORRUPT: (
        Damaged,
        "its content is damaged.",
        "Stop writing to it and restore the latest backup: the damaged file is kept beside it.",
    ),
    sqlite3.SQLITE_NOTADB: (NotAShopFile, "this is not a shop file.", "Name the shop's own file."),
    sqlite3.SQLITE_CANTOPEN: (
        DiskTrouble,
        "it cannot be opened.",
        "Look whether it is there and whether this user may read it and write to its folder.",
    ),
}


def code_of(error: BaseException) -> int | None:
    """SQLite's primary result code in an error of the driver or of SQLAlchemy; None if there is none."""
    inner = error.orig if isinstance(error, DBAPIError) else error
    code = getattr(inner, "sqlite_errorcode", None)
    return None if code is None else int(code) & 0xFF


def said(path: Path, code: int | None) -> Problems | None:
    """The exception in words for a result code, or None for one that only a mistake of ours brings."""
    if code not in _SAID:
        return None
    kind, what, advice = _SAID[code]
    return kind([Problem(str(path), what, advice)])


@contextmanager
def in_words(path: Path) -> Iterator[None]:
    """Raise the situation in words instead of SQLite's error; everything else passes through."""
    try:
        yield
    except (DBAPIError, sqlite3.Error) as error:
        problems = said(path, code_of(error))
        if problems is None:
            raise
        raise problems from error
