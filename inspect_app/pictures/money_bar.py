"""Amounts of money from low to high with a pointer at the likely value, several on one scale."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from inspect_app.model.frozen import Spread
from inspect_app.pictures import words
from inspect_app.pictures.scale import Scale, capped, rule, scale
from inspect_app.pictures.svg import (
    Svg,
    Value,
    circle,
    document,
    fitted,
    line,
    polygon,
    strong,
    text,
    text_width,
)
from inspect_app.pictures.tokens import DRAWN, LEADER, Ground

WIDTH, NARROW = 480, 340
MARGIN = 34
ROW, FIRST, FOOT = 50, 20, 46
TICK_ROOM, LABEL_EDGE = 80, 8
LINE_WIDTH, LINE_HIGH = 200, 24


@dataclass(frozen=True)
class Amount:
    """One amount and what it is; `spread` None where a price is missing."""

    label: str
    spread: Spread | None


def money_scale(amounts: Sequence[Amount], width: float = WIDTH) -> Scale:
    """Return the scale that holds every amount, and zero."""
    ends = [end for amount in amounts if amount.spread for end in (amount.spread.low, amount.spread.high)]
    return scale(ends, MARGIN, width - MARGIN, from_zero=True, parts=int(width / TICK_ROOM))


def money_bar(
    amounts: Sequence[Amount], currency: str, ground: Ground, *, note: str = "", width: float = WIDTH
) -> Svg:
    """Draw the amounts on one scale, each with its words; `note` stands below, as "eight times in ten".

    The line reaches from low to high, the pointer stands at the likely amount and the small ring at the mean.
    """
    on = money_scale(amounts, width)
    line_at = FIRST + ROW * len(amounts)
    labels = [words.money(tick, currency) for tick in on.ticks]
    said = "; ".join(f"{amount.label} {_likely(amount, currency)}" for amount in amounts)
    height = line_at + (FOOT + 4 if note or _overlap(amounts) else FOOT - 16)
    return document(
        width,
        height,
        said,
        *(piece for at, amount in enumerate(amounts) for piece in _row(amount, at, on, currency, ground)),
        rule(on, line_at, labels, ground),
        *_below(_note(amounts, note), line_at + 42, on, ground),
    )


def _likely(amount: Amount, currency: str) -> str:
    return words.money(amount.spread.likely, currency) if amount.spread else "not known"


def _row(amount: Amount, at: int, on: Scale, currency: str, ground: Ground) -> Iterator[Svg]:
    y = FIRST + ROW * at
    edge = on.left - LABEL_EDGE
    said = fitted(f"{amount.label}: {_likely(amount, currency)}", 14, on.right - on.left + 2 * edge)
    if amount.spread is None:
        yield text(on.left, y, f"{said}, a price is missing", ground, soft=True)
        return
    pointer, room = on.at(amount.spread.likely), text_width(said, 14) / 2
    yield strong(
        min(max(pointer, LABEL_EDGE + room), on.right + edge - room), y, said, ground, anchor="middle"
    )
    yield from _spread(amount.spread, on, y + 22, ground)


def _spread(spread: Spread, on: Scale, y: float, ground: Ground) -> Iterator[Svg]:
    pointer = on.at(spread.likely)
    yield polygon([(pointer - 5, y - 12), (pointer + 5, y - 12), (pointer, y - 2)], fill=ground.ink)
    yield capped(on.at(spread.low), on.at(spread.high), y, ground)
    ring: dict[str, Value] = {"fill": ground.paper, "stroke": ground.ink, "stroke_width": DRAWN}
    yield circle(on.at(spread.mean), y, 3, class_="mean", **ring)


def money_line(spread: Spread, among: Sequence[Spread], currency: str, ground: Ground) -> Svg:
    """Draw one amount small, on the scale that holds it, all of `among` and zero, which has a mark."""
    ends = [end for one in (spread, *among) for end in (one.low, one.high)]
    on = scale(ends, LABEL_EDGE, LINE_WIDTH - LABEL_EDGE, from_zero=True)
    low, likely, high = (words.money(end, currency) for end in (spread.low, spread.likely, spread.high))
    zero = on.at(0)
    return document(
        LINE_WIDTH,
        LINE_HIGH,
        f"{likely}, from {low} to {high}",
        line(zero, 4, zero, LINE_HIGH - 2, stroke=ground.soft, stroke_width=LEADER, class_="zero"),
        *_spread(spread, on, LINE_HIGH - 8, ground),
    )


def _below(note: str, y: float, on: Scale, ground: Ground) -> Iterator[Svg]:
    if note:
        yield text(on.left, y, fitted(note, 13, on.right - on.left), ground, soft=True)


def _overlap(amounts: Sequence[Amount]) -> bool:
    spreads = [amount.spread for amount in amounts if amount.spread]
    return len(spreads) > 1 and max(s.low for s in spreads) < min(s.high for s in spreads)


def _note(amounts: Sequence[Amount], note: str) -> str:
    apart = "the two can come out either way" if len(amounts) == 2 else "they can come out in any order"
    return ", ".join(filter(None, (note, apart if _overlap(amounts) else "")))
