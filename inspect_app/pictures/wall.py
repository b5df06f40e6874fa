"""One wall of a profile: the surface through the sizes read, dotted where nothing was read."""

from collections.abc import Iterator
from dataclasses import dataclass
from itertools import pairwise

from inspect_app.pictures.profile import Profile
from inspect_app.pictures.svg import Svg, Value, circle, line, polyline, strong, text
from inspect_app.pictures.tokens import CENTRE, CHAIN, DOTS, LEADER, SETTLED, TWO_DOT, UNJUDGED, Ground

Point = tuple[float, float]


@dataclass(frozen=True)
class Wall:
    """One direction of a profile, on the drawing. Along: x if `lying`, else y; across: the other.

    `base` is where the size that deviations start from is drawn, `way` (1 or -1) where a larger size
    lies, `stations` where each station is, `begin` and `end` the ends of the wall.
    """

    profile: Profile
    direction: int
    base: float
    way: int
    per_mm: float
    stations: tuple[float, ...]
    begin: float
    end: float
    lying: bool = False

    def across(self, size: float) -> float:
        """Return where a size lies across the wall."""
        return self.base + self.way * (size - self.profile.base) * self.profile.in_mm * self.per_mm

    def point(self, along: float, across: float) -> Point:
        """Return x and y of a place on the drawing."""
        return (along, across) if self.lying else (across, along)

    @property
    def sizes(self) -> list[float | None]:
        """The sizes of this direction, one for each station."""
        return [row[self.direction] for row in self.profile.sizes]

    @property
    def surface(self) -> list[tuple[Point, bool]]:
        """The points of the surface, and whether what leads to each from the one before was read."""
        drawn = [self.across(size) for size in self._guessed()]
        read = [size is not None for size in self.sizes]
        alongs = [self.begin, *self.stations, self.end]
        acrosses = [drawn[0], *drawn, drawn[-1]]
        known = [read[0], read[0], *(a and b for a, b in pairwise(read)), read[-1]]
        return [(self.point(a, b), k) for a, b, k in zip(alongs, acrosses, known, strict=True)]

    def _guessed(self) -> list[float]:
        """Each size; where nothing was read, straight on between those around it, at an end the base."""
        read = [(at, size) for at, size in zip(self.stations, self.sizes, strict=True) if size is not None]
        guessed = []
        for at, size in zip(self.stations, self.sizes, strict=True):
            before = [pair for pair in read if pair[0] <= at]
            after = [pair for pair in read if pair[0] >= at]
            if size is None and before and after:
                (low, low_size), (high, high_size) = before[-1], after[0]
                size = low_size + (high_size - low_size) * (at - low) / (high - low)
            guessed.append(self.profile.base if size is None else size)
        return guessed


def surface(wall: Wall, ground: Ground) -> Iterator[Svg]:
    """Draw the surface: full between sizes that were read, dotted elsewhere."""
    points = wall.surface
    for (start, _), (end, known) in pairwise(points):
        if known:
            yield polyline([start, end], fill="none", stroke=ground.ink, stroke_width=SETTLED)
        else:
            dotted: dict[str, Value] = {
                "stroke_width": UNJUDGED,
                "stroke_dasharray": DOTS,
                "stroke_linecap": "round",
            }
            yield polyline([start, end], fill="none", stroke=ground.soft, **dotted)


def readings(wall: Wall, ground: Ground, inward: float, anchor: str) -> Iterator[Svg]:
    """Draw each reading as a small circle with its number `inward` from the base; or "not read"."""
    for along, size in zip(wall.stations, wall.sizes, strict=True):
        label_x, label_y = wall.point(along, wall.base + inward)
        if size is None:
            yield text(label_x, label_y + 5, "not read", ground, anchor=anchor, soft=True)
            continue
        x, y = wall.point(along, wall.across(size))
        if not wall.lying:
            yield line(x, y, label_x - (6 if inward > 0 else -6), y, stroke=ground.ink, stroke_width=LEADER)
        yield circle(x, y, 3, fill=ground.paper, stroke=ground.ink, stroke_width=1.2, class_="reading")
        yield strong(label_x, label_y + 5, wall.profile.shown(size), ground, size=13, anchor=anchor)


def sizes(wall: Wall, ground: Ground, beyond: float) -> Iterator[Svg]:
    """Draw the unworn size as a chain line and the next listed size with two dots, `beyond` both ends."""
    profile = wall.profile
    if profile.unworn is not None:
        yield _along(wall, wall.across(profile.unworn), beyond, ground, CENTRE, CHAIN, "unworn")
    if profile.listed is not None:
        yield _along(wall, wall.across(profile.listed), beyond, ground, 1.1, TWO_DOT, "listed")


def _along(
    wall: Wall, across: float, beyond: float, ground: Ground, width: float, dashes: str, name: str
) -> Svg:
    (x1, y1), (x2, y2) = wall.point(wall.begin - beyond, across), wall.point(wall.end + beyond, across)
    return line(x1, y1, x2, y2, stroke=ground.ink, stroke_width=width, stroke_dasharray=dashes, class_=name)
