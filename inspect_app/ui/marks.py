"""Marks being drawn on a photo: plain data in original pixels, checked when they come from a browser."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from typing import Any, Literal, get_args

from inspect_app.model.problems import Problem, Problems, raise_if_any

Shape = Literal["rectangle", "ellipse", "polygon", "crack_line", "point", "scale_line"]
Point = tuple[float, float]

MOST_MARKS = 100
MOST_POINTS = 500
LONGEST_ID = 64
BESIDE = 1.0
"""Pixels that a point may lie outside the picture by rounding; it is put on the edge."""

_FAR = 1e9
_MOST_REVISIONS = 1 << 53
"""What JavaScript counts to without skipping a number."""

POINTS: dict[Shape, tuple[int, int]] = {
    "rectangle": (2, 2),
    "ellipse": (2, 2),
    "polygon": (3, MOST_POINTS),
    "crack_line": (2, MOST_POINTS),
    "point": (1, 1),
    "scale_line": (2, 2),
}
"""Fewest and most points. A rectangle and the box of an ellipse are two opposite corners."""


@dataclass(frozen=True)
class Mark:
    """One mark. `points` are x to the right and y down, in pixels of the original, upright picture."""

    id: str
    shape: Shape
    points: tuple[Point, ...]

    def plain(self) -> dict[str, Any]:
        """The mark as plain JSON data."""
        return {"id": self.id, "shape": self.shape, "points": [list(point) for point in self.points]}


@dataclass(frozen=True)
class Sent:
    """What one edit leaves: the whole list of drafts, and the id of the one that is chosen."""

    photo: str
    revision: int
    marks: tuple[Mark, ...]
    selected: str | None = None


def read_marks(plain: object, width: float, height: float) -> tuple[Mark, ...]:
    """Check marks from plain JSON data on a picture of `width` by `height` pixels.

    A mark that comes twice is one, the later; a point up to a pixel outside is put on the edge. Raises
    `Problems`, all at once, for anything else that is not a mark on this picture.
    """
    if not isinstance(plain, list | tuple):
        raise Problems([Problem("marks", "the list of marks is not a list.", "Nothing was stored.")])
    if len(plain) > MOST_MARKS:
        what = f"{len(plain)} marks on one photo; at most {MOST_MARKS} are kept."
        raise Problems([Problem("marks", what, "Take some away. Nothing was stored.")])
    problems: list[Problem] = []
    marks: dict[str, Mark] = {}
    for number, item in enumerate(plain, 1):
        wrong = list(_wrong(item, width, height))
        problems += (Problem(f"mark {number}", what, advice) for what, advice in wrong)
        if not wrong:
            marks[item["id"]] = _mark(item, width, height)
    raise_if_any(problems)
    return tuple(marks.values())


def read_sent(plain: object, width: float, height: float) -> Sent:
    """Check what the browser sent after an edit; raises `Problems`."""
    value = plain if isinstance(plain, Mapping) else {}
    revision: Any = value.get("revision")
    photo = value.get("photo")
    whole = isinstance(revision, int) and not isinstance(revision, bool)
    if not whole or not 0 <= revision < _MOST_REVISIONS or not isinstance(photo, str):
        what = "what the browser sent names no photo and no revision."
        raise Problems([Problem("marks", what, "Load the page again. Nothing was stored.")])
    marks = read_marks(value.get("marks"), width, height)
    chosen = next((mark.id for mark in marks if mark.id == value.get("selected")), None)
    return Sent(photo, revision, marks, chosen)


def _wrong(item: object, width: float, height: float) -> Iterator[tuple[str, str]]:
    """What is wrong with one mark, and what to do."""
    if not isinstance(item, Mapping):
        yield "is not a mark.", "Draw it again."
        return
    name, points = item.get("id"), item.get("points")
    shape: Any = item.get("shape")
    if not isinstance(name, str) or not 0 < len(name) <= LONGEST_ID:
        yield f"has no id of 1 to {LONGEST_ID} characters.", "Draw it again."
    if shape not in get_args(Shape):
        yield f'"{shape}" is no shape.', f"Shapes are {', '.join(get_args(Shape))}."
        return
    if not isinstance(points, list | tuple) or not all(_is_point(point) for point in points):
        yield "a point is not a pair of numbers.", "Draw it again."
        return
    yield from _wrong_number(shape, len(points))
    yield from _wrong_places(points, width, height)
    if not list(_wrong_number(shape, len(points))) and _flat(shape, points):
        yield f"the {_word(shape)} has no size.", "Draw it larger."


def _is_point(point: object) -> bool:
    return (
        isinstance(point, list | tuple)
        and len(point) == 2
        and all(isinstance(n, int | float) and not isinstance(n, bool) and abs(n) < _FAR for n in point)
    )


def _wrong_number(shape: Shape, number: int) -> Iterator[tuple[str, str]]:
    fewest, most = POINTS[shape]
    if not fewest <= number <= most:
        wanted = f"{fewest}" if fewest == most else f"{fewest} to {most}"
        yield f"a {_word(shape)} has {wanted} points, not {number}.", "Draw it again."


def _wrong_places(points: Any, width: float, height: float) -> Iterator[tuple[str, str]]:
    for x, y in points:
        if not (-BESIDE <= x <= width + BESIDE and -BESIDE <= y <= height + BESIDE):
            yield (
                f"the point {x:g}, {y:g} lies outside the picture of {width:g} by {height:g} pixels.",
                "Move it inside.",
            )


def _flat(shape: Shape, points: Any) -> bool:
    wide, high = ({point[axis] for point in points} for axis in (0, 1))
    if shape == "point":
        return False
    if shape in ("crack_line", "scale_line"):
        return len(wide) == 1 and len(high) == 1
    return len(wide) == 1 or len(high) == 1


def _word(shape: Shape) -> str:
    return shape.replace("_", " ")


def _mark(item: Mapping[str, Any], width: float, height: float) -> Mark:
    points = tuple((_within(x, width), _within(y, height)) for x, y in item["points"])
    return Mark(item["id"], item["shape"], points)


def _within(value: float, most: float) -> float:
    return round(float(min(max(value, 0), most)), 2)
