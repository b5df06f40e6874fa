"""Positions that no shape draws, as a list: mark, name, verdict."""

from collections.abc import Iterator, Sequence

from inspect_app.pictures import words
from inspect_app.pictures.callouts import Judged
from inspect_app.pictures.marks import mark
from inspect_app.pictures.plan import Seat
from inspect_app.pictures.svg import Svg, element, group, rect, strong, text, text_width
from inspect_app.pictures.tokens import Ground

LINE = 28
HEAD = 30
TO_TITLE = 44


def height(seats: Sequence[Seat]) -> float:
    """Return how high the list is with its heading; 0 without seats."""
    return HEAD + LINE * len(seats) if seats else 0


def width(seats: Sequence[Seat], judged: Judged) -> float:
    """Return how wide the list is."""
    return max((_to_words(seats) + text_width(_said(seat, judged), 13) for seat in seats), default=0)


def draw(
    seats: Sequence[Seat], judged: Judged, ground: Ground, x: float, y: float, heading: str
) -> Iterator[Svg]:
    """Draw the list below y; nothing without seats."""
    if seats:
        yield text(x, y + 14, heading, ground, soft=True)
    for number, seat in enumerate(seats):
        yield _line(seat, judged, ground, x, y + HEAD + LINE * number, _to_words(seats))


def _line(seat: Seat, judged: Judged, ground: Ground, x: float, y: float, to_words: float) -> Svg:
    part = judged.get(seat.position)
    drawn = mark(ground, part.verdict if part else None, part.standing if part else None)
    said = _said(seat, judged)
    return group(
        element("title", f"{seat.title}: {said}"),
        rect(x, y + 2, 32, 18, **drawn),
        strong(x + TO_TITLE, y + 16, seat.title, ground),
        text(x + to_words, y + 16, said, ground, soft=True),
        data_position=seat.position,
    )


def _to_words(seats: Sequence[Seat]) -> float:
    return TO_TITLE + max(text_width(seat.title, 15) for seat in seats) + 16


def _said(seat: Seat, judged: Judged) -> str:
    part = judged.get(seat.position)
    return words.verdict_standing(part.verdict, part.standing) if part else words.NOT_JUDGED
