"""What work on a piece did to earlier evidence: figures voided, findings cleared, tests asked for again."""

from collections.abc import Iterator
from dataclasses import dataclass

from inspect_app.model.pieces import OperationDone, Piece, state_rank
from inspect_app.model.places import Place, parse_place
from inspect_app.rulebook.book import Rulebook
from inspect_app.rulebook.forms_rules import OperationForm


@dataclass(frozen=True)
class _Work:
    rank: int
    form: OperationForm
    places: tuple[Place, ...]
    size: str | None
    done: OperationDone

    def touches(self, place: Place) -> bool:
        return self.form.reached(place.kind) and self._at(place)

    def _at(self, place: Place) -> bool:
        return any(pattern.covers(place) or place.covers(pattern) for pattern in self.places)

    def voids(self, quantity: str, place: Place) -> bool:
        """Whether a figure of `place` is worthless since; of a kind not worked on itself, wherever it was."""
        if not self.form.voids_at(quantity, place.kind):
            return False
        return self._at(place) or not self.form.reached(place.kind)

    def voids_any(self, place: Place) -> bool:
        if not self.form.voids_any(place.kind):
            return False
        return self._at(place) or not self.form.reached(place.kind)


class History:
    """The operations done on one piece, in order."""

    def __init__(self, book: Rulebook, piece: Piece) -> None:
        self._works = [
            _Work(
                state_rank(f"after {number}"),
                book.operations[done.operation],
                tuple(map(parse_place, done.places)),
                done.size,
                done,
            )
            for number, done in enumerate(piece.operations, 1)
        ]

    def voided(self, quantity: str, place: Place, rank: int) -> bool:
        """Whether later work at `place` made a figure read in state `rank` worthless."""
        return any(w.rank > rank and w.voids(quantity, place) for w in self._works)

    def works_on(self, quantity: str, place: Place) -> Iterator[OperationDone]:
        """The works that voided a figure of `place` ("": any figure there), first to last."""
        for work in self._works:
            if work.voids(quantity, place) if quantity else work.voids_any(place):
                yield work.done

    def cleared(self, word: str, place: Place, rank: int) -> int:
        """State from which later work may have removed a finding or failed test of state `rank`; else 0."""
        done = [w.rank for w in self._works if w.rank > rank and word in w.form.clears and w.touches(place)]
        return max(done, default=0)

    def retest(self, word: str, place: Place, rank: int) -> bool:
        """Whether later work ended what a look or test of state `rank` had shown to be absent."""
        return bool(self.ended_by(word, place, rank))

    def ended_by(self, word: str, place: Place, rank: int) -> str:
        """The title of the latest such work; "" where there is none."""
        ended = [w for w in self._works if w.rank > rank and word in w.form.retest and w.touches(place)]
        return ended[-1].form.title if ended else ""

    def size_cut(self, quantity: str, place: Place) -> str | None:
        """The step from standard that the latest work cut `quantity` to at `place`, as text.

        "" where it does not say to what: then no earlier size and no mark holds any more.
        """
        cut = [w.size or "" for w in self._works if w.form.sets == quantity and w.touches(place)]
        return cut[-1] if cut else None
