"""Couplings bound to the positions of one core: tables over two variables, and who forces whom."""

from collections.abc import Iterator
from dataclasses import dataclass
from itertools import product

import numpy as np

from inspect_app.model.frozen import BuildStandard
from inspect_app.model.units import clean
from inspect_app.prices.bill import Need, need_of
from inspect_app.rulebook.engine import Engine
from inspect_app.rulebook.forms_rules import CouplingForm, WayTakenForm
from inspect_app.rulebook.pair import Bools

from .choices import EMPTY, OWN, Choices, Concern, Group
from .elimination import CLOSED, Factor, Table
from .metal import metal_gone, metal_taken


@dataclass(frozen=True)
class Link:
    """One coupling between two variables; `head` forces `target`.

    closed [head options, target options] marks what excludes each other or, with `adds`, the ways
    that together need those lines.
    """

    form: CouplingForm
    head: str
    target: str
    closed: Bools
    adds: tuple[Need, ...] = ()

    def factor(self, added: float) -> Factor:
        """Its cost table: CLOSED, or the money that the two ways add together."""
        table = np.where(self.closed, added if self.adds else CLOSED, 0.0)
        return Factor((self.head, self.target), table[..., None])


def links(engine: Engine, choices: Choices, standard: BuildStandard) -> list[Link]:
    """Every coupling for every pair of positions that it ties."""
    forms = engine.book.couplings.values()
    return [link for form in forms for link in _links(engine, choices, form, standard)]


def _links(engine: Engine, choices: Choices, form: CouplingForm, standard: BuildStandard) -> Iterator[Link]:
    if form.same_kind:
        yield from _same_kind(choices, form, form.same_kind)
    elif form.sum:
        yield from _sums(engine, choices, form, standard)
    elif form.if_ways:
        yield from _added(engine, choices, form, form.if_ways)
    else:
        yield from _closing(engine, choices, form)


def _closing(engine: Engine, choices: Choices, form: CouplingForm) -> Iterator[Link]:
    for (head, marked, at), (target, hit, there) in product(_heads(choices, form), _targets(choices, form)):
        if head == target or (form.same_index and not _same_index(engine, at, there)):
            continue
        ahead = _alike(choices, head, target) and _worked(choices, form, target, there)
        if ahead and not _worked(choices, form, head, at):
            continue
        closed = np.outer(marked, hit)
        if not ahead and any(choices.states[position].came_with_core for position in there):
            closed |= np.outer(_done(choices, form, head, at), hit)
        yield Link(form, head, target, closed)


def _alike(choices: Choices, head: str, target: str) -> bool:
    """Whether a coupling ties the same concern of two positions: the one that had the work is ahead.

    The other then catches up with it and does not send it back; where both had it, only new work counts.
    """
    one, other = choices.concerns.get(head), choices.concerns.get(target)
    return one is not None and other is not None and (one.part, one.id) == (other.part, other.id)


def _done(choices: Choices, form: CouplingForm, head: str, at: tuple[str, ...]) -> Bools:
    """Options of the head under which its condition holds already: work recorded, another piece fitted.

    What sits in the other position since then was chosen for it, so only pieces that came with the
    core are closed by it, and a set while one of it is left.
    """
    states = [choices.states[position] for position in at]
    concern = choices.concerns.get(head)
    if concern is None:
        group = next(g for g in choices.groups.values() if g.variable == head)
        fitted = any(not state.came_with_core for state in states)
        return np.array([fitted and option.source == OWN for option in group.options])
    return np.array([_worked(choices, form, head, at)] * concern.idle + [False])


def _worked(choices: Choices, form: CouplingForm, name: str, at: tuple[str, ...]) -> bool:
    """Whether work of the ways that the coupling reads is recorded on a piece of this concern."""
    assert form.if_way is not None
    ladder = choices.concerns[name].ladder
    ways = [way for way in ladder.ways if any(way.goes_by(word) for word in form.if_way.ways)]
    work = {operation for way in ways for operation in way.form.does}
    pieces = [choices.states[position].piece for position in at]
    return any(done.operation in work for piece in pieces for done in piece.operations)


def _heads(choices: Choices, form: CouplingForm) -> Iterator[tuple[str, Bools, tuple[str, ...]]]:
    if form.if_way:
        yield from _ways(choices, form.if_way)
    elif form.if_source:
        for group in choices.groups.values():
            if group.part == form.if_source.of:
                marked = np.array([o.source not in (OWN, EMPTY) for o in group.options])
                yield group.variable, marked, group.positions


def _targets(choices: Choices, form: CouplingForm) -> Iterator[tuple[str, Bools, tuple[str, ...]]]:
    closes = form.closes
    assert closes is not None
    if closes.way is None:
        for group in choices.groups.values():
            if group.part == closes.part:
                yield group.variable, np.array([o.source == OWN for o in group.options]), group.positions
        return
    concern, _, way = closes.way.partition(".")
    taken = WayTakenForm.model_validate({"of": f"{closes.part}.{concern}", "in": way})
    yield from _ways(choices, taken)


def _ways(choices: Choices, taken: WayTakenForm) -> Iterator[tuple[str, Bools, tuple[str, ...]]]:
    for concern in choices.concerns.values():
        if f"{concern.part}.{concern.id}" == taken.of:
            marked = [any(way.goes_by(name) for name in taken.ways) for way in concern.ladder.ways]
            yield concern.variable, np.array([*marked, False]), (concern.position,)


def _same_index(engine: Engine, one: tuple[str, ...], other: tuple[str, ...]) -> bool:
    indices = [{engine.positions[position].index for position in group} for group in (one, other)]
    return bool(indices[0] & indices[1])


def _same_kind(choices: Choices, form: CouplingForm, parts: tuple[str, str]) -> Iterator[Link]:
    heads, targets = ([g for g in choices.groups.values() if g.part == part] for part in parts)
    for head, target in product(heads, targets):
        if head != target:
            yield Link(form, head.variable, target.variable, _kinds_differ(head, target))


def _kinds_differ(head: Group, target: Group) -> Bools:
    """A kind that is not known fits every other."""
    return np.array(
        [
            [
                one.kind is not None and other.kind is not None and one.kind != other.kind
                for other in target.options
            ]
            for one in head.options
        ]
    )


def _sums(engine: Engine, choices: Choices, form: CouplingForm, standard: BuildStandard) -> Iterator[Link]:
    assert form.sum is not None
    kind, _, quantity = form.sum.at_most.partition(".")
    limit = engine.limit(quantity, kind, standard)
    if limit is None:
        return
    heads, targets = (
        [c for c in choices.concerns.values() if f"{c.part}.{c.id}" == of] for of in form.sum.of
    )
    for head, target in product(heads, targets):
        if head is target:
            continue
        scenes = [choices.states[concern.position].scene for concern in (head, target)]
        gone = max(metal_gone(scene, quantity, kind) for scene in scenes)
        amounts = np.add.outer(_amounts(choices, head), _amounts(choices, target))
        over = np.vectorize(clean)(amounts + gone - limit.value) > 0
        yield Link(form, head.variable, target.variable, over & (amounts > 0))


def _amounts(choices: Choices, concern: Concern) -> Table:
    """Metal that each way takes, in mm; none for the idle way."""
    scene = choices.states[concern.position].scene
    taken = [way.size_mm or metal_taken(scene, way.form) for way in concern.ladder.ways]
    return np.array([*taken, 0.0])


def _added(
    engine: Engine, choices: Choices, form: CouplingForm, pair: tuple[WayTakenForm, WayTakenForm]
) -> Iterator[Link]:
    needs = tuple(need_of(bill) for bill in form.adds)
    for (head, marked, at), (target, hit, there) in product(_ways(choices, pair[0]), _ways(choices, pair[1])):
        if head != target and (not form.same_index or _same_index(engine, at, there)):
            yield Link(form, head, target, np.outer(marked, hit), needs)
