"""A figure against its limit, to scale: the rule, what lies beyond hatched, the reading as a needle."""

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Literal

from inspect_app.model.answer import CloseCall, Closed
from inspect_app.model.answer_figures import LimitShown, Measured
from inspect_app.pictures import words
from inspect_app.pictures.marks import hatches, metal
from inspect_app.pictures.scale import Scale, capped, rule, scale
from inspect_app.pictures.svg import Svg, document, fitted, line, polygon, rect, strong, text, text_width
from inspect_app.pictures.tokens import DRAWN, LIMIT, Ground

WIDTH, NARROW = 560, 340
HEIGHT, NOTE_LINE = 148, 18
MARGIN = 34
TITLE_AT, LIMIT_AT, NEEDLE_TOP, CAPPED_AT, LINE_AT, NOTE_AT = 16, 40, 48, 72, 96, 138
HATCH_HIGH = 9
TICK_ROOM = 93
SET_TIGHTER = 0.9
"""What the face really takes of the width that `text_width` allows."""

Worse = Literal["above", "below"]


@dataclass(frozen=True)
class Bar:
    """What a bar shows, all in one unit. A limit with only one side leaves the other None.

    `value` None: nothing was read. `known`: whether readings still missing could make it larger or smaller.
    `plain_limit`: a limit of which nobody knows which side is worse; nothing is hatched. `span` is drawn
    capped in place of the uncertainty, and `span_word` says what it is. `places`: the fewest decimal places
    to write; None for those of a gauge.
    """

    title: str
    unit: str
    value: float | None
    u: float = 0
    lower: float | None = None
    upper: float | None = None
    plain_limit: float | None = None
    known: words.Bound = "exact"
    limit_word: str = "limit"
    value_word: str = "read"
    note: str = ""
    span: tuple[float, float] | None = None
    span_word: str = ""
    places: int | None = None

    @property
    def capped(self) -> tuple[float, float] | None:
        """From where to where the capped line reaches; None where there is none."""
        if self.value is None or self.span is not None:
            return None if self.value is None else self.span
        return (self.value - self.u, self.value + self.u) if self.u > 0 else None

    @property
    def limits(self) -> list[float]:
        """The limits there are, the lower first."""
        return [limit for limit in (self.lower, self.upper, self.plain_limit) if limit is not None]


def bar_of(reason: Closed | CloseCall, title: str, *, worse: Worse | None = None) -> Bar | None:
    """Return the bar of a reason or close call; None where it has no figure or no limit in its unit.

    Without `worse`, the side is told by where the figure lies and whether that is past the limit.
    """
    figure, limit = reason.measured, reason.limit
    if figure is None or limit is None or figure.unit != limit.unit:
        return None
    origin = reason.limit_from if isinstance(reason, Closed) else None
    against = reason.against if isinstance(reason, Closed) else "limit"
    side = worse or _worse(reason, figure, limit)
    return Bar(
        title=title,
        unit=figure.unit,
        value=figure.value,
        u=figure.u,
        lower=limit.value if side == "below" else None,
        upper=limit.value if side == "above" else None,
        plain_limit=None if side else limit.value,
        known=figure.bound,
        limit_word=words.AGAINST[against],
        value_word=words.VALUES[against],
        note=words.LIMITS_FROM[origin] if origin else "",
        places=figure.places,
    )


def _worse(reason: Closed | CloseCall, figure: Measured, limit: LimitShown) -> Worse | None:
    past = reason.margin if isinstance(reason, Closed) else reason.p_beyond - 0.5
    away = (figure.value - limit.value) * (past or 0.0)
    return None if not away else "above" if away > 0 else "below"


def bar_scale(bar: Bar, width: float = WIDTH) -> Scale:
    """Return the scale of a bar: it holds value, uncertainty and limits."""
    shown = [*bar.limits, *(bar.capped or ())]
    if bar.value is not None:
        shown.append(bar.value)
    return scale(shown, MARGIN, width - MARGIN, parts=max(3, int(width / TICK_ROOM)))


def limit_bar(bar: Bar, ground: Ground, width: float = WIDTH) -> Svg:
    """Draw the bar with its title above and unit, whose limit and any note below."""
    on = bar_scale(bar, width)
    room = on.right - on.left
    notes = _in_lines(_notes(bar), room)
    places = max(on.decimals, _places(bar))
    labels = [words.number(tick, on.decimals) for tick in on.ticks]
    return document(
        width,
        HEIGHT + NOTE_LINE * (len(notes) - 1),
        f"{bar.title}: {spoken(bar)}",
        hatches(ground),
        strong(MARGIN, TITLE_AT, fitted(bar.title, 13, room + MARGIN - 8), ground),
        *_beyond(bar, on, ground),
        rule(on, LINE_AT, labels, ground),
        *_limits(bar, on, places, ground),
        *_needle(bar, on, places, ground),
        *(
            text(MARGIN, NOTE_AT + NOTE_LINE * at, fitted(note, 13, room + MARGIN - 8), ground, soft=True)
            for at, note in enumerate(notes)
        ),
    )


def spoken(bar: Bar) -> str:
    """Say what the bar shows: "at least 0.0063 ± 0.0002 in, limit 0.0060 in"."""
    places = max(bar_scale(bar).decimals, _places(bar))
    limits = " and ".join(words.number(limit, places) for limit in bar.limits)
    against = f", {bar.limit_word} {limits} {bar.unit}".rstrip() if limits else ""
    give = f" ± {words.number(bar.u, places)}" if bar.u > 0 and bar.value is not None else ""
    if bar.span and bar.value is not None:
        give = f", from {words.number(bar.span[0], places)} to {words.number(bar.span[1], places)}"
    return f"{_reading(bar, places)}{give} {bar.unit}".rstrip() + against


def _places(bar: Bar) -> int:
    """The places that tell value, uncertainty and limits, at most two more than a gauge shows."""
    numbers = [*bar.limits, *([bar.value] if bar.value is not None else [])]
    usual = words.GAUGE_PLACES.get(bar.unit, 0) if bar.places is None else bar.places
    needed = (next((d for d in range(9) if abs(round(n, d) - n) < 1e-9), 9) for n in numbers)
    return min(usual + 2, max(usual, *needed)) if numbers else usual


def _reading(bar: Bar, places: int) -> str:
    if bar.value is None:
        return "not read"
    return words.BOUNDS[bar.known] + words.number(bar.value, places)


def _notes(bar: Bar) -> list[str]:
    unit = bar.unit or "no unit"
    give = f"capped line: {bar.span_word or 'standard uncertainty'}" if bar.capped else ""
    moves = f"not all is read: it can only be {_MOVES[bar.known]}" if bar.known != "exact" else ""
    return list(filter(None, ("; ".join(filter(None, (unit, bar.note))), give, moves)))


def _in_lines(notes: list[str], room: float) -> list[str]:
    """Join what fits on one line."""
    lines: list[str] = []
    for note in notes:
        joined = f"{lines[-1]}; {note}" if lines else note
        if lines and text_width(joined, 13) <= room:
            lines[-1] = joined
        else:
            lines.append(note)
    return lines


_MOVES = {"at_least": "larger", "at_most": "smaller"}


def _beyond(bar: Bar, on: Scale, ground: Ground) -> Iterator[Svg]:
    top = LINE_AT - HATCH_HIGH
    if bar.lower is not None:
        yield rect(on.left, top, on.at(bar.lower) - on.left, HATCH_HIGH, fill=metal(ground), class_="beyond")
    if bar.upper is not None:
        x = on.at(bar.upper)
        yield rect(x, top, on.right - x, HATCH_HIGH, fill=metal(ground), class_="beyond")


def _limits(bar: Bar, on: Scale, places: int, ground: Ground) -> Iterator[Svg]:
    """Draw each limit as a thick line, its words on the side away from the reading.

    Both ends of a window on a narrow drawing are numbers alone: their words would run into each other.
    """
    crowded = len(bar.limits) > 1 and on.right - on.left <= NARROW
    for limit in bar.limits:
        x = on.at(limit)
        yield line(x, LIMIT_AT - 12, x, LINE_AT + 8, stroke=ground.ink, stroke_width=LIMIT, class_="limit")
        told = words.number(limit, places)
        said = told if crowded else f"{bar.limit_word} {told}"
        lowest = limit == min(bar.limits)
        left = lowest if len(bar.limits) > 1 or bar.value is None else limit <= bar.value
        yield _beside(on, x, LIMIT_AT, said, ground, left=left)


def _needle(bar: Bar, on: Scale, places: int, ground: Ground) -> Iterator[Svg]:
    if bar.value is None:
        yield text((on.left + on.right) / 2, CAPPED_AT, "not read", ground, anchor="middle", soft=True)
        return
    x = on.at(bar.value)
    yield line(x, NEEDLE_TOP, x, LINE_AT - 7, stroke=ground.ink, stroke_width=DRAWN, class_="needle")
    yield polygon([(x - 4, LINE_AT - 9), (x + 4, LINE_AT - 9), (x, LINE_AT)], fill=ground.ink)
    if bar.capped:
        yield capped(on.at(bar.capped[0]), on.at(bar.capped[1]), CAPPED_AT, ground)
    if bar.known != "exact":
        yield _open_end(x, ground, 1 if bar.known == "at_least" else -1)
    yield _read(bar, on, f"{bar.value_word} {_reading(bar, places)}", ground)


def _read(bar: Bar, on: Scale, said: str, ground: Ground) -> Svg:
    """Write the reading right of the needle, else left, else above it between the limits it lies between."""
    x, wide = on.at(bar.value or 0.0), text_width(said, 13)
    limits = [on.at(limit) for limit in bar.limits]
    begin = max([2.0, *(at + 5 for at in limits if at <= x)])
    end = min([on.right + MARGIN - 2, *(at - 5 for at in limits if at > x)])
    if x + 6 + wide <= end:
        return strong(x + 6, NEEDLE_TOP + 10, said, ground, size=13)
    if x - 6 - wide >= begin:
        return strong(x - 6, NEEDLE_TOP + 10, said, ground, size=13, anchor="end")
    if end - begin < wide * SET_TIGHTER:
        begin, end = 2.0, on.right + MARGIN - 2
    middle = min(max(x, begin + wide / 2), end - wide / 2) if end - begin >= wide else (begin + end) / 2
    return strong(middle, NEEDLE_TOP - 4, said, ground, size=13, anchor="middle")


def _open_end(x: float, ground: Ground, way: int) -> Svg:
    """Draw an arrow from the needle: the figure can still go this way."""
    tip = x + way * 26
    head = [(tip, CAPPED_AT + 12), (tip - way * 7, CAPPED_AT + 9), (tip - way * 7, CAPPED_AT + 15)]
    return Svg(
        line(x, CAPPED_AT + 12, tip - way * 7, CAPPED_AT + 12, stroke=ground.ink, stroke_width=DRAWN)
        + polygon(head, fill=ground.ink)
    )


def _beside(on: Scale, x: float, y: float, said: str, ground: Ground, *, left: bool) -> Svg:
    """Write words left or right of x, on the other side where the drawing ends."""
    room = text_width(said, 13) + 6
    left = (left and x - room > 2) or x + room > on.right + MARGIN - 2
    at, anchor = (x - 6, "end") if left else (x + 6, "start")
    return text(at, y, said, ground, anchor=anchor)
