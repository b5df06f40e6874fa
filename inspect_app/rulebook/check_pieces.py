"""Checks of a core's pieces: positions, kinds, work done on them, marks."""

from collections import Counter
from collections.abc import Iterator

from inspect_app.model.core import Core
from inspect_app.model.pieces import Piece
from inspect_app.model.problems import Problem
from inspect_app.model.units import size

from .check_places import place_problems
from .check_sheet import materials_of, use_one_of
from .engine import Engine
from .sizes import size_problem


def piece_problems(engine: Engine, core: Core) -> Iterator[Problem]:
    """Everything wrong with the pieces and with the positions that the record names."""
    for position, state in core.record.parts.items():
        if position not in engine.positions:
            what = f'"{position}" ({state}) is no position of this engine.'
            yield Problem("record.parts", what, use_one_of(engine.positions))
    ids = Counter(piece.id for piece in core.pieces)
    sitting = Counter(piece.position for piece in core.pieces if piece.sits and piece.id != piece.position)
    for piece in core.pieces:
        here = f"piece {piece.id}"
        if ids[piece.id] > 1:
            yield Problem(here, "this id is used twice.", "Give each piece its own.")
        if piece.position not in engine.positions:
            what = f'"{piece.position}" is no position of this engine.'
            yield Problem(here, what, use_one_of(engine.positions))
            continue
        if piece.id != piece.position and piece.id in engine.positions:
            what = f"this is the id of the piece that came in {piece.id}, not in {piece.position}."
            yield Problem(here, what, "Give it an id of its own.")
        if sitting[piece.position] > 1:
            what = f"two pieces sit in {piece.position}."
            yield Problem(here, what, 'Write "sits": false on the one that was taken out.')
        yield from _kind_problems(engine, piece, here)
        yield from _material_problems(engine, piece, here)
        yield from _work_problems(engine, piece, here)


def _kind_problems(engine: Engine, piece: Piece, here: str) -> Iterator[Problem]:
    kinds = engine.sheet.kinds.get(engine.positions[piece.position].part)
    known = (kinds.fitted, *kinds.others) if kinds else ()
    if piece.kind is not None and piece.kind not in known:
        what = f'"{piece.kind}" is no kind of {piece.position} on the engine sheet.'
        yield Problem(
            here, what, use_one_of(known) if known else "List it there under kinds, or leave it out."
        )


def _material_problems(engine: Engine, piece: Piece, here: str) -> Iterator[Problem]:
    known = materials_of(engine.book)
    if piece.material is not None and piece.material not in known:
        what = f'"{piece.material}" is no material that a test of this pack suits.'
        yield Problem(here, what, use_one_of(known))


def _work_problems(engine: Engine, piece: Piece, here: str) -> Iterator[Problem]:
    position = engine.positions[piece.position]
    for done in piece.operations:
        if done.operation not in engine.book.operations:
            what = f'"{done.operation}" is no operation of this rulebook.'
            yield Problem(here, what, use_one_of(engine.book.operations))
        elif not _done_on(engine, position.part, done.operation):
            what = f'"{done.operation}" is not done on {position.title.lower()}.'
            yield Problem(here, what, "Record it on the piece it was done on.")
        for text in done.places:
            yield from place_problems(engine, position, text, f"{here}, operation {done.operation}", True)
        if done.size is not None:
            yield from _step_problems(here, f"operation {done.operation}, size", done.size)
    for mark in piece.marks:
        yield from place_problems(engine, position, mark.place, f'{here}, mark "{mark.text}"', True)
        if mark.size is not None:
            yield from _step_problems(here, f'mark "{mark.text}", size', mark.size)
        if mark.quantity is not None and mark.quantity not in {name for name, _ in engine.book.quantities}:
            what = f'"{mark.quantity}" is no quantity of this rulebook.'
            yield Problem(here, what, use_one_of({name for name, _ in engine.book.quantities}))


def _step_problems(here: str, field: str, text: str) -> Iterator[Problem]:
    """A step from standard is an amount towards less metal, oversize and undersize alike."""
    faults = list(size_problem(here, field, text))
    yield from faults
    if not faults and size(text) < 0:
        what = f'"{text}" is negative, and a step from standard says how much metal is gone.'
        yield Problem(f"{here}, {field}", what, "Write an undersize of 0.010 in as it is, without a sign.")


def _done_on(engine: Engine, part: str, operation: str) -> bool:
    """Whether a part's ways use the operation, or no part's do (a wash, say)."""
    users = {
        form.id
        for form in engine.book.parts.values()
        for concern in form.concern
        for way in (*concern.rungs(), *([concern.exception] if concern.exception else []))
        if operation in way.does
    }
    return not users or part in users
