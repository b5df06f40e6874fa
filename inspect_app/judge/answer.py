"""Judge one core: from its record, pieces and evidence to the Answer."""

from inspect_app.closing.ladders import size_rule
from inspect_app.closing.piece_state import PieceState, piece_state
from inspect_app.model.answer import Answer, CoreAnswer, EvidenceCount, PricesUsed, RulebookUsed
from inspect_app.model.core import Core
from inspect_app.model.evidence import Decision, Evidence, standing
from inspect_app.model.pieces import Piece
from inspect_app.model.problems import raise_if_any
from inspect_app.prices.bill import bill_lines, bill_total
from inspect_app.rulebook.check_core import core_problems, pieces_of
from inspect_app.rulebook.engine import Engine, Position

from .choices import Choices
from .costs import asked
from .doubts import Forks
from .joint import Joint
from .parts import Context, part_answer
from .whole import best_alternative, whole


def judge(core: Core, engine: Engine) -> Answer:
    """Everything the rules and prices say of a core. Raises Problems if the core does not fit the engine.

    Pure: the same core, engine and prices give the same answer, whatever the order of evidence.
    """
    raise_if_any(core_problems(engine, core))
    items = standing(core.evidence)
    present, former = states(core, engine, items)
    choices = Choices(engine, present)
    joint = Joint(engine, choices, core.build_standard)
    outcome = joint.outcome({position: state.real for position, state in present.items()})
    context = Context(outcome, Forks(joint, outcome), former, best_alternative(core))
    parts = tuple(part_answer(context, position) for position in present)
    bill = bill_lines(asked(outcome), engine.book.prices)
    cost = bill_total(bill)
    verdict = whole(core, outcome, parts, cost)
    book = engine.book
    return Answer(
        currency=book.price_book.currency,
        rulebook=RulebookUsed(version=book.pack.version, sha256=book.sha256, overlays=book.overlays),
        prices=PricesUsed(title=book.price_book.title, date=book.price_book.date, sha256=book.prices_sha256),
        core=CoreAnswer(
            id=core.id,
            title=core.title,
            stage=core.stage,
            build_standard=core.build_standard,
            evidence=EvidenceCount(count=len(items), last=max((i.when for i in items), default=None)),
            verdict=verdict.verdict,
            standing=verdict.standing,
            why=verdict.why,
            waits_for=verdict.waits_for,
            not_judged=tuple(part.position for part in parts if part.verdict is None),
            cost=cost,
            notes=tuple(_notes(core, engine, present, items)),
        ),
        choices=verdict.choices,
        parts=parts,
        bill=bill,
    )


def states(
    core: Core, engine: Engine, items: tuple[Evidence, ...]
) -> tuple[dict[str, PieceState], dict[str, list[PieceState]]]:
    """The state of the piece that sits in each position, and of the pieces that sat there before."""
    by_position: dict[str, list[Piece]] = {}
    for piece in pieces_of(engine, core).values():
        by_position.setdefault(piece.position, []).append(piece)
    present, former = {}, {}
    for id_, position in engine.positions.items():
        now = sitting(by_position[id_])
        there = now.id != id_ or (now.sits and _came_with(core, engine, position))
        present[id_] = piece_state(engine, position, now, items, core.build_standard, there)
        before = [piece for piece in by_position[id_] if piece is not now]
        former[id_] = [piece_state(engine, position, p, items, core.build_standard) for p in before]
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


def _notes(
    core: Core, engine: Engine, present: dict[str, PieceState], items: tuple[Evidence, ...]
) -> list[str]:
    notes = [note for state in present.values() for note in state.notes]
    foreign = [position for position, state in core.record.parts.items() if state == "foreign"]
    notes += [f"{engine.positions[position].title} does not belong to this engine." for position in foreign]
    for item in items:
        if isinstance(item, Decision) and item.rule is not None and not _known_rule(engine, item.rule):
            notes.append(
                f'Decision {item.id} speaks of the rule "{item.rule}", which is not in this rulebook.'
            )
    return sorted(set(notes))


def _known_rule(engine: Engine, rule: str) -> bool:
    """A rule of the book, or the check of a concern's sizes."""
    sizes = {size_rule(c) for part in engine.book.parts.values() for c in part.concern}
    return rule in engine.book.rules or rule in sizes
