"""What a reading also rests on: the pieces beside it, whose later work or exchange ends it."""

from collections.abc import Iterator, Mapping
from datetime import date, datetime, timedelta

from inspect_app.model.pieces import Piece
from inspect_app.model.places import Place
from inspect_app.rulebook.engine import Engine, Position
from inspect_app.rulebook.seats import Seat, rested_on

from .history import History


class Around:
    """The pieces that sit in all positions now, `sitting` by the id of their position."""

    def __init__(self, engine: Engine, sitting: Mapping[str, Piece]) -> None:
        self._engine = engine
        self._sitting = sitting
        self._histories = {at: History(engine.book, piece) for at, piece in sitting.items()}

    def ended(self, quantity: str, position: Position, place: Place, when: str) -> tuple[str, ...]:
        """Why a reading of `when` at a place no longer counts, by what it rests on elsewhere; () if it does.

        It counts only while it surely came after the last work on the places it rests on, and after the
        pieces there came in: without a date on both, or on equal dates, nobody knows.
        """
        found = (
            why
            for seat, there in rested_on(self._engine, quantity, Seat(position, place))
            for why in self._since(seat, there, when)
        )
        return tuple(dict.fromkeys(found))

    def _since(self, seat: Seat, quantity: str, when: str) -> Iterator[str]:
        piece, title = self._sitting.get(seat.position.id), seat.position.title.lower()
        if piece is None:
            return
        if piece.id != piece.position and not surely_before(piece.since, when):
            yield f"another {title} came in {_since(when, piece.since)}"
        works = self._histories[seat.position.id].works_on(quantity, seat.place)
        last = next((work for work in works if not surely_before(work.when, when)), None)
        if last is not None:
            yield f"the {title} was worked on {_since(when, last.when)}"


def _since(when: str, then: str) -> str:
    return "since" if surely_before(when, then) else "and no date shows that it was before"


def surely_before(earlier: str, later: str) -> bool:
    """Whether one ISO date or time lies before another; False where either is none, or they may overlap.

    A date without a time may be any moment of its day.
    """
    first, last = _span(earlier), _span(later)
    if first is None or last is None:
        return False
    if any(end.tzinfo is None for end in (first[1], last[0])):
        first, last = (tuple(end.replace(tzinfo=None) for end in span) for span in (first, last))
    return first[1] <= last[0] and first[0] < last[0]


def _span(text: str) -> tuple[datetime, ...] | None:
    """First and last moment that a text may mean."""
    try:
        at = datetime.fromisoformat(text)
    except ValueError:
        return None
    try:
        day = date.fromisoformat(text)
    except ValueError:
        return at, at
    return at, datetime.combine(day, datetime.min.time()) + timedelta(days=1)
