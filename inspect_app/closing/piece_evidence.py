"""The evidence that counts on one piece, sorted by kind, with what each method is worth on it."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace
from functools import cached_property

from inspect_app.model.evidence import (
    Decision,
    Evidence,
    Finding,
    Look,
    OnPiece,
    OutsideReport,
    Reading,
    Sign,
    Test,
)
from inspect_app.model.pieces import Piece, state_rank
from inspect_app.model.places import WHOLE, Place, parse_place
from inspect_app.rulebook.engine import Engine, Position
from inspect_app.rulebook.forms_rules import MethodForm

from .around import Around
from .history import History

SUSPECTED, SEEN, MEASURED, TESTED = 1, 2, 3, 4
_RANK = {"look": SEEN, "gauge": MEASURED, "test": TESTED}


@dataclass(frozen=True)
class Found:
    """A finding with its place read and its strength on this piece (SUSPECTED to TESTED).

    `since`: the state from which alone it can be lifted, where later work may have removed it; else 0.
    """

    id: str
    damage: str
    place: Place
    strength: int
    test: str | None
    since: int = 0


@dataclass(frozen=True)
class Coverage:
    """A look or test that found nothing more at its places. `rank` is the strength of its method."""

    id: str
    method: str
    places: tuple[Place, ...]
    rank: int
    state: int
    is_test: bool

    def covers(self, place: Place) -> bool:
        """Whether it was looked at or tested here."""
        return any(pattern.covers(place) for pattern in self.places)


class PieceEvidence:
    """Evidence on `piece`, which sits or sat in `position`. `items` are those that count, in any order.

    `sitting`: the piece in every position, as far as they are known; readings may rest on those.
    """

    def __init__(
        self,
        engine: Engine,
        position: Position,
        piece: Piece,
        items: Iterable[Evidence],
        sitting: Mapping[str, Piece] | None = None,
    ) -> None:
        self.engine = engine
        self.position = position
        self.piece = piece
        mine = (item for item in items if isinstance(item, OnPiece) and item.piece == piece.id)
        self.items = tuple(sorted(mine, key=lambda item: (item.when, item.id)))
        self.history = History(engine.book, piece)
        self.sitting = sitting or {}
        self.around = Around(engine, self.sitting)
        self._able: dict[str, tuple[Coverage, ...]] = {}
        self._clean: dict[str, bool] = {}
        self.material = piece.material or engine.material(position.part)

    def suits(self, method: MethodForm, state: int) -> bool:
        """Whether the method can show anything on this piece in that state: material, washed."""
        return self.on_material(method) and (not method.washed or state > 0)

    def on_material(self, method: MethodForm) -> bool:
        """Whether the method can show anything on what the piece is made of."""
        return not method.suits or self.material in method.suits

    @cached_property
    def found(self) -> tuple[Found, ...]:
        """Findings, and the signs that show one at once, each with its strength."""
        shown = [found for item in self.items if isinstance(item, Sign) for found in self._shown(item)]
        return (*(self._found(item) for item in self.items if isinstance(item, Finding)), *shown)

    def _found(self, item: Finding) -> Found:
        strength = {"suspected": SUSPECTED, "seen": SEEN}.get(item.strength) or self._confirmed(item)
        found = Found(item.id, item.damage, parse_place(item.place), strength, item.test)
        return self._after_work(found, item)

    def _after_work(self, found: Found, item: OnPiece) -> Found:
        since = self.history.cleared(found.damage, found.place, state_rank(item.state))
        return replace(found, strength=SUSPECTED, since=since) if since else found

    def _confirmed(self, item: Finding) -> int:
        test = self.tests.get(item.test or "")
        if test is None:
            return SEEN
        method = self.engine.book.methods[test.method]
        return _RANK[method.kind] if self.suits(method, state_rank(test.state)) else SEEN

    def _shown(self, item: Sign) -> list[Found]:
        form = self.engine.book.signs[item.sign].shows.get(item.answer)
        if form is None:
            return []
        found = Found(item.id, form.damage, parse_place(form.place), SEEN, None)
        return [self._after_work(found, item)]

    @cached_property
    def tests(self) -> dict[str, Test]:
        """Every test of the piece by its id, whatever its outcome."""
        return {item.id: item for item in self.items if isinstance(item, Test)}

    @staticmethod
    def rank(item: OnPiece) -> int:
        """Order of the state an item was made in."""
        return state_rank(item.state)

    @staticmethod
    def test_places(test: Test) -> tuple[Place, ...]:
        """What a test covered, as patterns."""
        return tuple(map(parse_place, test.places))

    @cached_property
    def coverages(self) -> tuple[Coverage, ...]:
        """Looks in good light and tests that came to an answer, by methods that suit the piece.

        A test that found something, and named no finding, covers nothing: the damage may be anywhere.
        """
        return tuple(
            coverage
            for item in self.items
            if isinstance(item, Look) or (isinstance(item, Test) and self._speaks(item))
            for coverage in self._coverage(item)
        )

    @cached_property
    def unexplained(self) -> tuple[Coverage, ...]:
        """Tests that found something while no finding says what: it may be anything they can show."""
        found = [t for t in self.tests.values() if t.outcome == "found" and not self._speaks(t)]
        return tuple(coverage for test in found for coverage in self._coverage(test))

    def able_to_show(self, damage: str) -> tuple[Coverage, ...]:
        """The coverages by a method whose "nothing found" proves this damage word absent."""
        if damage not in self._able:
            methods = self.engine.book.damage[damage].settled_by
            self._able[damage] = tuple(c for c in self.coverages if c.method in methods)
        return self._able[damage]

    def clean_all_over(self, damage: str) -> bool:
        """Whether one look or test of the whole piece settles the word wherever no finding says otherwise.

        Never after work on the piece: then each place has its own history.
        """
        if damage not in self._clean:
            whole = any(place.kind == WHOLE for c in self.able_to_show(damage) for place in c.places)
            self._clean[damage] = whole and not self.piece.operations and not self.unexplained
        return self._clean[damage]

    def _coverage(self, item: Look | Test) -> list[Coverage]:
        method, state = self.engine.book.methods[item.method], state_rank(item.state)
        if not self.suits(method, state) or (isinstance(item, Look) and not item.lit):
            return []
        places = tuple(map(parse_place, item.places))
        return [Coverage(item.id, item.method, places, _RANK[method.kind], state, isinstance(item, Test))]

    def _speaks(self, test: Test) -> bool:
        if test.outcome == "found":
            return any(f.test == test.id for f in self.found)
        return test.outcome == "nothing_found"

    @cached_property
    def readings(self) -> tuple[Reading, ...]:
        """Every reading of the piece; whether it counts is told by `read_values`."""
        return tuple(item for item in self.items if isinstance(item, Reading))

    @cached_property
    def reports(self) -> tuple[OutsideReport, ...]:
        """What others than the shop say of the piece."""
        return tuple(item for item in self.items if isinstance(item, OutsideReport))

    @cached_property
    def signs(self) -> tuple[Sign, ...]:
        """The answers to what first looks ask."""
        return tuple(item for item in self.items if isinstance(item, Sign))

    @cached_property
    def decisions(self) -> tuple[Decision, ...]:
        """What named persons decided: rules overruled or waived, and the customer's answers."""
        return tuple(item for item in self.items if isinstance(item, Decision))

    def looked_at(self, place: Place) -> bool:
        """Whether anybody looked at the place or tested it, in any state and with any answer."""
        patterns = [
            parse_place(text) for item in self.items if isinstance(item, Look | Test) for text in item.places
        ]
        return any(pattern.covers(place) for pattern in patterns)
