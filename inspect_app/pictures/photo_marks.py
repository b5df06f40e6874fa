"""Marks on a photo, without the photo: ink under yellow round the damage, and a letter in a balloon.

The screen on which marks are drawn takes its sizes from here (`geometry`) and places balloons alike.
"""

from collections.abc import Sequence
from dataclasses import dataclass

from inspect_app.pictures.svg import (
    Svg,
    Value,
    circle,
    element,
    group,
    join,
    line,
    number,
    polygon,
    polyline,
)
from inspect_app.pictures.tokens import BALLOON, FONT, MARKED, UNDER_MARK, Ground

Point = tuple[float, float]

RADIUS = 14.0
AWAY = 26.0
YELLOW_WIDTH, INK_WIDTH = 2.0, 4.0
DASH = 6.0
DOT = 4.0
HANDLE = 10.0
LETTER = 16
DIRECTIONS = ((1, -1), (-1, -1), (1, 1), (-1, 1))


@dataclass(frozen=True)
class Marked:
    """A mark to show: its letter, shape and points in pixels of the original; dashed when suspected."""

    letter: str
    shape: str
    points: tuple[Point, ...]
    dashed: bool = False


def geometry() -> dict[str, float | str]:
    """Return the sizes, in pixels on the glass, and the colours that every form of a mark shares."""
    return {
        "radius": RADIUS,
        "away": AWAY,
        "yellow_width": YELLOW_WIDTH,
        "ink_width": INK_WIDTH,
        "dash": DASH,
        "dot": DOT,
        "handle": HANDLE,
        "letter": LETTER,
        "yellow": MARKED,
        "ink": UNDER_MARK,
        "balloon": BALLOON,
    }


def letter(index: int) -> str:
    """Return the letter of the mark at `index`, 0 or more: A to Z, then AA, AB."""
    if index < 0:
        raise ValueError(f"{index} is no place in a list; the first is 0.")
    text = ""
    index += 1
    while index:
        index, rest = divmod(index - 1, 26)
        text = chr(65 + rest) + text
    return text


def box(points: Sequence[Point]) -> tuple[float, float, float, float]:
    """Return left, top, right and bottom of points; there is at least one."""
    xs, ys = [x for x, _ in points], [y for _, y in points]
    return min(xs), min(ys), max(xs), max(ys)


def balloon(
    mark: Marked, others: Sequence[Point], width: float, height: float, unit: float
) -> tuple[Point, Point]:
    """Return where a balloon's centre and the foot of its leader are.

    `unit` is how many pixels of the picture one pixel on the glass is. The balloon stands off a corner of
    the mark's box, inside the picture and clear of the `others` where one corner allows it.
    """
    left, top, right, bottom = box(mark.points)
    radius = RADIUS * unit
    places = []
    for across, down in DIRECTIONS:
        corner = (right if across > 0 else left, bottom if down > 0 else top)
        centre = (corner[0] + across * AWAY * unit, corner[1] + down * AWAY * unit)
        places.append((centre, corner))
    inside = [
        place
        for place in places
        if radius <= place[0][0] <= width - radius and radius <= place[0][1] <= height - radius
    ]
    clear = [place for place in inside if all(_apart(place[0], other) >= 2 * radius for other in others)]
    (x, y), corner = (clear or inside or places)[0]
    centre = (min(max(x, radius), width - radius), min(max(y, radius), height - radius))
    return centre, _foot(mark, corner)


def _foot(mark: Marked, corner: Point) -> Point:
    """Where the leader meets the mark, seen from a corner of its box."""
    if mark.shape == "rectangle":
        return corner
    if mark.shape == "ellipse":
        left, top, right, bottom = box(mark.points)
        middle = ((left + right) / 2, (top + bottom) / 2)
        x, y = ((at + (to - at) * 0.5**0.5) for at, to in zip(middle, corner, strict=True))
        return x, y
    return min(mark.points, key=lambda point: _apart(point, corner))


def _apart(one: Point, other: Point) -> float:
    return float(((one[0] - other[0]) ** 2 + (one[1] - other[1]) ** 2) ** 0.5)


def photo_marks(
    width: float, height: float, marks: Sequence[Marked], ground: Ground, *, shown: float = 720
) -> Svg:
    """Draw marks over a photo of `width` by `height` pixels, to be laid upon it; without the photo.

    `shown` is how wide, in pixels on the glass, it will stand: lines and balloons keep their size there.
    Raises ValueError for a picture without size or a shape that is not known.
    """
    if not (width > 0 and height > 0 and shown > 0):
        raise ValueError(f"a picture of {width:g} by {height:g} pixels, shown {shown:g} wide, has no size.")
    unit = width / shown
    pieces: list[Svg] = []
    centres: list[Point] = []
    for mark in marks:
        centre, foot = balloon(mark, centres, width, height, unit)
        centres.append(centre)
        pieces += [_shape(mark, unit), _lettered(mark, centre, foot, unit, ground)]
    names = ", ".join(mark.letter for mark in marks)
    title = f"Marks on the photo: {names}" if names else "No marks on the photo"
    return element(
        "svg",
        element("title", title),
        *pieces,
        xmlns="http://www.w3.org/2000/svg",
        viewBox=f"0 0 {number(width)} {number(height)}",
        width=shown,
        height=shown * height / width,
        role="img",
        aria_label=title,
        font_family=FONT,
        font_stretch="condensed",
    )


def _shape(mark: Marked, unit: float) -> Svg:
    under = _outline(mark, stroke=UNDER_MARK, stroke_width=INK_WIDTH * unit)
    dash = f"{number(DASH * unit)} {number(DASH * unit)}" if mark.dashed else None
    over = _outline(mark, stroke=MARKED, stroke_width=YELLOW_WIDTH * unit, stroke_dasharray=dash)
    if mark.shape != "point":
        return join(under, over)
    (x, y), size = mark.points[0], DOT * unit
    return join(circle(x, y, size, fill=MARKED, stroke=UNDER_MARK, stroke_width=unit))


def _outline(mark: Marked, **drawn: Value) -> Svg:
    left, top, right, bottom = box(mark.points)
    match mark.shape:
        case "rectangle":
            corners = [(left, top), (right, top), (right, bottom), (left, bottom)]
            return polygon(corners, fill="none", **drawn)
        case "ellipse":
            return element(
                "ellipse",
                cx=(left + right) / 2,
                cy=(top + bottom) / 2,
                rx=(right - left) / 2,
                ry=(bottom - top) / 2,
                fill="none",
                **drawn,
            )
        case "polygon":
            return polygon(mark.points, fill="none", **drawn)
        case "crack_line" | "scale_line" | "point":
            return polyline(mark.points, fill="none", **drawn)
    raise ValueError(f'"{mark.shape}" is no shape of a mark.')


def _lettered(mark: Marked, centre: Point, foot: Point, unit: float, ground: Ground) -> Svg:
    (x, y), radius = centre, RADIUS * unit
    dash = f"{number(3 * unit)} {number(2 * unit)}" if mark.dashed else None
    words = element(
        "text",
        mark.letter,
        x=x,
        y=y + LETTER * 0.36 * unit,
        font_size=LETTER * unit,
        font_weight=ground.strong,
        text_anchor="middle",
        fill=UNDER_MARK,
    )
    return group(
        line(*foot, x, y, stroke=UNDER_MARK, stroke_width=3 * unit),
        line(*foot, x, y, stroke=BALLOON, stroke_width=1.2 * unit),
        circle(x, y, radius, fill=BALLOON),
        circle(x, y, radius, fill="none", stroke=UNDER_MARK, stroke_width=1.2 * unit, stroke_dasharray=dash),
        words,
    )
