"""The verdict of each position in an outcome: reuse, recondition, replace or scrap, and on what grounds."""

from dataclasses import dataclass
from typing import Literal

from inspect_app.closing.piece_state import FLOOR
from inspect_app.model.frozen import Spread, Verdict

from .choices import EMPTY, Concern
from .costs import part_cost
from .forcing import forcing
from .joint import Outcome

Grounds = Literal["evidence", "money", "coupling"]


@dataclass(frozen=True)
class Judged:
    """The verdict of one position and its grounds; None where it cannot be judged."""

    verdict: Verdict | None
    grounds: Grounds | None


def judged(outcome: Outcome, position: str, best_alternative: float | None) -> Judged:
    """The verdict in this outcome, whoever looked. `best_alternative`: price of another way to an engine.

    Scrap: no source is left, or the cheapest left, with what it forces, alone costs more than the
    best alternative. None where only sources without a price are left.
    """
    option = outcome.option(position)
    if option.source == EMPTY:
        return Judged("scrap", "evidence")
    cost = part_cost(outcome, position)
    if cost is None:
        return Judged(None, None)
    if best_alternative is not None and cost.mean + _forced_cost(outcome, position) > best_alternative:
        return Judged("scrap", "money")
    if not outcome.keeps(position):
        return Judged("replace", _replace_grounds(outcome, position))
    if not any(way > 0 or _has_exceptions(outcome, c, way) for c, way in outcome.ways(position)):
        return Judged("reuse", None)
    return Judged("recondition", _raised_grounds(outcome, position))


def _replace_grounds(outcome: Outcome, position: str) -> Grounds:
    if outcome.joint.choices.states[position].closed_by_evidence:
        return "evidence"
    return "coupling" if forcing(outcome, position) else "money"


def _raised_grounds(outcome: Outcome, position: str) -> Grounds:
    """Evidence if it closed every lower rung of some concern, else a coupling, else money."""
    for concern, way in outcome.ways(position):
        ladder = outcome.closings[position].ladders[concern.number]
        if _has_exceptions(outcome, concern, way) or (way > 0 and ladder.closed[:way, FLOOR].all()):
            return "evidence"
    return "coupling" if forcing(outcome, position) else "money"


def _has_exceptions(outcome: Outcome, concern: Concern, way: int) -> bool:
    """Whether some place of this way is done otherwise."""
    ladder = outcome.closings[concern.position].ladders[concern.number]
    return bool(ladder.concern.exception and ladder.exceptions[way, :, FLOOR].any())


def _forced_cost(outcome: Outcome, position: str) -> float:
    """Mean cost of the positions whose own piece this choice closes."""
    choices = outcome.joint.choices
    forced = {p for p in choices.states for head, _ in forcing(outcome, p) if head == position}
    costs: list[Spread | None] = [part_cost(outcome, p) for p in forced]
    return sum(cost.mean for cost in costs if cost is not None)
