"""A small writer of SVG: text is always escaped and numbers are rounded: same data, same bytes."""

from collections.abc import Sequence
from html import escape

from inspect_app.pictures.tokens import FONT, Ground

Value = str | float | int | None


class Svg(str):
    """Finished SVG; only this module makes it, and what is built from it."""

    __slots__ = ()


NOTHING = Svg("")


def number(value: float) -> str:
    """Write a number with at most two decimals: 12.0 -> "12", 0.7512 -> "0.75", never "-0"."""
    text = f"{value:.2f}".rstrip("0").rstrip(".")
    return "0" if text == "-0" else text


def element(name: str, *children: str, **attributes: Value) -> Svg:
    """Build one element. Children that are not `Svg` are text and are escaped, as attributes are.

    `_` in an attribute's name stands for `-`, and an attribute that is None is left out.
    """
    written = "".join(
        f' {key.rstrip("_").replace("_", "-")}="{_value(value)}"'
        for key, value in attributes.items()
        if value is not None
    )
    inner = join(*children)
    return Svg(f"<{name}{written}>{inner}</{name}>" if inner else f"<{name}{written}/>")


def join(*children: str) -> Svg:
    """Put pieces one after the other; text among them is escaped."""
    return Svg("".join(child if isinstance(child, Svg) else escape(_legal(child)) for child in children))


def _value(value: str | float | int) -> str:
    return escape(_legal(value)) if isinstance(value, str) else number(value)


def _legal(text: str) -> str:
    """Drop what XML cannot hold in any form: control characters, lone surrogates, two non-characters."""
    return "".join(
        char
        for char in text
        if char in "\t\n\r"
        or (char >= " " and not "\ud800" <= char <= "\udfff" and char not in "\ufffe\uffff")
    )


def group(*children: str, **attributes: Value) -> Svg:
    """Build a group of pieces."""
    return element("g", *children, **attributes)


def rect(x: float, y: float, width: float, height: float, **attributes: Value) -> Svg:
    """Build a rectangle."""
    return element("rect", x=x, y=y, width=width, height=height, **attributes)


def line(x1: float, y1: float, x2: float, y2: float, **attributes: Value) -> Svg:
    """Build a straight line."""
    return element("line", x1=x1, y1=y1, x2=x2, y2=y2, **attributes)


def polyline(points: Sequence[tuple[float, float]], **attributes: Value) -> Svg:
    """Build a line through points."""
    return element("polyline", points=_points(points), **attributes)


def polygon(points: Sequence[tuple[float, float]], **attributes: Value) -> Svg:
    """Build the shape that points bound."""
    return element("polygon", points=_points(points), **attributes)


def _points(points: Sequence[tuple[float, float]]) -> str:
    return " ".join(f"{number(x)},{number(y)}" for x, y in points)


def circle(x: float, y: float, radius: float, **attributes: Value) -> Svg:
    """Build a circle round (x, y)."""
    return element("circle", cx=x, cy=y, r=radius, **attributes)


def text(
    x: float,
    y: float,
    words: str,
    ground: Ground,
    *,
    size: int = 13,
    anchor: str = "start",
    soft: bool = False,
) -> Svg:
    """Build one line of text in ink, or soft."""
    colour = ground.soft if soft else ground.ink
    return element("text", words, x=x, y=y, font_size=size, text_anchor=anchor, fill=colour)


def strong(x: float, y: float, words: str, ground: Ground, *, size: int = 14, anchor: str = "start") -> Svg:
    """Build one line of heavy text in ink."""
    return element(
        "text",
        words,
        x=x,
        y=y,
        font_size=size,
        font_weight=ground.strong,
        text_anchor=anchor,
        fill=ground.ink,
    )


def pattern(name: str, size: float, turned: float, *children: str) -> Svg:
    """Build a square tile of `size`, turned by `turned` degrees, to fill shapes with."""
    turn = f"rotate({number(turned)})" if turned else None
    return element(
        "pattern",
        *children,
        id=name,
        width=size,
        height=size,
        patternUnits="userSpaceOnUse",
        patternTransform=turn,
    )


def text_width(words: str, size: float) -> float:
    """Estimate, rather too wide than too narrow, how wide a line of the condensed face is."""
    return len(words) * size * 0.52


def fitted(words: str, size: float, room: float) -> str:
    """Cut a line that would be wider than `room`, and say so by an ellipsis."""
    most = max(1, int(room / (size * 0.52)))
    return words if len(words) <= most else f"{words[: most - 1].rstrip()}…"


def document(width: float, height: float, title: str, *children: str) -> Svg:
    """Build a whole drawing, `width` by `height` at 1:1; `title` is what a screen reader says."""
    return element(
        "svg",
        element("title", title),
        *children,
        xmlns="http://www.w3.org/2000/svg",
        viewBox=f"0 0 {number(width)} {number(height)}",
        width=width,
        height=height,
        role="img",
        aria_label=title,
        font_family=FONT,
        font_stretch="condensed",
    )
