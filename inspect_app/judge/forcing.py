"""Who forces whom: couplings that are at work in an outcome, seen from either side."""

from inspect_app.closing.piece_state import FLOOR
from inspect_app.model.answer import Forced

from .choices import EMPTY, OWN
from .costs import positions_of
from .couplings import Link
from .joint import Outcome

AS_A_SET = "They are bought as a set: one that must go takes the others with it."


def forcing(outcome: Outcome, position: str) -> list[tuple[str, Forced]]:
    """Couplings that close something better at `position`, with the position each comes from."""
    found = [
        (head, Forced(position=head, choice=chosen_words(outcome, link.head), why=link.form.why))
        for link in outcome.joint.links_to[position]
        if _bites(outcome, position, link)
        for head in positions_of(outcome.joint, link.head)
    ]
    return list({(head, f.why): (head, f) for head, f in found + _set_forcing(outcome, position)}.values())


def _bites(outcome: Outcome, position: str, link: Link) -> bool:
    """Whether the head's choice closes the own piece or a lower way that evidence leaves open."""
    closed = link.closed[outcome.picked[link.head]]
    concern = outcome.joint.choices.concerns.get(link.target)
    if concern is None:
        state = outcome.joint.choices.states[position]
        return bool(closed[0]) and not outcome.keeps(position) and not state.closed_by_evidence
    ladder = outcome.closings[position].ladders[concern.number]
    taken = outcome.picked[link.target]
    return any(closed[way] and not ladder.closed[way, FLOOR] for way in range(min(taken, concern.idle)))


def _set_forcing(outcome: Outcome, position: str) -> list[tuple[str, Forced]]:
    """A piece bought as a set goes when another of the set must."""
    choices = outcome.joint.choices
    group = choices.group_at[position]
    if len(group.positions) == 1 or outcome.keeps(position) or choices.states[position].closed_by_evidence:
        return []
    gone = [p for p in group.positions if p != position and choices.states[p].closed_by_evidence]
    return [(other, Forced(position=other, choice="replace", why=AS_A_SET)) for other in gone[:1]]


def forces(outcome: Outcome, variable: str, option: int) -> tuple[Forced, ...]:
    """What choosing `option` of `variable` would close of what others have chosen now."""
    found = []
    for link in outcome.joint.links:
        if link.adds or variable not in (link.head, link.target):
            continue
        other = link.target if variable == link.head else link.head
        row = link.closed[option] if variable == link.head else link.closed[:, option]
        if row[outcome.picked[other]]:
            choice = f"not {chosen_words(outcome, other)}"
            found += [
                Forced(position=p, choice=choice, why=link.form.why)
                for p in positions_of(outcome.joint, other)
            ]
    return tuple(dict.fromkeys(found))


def chosen_words(outcome: Outcome, variable: str) -> str:
    """The choice of a variable in words: "bores: bore 0.020 in", "own piece", "used"."""
    picked = outcome.picked[variable]
    concern = outcome.joint.choices.concerns.get(variable)
    if concern is not None:
        if picked == concern.idle:
            return "not kept"
        way = concern.ladder.ways[picked]
        return f"{concern.ladder.concern.title}: {way.form.title}{f' to {way.size}' if way.size else ''}"
    group = next(g for g in outcome.joint.choices.groups.values() if g.variable == variable)
    option = group.options[picked]
    words = {OWN: "own piece", EMPTY: "nothing"}.get(option.source, option.source.replace("_", " "))
    return f"{words} ({option.kind})" if option.kind else words
