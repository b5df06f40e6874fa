"""What a provisional verdict turns on: open rules and sizes on the chosen ways; the choice without them."""

from collections.abc import Iterable
from dataclasses import dataclass, replace

import numpy as np

from inspect_app.closing.ladders import Ladder, names_of, size_rule
from inspect_app.closing.missing import Missing, of_row, of_way
from inspect_app.closing.piece_state import FLOOR, ROOF, Closings, PieceState
from inspect_app.closing.rows import Row
from inspect_app.closing.words import places_words
from inspect_app.model.answer import Entered
from inspect_app.rulebook.pair import Bools, Pair

from .joint import Joint, Outcome


@dataclass(frozen=True)
class Doubt:
    """What is open at one position: rows of rules, and sizes as (concern number, way)."""

    rows: tuple[Row, ...] = ()
    sizes: tuple[tuple[int, int], ...] = ()

    def __bool__(self) -> bool:
        return bool(self.rows or self.sizes)


def doubt_at(outcome: Outcome, position: str) -> Doubt:
    """What is open on the own piece and the ways taken; nothing where it is replaced."""
    if not outcome.keeps(position):
        return Doubt()
    state = outcome.joint.choices.states[position]
    taken = [(concern.ladder, way) for concern, way in outcome.ways(position)]
    sizes = [(c.number, way) for c, way in outcome.ways(position) if _size_open(c.ladder, way)]
    stakes = (_at_stake(row, taken) for row in state.rows)
    rows = [row for row in stakes if any(True for _ in row.open())]
    return Doubt(tuple(rows), tuple(sizes))


def _at_stake(row: Row, taken: list[tuple[Ladder, int]]) -> Row:
    """The row, open only at places where something it closes is taken.

    Where a place is done otherwise than the common way, the common way's rules no longer matter.
    """
    closes = set(row.rule.closes)
    stake = np.full(len(row.places), "own" in closes)
    for ladder, way in taken:
        apart = _apart(ladder, way, row)
        stake |= bool(closes & names_of(ladder.concern, ladder.ways[way])) & ~apart
        stake |= bool(closes & _exception_target(ladder)) & apart
    return replace(row, pair=Pair(row.pair.must, row.pair.must | (row.pair.may & stake)))


def _apart(ladder: Ladder, way: int, row: Row) -> Bools:
    """Places of a row that are done otherwise; of another kind than the ladder's: none of them."""
    if ladder.concern.exception is None or row.kind != ladder.concern.each:
        return np.zeros(len(row.places), dtype=bool)
    return np.asarray(ladder.exceptions[way, :, FLOOR])


def _exception_target(ladder: Ladder) -> set[str]:
    form = ladder.concern.exception
    return {f"{ladder.concern.id}.{form.id}"} if form else set()


def _size_open(ladder: Ladder, way: int) -> bool:
    if ladder.ways[way].size is None:
        return False
    return bool((ladder.exceptions[way, :, FLOOR] != ladder.exceptions[way, :, ROOF]).any())


def missing_for(state: PieceState, doubt: Doubt) -> list[tuple[Missing, str, str]]:
    """Every missing item with the thing it is needed for ("own", "bores.hone") and the rule that asks."""
    found = [(item, row.rule.closes[0], row.rule.id) for row in doubt.rows for item in of_row(state, row)]
    for number, way in doubt.sizes:
        ladder = state.real.ladders[number]
        name = f"{ladder.concern.id}.{ladder.ways[way].size}"
        items = of_way(state, ladder.concern, ladder.ways[way], way, ladder.places)
        found += [(item, name, size_rule(ladder.concern)) for item in items]
    return list(dict.fromkeys(found))


@dataclass(frozen=True)
class Asked:
    """One thing to do at all its places, the answer that clears it, what it is needed for, and who asks."""

    what: str
    place: str
    answer: str
    needed_for: tuple[str, ...]
    rules: tuple[str, ...] = ()
    enter: Entered | None = None


def to_ask(state: PieceState, doubt: Doubt) -> list[Asked]:
    """Missing items drawn together by what is to be done and which answer is hoped for."""
    grouped: dict[tuple[str, str], list[tuple[Missing, str, str]]] = {}
    for found in missing_for(state, doubt):
        grouped.setdefault((found[0].what, found[0].answer), []).append(found)
    return [_asked(state, what, answer, items) for (what, answer), items in grouped.items()]


def _asked(state: PieceState, what: str, answer: str, found: list[tuple[Missing, str, str]]) -> Asked:
    first = found[0][0]
    places = [item.place for item, _, _ in found]
    ids = tuple(dict.fromkeys(str(place) for place in places if place.kind))
    return Asked(
        what,
        places_words(state.scene.engine, state.position.part, places),
        answer,
        tuple(dict.fromkeys(needed_for for _, needed_for, _ in found)),
        tuple(dict.fromkeys(rule for _, _, rule in found)),
        Entered(by=first.by, name=first.name, places=ids),
    )


def met(state: PieceState, doubt: Doubt) -> Closings:
    """The closings of a piece with the open rules and sizes of `doubt` taken as met."""
    doubtful = {(row.rule.id, row.kind): row.pair.may for row in doubt.rows}
    rows = tuple(
        replace(row, pair=Pair(doubtful.get((row.rule.id, row.kind), row.pair.must), row.pair.may))
        for row in state.rows
    )
    closings = replace(state, rows=rows).real
    ladders = tuple(_with_sizes_closed(doubt, i, ladder) for i, ladder in enumerate(closings.ladders))
    return replace(closings, ladders=ladders)


def _with_sizes_closed(doubt: Doubt, number: int, ladder: Ladder) -> Ladder:
    """A ladder in which the doubtful sizes fail where they may."""
    closed, exceptions = ladder.closed.copy(), ladder.exceptions.copy()
    for concern, way in doubt.sizes:
        if concern == number:
            exceptions[way, :, FLOOR] = exceptions[way, :, ROOF]
            closed[way, FLOOR] = closed[way, ROOF]
    return replace(ladder, closed=closed, exceptions=exceptions)


class Forks:
    """Outcomes with some positions' doubts taken as met, each joint choice computed once."""

    def __init__(self, joint: Joint, base: Outcome) -> None:
        self.joint = joint
        self.base = base
        self.doubts = {p: doubt_at(base, p) for p in joint.choices.states}
        self._known: dict[frozenset[str], Outcome] = {}
        self._asked: dict[str, list[Asked]] = {}
        self._sides: dict[str, list[Outcome]] = {}

    def to_ask(self, position: str) -> list[Asked]:
        """What would settle this position's doubts."""
        if position not in self._asked:
            self._asked[position] = to_ask(self.joint.choices.states[position], self.doubts[position])
        return self._asked[position]

    def contested(self, position: str, at: str) -> Outcome | None:
        """The joint choice with the other side of the contradictions at `position`, if it differs `at`."""
        if position not in self._sides:
            state = self.joint.choices.states[position]
            self._sides[position] = [
                self.joint.outcome({**self.base.closings, position: state.without(ids).real})
                for ids in state.other_sides()
            ]
        return next((o for o in self._sides[position] if not self.base.same_at(at, o)), None)

    def without(self, positions: Iterable[str]) -> Outcome:
        """The joint choice when everything open at these positions turns out against them."""
        key = frozenset(p for p in positions if self.doubts[p])
        if key not in self._known:
            closings = dict(self.base.closings)
            for position in key:
                closings[position] = met(self.joint.choices.states[position], self.doubts[position])
            self._known[key] = self.joint.outcome(closings) if key else self.base
        return self._known[key]
