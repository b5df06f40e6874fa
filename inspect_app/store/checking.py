"""Look over a whole shop file: SQLite's own checks, ours, and every hash."""

import hashlib
from collections.abc import Iterator
from pathlib import Path

from pydantic import ValidationError
from sqlalchemy import Connection, select

from inspect_app.model.core import Core
from inspect_app.model.problems import Problem
from inspect_app.model.sheet import EngineSheet

from . import tables
from .file import ShopFile
from .guards import existing, wanted
from .texts import digest_of, item_of

_ADVICE = "Keep this file as it is, and restore the latest backup beside it."


def check_shop_file(shop: ShopFile, hashes: bool = True) -> list[Problem]:
    """Everything wrong in the file; [] when it is sound.

    `hashes` reads the bytes of every photo too: about a second for each gigabyte.
    """
    with shop.reading() as connection:
        found = [*_sqlite_problems(shop.path, connection), *_guard_problems(shop.path, connection)]
        found += [
            *_record_problems(connection),
            *_evidence_problems(connection),
            *_photo_problems(connection),
        ]
        if hashes:
            found += _hash_problems(connection)
    return found


def _sqlite_problems(path: Path, connection: Connection) -> Iterator[Problem]:
    for (line,) in connection.exec_driver_sql("PRAGMA integrity_check"):
        if line != "ok":
            yield Problem(str(path), f"SQLite finds it damaged: {line}.", _ADVICE)
    for row in connection.exec_driver_sql("PRAGMA foreign_key_check"):
        what = f"row {row[1]} of {row[0]} refers to a row of {row[2]} that is not there."
        yield Problem(str(path), what, _ADVICE)


def _guard_problems(path: Path, connection: Connection) -> Iterator[Problem]:
    there, must = existing(connection), wanted(connection)
    for name in sorted({*there, *must}):
        if there.get(name) != must.get(name):
            state = "missing" if name not in there else "changed" if name in must else "not ours"
            yield Problem(str(path), f'the guard "{name}" of its tables is {state}.', _ADVICE)


def _record_problems(connection: Connection) -> Iterator[Problem]:
    column = tables.record.c
    query = select(column.number, column.core, column.digest, column.body, column.sheet)
    for row in connection.execute(query):
        here = f'core "{row.core}", record {row.number}'
        try:
            sound = Core.model_validate_json(row.body).id == row.core
            EngineSheet.model_validate_json(row.sheet)
        except ValidationError:
            sound = False
        if not sound or digest_of(row.body, row.sheet) != row.digest:
            yield Problem(here, "it does not hold what was written.", _ADVICE)


def _evidence_problems(connection: Connection) -> Iterator[Problem]:
    column = tables.evidence.c
    for row in connection.execute(select(column.core, column.id, column.kind, column.digest, column.body)):
        try:
            item = item_of(row.body)
            sound = (item.id, item.kind, digest_of(row.body)) == (row.id, row.kind, row.digest)
        except ValidationError:
            sound = False
        if not sound:
            here = f'core "{row.core}", evidence {row.id}'
            yield Problem(here, "it does not hold what was written.", _ADVICE)


def _photo_problems(connection: Connection) -> Iterator[Problem]:
    evidence, photo = tables.evidence.c, tables.photo.c
    query = (
        select(evidence.core, evidence.id)
        .outerjoin(tables.photo, photo.evidence == evidence.number)
        .where(evidence.kind == "photo", photo.evidence.is_(None))
    )
    for row in connection.execute(query):
        yield Problem(f'core "{row.core}", evidence {row.id}', "its picture is not in the file.", _ADVICE)


def _hash_problems(connection: Connection) -> Iterator[Problem]:
    column = tables.file_bytes.c
    for sha256 in connection.execute(select(column.sha256)).scalars().all():
        content = connection.execute(select(column.bytes).where(column.sha256 == sha256)).scalar_one()
        if hashlib.sha256(content).hexdigest() != sha256:
            here = f"file with the SHA-256 {sha256[:12]}..."
            yield Problem(here, "its bytes are not those that were kept.", _ADVICE)
