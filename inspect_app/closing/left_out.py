"""Looks and tests that were entered and do not count, or no longer count everywhere, each with why."""

from collections.abc import Iterator

from inspect_app.model.answer import LeftOut
from inspect_app.model.evidence import Look, Test
from inspect_app.model.pieces import state_rank
from inspect_app.model.places import Place, parse_place
from inspect_app.rulebook.forms_rules import MethodForm

from .piece_evidence import PieceEvidence
from .words import places_words


def left_out(evidence: PieceEvidence) -> Iterator[LeftOut]:
    """Every look and test of the piece that says less than it seems to, in the order they were made.

    A test that came to no answer is not among them: it says so itself.
    """
    for item in evidence.items:
        if isinstance(item, Look | Test) and (why := "; ".join(_why(evidence, item))):
            yield LeftOut(
                evidence=item.id, kind=item.kind, who=item.who, when=item.when, places=item.places, why=why
            )


def _why(evidence: PieceEvidence, item: Look | Test) -> Iterator[str]:
    method, rank = evidence.engine.book.methods[item.method], state_rank(item.state)
    if evidence.suits(method, rank) and (isinstance(item, Test) or item.lit):
        yield from _ended(evidence, item, rank)
        return
    if method.washed and rank == 0:
        yield "not washed"
    if isinstance(item, Look) and not item.lit:
        yield "in poor light"
    if not evidence.on_material(method):
        yield _unsuited(evidence, method)


def _unsuited(evidence: PieceEvidence, method: MethodForm) -> str:
    if evidence.material is None:
        return f"the engine sheet does not name the material, and no {method.title} suits all"
    return f"no {method.title} shows anything on {evidence.material}"


def _ended(evidence: PieceEvidence, item: Look | Test, rank: int) -> Iterator[str]:
    """What work on the piece since then took from what a look or test had shown."""
    if not evidence.piece.operations:
        return
    engine, part = evidence.engine, evidence.position.part
    settled = [word for word, form in engine.book.damage.items() if item.method in form.settled_by]
    at: dict[tuple[str, tuple[str, ...]], list[Place]] = {}
    for leaf in _leaves(evidence, item):
        words = {w: found for w in settled if (found := evidence.history.ended_by(w, leaf, rank))}
        if words:
            at.setdefault((next(iter(words.values())), tuple(words)), []).append(leaf)
    for (work, words_ended), leaves in at.items():
        where = places_words(engine, part, leaves)
        yield f"no longer for {', '.join(words_ended)} at {where}, since this work was done: {work}"


def _leaves(evidence: PieceEvidence, item: Look | Test) -> Iterator[Place]:
    engine, part = evidence.engine, evidence.position.part
    patterns = [parse_place(text) for text in item.places]
    for form in engine.book.parts[part].places:
        for place in engine.places(part, form.kind):
            for zone in engine.leaves(part, form.kind):
                leaf = Place(place.kind, place.index, zone)
                if any(pattern.covers(leaf) for pattern in patterns):
                    yield leaf
