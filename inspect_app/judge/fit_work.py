"""What comes before a fit is worth measuring: parts to be replaced, and work that changes its sizes."""

from collections.abc import Iterator
from dataclasses import dataclass

from inspect_app.metrology.estimate import Undetermined
from inspect_app.model.answer import Answer, PartAnswer
from inspect_app.model.answer_figures import WayTaken
from inspect_app.model.fit_answer import FitMissing
from inspect_app.rulebook.engine import Engine
from inspect_app.rulebook.forms_fits import FitForm
from inspect_app.rulebook.forms_parts import ConcernForm, WayForm
from inspect_app.rulebook.seats import Seat, opposite, rested_on

from .fit_figures import States


@dataclass(frozen=True)
class Planned:
    """The ways that the judge chose and nobody has taken yet."""

    engine: Engine
    states: States
    answer: Answer

    def before(self, fit: FitForm, seat: Seat) -> tuple[FitMissing, ...]:
        """What must come first, for the place of a fit, what it rests on, and every size of its sum."""
        told = [*self._at(seat, None)]
        for term in fit.term:
            other = opposite(self.engine, seat, term.part, term.kind)
            if not isinstance(other, Undetermined):
                told += self._at(other, term.of)
        for other, quantity in rested_on(self.engine, fit.measured, seat):
            told += self._at(other, quantity or None)
        return tuple(FitMissing(what=what) for what in dict.fromkeys(told))

    def _at(self, seat: Seat, quantity: str | None) -> Iterator[str]:
        part = self._part(seat.position.id)
        title = self.engine.book.parts[seat.position.part].title.lower()
        if part.verdict in ("replace", "scrap"):
            yield f"first the {title} is replaced"
            return
        for taken in part.ways:
            form = self._raised(seat, taken)
            if form is not None and any(self._changes(name, seat, quantity) for name in form.does):
                size = f" {taken.size}" if taken.size and str(seat.place) not in taken.except_at else ""
                yield f"first the {title} is worked on: {form.title}{size}"

    def _part(self, position: str) -> PartAnswer:
        return next(part for part in self.answer.parts if part.position == position)

    def _raised(self, seat: Seat, taken: WayTaken) -> WayForm | None:
        """The way taken at a place; the lowest of its concern too, for a hone takes metal off."""
        concern = self.engine.book.concern(seat.position.part, taken.concern)
        if concern is None:
            return None
        if str(seat.place) in taken.except_at:
            return concern.exception
        return _rung(concern, taken)

    def _changes(self, operation: str, seat: Seat, quantity: str | None) -> bool:
        """Whether work still to be done changes a size at a place (None: any size there)."""
        form = self.engine.book.operations[operation]
        if any(done.operation == operation for done in self.states[seat.position.id].piece.operations):
            return False
        kind = seat.place.kind
        return form.voids_any(kind) if quantity is None else form.voids_at(quantity, kind)


def _rung(concern: ConcernForm, taken: WayTaken) -> WayForm | None:
    if taken.size is not None:
        return concern.size
    rungs = concern.rungs()
    return next((way for way in rungs if way.id == taken.way), None)
