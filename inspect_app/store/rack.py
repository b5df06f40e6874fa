"""The rack: one short row for each core, read from the kept judgements alone."""

import json
from collections.abc import Mapping
from dataclasses import dataclass, replace
from functools import lru_cache
from typing import Any, NamedTuple, cast

from sqlalchemy import Connection, func, select

from inspect_app.model.answer import Answer
from inspect_app.model.frozen import CoreChoice, Spread, Stage, Standing, Verdict
from inspect_app.rulebook.book import Rulebook

from . import tables
from .file import ShopFile
from .judgements import JudgedBy, judged_by, shown_of
from .records import Head, heads


class Counted(NamedTuple):
    """How many parts have a verdict and standing; both are None for parts that are not judged."""

    verdict: Verdict | None
    standing: Standing | None
    parts: int


@dataclass(frozen=True)
class RackRow:
    """What the rack shows of a core.

    `fresh` is False where evidence, record, rules or prices have changed since it was judged, and where
    it never was: the rest is then of the last judgement, or empty. `records` above 1 is a conflict of
    records. `problem` says in words why a core cannot be judged. `record` and `revision` number what it
    is known by now; the revision grows with every item of evidence in the file, 0 without any.
    `waits_by` is the kind of entry that brings what it waits for. `money` is what the choice that was
    made leaves, None where none was made or a figure is missing; amounts are in `currency`.
    """

    id: str
    title: str
    stage: Stage
    records: int
    fresh: bool
    verdict: CoreChoice | None = None
    standing: Standing | None = None
    waits_for: str | None = None
    cost_likely: float | None = None
    currency: str | None = None
    not_judged: int = 0
    problem: str | None = None
    record: int = 0
    revision: int = 0
    judged: bool = False
    waits_by: str | None = None
    sheet_title: str = ""
    parts: tuple[Counted, ...] = ()
    money: Spread | None = None


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


def row_judged(row: RackRow, answer: Answer) -> RackRow:
    """The row as it is once its core was judged, also where the judgement could not be kept."""
    return _with(row, shown_of(answer), fresh=True)


_SUMMARY = select(*(column for column in tables.judgement.c if column.name != "answer"))


def _revisions(connection: Connection) -> dict[str, int]:
    column = tables.evidence.c
    rows = connection.execute(select(column.core, func.max(column.number)).group_by(column.core))
    return {row[0]: row[1] for row in rows}


def _row(standing: list[Head], revision: int, judged: Any, by: JudgedBy) -> RackRow:
    head = standing[0]
    stage = cast(Stage, head.stage)
    row = RackRow(
        head.core, head.title, stage, len(standing), fresh=False, record=head.number, revision=revision
    )
    if judged is None:
        return row
    key = (judged.record, judged.evidence, judged.rulebook, judged.prices)
    return _with(row, judged._mapping, key == (head.number, revision, by.rulebook, by.prices))


def _with(row: RackRow, shown: Mapping[str, Any], fresh: bool) -> RackRow:
    problems = shown.get("problems")
    told = json.loads(problems) if problems else None
    return replace(
        row,
        fresh=fresh,
        judged=True,
        verdict=shown.get("verdict"),
        standing=shown.get("standing"),
        waits_for=shown.get("waits_for"),
        waits_by=shown.get("waits_by"),
        cost_likely=shown.get("cost_likely"),
        currency=shown.get("currency"),
        not_judged=shown["not_judged"],
        sheet_title=shown.get("sheet_title") or "",
        parts=_counts(shown.get("parts") or "[]"),
        money=_money(shown),
        problem="\n".join(f"{where}: {what} {advice}" for where, what, advice in told) if told else None,
    )


@lru_cache(maxsize=1024)
def _counts(text: str) -> tuple[Counted, ...]:
    """Few counts differ among thousands of cores."""
    return tuple(Counted(*counted) for counted in json.loads(text))


def _money(shown: Mapping[str, Any]) -> Spread | None:
    low = shown.get("money_low")
    if low is None:
        return None
    ends = {end: shown[f"money_{end}"] for end in ("likely", "high", "mean")}
    return Spread.model_construct(low=low, **ends)
