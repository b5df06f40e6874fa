"""Round journals seen from the side: along the axis across the drawing, wear drawn too large."""

from collections.abc import Iterator, Sequence

from inspect_app.pictures.marks import hatches, metal
from inspect_app.pictures.profile import FOOTNOTES, Profile, footnotes, per_mm, summary
from inspect_app.pictures.svg import Svg, Value, document, fitted, line, polygon, strong, text
from inspect_app.pictures.tokens import CENTRE, CHAIN, Ground
from inspect_app.pictures.wall import Wall, readings, sizes, surface

PANEL, MARGIN = 560, 16
LEFT, LONG, BEFORE = 120, 320, 40
TITLE_AT, TOP, THICK, FOOT = 16, 56, 168, 62
TO_NUMBER = 14


def journal_profile(journals: Sequence[Profile], ground: Ground, *, columns: int = 1) -> Svg:
    """Draw each journal, its first direction at the upper edge and its second at the lower.

    All at one exaggeration, written below. More than two directions take a panel for each pair.
    Raises ValueError without journals.
    """
    panels = [(journal, first) for journal in journals for first in range(0, len(journal.directions), 2)]
    if not panels:
        raise ValueError("no journal to draw")
    across, along = per_mm(journals), along_per_mm(journals)
    columns, outside = min(columns, len(panels)), _outside(journals, across)
    high = TOP + THICK + FOOT + 2 * outside
    rows = -(-len(panels) // columns)
    drawn = (
        piece
        for at, (journal, first) in enumerate(panels)
        for piece in _panel(
            walls(journal, first, PANEL * (at % columns), high * (at // columns) + outside, across, along),
            high * (at // columns) + TITLE_AT,
            outside,
            ground,
        )
    )
    return document(
        PANEL * columns,
        high * rows + FOOTNOTES,
        ". ".join(summary(journal) for journal in journals),
        hatches(ground),
        *drawn,
        footnotes(journals, across / along, MARGIN, high * rows, ground),
    )


def along_per_mm(profiles: Sequence[Profile]) -> float:
    """Return how many pixels a mm along the journal takes: the longest fills the panel."""
    longest = max(profile.at[-1] - profile.at[0] for profile in profiles)
    return (LONG - 2 * BEFORE) / longest if longest else 1.0


def _outside(profiles: Sequence[Profile], across: float) -> float:
    """The room that sizes above the unworn one need at each edge."""
    shown = ((p, size) for p in profiles for size in (*p.read, p.listed) if size is not None)
    return max([0.0, *((size - p.base) * across for p, size in shown)])


def walls(journal: Profile, first: int, x: float, y: float, across: float, along: float) -> list[Wall]:
    """Return both edges of one panel; a single direction is drawn at both, as a two-point gauge means it."""
    begin = x + LEFT
    stations = tuple(begin + BEFORE + (at - journal.at[0]) * along for at in journal.at)
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
            begin + LONG,
            True,
        )
        for side, way in ((0, -1), (1, 1))
    ]


def _panel(edges: list[Wall], title_at: float, outside: float, ground: Ground) -> Iterator[Svg]:
    upper, lower = edges
    journal, x = upper.profile, upper.begin - LEFT
    yield strong(x + MARGIN, title_at, fitted(journal.title, 15, PANEL - 2 * MARGIN), ground)
    around = [point for point, _ in upper.surface] + [point for point, _ in reversed(lower.surface)]
    yield polygon(around, fill=metal(ground), stroke="none")
    middle = (upper.base + lower.base) / 2
    chain: dict[str, Value] = {"stroke_width": CENTRE, "stroke_dasharray": CHAIN}
    yield line(upper.begin - 20, middle, upper.end + 20, middle, stroke=ground.ink, **chain)
    for wall in edges:
        yield from _edge(wall, outside, ground)
    for name, at, station in zip(journal.stations, journal.at, upper.stations, strict=True):
        y = lower.base + outside + 46
        yield text(station, y, fitted(f"{name}, {at:g} mm", 13, 110), ground, anchor="middle", soft=True)


def _edge(wall: Wall, outside: float, ground: Ground) -> Iterator[Svg]:
    journal = wall.profile
    yield from surface(wall, ground)
    yield from sizes(wall, ground, 10)
    yield from readings(wall, ground, wall.way * (TO_NUMBER + outside), "middle")
    name = fitted(journal.directions[wall.direction], 13, LEFT - 40)
    yield text(wall.begin - 16, wall.base + 5, name, ground, anchor="end", soft=True)
    if journal.unworn is not None:
        yield text(wall.end + 16, wall.base + 5, "unworn", ground, soft=True)
    if journal.listed is not None:
        y = wall.across(journal.listed)
        y += 5 if abs(y - wall.base) > 14 else -wall.way * 16
        yield text(wall.end + 16, y, fitted(journal.listed_name, 13, 100), ground)
