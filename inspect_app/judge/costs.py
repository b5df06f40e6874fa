"""What an outcome needs, position by position: the lines of the bill and the cost of each part."""

from inspect_app.closing.piece_state import FLOOR
from inspect_app.model.frozen import Spread
from inspect_app.prices.bill import Asked, Need, add, rounded, spread_of, unpriced

from .choices import Concern, exception_needs
from .joint import Joint, Outcome


def concern_needs(outcome: Outcome, concern: Concern, way: int) -> tuple[Need, ...]:
    """What one way needs, its exceptions counted as they must be."""
    ladder = outcome.closings[concern.position].ladders[concern.number]
    count = int(ladder.exceptions[way, :, FLOOR].sum()) if ladder.concern.exception else 0
    return (*concern.needs[way], *exception_needs(outcome.joint.engine, concern, ladder.ways[way], count))


def way_asked(outcome: Outcome, position: str) -> list[Asked]:
    """What the ways of a kept piece need."""
    return [
        ((position,), need) for c, way in outcome.ways(position) for need in concern_needs(outcome, c, way)
    ]


def asked(outcome: Outcome) -> list[Asked]:
    """Everything the joint choice needs, with who needs it; lines of the whole core by nobody."""
    choices = outcome.joint.choices
    found: list[Asked] = [((), need) for need in outcome.joint.always]
    for group in choices.groups.values():
        option = outcome.option(group.positions[0])
        found += [(group.positions, need) for need in option.needs]
    for position in choices.states:
        found += way_asked(outcome, position)
    return found + [(who, need) for who, needs in _added(outcome) for need in needs]


def _added(outcome: Outcome) -> list[tuple[tuple[str, ...], tuple[Need, ...]]]:
    """Lines that two chosen ways need together."""
    return [
        (tuple(p for v in (link.head, link.target) for p in positions_of(outcome.joint, v)), link.adds)
        for link in outcome.joint.links
        if link.adds and link.closed[outcome.picked[link.head], outcome.picked[link.target]]
    ]


def positions_of(joint: Joint, variable: str) -> tuple[str, ...]:
    """The positions that a variable decides about; () for a shared line."""
    return joint.choices.positions_of.get(variable, ())


def part_needs(outcome: Outcome, position: str) -> list[tuple[Need, float]]:
    """Unshared needs of one position with its share: a set is divided evenly among its positions."""
    group = outcome.joint.choices.group_at[position]
    share = 1 / len(group.positions)
    bought = [(need, share) for need in outcome.option(position).needs]
    done = [(need, 1.0) for _, need in way_asked(outcome, position)]
    return [(need, times) for need, times in bought + done if not need.shared]


def part_cost(outcome: Outcome, position: str) -> Spread | None:
    """What a position costs without shared lines; None where a price is missing."""
    return needs_cost(outcome.joint, part_needs(outcome, position))


def needs_cost(joint: Joint, needs: list[tuple[Need, float]]) -> Spread | None:
    """Sum of needs, each with its share; None where a price is missing."""
    prices = joint.pricing.prices
    if unpriced((need for need, _ in needs), prices):
        return None
    return rounded(add(spread_of(prices[need.price], need.quantity * share) for need, share in needs))
