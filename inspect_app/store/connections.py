"""Connections to one SQLite file: the settings of each, and who says BEGIN."""

import sqlite3
from pathlib import Path
from typing import Literal

from sqlalchemy import Connection, Engine, QueuePool, create_engine, event

Access = Literal["rw", "ro", "immutable"]
WAIT_S = 5.0
_WRITES = "store_writes"
_QUERY = {"rw": "mode=rw", "ro": "mode=ro", "immutable": "mode=ro&immutable=1"}
_EACH = (
    # Without this, a REPLACE deletes the old row and fires no trigger.
    "PRAGMA recursive_triggers=ON",
    # A file from elsewhere may bring triggers of its own: they may call nothing that reaches outside.
    "PRAGMA trusted_schema=OFF",
)
_TO_WRITE = ("PRAGMA journal_mode=WAL", "PRAGMA synchronous=FULL")


def connect(
    path: Path, access: Access = "rw", wait_s: float = WAIT_S, foreign_keys: bool = True
) -> sqlite3.Connection:
    """A plain connection in which nothing begins by itself; never makes a file.

    `immutable` reads a file that nobody writes meanwhile, without locks and without files beside it.
    Only a migration works without foreign keys: SQLite cannot switch them within a transaction.
    """
    connection = sqlite3.connect(
        f"{path.resolve().as_uri()}?{_QUERY[access]}",
        uri=True,
        timeout=wait_s,
        isolation_level=None,
        check_same_thread=False,
    )
    try:
        keys = f"PRAGMA foreign_keys={'ON' if foreign_keys else 'OFF'}"
        for pragma in (keys, *_EACH, f"PRAGMA busy_timeout={round(wait_s * 1000)}"):
            connection.execute(pragma)
        for pragma in _TO_WRITE if access == "rw" else ():
            connection.execute(pragma)
    except BaseException:
        connection.close()
        raise
    return connection


def make_engine(
    path: Path, access: Access = "rw", wait_s: float = WAIT_S, foreign_keys: bool = True
) -> Engine:
    """An engine on the file; its connections begin when we say so.

    The driver's own BEGIN is switched off, because it comes late (at the first INSERT, not before a
    SELECT) and leaves CREATE TABLE outside. A transaction that reads is a snapshot; one of `writer`
    takes the right to write at once, so that what it read cannot change before it writes.
    """
    engine = create_engine(
        "sqlite+pysqlite://",
        creator=lambda: connect(path, access, wait_s, foreign_keys),
        poolclass=QueuePool,
    )
    event.listen(engine, "begin", _begin)
    return engine


def _begin(connection: Connection) -> None:
    writes = connection.get_execution_options().get(_WRITES, False)
    connection.exec_driver_sql("BEGIN IMMEDIATE" if writes else "BEGIN")


def writer(engine: Engine) -> Engine:
    """The same connections, on which every transaction begins as one that writes."""
    return engine.execution_options(**{_WRITES: True})
