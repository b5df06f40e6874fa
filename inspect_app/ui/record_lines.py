"""The record of a part: every item ever entered about it, with what became of it."""

from collections.abc import Sequence
from dataclasses import dataclass

from inspect_app.model.answer import LeftOut
from inspect_app.model.evidence import Evidence, OnPiece, Withdrawal
from inspect_app.rulebook.check_core import pieces_of
from inspect_app.ui import item_words, words
from inspect_app.ui.part_page_at import AtPart


@dataclass(frozen=True)
class Line:
    """One item with its number in the core's record, whether it counts, and what became of it."""

    number: int
    item: Evidence
    counts: bool
    fate: tuple[str, ...]


def record(at: AtPart) -> list[Line]:
    """Every item about a piece that sits or sat here, newest first; withdrawals stand with theirs."""
    pieces = pieces_of(at.engine, at.core)
    here = {piece.id for piece in pieces.values() if piece.position == at.position}
    counting = {item.id for item in at.counting}
    fates = _fates(at)
    for one in _left_out(at):
        fates.setdefault(one.evidence, []).append(f"Does not count: {one.why}.")
    found = [
        Line(number, item, item.id in counting, tuple(fates.get(item.id, ())))
        for number, item in enumerate(at.core.evidence, 1)
        if isinstance(item, OnPiece) and item.piece in here
    ]
    return found[::-1]


def _left_out(at: AtPart) -> tuple[LeftOut, ...]:
    """What the answer says of looks and tests of this part that do not count."""
    parts = at.slot.answer.parts if at.slot.answer else ()
    return next((part.left_out for part in parts if part.position == at.position), ())


def numbers(items: Sequence[Evidence]) -> dict[str, int]:
    """The number of each item in the record of its core, from 1."""
    return {item.id: number for number, item in enumerate(items, 1)}


def called(at: AtPart, id_: str) -> str:
    """An item by its kind and number: "finding 21"."""
    number = numbers(at.core.evidence)[id_]
    return f"{item_words.kind(at.core.evidence[number - 1])} {number}"


def _fates(at: AtPart) -> dict[str, list[str]]:
    """What became of each item: who withdrew it and why, what corrects it, oldest first."""
    number = numbers(at.core.evidence)
    taken_back = {item.of for item in at.core.evidence if isinstance(item, Withdrawal)}
    fates: dict[str, list[str]] = {}
    for item in at.core.evidence:
        if isinstance(item, Withdrawal):
            again = " This withdrawal was taken back." if item.id in taken_back else ""
            said = f"Withdrawn by {item_words.told_by(item)}: {words.sentence(item.reason)}{again}"
            fates.setdefault(item.of, []).append(said)
        elif item.supersedes:
            said = f"Corrected by {item_words.kind(item)} {number[item.id]}, {item_words.told_by(item)}."
            fates.setdefault(item.supersedes, []).append(said)
    return fates


def about(at: AtPart, line: Line) -> str:
    """Who says it, when, in which state, and of which piece where another sits here now."""
    other = ""
    if isinstance(line.item, OnPiece) and line.item.piece != at.piece.id:
        other = f", about piece {line.item.piece}, which sat here before"
    return f"{item_words.told_by(line.item, item_words.state(line.item))}{other}"
