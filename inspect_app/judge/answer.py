"""Judge one core: from its record, pieces and evidence to the Answer."""

from collections.abc import Iterator

from inspect_app.closing.ladders import size_rule
from inspect_app.closing.piece_state import PieceState
from inspect_app.model.answer import (
    Answer,
    CoreAnswer,
    EvidenceCount,
    PartAnswer,
    PricesUsed,
    RulebookUsed,
    TotalCost,
)
from inspect_app.model.core import Core
from inspect_app.model.evidence import Decision, Evidence, standing
from inspect_app.model.problems import raise_if_any
from inspect_app.prices.bill import bill_lines, bill_total
from inspect_app.rulebook.check_core import core_problems
from inspect_app.rulebook.engine import Engine

from .choices import Choices
from .costs import asked
from .doubts import Forks
from .joint import Joint
from .origins import from_shop, sheet_used
from .parts import Context, part_answer
from .present import states
from .whole import Whole, best_alternative, whole


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
    notes = _notes(core, engine, present, items, parts)
    book = engine.book
    return Answer(
        currency=book.price_book.currency,
        rulebook=RulebookUsed(version=book.pack.version, sha256=book.sha256, overlays=book.overlays),
        prices=PricesUsed(title=book.price_book.title, date=book.price_book.date, sha256=book.prices_sha256),
        core=_core_answer(core, items, verdict, parts, cost, notes),
        choices=verdict.choices,
        parts=parts,
        bill=bill,
        sheet=sheet_used(engine),
        from_shop=from_shop(engine, items, parts, bill),
    )


def _core_answer(
    core: Core,
    items: tuple[Evidence, ...],
    verdict: Whole,
    parts: tuple[PartAnswer, ...],
    cost: TotalCost,
    notes: list[str],
) -> CoreAnswer:
    return CoreAnswer(
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
        notes=tuple(notes),
    )


def _notes(
    core: Core,
    engine: Engine,
    present: dict[str, PieceState],
    items: tuple[Evidence, ...],
    parts: tuple[PartAnswer, ...],
) -> list[str]:
    notes = [note for state in present.values() for note in state.notes]
    notes += [note for part in parts for note in _of_ways(engine, part)]
    foreign = [position for position, state in core.record.parts.items() if state == "foreign"]
    notes += [f"{engine.positions[position].title} does not belong to this engine." for position in foreign]
    for item in items:
        if isinstance(item, Decision) and item.rule is not None and not _known_rule(engine, item.rule):
            notes.append(
                f'Decision {item.id} speaks of the rule "{item.rule}", which is not in this rulebook.'
            )
    return sorted(set(notes))


def _of_ways(engine: Engine, part: PartAnswer) -> Iterator[str]:
    """What the ways chosen do to other parts, as far as the rules only tell it."""
    for taken in part.ways:
        concern = engine.book.concern(part.part, taken.concern)
        for way in concern.rungs() if concern else ():
            if way.id == taken.way and way.note:
                yield f"{part.title}, {way.title}: {way.note}"


def _known_rule(engine: Engine, rule: str) -> bool:
    """A rule of the book, or the check of a concern's sizes."""
    sizes = {size_rule(c) for part in engine.book.parts.values() for c in part.concern}
    return rule in engine.book.rules or rule in sizes
