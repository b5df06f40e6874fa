"""The sound inline-six with readings, findings and answers of one piece changed, judged as a whole."""

from collections.abc import Iterable, Mapping
from typing import Any

from inspect_app.judge import judge
from inspect_app.model.answer import PartAnswer
from inspect_app.model.evidence import Evidence, Finding, Reading, Sign
from inspect_app.model.pieces import OperationDone, Piece
from inspect_app.rulebook.engine import Engine
from tests.judge import six
from tests.reference.support import part_at

EVERYTHING = [*six.looks_and_tests(), *six.readings()]


def hits(item: Evidence, piece: str, quantity: str, at: Mapping[str, str]) -> bool:
    """Whether an item is a reading of this quantity at these slots."""
    return (
        isinstance(item, Reading)
        and (item.piece, item.quantity) == (piece, quantity)
        and all(getattr(item, name) == text for name, text in at.items())
    )


def read(items: Iterable[Evidence], piece: str, quantity: str, value: str, **at: str) -> list[Evidence]:
    """The items with every reading of a quantity, or those at a slot, at this size."""
    return [
        item.model_copy(update={"value": value}) if hits(item, piece, quantity, at) else item
        for item in items
    ]


def unread(items: Iterable[Evidence], piece: str, quantity: str, **at: str) -> list[Evidence]:
    """The items without the readings of a quantity, or those at a slot."""
    return [item for item in items if not hits(item, piece, quantity, at)]


def seen(piece: str, damage: str, place: str) -> Finding:
    fields = {"id": f"{damage} at {place}", "damage": damage, "place": place, "strength": "seen"}
    return Finding.model_validate({**six.COMMON, "piece": piece, **fields})


def told(piece: str, sign: str, answer: str) -> Sign:
    return Sign.model_validate({**six.COMMON, "id": sign, "piece": piece, "sign": sign, "answer": answer})


def judged(
    position: str,
    items: Iterable[Evidence],
    rows: Mapping[str, Any] | None = None,
    standard: str = "rebuild",
    **changes: Any,
) -> PartAnswer:
    """One position of the six with this evidence, these rows added to its sheet, to this standard."""
    whole = six.sheet().model_dump()["quantities"] | dict(rows or {})
    engine = Engine(six.book(), six.sheet(quantities=whole, **changes))
    return part_at(judge(six.core(list(items), build_standard=standard), engine), position)


def asked(part: PartAnswer) -> set[tuple[str, str]]:
    """What is missing, and where."""
    return {(point.what, point.place) for point in part.open_points}


def after(
    position: str,
    operation: str,
    place: str,
    items: Iterable[Evidence],
    rows: Mapping[str, Any] | None = None,
) -> PartAnswer:
    """The position once this work was done on its piece at a place, all evidence being from before."""
    piece = next((p for p in six.pieces() if p.position == position), Piece(id=position, position=position))
    done = OperationDone(operation=operation, places=(place,))
    worked = piece.model_copy(update={"operations": (done,)})
    others = tuple(p for p in six.pieces() if p.position != position)
    whole = six.sheet().model_dump()["quantities"] | dict(rows or {})
    core = six.core(list(items), pieces=(*others, worked))
    return part_at(judge(core, Engine(six.book(), six.sheet(quantities=whole))), position)
