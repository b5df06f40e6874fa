"""The map of a machine: a plain section along its centre line, each position with its verdict."""

from collections.abc import Iterator

from inspect_app.model.answer import Answer
from inspect_app.model.frozen import Verdict
from inspect_app.pictures import callouts, part_list, words
from inspect_app.pictures.callouts import Judged
from inspect_app.pictures.frame import ROOM_FOR_NUMBERS, Frame, below, outer
from inspect_app.pictures.marks import hatches, mark
from inspect_app.pictures.plan import Plan, Seat
from inspect_app.pictures.shapes import outlines
from inspect_app.pictures.svg import (
    Svg,
    Value,
    circle,
    document,
    element,
    fitted,
    group,
    line,
    polygon,
    strong,
    text,
)
from inspect_app.pictures.tokens import CENTRE, CHAIN, LEADER, LIMIT, Ground
from inspect_app.rulebook.forms_shapes import BlockShape

MARGIN = 21
TITLE_LINE, NOTE_LINE = 30, 20
TO_STATIONS, FOOT = 44, 22
BEYOND_END = 56
LARGER = 7
NOTHING_DRAWN = "No shapes are known for this machine: its parts as a list."


def engine_map(
    plan: Plan, answer: Answer, ground: Ground, *, with_words: bool = True, titled: bool = True
) -> Svg:
    """Draw the map with the verdicts of an answer; a position that is not in it is "Not judged".

    Without words, for a narrow screen, only numbers and ends are written, larger; `map_notes` belong
    beside it. Without title, for a page that names the core above it. A plan without shapes becomes a list
    that says so.
    """
    judged = {part.position: part for part in answer.parts}
    if not plan.drawn:
        return _list_only(plan, judged, ground, answer.core.title)
    titles = [answer.core.title] if titled and with_words else []
    notes = map_notes(plan) if with_words else []
    first = 10 + NOTE_LINE * (len(titles) + len(notes))
    frame = Frame(plan, first + ROOM_FOR_NUMBERS + outer(plan))
    entries = callouts.callouts(frame, judged) if with_words else []
    stations = frame.line + below(plan) + TO_STATIONS
    foot = max([stations + FOOT, *(y + 26 for y in callouts.label_ys(entries, first + 20)[-1:])])
    end = frame.right + max(BEYOND_END, callouts.width(entries))
    end = max(end, MARGIN + part_list.width(plan.listed, judged)) + MARGIN
    larger = 0 if with_words else LARGER
    return document(
        end,
        foot + part_list.height(plan.listed),
        f"Map of {answer.core.title}",
        hatches(ground),
        *_heading(titles, notes, end, ground),
        *(_seat(frame, seat, judged, ground) for seat in plan.drawn),
        *_over(frame, ground),
        *_numbers(frame, larger, ground),
        *_stations(frame, stations, larger, ground),
        callouts.draw(frame, entries, first + 20, ground),
        *part_list.draw(plan.listed, judged, ground, MARGIN, foot, "Not on the map:"),
    )


def _list_only(plan: Plan, judged: Judged, ground: Ground, title: str) -> Svg:
    end = MARGIN * 2 + max(part_list.width(plan.seats, judged), 400)
    return document(
        end,
        TITLE_LINE + part_list.height(plan.seats) + 10,
        f"Parts of {title}",
        hatches(ground),
        *_heading([title], [], end, ground),
        *part_list.draw(plan.seats, judged, ground, MARGIN, TITLE_LINE, NOTHING_DRAWN),
    )


def map_notes(plan: Plan) -> list[str]:
    """Say how the map is to be read, where that is not plain: a V opened like a book, a guess."""
    opened = f"opened along the centre line: {' above, '.join(plan.banks)} below" if plan.is_vee else ""
    return [note for note in (opened, *plan.notes) if note]


def _heading(titles: list[str], notes: list[str], end: float, ground: Ground) -> Iterator[Svg]:
    for title in titles:
        yield strong(MARGIN, 18, fitted(title, 15, end - 2 * MARGIN), ground)
    for number, note in enumerate(notes, len(titles)):
        yield text(MARGIN, 18 + NOTE_LINE * number, fitted(note, 13, end - 2 * MARGIN), ground, soft=True)


def _seat(frame: Frame, seat: Seat, judged: Judged, ground: Ground) -> Svg:
    part = judged.get(seat.position)
    verdict, standing = (part.verdict, part.standing) if part else (None, None)
    return group(
        element("title", f"{seat.title}: {words.verdict_standing(verdict, standing)}"),
        *outlines(frame, seat, _detail(ground, verdict)),
        data_position=seat.position,
        **mark(ground, verdict, standing),
    )


def _detail(ground: Ground, verdict: Verdict | None) -> dict[str, Value]:
    """The stroke of lines inside a mark: light on solid ink, soft where nobody has looked."""
    colour = {None: ground.soft, "scrap": ground.paper}.get(verdict, ground.ink)
    return {"stroke": colour, "stroke_width": 0.7 if verdict is None else 1, "stroke_dasharray": "none"}


def _over(frame: Frame, ground: Ground) -> Iterator[Svg]:
    """Draw what lies over all shapes: the outer face of each bank, and the centre line."""
    for seat in frame.plan.drawn:
        for spot in seat.spots if isinstance(seat.shape, BlockShape) else ():
            y = frame.y(spot.bank, getattr(seat.shape, "end", 0) + 1.5)
            face: dict[str, Value] = {"stroke": ground.ink, "stroke_width": LIMIT, "pointer_events": "none"}
            yield line(frame.left - 4, y, frame.right + 4, y, **face)
    chain: dict[str, Value] = {"stroke": ground.ink, "stroke_width": CENTRE, "stroke_dasharray": CHAIN}
    yield line(MARGIN, frame.line, frame.right + 22, frame.line, pointer_events="none", **chain)


def _numbers(frame: Frame, larger: int, ground: Ground) -> Iterator[Svg]:
    for bank, row in enumerate(frame.plan.rows):
        for slot, name in enumerate(row):
            x, y = frame.centre(bank, slot), frame.y(bank, outer(frame.plan) + 22)
            yield circle(x, y, 11 + larger / 2, fill="none", stroke=ground.ink, stroke_width=0.9)
            size = 14 + larger
            yield strong(x, y + size * 0.36, fitted(name, 14, 30), ground, size=size, anchor="middle")


def _stations(frame: Frame, y: float, larger: int, ground: Ground) -> Iterator[Svg]:
    begin, end = frame.edge(0) - 20, frame.edge(frame.slots) + 20
    yield line(begin, y, end, y, stroke=ground.soft, stroke_width=LEADER)
    for x, way in ((begin, 1), (end, -1)):
        head = [(x, y), (x + way * 8, y - 3), (x + way * 8, y + 3)]
        yield polygon(head, fill=ground.paper, stroke=ground.soft, stroke_width=LEADER)
    size = 13 + larger
    for number, name in enumerate(frame.plan.stations):
        x = frame.station(number)
        yield line(x, y - 4, x, y + 4, stroke=ground.soft, stroke_width=CENTRE)
        yield text(x, y - 10, name, ground, size=size, anchor="middle", soft=True)
    front, rear = frame.plan.ends
    yield text(begin - 6, y + 5, front, ground, size=size, anchor="end", soft=True)
    yield text(end + 6, y + 5, rear, ground, size=size, soft=True)
