"""Changes to the pieces of a core: what is stamped on one, what work was done on it, another in its place."""

from typing import Any

from inspect_app.model.core import Core
from inspect_app.model.pieces import Mark, OperationDone, Origin, Piece
from inspect_app.rulebook.engine import Engine


def with_piece(core: Core, piece: Piece) -> Core:
    """The core with this piece in the place of the one with its id, or beside the others."""
    others = tuple(one for one in core.pieces if one.id != piece.id)
    at = next((at for at, one in enumerate(core.pieces) if one.id == piece.id), len(others))
    return core.model_copy(update={"pieces": (*others[:at], piece, *others[at:])})


def described(piece: Piece, kind: str | None, material: str | None) -> Piece:
    """The piece with its kind and material; None leaves them to the engine sheet."""
    return piece.model_copy(update={"kind": kind, "material": material})


def stamped(piece: Piece, mark: Mark) -> Piece:
    """The piece with one more mark."""
    return piece.model_copy(update={"marks": (*piece.marks, mark)})


def without_mark(piece: Piece, number: int) -> Piece:
    """The piece without the mark at this place in their list, from 0."""
    return piece.model_copy(update={"marks": piece.marks[:number] + piece.marks[number + 1 :]})


def worked(piece: Piece, done: OperationDone) -> Piece:
    """The piece after one more operation: its state "after n" begins with it."""
    return piece.model_copy(update={"operations": (*piece.operations, done)})


def replaced(core: Core, old: Piece, id: str, origin: Origin, kind: str | None, since: str) -> Core:
    """The core in which another piece sits, since an ISO date, where `old` sat, whose record stays with it.

    Raises ValueError if the new id is not one, as pydantic says.
    """
    gone = with_piece(core, old.model_copy(update={"sits": False}))
    fields: dict[str, Any] = {
        "id": id,
        "position": old.position,
        "origin": origin,
        "kind": kind,
        "since": since,
    }
    return gone.model_copy(update={"pieces": (*gone.pieces, Piece(**fields))})


def free_id(core: Core, engine: Engine, position: str) -> str:
    """An id for another piece in a position: "crankshaft, second"; no piece or position has it."""
    taken = {piece.id for piece in core.pieces} | set(engine.positions)
    names = (f"{position}, piece {number}" for number in range(2, len(taken) + 3))
    return next(name for name in names if name not in taken)


def work_of(engine: Engine, part: str) -> dict[str, str]:
    """The operations that a way of this part uses, or no part's ways, by id with their titles."""
    does: dict[str, set[str]] = {}
    for form in engine.book.parts.values():
        for concern in form.concern:
            for way in (*concern.rungs(), *([concern.exception] if concern.exception else [])):
                for operation in way.does:
                    does.setdefault(operation, set()).add(form.id)
    operations = engine.book.operations
    return {name: form.title for name, form in operations.items() if part in does.get(name, {part})}
