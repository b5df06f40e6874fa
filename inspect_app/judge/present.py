"""Which piece sits in each position now, which sat there before, and what the rules say of each."""

from inspect_app.closing.piece_state import PieceState, piece_state
from inspect_app.model.core import Core
from inspect_app.model.evidence import Evidence
from inspect_app.model.pieces import Piece
from inspect_app.rulebook.check_core import pieces_of
from inspect_app.rulebook.engine import Engine, Position


def states(
    core: Core, engine: Engine, items: tuple[Evidence, ...]
) -> tuple[dict[str, PieceState], dict[str, list[PieceState]]]:
    """The state of the piece that sits in each position, and of the pieces that sat there before."""
    by_position: dict[str, list[Piece]] = {}
    for piece in pieces_of(engine, core).values():
        by_position.setdefault(piece.position, []).append(piece)
    present, former = {}, {}
    around = {id_: sitting(by_position[id_]) for id_ in engine.positions}
    for id_, position in engine.positions.items():
        now = around[id_]
        there = now.id != id_ or (now.sits and _came_with(core, engine, position))
        present[id_] = piece_state(engine, position, now, items, core.build_standard, there, around)
        before = [piece for piece in by_position[id_] if piece is not now]
        standard = core.build_standard
        former[id_] = [piece_state(engine, position, p, items, standard, sitting=around) for p in before]
    return present, former


def _came_with(core: Core, engine: Engine, position: Position) -> bool:
    """Whether the part came with the core: by its own entry, else by what such a core contains."""
    said = core.record.parts.get(position.id)
    if said is not None or core.record.content == "complete":
        return said in (None, "there")
    listed = engine.book.pack.contents.get(core.record.content)
    return listed is None or position.part in listed


def sitting(pieces: list[Piece]) -> Piece:
    """The piece that sits there now: one that was put in, else the one that came with the core."""
    put_in = [piece for piece in pieces if piece.sits and piece.id != piece.position]
    own = next(piece for piece in pieces if piece.id == piece.position)
    return put_in[0] if put_in else own
