"""Why what is found at one position changes the verdict at another: the coupling between the two."""

from collections.abc import Iterable, Iterator

from .couplings import Link
from .doubts import Forks
from .forcing import AS_A_SET, forcing
from .joint import Outcome

TOGETHER = "Parts are chosen together, and the cheapest choice for all changes with it."
"""Where no coupling ties the two: they share a line of the bill, or the core's own choice."""


def why_it_matters(forks: Forks, other: str, position: str, turns_on: Iterable[str]) -> str:
    """Why the verdict at `position` turns on what is open at `other`; "" for its own open points."""
    if other == position:
        return ""
    base, group_at = forks.base, forks.joint.choices.group_at
    if group_at[other].variable == group_at[position].variable:
        return AS_A_SET
    if found := [forced.why for head, forced in forcing(base, position) if head == other]:
        return found[0]
    outcomes = (forks.without([other]), forks.contested(other, position), forks.without(turns_on))
    for outcome in outcomes:
        if outcome is not None and not base.same_at(position, outcome):
            return next(_whys(base, outcome, other, position), TOGETHER)
    return TOGETHER


def _whys(base: Outcome, turned: Outcome, other: str, position: str) -> Iterator[str]:
    """What forces the position in the turned outcome alone, then the couplings that tie it to the other."""
    before = {forced.why for _, forced in forcing(base, position)}
    yield from (forced.why for _, forced in forcing(turned, position) if forced.why not in before)
    here, there = _variables(base, position), _variables(base, other)
    for link in base.joint.links:
        pair = {link.head, link.target}
        if pair & here and pair & there and _cannot_both(link, base, turned):
            yield link.form.why


def _cannot_both(link: Link, base: Outcome, turned: Outcome) -> bool:
    """Whether one side as it turned out excludes the other side as it was chosen."""
    ends = ((turned, base), (base, turned))
    return any(bool(link.closed[one.picked[link.head], two.picked[link.target]]) for one, two in ends)


def _variables(outcome: Outcome, position: str) -> set[str]:
    choices = outcome.joint.choices
    return {choices.group_at[position].variable, *(c.variable for c in choices.concerns_at[position])}
