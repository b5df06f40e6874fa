"""Open points of a position: one for each missing item, with its places drawn together."""

from inspect_app.closing.piece_state import FLOOR, PieceState
from inspect_app.closing.words import place_words, places_words
from inspect_app.model.answer import Entered, OpenPoint
from inspect_app.prices.bill import Need, unpriced

from .costs import concern_needs, part_needs
from .doubts import Doubt, to_ask
from .forcing import forcing
from .joint import Outcome


def unlooked_point(state: PieceState) -> OpenPoint:
    """What keeps a position from being judged at all."""
    return OpenPoint(
        what="first look",
        place=places_words(state.scene.engine, state.position.part, list(state.unlooked)),
        needed_for=("own",),
        enter=Entered(by="look", places=tuple(map(str, state.unlooked))),
    )


def points(state: PieceState, doubt: Doubt) -> list[OpenPoint]:
    """One point for each thing to do, at all the places where it is missing."""
    return [
        OpenPoint(
            what=asked.what,
            place=asked.place,
            needed_for=asked.needed_for,
            rules=asked.rules,
            enter=asked.enter,
        )
        for asked in to_ask(state, doubt)
    ]


def conflict_points(state: PieceState) -> list[OpenPoint]:
    """Contradictions to settle; until then the worse counts."""
    return [
        OpenPoint(
            what=f"settle {ids}: they contradict each other",
            place=about,
            needed_for=("own",),
            enter=Entered(by="finding"),
        )
        for about, ids in state.conflicts()
    ]


def vague_points(state: PieceState) -> list[OpenPoint]:
    """Findings that do not say where; until somebody does, the worst place counts."""
    engine, part = state.scene.engine, state.position.part
    return [
        OpenPoint(
            what=f"say where the {damage} is",
            place=place_words(engine, part, place),
            needed_for=("own",),
            enter=Entered(by="finding", name=damage, places=(str(place),)),
        )
        for damage, place in state.vague()
        if engine.book.place_form(part, place.kind)
    ]


def price_points(outcome: Outcome, position: str) -> list[OpenPoint]:
    """Prices missing for the choice taken, or for what was passed over for want of one."""
    needs = [need for need, _ in part_needs(outcome, position)] + _passed_over(outcome, position)
    missing = unpriced(needs, outcome.joint.pricing.prices)
    return [
        OpenPoint(
            what=f"price of {price}",
            place="",
            needed_for=("cost",),
            enter=Entered(by="price", name=price),
        )
        for price in missing
    ]


def _passed_over(outcome: Outcome, position: str) -> list[Need]:
    """Needs of the lowest ways that nothing closes, and of the own piece, below what was chosen."""
    closings, kept = outcome.closings[position], {c.id: way for c, way in outcome.ways(position)}
    if closings.own[FLOOR] or (not kept and forcing(outcome, position)):
        return []
    found = []
    for concern in outcome.joint.choices.concerns_at[position]:
        closed = closings.ladders[concern.number].closed[:, FLOOR]
        left = [way for way in range(kept.get(concern.id, concern.idle)) if not closed[way]]
        found += [need for way in left[:1] for need in concern_needs(outcome, concern, way)]
    return found
