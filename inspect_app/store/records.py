"""Records of cores, each change a new one that names what it follows. Nothing is overwritten.

A record that no other follows stands. Two standing records are a conflict that somebody settles by a
record that follows both; until then the one at the later stage counts, then the one with the larger
digest, so that shop files with the same content agree whatever came first.
"""

from collections.abc import Iterable
from dataclasses import dataclass
from typing import get_args

from sqlalchemy import Connection, exists, insert, select

from inspect_app.model.core import Core
from inspect_app.model.frozen import Stage
from inspect_app.model.sheet import EngineSheet

from . import tables
from .texts import digest_of, now, record_text, sheet_text

_STAGES = get_args(Stage)


@dataclass(frozen=True)
class Record:
    """One record of a core as it was written; `core` is without evidence and photos."""

    number: int
    who: str
    written: str
    core: Core
    sheet: EngineSheet


@dataclass(frozen=True)
class Head:
    """A standing record without its text: enough to say which counts."""

    number: int
    core: str
    title: str
    stage: str
    digest: str


def heads(connection: Connection, core_id: str | None = None) -> dict[str, list[Head]]:
    """The standing records of one core, or of all: by core, the one that counts first."""
    record, follows = tables.record.c, tables.record_follows.c
    query = select(record.number, record.core, record.title, record.stage, record.digest).where(
        ~exists(select(follows.follows).where(follows.follows == record.number))
    )
    if core_id is not None:
        query = query.where(record.core == core_id)
    found: dict[str, list[Head]] = {}
    for row in connection.execute(query):
        found.setdefault(row.core, []).append(Head(*row))
    return {core: sorted(standing, key=_weight, reverse=True) for core, standing in found.items()}


def _weight(head: Head) -> tuple[int, str, int]:
    return _STAGES.index(head.stage), head.digest, head.number


def record_at(connection: Connection, number: int) -> Record:
    """One record by its number."""
    column = tables.record.c
    row = connection.execute(
        select(column.number, column.who, column.written, column.body, column.sheet).where(
            column.number == number
        )
    ).one()
    core = Core.model_validate_json(row.body)
    return Record(row.number, row.who, row.written, core, EngineSheet.model_validate_json(row.sheet))


def is_held(connection: Connection, core: Core, sheet: EngineSheet) -> bool:
    """Whether this very record was written of the core at any time."""
    column = tables.record.c
    digest = digest_of(record_text(core), sheet_text(sheet))
    query = select(column.number).where(column.core == core.id, column.digest == digest)
    return connection.execute(query).first() is not None


def write_record(
    connection: Connection, core: Core, sheet: EngineSheet, who: str, follows: Iterable[int]
) -> int:
    """Add a record that follows others; its number."""
    body, rows = record_text(core), sheet_text(sheet)
    number: int = connection.execute(
        insert(tables.record)
        .values(
            core=core.id,
            title=core.title,
            stage=core.stage,
            digest=digest_of(body, rows),
            body=body,
            sheet=rows,
            who=who,
            written=now(),
        )
        .returning(tables.record.c.number)
    ).scalar_one()
    for before in sorted(set(follows)):
        connection.execute(insert(tables.record_follows).values(record=number, follows=before))
    return number
