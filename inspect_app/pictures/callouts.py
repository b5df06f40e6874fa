"""The words at the right of the map: each kind of part with its verdicts, led to where it is drawn."""

from collections import Counter
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass

from inspect_app.model.answer import PartAnswer
from inspect_app.pictures import words
from inspect_app.pictures.frame import Frame
from inspect_app.pictures.plan import Plan, Seat
from inspect_app.pictures.svg import Svg, circle, join, polyline, strong, text, text_width
from inspect_app.pictures.tokens import LEADER, Ground
from inspect_app.rulebook.forms_shapes import BlockShape, BoxShape, DiscShape, PanShape, ShaftShape

APART = 37
TO_DOT, TO_WORDS = 28, 62
UNDER_FACE = 12

Judged = Mapping[str, PartAnswer]


@dataclass(frozen=True)
class Callout:
    """One entry: where its leader begins, what it names, and the state in words."""

    y: float
    name: str
    state: str


def callouts(frame: Frame, judged: Judged) -> list[Callout]:
    """Return the entries from top to bottom."""
    groups: dict[tuple[str, int | None], list[Seat]] = {}
    for seat in frame.plan.drawn:
        groups.setdefault((seat.label, _one_bank(frame.plan, seat)), []).append(seat)
    found = (
        Callout(_anchor(frame, seats[0]), _name(frame.plan, label, bank), state(seats, judged))
        for (label, bank), seats in groups.items()
    )
    return sorted(found, key=lambda entry: entry.y)


def _one_bank(plan: Plan, seat: Seat) -> int | None:
    banks = {spot.bank for spot in seat.spots}
    one_sided = plan.is_vee and len(banks) == 1 and not isinstance(seat.shape, ShaftShape | DiscShape)
    return min(banks) if one_sided else None


def _name(plan: Plan, label: str, bank: int | None) -> str:
    return label if bank is None else f"{label}, {plan.banks[bank]}"


def _anchor(frame: Frame, seat: Seat) -> float:
    shape, bank = seat.shape, seat.spots[0].bank
    match shape:
        case None | ShaftShape():
            return frame.line
        case DiscShape():
            return frame.line + shape.radius * (0.6 if shape.at == "rear" else -0.6)
        case PanShape() | BoxShape():
            return frame.line + (shape.start + shape.end) / 2
        case BlockShape():
            return frame.y(bank, shape.end - UNDER_FACE)
    return frame.y(bank, (shape.start + shape.end) / 2)


def state(seats: Sequence[Seat], judged: Judged) -> str:
    """Say the verdicts of like seats: as one if they agree, else how many of each."""
    found = [judged.get(seat.position) for seat in seats]
    counts = Counter(part.verdict if part else None for part in found)
    if len(counts) > 1:
        order = [*words.VERDICTS, None]
        return ", ".join(f"{counts[v]} {words.verdict(v).lower()}" for v in order if counts[v])
    standings = Counter(part.standing if part else None for part in found)
    only = found[0].verdict if found[0] else None
    if len(standings) > 1:
        return f"{words.verdict(only)}, {standings['settled']} of {len(found)} settled"
    return words.verdict_standing(only, found[0].standing if found[0] else None)


def label_ys(entries: Sequence[Callout], first: float) -> list[float]:
    """Return the y of each entry's words: beside its anchor, or lower where the one above needs room."""
    ys: list[float] = []
    for entry in entries:
        ys.append(max(entry.y, ys[-1] + APART if ys else first))
    return ys


def width(entries: Sequence[Callout]) -> float:
    """Return how far right of the body the words reach."""
    widest = (max(text_width(e.name, 15), text_width(e.state, 13)) for e in entries)
    return TO_WORDS + max(widest, default=0)


def draw(frame: Frame, entries: Sequence[Callout], first: float, ground: Ground) -> Svg:
    """Draw leaders and words."""
    ys = label_ys(entries, first)
    return join(*(piece for e, y in zip(entries, ys, strict=True) for piece in _entry(frame, e, y, ground)))


def _entry(frame: Frame, entry: Callout, y: float, ground: Ground) -> Iterator[Svg]:
    dot, x = frame.right + TO_DOT, frame.right + TO_WORDS
    bends = [(dot, entry.y), (dot + 14, y), (dot + 28, y)]
    yield polyline(bends, fill="none", stroke=ground.ink, stroke_width=LEADER)
    yield circle(dot, entry.y, 2, fill=ground.ink)
    yield strong(x, y - 2, entry.name, ground)
    yield text(x, y + 14, entry.state, ground, soft=True)
