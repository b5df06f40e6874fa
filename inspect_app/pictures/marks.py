"""The mark of a verdict: a wash, an ink hatch on it, and an outline that says how sure it is."""

from inspect_app.model.frozen import Standing, Verdict
from inspect_app.pictures import words
from inspect_app.pictures.svg import Svg, Value, circle, document, element, join, line, pattern, rect, text
from inspect_app.pictures.tokens import DOTS, HATCH, PROVISIONAL, SETTLED, TWO_DOT, UNJUDGED, Ground

_KEY_STEPS = {"reuse": 92, "recondition": 124, "replace": 104, "scrap": 90}


def hatches(ground: Ground) -> Svg:
    """Build the fills of every verdict, and the hatch of what lies beyond a limit, for one drawing."""
    return element(
        "defs",
        _hatch(ground, "reuse", 6, 0, ground.reuse),
        _hatch(ground, "recondition", 7, 45, ground.recondition, _stroke(3.5, 7, ground.ink)),
        _hatch(ground, "replace", 5.5, 45, ground.replace, _stroke(2.75, 5.5, ground.ink), _across(ground)),
        _hatch(ground, "scrap", 9, -45, ground.ink, _stroke(4.5, 9, ground.paper, 0.9)),
        _hatch(ground, "unjudged", 7, 0, ground.paper, circle(3.5, 3.5, 0.75, fill=ground.soft)),
        pattern(_name(ground, "metal"), 5, -45, _stroke(2.5, 5, ground.ink, 0.7)),
    )


def _hatch(ground: Ground, name: str, size: float, turned: float, wash: str, *ink: str) -> Svg:
    return pattern(_name(ground, name), size, turned, rect(0, 0, size, size, fill=wash), *ink)


def _stroke(x: float, size: float, colour: str, width: float = HATCH) -> Svg:
    return line(x, 0, x, size, stroke=colour, stroke_width=width)


def _across(ground: Ground) -> Svg:
    return line(0, 2.75, 5.5, 2.75, stroke=ground.ink, stroke_width=HATCH)


def _name(ground: Ground, name: str) -> str:
    return f"{ground.name}-{name}"


def fill(ground: Ground, verdict: Verdict | None) -> str:
    """Return the fill of a verdict; the drawing holds `hatches` of the same ground."""
    return f"url(#{_name(ground, verdict or 'unjudged')})"


def metal(ground: Ground) -> str:
    """Return the fill of cut metal, and of what lies beyond a limit."""
    return f"url(#{_name(ground, 'metal')})"


def outline(ground: Ground, verdict: Verdict | None, standing: Standing | None) -> dict[str, Value]:
    """Return the line round a mark: full when settled, two dots when provisional, dotted when not judged."""
    if verdict is None:
        return {
            "stroke": ground.soft,
            "stroke_width": UNJUDGED,
            "stroke_dasharray": DOTS,
            "stroke_linecap": "round",
        }
    if standing == "settled":
        return {"stroke": ground.ink, "stroke_width": SETTLED}
    return {"stroke": ground.ink, "stroke_width": PROVISIONAL, "stroke_dasharray": TWO_DOT}


def mark(ground: Ground, verdict: Verdict | None, standing: Standing | None) -> dict[str, Value]:
    """Return fill and outline of one verdict, to be given to any shape."""
    return {"fill": fill(ground, verdict), **outline(ground, verdict, standing)}


def swatch(
    verdict: Verdict | None,
    standing: Standing | None,
    ground: Ground,
    *,
    width: float = 54,
    height: float = 22,
) -> Svg:
    """Draw the mark of a verdict alone; the word stands beside it."""
    box = rect(1, 1, width - 2, height - 2, **mark(ground, verdict, standing))
    return document(width, height, words.verdict_standing(verdict, standing), hatches(ground), box)


def key(ground: Ground) -> Svg:
    """Draw the legend of the marks: every verdict, not judged, and the two kinds of line."""
    pieces: list[Svg] = []
    x = 2.0
    for verdict in words.VERDICTS:
        pieces += [_key_box(x, ground, verdict), text(x + 38, 17, words.verdict(verdict), ground, soft=True)]
        x += _KEY_STEPS[verdict]
    pieces += [_key_box(x, ground, None), text(x + 38, 17, words.NOT_JUDGED, ground, soft=True)]
    x += 116
    for standing in ("settled", "provisional"):
        drawn = outline(ground, "reuse", "settled" if standing == "settled" else "provisional")
        pieces += [line(x, 12, x + 32, 12, **drawn), text(x + 38, 17, standing, ground, soft=True)]
        x += 94
    return document(x + 22, 24, "Key of the marks", hatches(ground), join(*pieces))


def _key_box(x: float, ground: Ground, verdict: Verdict | None) -> Svg:
    return rect(x, 3, 32, 18, **mark(ground, verdict, "settled" if verdict else None))
