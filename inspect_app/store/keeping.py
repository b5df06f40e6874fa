"""The bytes of files, each kept once under its SHA-256."""

import hashlib
from collections.abc import Iterable

from sqlalchemy import Connection, insert, select

from . import tables


def keep_files(connection: Connection, contents: Iterable[bytes]) -> list[str]:
    """Keep the bytes of each file that is not held yet; their SHA-256 in hexadecimal."""
    return [_keep(connection, content) for content in contents]


def _keep(connection: Connection, content: bytes) -> str:
    sha256 = hashlib.sha256(content).hexdigest()
    if not holds(connection, sha256):
        row = {"sha256": sha256, "size": len(content), "bytes": content}
        connection.execute(insert(tables.file_bytes).values(row))
    return sha256


def holds(connection: Connection, sha256: str) -> bool:
    """Whether the bytes with this SHA-256 are held."""
    column = tables.file_bytes.c
    return connection.execute(select(column.size).where(column.sha256 == sha256)).first() is not None


def size_of(connection: Connection, sha256: str) -> int:
    """How many bytes the file with this SHA-256 has."""
    column = tables.file_bytes.c
    return int(connection.execute(select(column.size).where(column.sha256 == sha256)).scalar_one())


def content_of(connection: Connection, sha256: str) -> bytes:
    """The bytes with this SHA-256, which must be held."""
    column = tables.file_bytes.c
    return bytes(connection.execute(select(column.bytes).where(column.sha256 == sha256)).scalar_one())
