"""The rack: one short row for each core, read from the kept judgements alone."""

import json
from dataclasses import dataclass
from typing import Any

from sqlalchemy import Connection, func, select

from inspect_app.rulebook.book import Rulebook

from . import tables
from .file import ShopFile
from .judgements import JudgedBy, judged_by
from .records import Head, heads


@dataclass(frozen=True)
class RackRow:
    """What the rack shows of a core.

    `fresh` is False where evidence, record, rules or prices have changed since it was judged, and where
    it never was: the rest is then of the last judgement, or empty. `records` above 1 is a conflict of
    records. `problem` says in words why a core cannot be judged.
    """

    id: str
    title: str
    stage: str
    records: int
    fresh: bool
    verdict: str | None = None
    standing: str | None = None
    waits_for: str | None = None
    cost_likely: float | None = None
    currency: str | None = None
    not_judged: int = 0
    problem: str | None = None


def rack(shop: ShopFile, book: Rulebook) -> tuple[RackRow, ...]:
    """Every core by id, as last judged. Judges nothing: `judge_core` brings a row up to date."""
    by = judged_by(book)
    with shop.reading() as connection:
        standing = heads(connection)
        revisions = _revisions(connection)
        judged = {row.core: row for row in connection.execute(_SUMMARY)}
    return tuple(
        _row(heads_of, revisions.get(core, 0), judged.get(core), by)
        for core, heads_of in sorted(standing.items())
    )


_SUMMARY = select(*(column for column in tables.judgement.c if column.name != "answer"))


def _revisions(connection: Connection) -> dict[str, int]:
    column = tables.evidence.c
    rows = connection.execute(select(column.core, func.max(column.number)).group_by(column.core))
    return {row[0]: row[1] for row in rows}


def _row(standing: list[Head], revision: int, judged: Any, by: JudgedBy) -> RackRow:
    head = standing[0]
    known = {"id": head.core, "title": head.title, "stage": head.stage, "records": len(standing)}
    if judged is None:
        return RackRow(**known, fresh=False)  # type: ignore[arg-type]
    key = (judged.record, judged.evidence, judged.rulebook, judged.prices)
    told = json.loads(judged.problems) if judged.problems else None
    return RackRow(
        **known,  # type: ignore[arg-type]
        fresh=key == (head.number, revision, by.rulebook, by.prices),
        verdict=judged.verdict,
        standing=judged.standing,
        waits_for=judged.waits_for,
        cost_likely=judged.cost_likely,
        currency=judged.currency,
        not_judged=judged.not_judged,
        problem="\n".join(f"{where}: {what} {advice}" for where, what, advice in told) if told else None,
    )
