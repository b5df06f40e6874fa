"""What the tests of the drawings share: parsing, bounds of everything drawn, machines of every layout."""

import math
import xml.etree.ElementTree as ET
from collections.abc import Iterator
from functools import cache

from inspect_app.model.answer import Answer
from inspect_app.model.sheet import EngineSheet
from inspect_app.pictures.plan import Plan, plan_of
from inspect_app.rulebook.engine import Engine
from tests.judge import six
from tests.ui import made

SPACE = "{http://www.w3.org/2000/svg}"
NASTY = '<b>& "x" \x00\x1f'


def parsed(drawing: str) -> ET.Element:
    """The drawing as a tree; fails if it is not well-formed."""
    return ET.fromstring(drawing)


def texts(drawing: str) -> list[str]:
    """Every line of text that is drawn."""
    return [node.text or "" for node in parsed(drawing).iter(f"{SPACE}text")]


def of_class(drawing: str, name: str) -> list[ET.Element]:
    return [node for node in parsed(drawing).iter() if node.get("class") == name]


def positions(drawing: str) -> list[str]:
    found = (node.get("data-position") for node in parsed(drawing).iter())
    return [name for name in found if name is not None]


def at(node: ET.Element, *names: str) -> tuple[float, ...]:
    return tuple(float(node.get(name, "0")) for name in names)


def _points(node: ET.Element) -> Iterator[tuple[float, float]]:
    match node.tag.removeprefix(SPACE):
        case "rect":
            x, y, width, height = at(node, "x", "y", "width", "height")
            assert width >= 0, ET.tostring(node)
            assert height >= 0, ET.tostring(node)
            yield from ((x, y), (x + width, y + height))
        case "line":
            x1, y1, x2, y2 = at(node, "x1", "y1", "x2", "y2")
            yield from ((x1, y1), (x2, y2))
        case "circle":
            x, y, radius = at(node, "cx", "cy", "r")
            yield from ((x - radius, y - radius), (x + radius, y + radius))
        case "polyline" | "polygon":
            for pair in node.get("points", "").split():
                x, y = pair.split(",")
                yield float(x), float(y)
        case "text":
            yield from _text_points(node)


def _text_points(node: ET.Element) -> Iterator[tuple[float, float]]:
    """A box that is about as wide as the condensed face sets the words."""
    x, y, size = at(node, "x", "y", "font-size")
    width = len(node.text or "") * size * 0.47
    left = x - width * {"start": 0.0, "middle": 0.5, "end": 1.0}[node.get("text-anchor", "start")]
    yield from ((left, y - size * 0.8), (left + width, y + size * 0.25))


def outside(drawing: str) -> list[str]:
    """Everything that is drawn wholly or partly outside the view box."""
    root = parsed(drawing)
    _, _, width, height = map(float, root.get("viewBox", "").split())
    assert at(root, "width", "height") == (width, height)
    tiles = {id(node) for defs in root.iter(f"{SPACE}defs") for node in defs.iter()}
    return [
        ET.tostring(node, encoding="unicode")
        for node in root.iter()
        if id(node) not in tiles
        for x, y in _points(node)
        if not (-0.5 <= x <= width + 0.5 and -0.5 <= y <= height + 0.5 and math.isfinite(x + y))
    ]


def sheet(cylinders: int, mains: int, heads: int = 1, **changes: object) -> EngineSheet:
    counts = {"cylinders": cylinders, "mains": mains, "rod_journals": cylinders, "heads": heads}
    return six.sheet(counts=counts, **changes)


LAYOUTS = {
    "inline 3": sheet(3, 4),
    "inline 4": sheet(4, 5),
    "inline 4 on three": sheet(4, 3),
    "inline 5": sheet(5, 6),
    "inline 6": sheet(6, 7),
    "inline 6, two heads": sheet(6, 7, 2),
    "single": sheet(1, 2),
    "V6": sheet(6, 4, 2, names={"heads": ("left", "right")}),
    "V8": sheet(8, 5, 2, conventions={"cylinder_rows": "1 2 3 4 / 5 6 7 8"}),
    "V2": sheet(2, 2, 2),
    "V12": sheet(12, 7, 2),
}


@cache
def plan(layout: str) -> Plan:
    return plan_of(Engine(six.book(), LAYOUTS[layout]))


def answer(title: str = "0417 Brackwater Four", **verdicts: str) -> Answer:
    """An answer with these verdicts, "replace" settled and all others provisional; `_` stands for a space."""
    parts = tuple(
        made.part(
            position=name.replace("__", " ") if "__" in name else name,
            title=name,
            verdict=verdict,
            standing="settled" if verdict == "replace" else "provisional",
        )
        for name, verdict in verdicts.items()
    )
    base = made.answer()
    return base.model_copy(update={"parts": parts, "core": base.core.model_copy(update={"title": title})})
