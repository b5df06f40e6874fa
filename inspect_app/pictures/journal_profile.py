"""Round journals seen from the side: along the axis across the drawing, wear drawn too large."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from inspect_app.pictures.marks import hatches, metal
from inspect_app.pictures.profile import (
    Profile,
    along_per_mm,
    draw_footnotes,
    foot,
    footnotes,
    per_mm,
    summary,
)
from inspect_app.pictures.svg import Svg, Value, document, fitted, line, polygon, strong, text
from inspect_app.pictures.tokens import CENTRE, CHAIN, Ground
from inspect_app.pictures.wall import Wall, readings, sizes, surface

WIDTH, NARROW, MARGIN = 560, 340, 16
TITLE_AT, TOP, THICK, FOOT = 16, 56, 168, 62
TO_NUMBER = 14


@dataclass(frozen=True)
class Room:
    """How the width of one panel is shared: words, the journal, words."""

    panel: float

    @property
    def left(self) -> float:
        """The room for the words of each direction, and as much at the right for those of each size."""
        return 120 if self.panel >= WIDTH else 88

    @property
    def long(self) -> float:
        """How long the journal is drawn."""
        return self.panel - 2 * self.left

    @property
    def before(self) -> float:
        """How far inside the ends the outer stations are drawn."""
        return 40 if self.panel > NARROW else 26


def journal_profile(
    journals: Sequence[Profile], ground: Ground, *, columns: int = 1, width: float = WIDTH
) -> Svg:
    """Draw each journal, its first direction at the upper edge and its second at the lower.

    All at one exaggeration, written below. More than two directions take a panel, `width` wide, for each
    pair. Raises ValueError without journals.
    """
    panels = [(journal, first) for journal in journals for first in range(0, len(journal.directions), 2)]
    if not panels:
        raise ValueError("no journal to draw")
    room, across = Room(width), per_mm(journals)
    along = along_per_mm(journals, room.long - 2 * room.before)
    columns, outside = min(columns, len(panels)), _outside(journals, across)
    notes = footnotes(journals, across, along)
    high = TOP + THICK + FOOT + 2 * outside
    rows = -(-len(panels) // columns)
    drawn: list[Svg] = []
    for at, (journal, first) in enumerate(panels):
        x, y = width * (at % columns), high * (at // columns)
        edges = walls(journal, first, x, y + outside, across, along, width)
        drawn += _panel(edges, y + TITLE_AT, outside, room, ground)
    return document(
        width * columns,
        high * rows + foot(notes),
        ". ".join(summary(journal) for journal in journals),
        hatches(ground),
        *drawn,
        draw_footnotes(notes, MARGIN, high * rows, ground),
    )


def _outside(profiles: Sequence[Profile], across: float) -> float:
    """The room that sizes above the unworn one need at each edge."""
    shown = ((p, size) for p in profiles for size in (*p.read, p.listed) if size is not None)
    return max([0.0, *((size - p.base) * p.in_mm * across for p, size in shown)])


def walls(
    journal: Profile, first: int, x: float, y: float, across: float, along: float, width: float = WIDTH
) -> list[Wall]:
    """Return both edges of one panel; a single direction is drawn at both, as a two-point gauge means it."""
    room = Room(width)
    begin = x + room.left
    stations = tuple(begin + room.before + (at - journal.along[0]) * along for at in journal.along)
    last = len(journal.directions) - 1
    return [
        Wall(
            journal,
            min(first + side, last),
            y + TOP + side * THICK,
            way,
            across,
            stations,
            begin,
            begin + room.long,
            True,
        )
        for side, way in ((0, -1), (1, 1))
    ]


def _panel(edges: list[Wall], title_at: float, outside: float, room: Room, ground: Ground) -> Iterator[Svg]:
    upper, lower = edges
    journal, x = upper.profile, upper.begin - room.left
    yield strong(x + MARGIN, title_at, fitted(journal.title, 15, room.panel - 2 * MARGIN), ground)
    around = [point for point, _ in upper.surface] + [point for point, _ in reversed(lower.surface)]
    yield polygon(around, fill=metal(ground), stroke="none")
    middle = (upper.base + lower.base) / 2
    chain: dict[str, Value] = {"stroke_width": CENTRE, "stroke_dasharray": CHAIN}
    yield line(upper.begin - 20, middle, upper.end + 20, middle, stroke=ground.ink, **chain)
    for wall in edges:
        yield from _edge(wall, outside, room, ground)
    apart = room.long / len(journal.stations)
    for sign, station in zip(journal.signs, upper.stations, strict=True):
        y = lower.base + outside + 46
        yield text(station, y, fitted(sign, 13, min(110.0, apart)), ground, anchor="middle", soft=True)


def _edge(wall: Wall, outside: float, room: Room, ground: Ground) -> Iterator[Svg]:
    journal = wall.profile
    yield from surface(wall, ground)
    yield from sizes(wall, ground, 10)
    yield from readings(wall, ground, wall.way * (TO_NUMBER + outside), "middle")
    name = fitted(journal.directions[wall.direction], 13, room.left - 18)
    yield text(wall.begin - 16, wall.base + 5, name, ground, anchor="end", soft=True)
    if journal.unworn is not None:
        yield text(wall.end + 16, wall.base + 5, "unworn", ground, soft=True)
    if journal.listed is not None:
        y = wall.across(journal.listed)
        y += 5 if abs(y - wall.base) > 14 else -wall.way * 16
        yield text(wall.end + 16, y, fitted(journal.listed_name, 13, room.left - 20), ground)
