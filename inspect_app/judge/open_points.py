"""Open points of a position: one for each missing item, with its places drawn together."""

from inspect_app.closing.piece_state import PieceState
from inspect_app.model.answer import OpenPoint
from inspect_app.model.places import Place, listing
from inspect_app.prices.bill import unpriced

from .choices import Group
from .costs import part_needs
from .doubts import Doubt, missing_for
from .joint import Outcome


def unlooked_point(state: PieceState) -> OpenPoint:
    """What keeps a position from being judged at all."""
    return OpenPoint(what="first look", place=_listed(list(state.unlooked)), needed_for=("own",))


def points(state: PieceState, doubt: Doubt) -> list[OpenPoint]:
    """One point for each thing to do, at all the places where it is missing."""
    grouped: dict[str, list[tuple[Place, str]]] = {}
    for item, needed_for in missing_for(state, doubt):
        grouped.setdefault(item.what, []).append((item.place, needed_for))
    return [
        OpenPoint(
            what=what,
            place=_listed(_whole([place for place, _ in items])),
            needed_for=tuple(dict.fromkeys(name for _, name in items)),
        )
        for what, items in grouped.items()
    ]


def conflict_points(state: PieceState) -> list[OpenPoint]:
    """Contradictions to settle; until then the worse counts."""
    return [
        OpenPoint(what=f"settle {ids}: they contradict each other", place=about, needed_for=("own",))
        for about, ids in state.conflicts()
    ]


def price_points(outcome: Outcome, position: str) -> list[OpenPoint]:
    """Prices missing for the choice taken, or for every source that is left."""
    needs = [need for need, _ in part_needs(outcome, position)]
    missing = unpriced(needs, outcome.joint.pricing.prices)
    return [OpenPoint(what=f"price of {price}", place="", needed_for=("cost",)) for price in missing]


def option_price_points(outcome: Outcome, group: Group, costed: set[str]) -> list[OpenPoint]:
    """Prices missing for sources that were therefore not considered."""
    prices = outcome.joint.pricing.prices
    return [
        OpenPoint(what=f"price of {price}", place="", needed_for=(option.source,))
        for option in group.options
        for price in unpriced(option.needs, prices)
        if price not in costed
    ]


def _whole(places: list[Place]) -> list[Place]:
    """A kind's places in their own order, each once; a place listed whole takes in its zones."""
    unique = list(dict.fromkeys(places))
    return [p for p in unique if not any(q != p and q.covers(p) for q in unique)]


def _listed(places: list[Place]) -> str:
    return listing(places).replace("_", " ")
