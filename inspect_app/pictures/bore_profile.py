"""Sections of round holes: depth down the drawing, one wall for each direction, wear drawn too large."""

from collections.abc import Iterator, Sequence

from inspect_app.pictures.marks import hatches, metal
from inspect_app.pictures.profile import FOOTNOTES, Profile, footnotes, per_mm, summary
from inspect_app.pictures.svg import Svg, document, fitted, line, polygon, strong, text
from inspect_app.pictures.tokens import LEADER, Ground
from inspect_app.pictures.wall import Wall, readings, sizes, surface

PANEL, MARGIN = 540, 16
THICK, OPEN = 112, 284
LISTED_AT, TITLE_AT, TOP, LONG, FOOT = 44, 16, 60, 200, 44
BEFORE = 16
TO_NUMBER = 14


def bore_profile(bores: Sequence[Profile], ground: Ground, *, columns: int = 1) -> Svg:
    """Draw each hole between its walls, all at one exaggeration, which is written below.

    A hole with more than two directions takes a panel for each pair of them. Raises ValueError without holes.
    """
    panels = [(bore, first) for bore in bores for first in range(0, len(bore.directions), 2)]
    if not panels:
        raise ValueError("no hole to draw")
    across, along = per_mm(bores), along_per_mm(bores)
    columns = min(columns, len(panels))
    high = TOP + LONG + FOOT
    rows = -(-len(panels) // columns)
    drawn = (
        piece
        for at, (bore, first) in enumerate(panels)
        for piece in _panel(
            bore, first, PANEL * (at % columns), high * (at // columns), across, along, ground
        )
    )
    return document(
        PANEL * columns,
        high * rows + FOOTNOTES,
        ". ".join(summary(bore) for bore in bores),
        hatches(ground),
        *drawn,
        footnotes(bores, across / along, MARGIN, high * rows, ground),
    )


def along_per_mm(profiles: Sequence[Profile]) -> float:
    """Return how many pixels a mm along the hole takes: the longest fills the panel."""
    longest = max(profile.at[-1] - profile.at[0] for profile in profiles)
    return (LONG - 2 * BEFORE) / longest if longest else 1.0


def walls(bore: Profile, first: int, x: float, y: float, across: float, along: float) -> list[Wall]:
    """Return the walls of one panel: the direction `first` at the left, the next at the right."""
    begin = y + TOP
    stations = tuple(begin + BEFORE + (at - bore.at[0]) * along for at in bore.at)
    left = x + MARGIN + THICK
    return [
        Wall(bore, first + side, left + side * OPEN, way, across, stations, begin, begin + LONG)
        for side, way in ((0, -1), (1, 1))
        if first + side < len(bore.directions)
    ]


def _panel(
    bore: Profile, first: int, x: float, y: float, across: float, along: float, ground: Ground
) -> Iterator[Svg]:
    yield strong(x + MARGIN, y + TITLE_AT, fitted(bore.title, 15, PANEL - 2 * MARGIN), ground)
    drawn = walls(bore, first, x, y, across, along)
    for wall in drawn:
        yield from _wall(wall, ground)
    middle = x + MARGIN + THICK + OPEN / 2
    for name, at, station in zip(bore.stations, bore.at, drawn[0].stations, strict=True):
        yield text(
            middle, station - 4, fitted(f"{name}, {at:g} mm", 13, 120), ground, anchor="middle", soft=True
        )
        yield line(middle - 60, station, middle + 60, station, stroke=ground.rule, stroke_width=LEADER)


def _wall(wall: Wall, ground: Ground) -> Iterator[Svg]:
    bore, border = wall.profile, wall.base + wall.way * THICK
    points = [point for point, _ in wall.surface]
    yield polygon([(border, wall.begin), *points, (border, wall.end)], fill=metal(ground), stroke="none")
    yield from surface(wall, ground)
    yield from sizes(wall, ground, 8)
    yield from readings(wall, ground, -wall.way * TO_NUMBER, "start" if wall.way < 0 else "end")
    name = bore.directions[wall.direction]
    unworn = f"unworn, {name}" if bore.unworn is not None else name
    yield text(wall.base, wall.end + 26, fitted(unworn, 13, 150), ground, anchor="middle", soft=True)
    if bore.listed is not None:
        x = wall.across(bore.listed)
        yield text(x, wall.begin - 12, fitted(bore.listed_name, 13, 130), ground, anchor="middle")
