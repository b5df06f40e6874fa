"""The latest judgement of each core, kept until its evidence, record, rules or prices change.

Everything here can be dropped at any time and is made again when asked for.
"""

import hashlib
import json
from collections import Counter
from dataclasses import dataclass, field
from typing import Any

from sqlalchemy import Connection, delete, insert, select

from inspect_app import __version__
from inspect_app.judge import judge
from inspect_app.model.answer import Answer
from inspect_app.model.problems import Problem, Problems
from inspect_app.rulebook.book import Rulebook
from inspect_app.rulebook.engine import Engine

from . import tables
from .cores import HeldCore, read_held, revision_of
from .file import ShopFile
from .records import heads
from .words import Busy, DiskFull, DiskTrouble, ReadOnly


@dataclass(frozen=True)
class JudgedBy:
    """What a judgement depends on besides the core: the program with its rules, and the prices."""

    rulebook: str
    prices: str


@dataclass(frozen=True)
class _Made:
    """A judgement as it was made: an answer, or the problems for which there is none."""

    record: int
    evidence: int
    answer: Answer | None = None
    problems: tuple[Problem, ...] = field(default=())

    def result(self) -> Answer:
        if self.answer is None:
            raise Problems(self.problems)
        return self.answer


def judged_by(book: Rulebook) -> JudgedBy:
    """The hashes under which judgements by this rulebook are kept."""
    total = hashlib.sha256(f"{__version__}\0{book.sha256}".encode())
    for overlay in book.overlays:
        total.update(f"\0{overlay.id}\0{overlay.sha256}".encode())
    return JudgedBy(total.hexdigest(), book.prices_sha256)


def judge_core(shop: ShopFile, book: Rulebook, core_id: str) -> Answer:
    """The Answer about a core, from the file if nothing has changed since, else judged and kept.

    Raises Problems when the core cannot be judged. A file that cannot be written stops no judging.
    """
    by = judged_by(book)
    with shop.reading() as connection:
        made = _kept(connection, core_id, by)
        held = None if made else read_held(connection, core_id)
    if held is not None:
        made = _judge(held, book)
        _keep(shop, core_id, by, made)
    assert made is not None
    return made.result()


def drop_judgements(shop: ShopFile) -> None:
    """Forget every judgement."""
    with shop.writing() as connection:
        connection.execute(delete(tables.judgement))


def _judge(held: HeldCore, book: Rulebook) -> _Made:
    try:
        answer = judge(held.core, Engine(book, held.sheet))
    except Problems as problems:
        return _Made(held.records[0], held.revision, problems=problems.items)
    return _Made(held.records[0], held.revision, answer)


def _kept(connection: Connection, core_id: str, by: JudgedBy) -> _Made | None:
    standing = heads(connection, core_id).get(core_id)
    column = tables.judgement.c
    row = connection.execute(
        select(column.record, column.evidence, column.answer, column.problems).where(
            column.core == core_id, column.rulebook == by.rulebook, column.prices == by.prices
        )
    ).first()
    now = (standing[0].number, revision_of(connection, core_id)) if standing else None
    if row is None or (row.record, row.evidence) != now:
        return None
    if row.answer is None:
        problems = tuple(Problem(*problem) for problem in json.loads(row.problems))
        return _Made(row.record, row.evidence, problems=problems)
    return _Made(row.record, row.evidence, Answer.model_validate_json(row.answer))


def _keep(shop: ShopFile, core_id: str, by: JudgedBy, made: _Made) -> None:
    try:
        with shop.writing() as connection:
            if revision_of(connection, core_id) == made.evidence:
                connection.execute(delete(tables.judgement).where(tables.judgement.c.core == core_id))
                connection.execute(insert(tables.judgement).values(_row(core_id, by, made)))
    except (ReadOnly, Busy, DiskFull, DiskTrouble):
        return


def _row(core_id: str, by: JudgedBy, made: _Made) -> dict[str, Any]:
    key = {"core": core_id, "record": made.record, "evidence": made.evidence}
    key |= {"rulebook": by.rulebook, "prices": by.prices}
    if made.answer is None:
        told = [[problem.where, problem.what, problem.advice] for problem in made.problems]
        return key | {"not_judged": 0, "problems": json.dumps(told, ensure_ascii=False)}
    return key | shown_of(made.answer) | {"answer": made.answer.model_dump_json()}


def shown_of(answer: Answer) -> dict[str, Any]:
    """What the rack shows of an answer, by the columns of the table of judgements."""
    core = answer.core
    counted = Counter((part.verdict, part.standing) for part in answer.parts)
    left = next((c.value for c in answer.choices if c.choice == core.verdict), None)
    money = {f"money_{end}": getattr(left, end) for end in ("low", "likely", "high", "mean")} if left else {}
    return money | {
        "verdict": core.verdict,
        "standing": core.standing,
        "waits_for": core.waits_for,
        "waits_by": _waits_by(answer),
        "cost_likely": core.cost.likely,
        "currency": answer.currency,
        "not_judged": len(core.not_judged),
        "sheet_title": answer.sheet.title if answer.sheet else None,
        "parts": json.dumps([[verdict, standing, n] for (verdict, standing), n in counted.items()]),
    }


def _waits_by(answer: Answer) -> str | None:
    """The kind of entry that brings what the core waits for; None where no open point says it."""
    waits_for = answer.core.waits_for or ""
    points = (point for part in answer.parts for point in part.open_points)
    return next((p.enter.by for p in points if p.enter is not None and p.what in waits_for), None)
