"""A piece as the rules see it: every question answered as (must, may) over the places of a kind."""

from collections.abc import Callable
from functools import cache

import numpy as np

from inspect_app.metrology import conformity
from inspect_app.metrology.figure import Figure
from inspect_app.model.evidence import UNANSWERED
from inspect_app.model.frozen import BuildStandard
from inspect_app.model.places import Place
from inspect_app.rulebook.conditions import Threshold
from inspect_app.rulebook.pair import Bools, Pair

from .damage_state import DamageState, damage_state
from .figure_state import FigureState
from .piece_evidence import PieceEvidence

Zone = tuple[str, ...]
_HAIR = 1e-7
"""A tenth of a nanometre: less than any gauge tells, more than the noise of floats."""


class RealScene:
    """The evidence on one piece, for one build standard. Implements `rulebook.conditions.Scene`."""

    def __init__(self, evidence: PieceEvidence, standard: BuildStandard) -> None:
        self.evidence = evidence
        self.engine = evidence.engine
        self.part = evidence.position.part
        self.standard = standard
        self.figures = FigureState(evidence)
        self.damage: Callable[[str, Place, Zone], DamageState] = cache(self._damage)

    def _damage(self, word: str, place: Place, zone: Zone) -> DamageState:
        return damage_state(self.evidence, word, place, zone)

    def kinds(self) -> tuple[str, ...]:
        """Every kind of place of the part."""
        return tuple(place.kind for place in self.engine.book.parts[self.part].places)

    def places(self, kind: str) -> tuple[Place, ...]:
        """The places of one kind on this part, in the order of all answers."""
        return self.engine.places(self.part, kind)

    def finding(self, damage: str, kind: str, zone: Zone) -> Pair:
        """At which places the damage must and may be, at or below `zone`."""
        states = [self.damage(damage, place, zone) for place in self.places(kind)]
        return _pair([(state.must, state.may) for state in states])

    def threshold(self, quantity: str, kind: str, written: Threshold | None) -> Threshold | None:
        """The threshold written in the rule, else the limit of this build standard."""
        if written is not None:
            return written
        limit = self.engine.limit(quantity, kind, self.standard)
        return limit.threshold if limit else None

    def beyond(self, quantity: str, kind: str, threshold: Threshold | None, if_read: bool) -> Pair:
        """At which places the figure must and may lie past `threshold`, or past its own limit for None.

        With `if_read` nowhere that nothing was read.
        """
        against = self.threshold(quantity, kind, threshold)
        return _pair([self._past(quantity, place, against, if_read) for place in self.places(kind)])

    def _past(self, quantity: str, place: Place, limit: Threshold | None, if_read: bool) -> tuple[bool, bool]:
        if if_read and self.figures.never_read(quantity, place):
            return False, False
        return past(self.figures.figure(quantity, place), limit)

    def limited(self, quantity: str, kind: str) -> bool:
        """Whether maker, shop or pack limits the figure for this build standard."""
        return self.engine.limit(quantity, kind, self.standard) is not None

    def never_read(self, quantity: str, kind: str) -> Bools:
        """At which places nothing was ever read that the figure could rest on."""
        places = self.places(kind)
        return np.array([self.figures.never_read(quantity, place) for place in places], dtype=bool)

    def test(self, method: str, kind: str | None, zone: Zone) -> Pair:
        """At which places the test has found something, and may yet find something."""
        return _pair([self._tested(method, place) for place in self._spots(kind, zone)])

    def _tested(self, method: str, place: Place) -> tuple[bool, bool]:
        evidence, history = self.evidence, self.evidence.history
        found = [
            test
            for test in evidence.tests.values()
            if (test.method, test.outcome) == (method, "found")
            and any(pattern.covers(place) for pattern in evidence.test_places(test))
        ]
        cleared = [history.cleared(method, place, evidence.rank(test)) for test in found]
        if not all(cleared):
            return True, True
        failed = {test.id for test in found}
        passed = any(
            c.is_test and c.method == method and c.covers(place) and c.id not in failed
            for c in evidence.coverages
            if c.state >= max(cleared, default=0) and not history.retest(method, place, c.state)
        )
        return False, not passed

    def look(self, method: str, kind: str | None, zone: Zone) -> Pair:
        """At which places the look is still to be made: never must, may until it is."""
        return _pair(
            [
                (False, not any(c.method == method and c.covers(place) for c in self.evidence.coverages))
                for place in self._spots(kind, zone)
            ]
        )

    def _spots(self, kind: str | None, zone: Zone) -> list[Place]:
        kinds = self.kinds() if kind is None else (kind,)
        return [Place(p.kind, p.index, zone) for k in kinds for p in self.places(k)]

    def report(self, says: str) -> Pair:
        """Whether somebody outside says so: must with grounds, may without."""
        told = [report for report in self.evidence.reports if report.says == says]
        return _pair([(any(report.grounds for report in told), bool(told))])

    def sign(self, sign: str, answer: str) -> Pair:
        """Whether the sign is answered so; it may be until it is answered at all."""
        answers = [item.answer for item in self.evidence.signs if item.sign == sign]
        told = [given for given in answers if given not in UNANSWERED]
        return _pair([(answer in told, answer in told or not told)])

    def made_of(self, materials: tuple[str, ...], kind: str | None) -> Pair:
        """Whether the piece is of one of these materials or of this kind; it may be while none is told."""
        piece, told = self.evidence.piece, self.evidence.material
        met = told in materials
        if kind is not None:
            met = met or kind == (piece.kind or self.engine.fitted_kind(self.part))
        return _pair([(met, met or told is None)])


def past(figure: Figure, against: Threshold | None) -> tuple[bool, bool]:
    """Whether a figure must and may lie past a threshold; without one, nobody can tell."""
    if against is None:
        return False, True
    must, may = conformity.past(figure, against.value, against.worse, against.guarded)
    if against.itself_past and not must:
        just_inside = against.value - (_HAIR if against.worse == "above" else -_HAIR)
        must, _ = conformity.past(figure, just_inside, against.worse, against.guarded)
    return must, may or must


def _pair(states: list[tuple[bool, bool]]) -> Pair:
    array = np.array(states, dtype=bool).reshape(len(states), 2)
    return Pair(array[:, 0], array[:, 1])
