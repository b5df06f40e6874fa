"""What becomes of the old piece, and what it brings in."""

from inspect_app.closing.piece_state import PieceState
from inspect_app.model.answer import OldPiece
from inspect_app.model.evidence import Decision
from inspect_app.model.frozen import Verdict
from inspect_app.prices.bill import CENTS

from .joint import Outcome


def fate_of(outcome: Outcome, state: PieceState, verdict: Verdict) -> OldPiece:
    """Keep what stays; what evidence closed is scrap; an exchange takes the rest as credit; else sell it.

    A customer who answered "leave it" gets a piece that goes handed back.
    """
    piece, position = state.piece.id, state.position.id
    if outcome.keeps(position) and verdict != "scrap":
        return OldPiece(piece=piece, fate="keep", value=0.0)
    prices = outcome.joint.engine.book.parts[state.position.part].salvage
    if _wanted_back(state):
        return OldPiece(piece=piece, fate="hand_back", value=0.0)
    if state.closed_by_evidence:
        return OldPiece(piece=piece, fate="scrap", value=_value(outcome, prices.scrap))
    if outcome.option(position).source == "exchange" and prices.core_credit:
        return OldPiece(piece=piece, fate="core_credit", value=_value(outcome, prices.core_credit))
    if prices.sell:
        return OldPiece(piece=piece, fate="sell", value=_value(outcome, prices.sell))
    return OldPiece(piece=piece, fate="scrap", value=_value(outcome, prices.scrap))


def _wanted_back(state: PieceState) -> bool:
    decisions: tuple[Decision, ...] = state.scene.evidence.decisions
    return any(d.decision == "customer_answer" and d.answer == "leave_it" for d in decisions)


def _value(outcome: Outcome, price: str | None) -> float:
    return round(outcome.joint.pricing.mean(price), CENTS) if price else 0.0


def salvage_price(outcome: Outcome, state: PieceState) -> str | None:
    """The price that a piece brings if the core is broken: sold while evidence leaves it open, else scrap."""
    form = outcome.joint.engine.book.parts[state.position.part].salvage
    return form.sell if form.sell and not state.closed_by_evidence else form.scrap
