"""Sections of round holes: depth down the drawing, one wall for each direction, wear drawn too large."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from inspect_app.pictures.marks import hatches, metal
from inspect_app.pictures.profile import (
    WORN_ACROSS,
    Profile,
    along_per_mm,
    draw_footnotes,
    foot,
    footnotes,
    per_mm,
    summary,
)
from inspect_app.pictures.svg import Svg, document, fitted, line, polygon, strong, text
from inspect_app.pictures.tokens import LEADER, Ground
from inspect_app.pictures.wall import Wall, readings, sizes, surface

WIDTH, NARROW = 540, 340
LISTED_AT, TITLE_AT, TOP, LONG, FOOT = 44, 16, 60, 200, 44
BEFORE = 16
TO_NUMBER = 14
NUMBER_WIDE, WORDS_WIDE = 64, 70


@dataclass(frozen=True)
class Room:
    """How the width of one panel is shared: a margin, a wall, the open hole, a wall, a margin."""

    panel: float

    @property
    def margin(self) -> float:
        """The ground left and right of the walls."""
        return 16 if self.panel > NARROW else 8

    @property
    def thick(self) -> float:
        """How thick each wall is drawn."""
        return 112 if self.panel >= WIDTH else 84

    @property
    def open(self) -> float:
        """How wide the unworn hole is drawn."""
        return self.panel - 2 * (self.margin + self.thick)

    @property
    def between(self) -> float:
        """How much of the hole is left between the numbers of both walls for words; 0 where too little is."""
        left = self.open - 2 * NUMBER_WIDE
        return left if left >= WORDS_WIDE else 0


def bore_profile(bores: Sequence[Profile], ground: Ground, *, columns: int = 1, width: float = WIDTH) -> Svg:
    """Draw each hole between its walls, all at one exaggeration, which is written below.

    A hole with more than two directions takes a panel, `width` wide, for each pair of them.
    Raises ValueError without holes.
    """
    panels = [(bore, first) for bore in bores for first in range(0, len(bore.directions), 2)]
    if not panels:
        raise ValueError("no hole to draw")
    across, along = per_mm(bores), along_per_mm(bores, LONG - 2 * BEFORE)
    columns = min(columns, len(panels))
    high, rows, notes = TOP + LONG + FOOT, -(-len(panels) // columns), footnotes(bores, across, along)
    drawn = (
        piece
        for at, (bore, first) in enumerate(panels)
        for piece in _panel(
            Room(width),
            walls(bore, first, width * (at % columns), high * (at // columns), across, along, width),
            ground,
        )
    )
    return document(
        width * columns,
        high * rows + foot(notes),
        ". ".join(summary(bore) for bore in bores),
        hatches(ground),
        *drawn,
        draw_footnotes(notes, Room(width).margin, high * rows, ground),
    )


def walls(
    bore: Profile, first: int, x: float, y: float, across: float, along: float, width: float = WIDTH
) -> list[Wall]:
    """Return the walls of one panel: the direction `first` at the left, the next at the right."""
    begin, room = y + TOP, Room(width)
    stations = tuple(begin + BEFORE + (at - bore.along[0]) * along for at in bore.along)
    left = x + room.margin + room.thick
    return [
        Wall(bore, first + side, left + side * room.open, way, across, stations, begin, begin + LONG)
        for side, way in ((0, -1), (1, 1))
        if first + side < len(bore.directions)
    ]


def _panel(room: Room, drawn: list[Wall], ground: Ground) -> Iterator[Svg]:
    bore, top = drawn[0].profile, drawn[0].begin - TOP
    left = drawn[0].base - room.thick
    yield strong(left, top + TITLE_AT, fitted(bore.title, 15, room.panel - 2 * room.margin), ground)
    for wall in drawn:
        yield from _wall(wall, room, ground)
    middle, above = left + room.thick + room.open / 2, 4 if room.between > 0 else 14
    half = min(60.0, room.between / 2)
    for sign, station in zip(bore.signs, drawn[0].stations, strict=True):
        said = fitted(sign, 13, room.between if room.between > 0 else room.open - 20)
        yield text(middle, station - above, said, ground, anchor="middle", soft=True)
        if half > 0:
            yield line(
                middle - half, station, middle + half, station, stroke=ground.rule, stroke_width=LEADER
            )


def _wall(wall: Wall, room: Room, ground: Ground) -> Iterator[Svg]:
    bore, border = wall.profile, wall.base + wall.way * room.thick
    points = [point for point, _ in wall.surface]
    yield polygon([(border, wall.begin), *points, (border, wall.end)], fill=metal(ground), stroke="none")
    yield from surface(wall, ground)
    yield from sizes(wall, ground, 8)
    yield from readings(wall, ground, -wall.way * TO_NUMBER, "start" if wall.way < 0 else "end")
    name, most = bore.directions[wall.direction], min(150.0, room.open - 8)
    unworn = f"unworn, {name}" if bore.unworn is not None else name
    yield text(wall.base, wall.end + 26, fitted(unworn, 13, most), ground, anchor="middle", soft=True)
    if bore.listed is not None:
        x, reach = wall.across(bore.listed), 2 * (room.thick + room.margin - WORN_ACROSS)
        yield text(x, wall.begin - 12, fitted(bore.listed_name, 13, max(reach, 60)), ground, anchor="middle")
