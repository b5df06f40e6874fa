"""A V8 measured in full: bores, walls and journals first, then every other slot of the rules, then once more.

The readings follow the rule pack, so that what a pack learns to read is timed as well.
"""

from collections.abc import Iterator
from functools import cache
from itertools import count, islice

from pydantic import TypeAdapter

from inspect_app.bundle import read_core
from inspect_app.closing.figure_state import FigureState
from inspect_app.closing.piece_evidence import PieceEvidence
from inspect_app.metrology.figure import Figure
from inspect_app.model.evidence import Reading
from inspect_app.model.pieces import Mark, Piece
from inspect_app.model.places import Place
from inspect_app.rulebook.engine import Engine, Position
from inspect_app.rulebook.forms_quantities import QuantityForm
from inspect_app.shipped import shipped
from tests.judge import six

READINGS = TypeAdapter(tuple[Reading, ...])
MM_PER_INCH = 25.4
Spot = tuple[Position, QuantityForm, Place]
FIRST = (
    ("diameter", "bore"),
    ("wall", "bore"),
    ("diameter", "main_journal"),
    ("diameter", "rod_journal"),
)
"""What nobody leaves out who measures an engine, by quantity and kind of place."""


@cache
def vee() -> Engine:
    """The demonstration's V sheet with eight cylinders and five mains."""
    sheet = read_core(shipped("demo_cores") / "brackwater-vee").sheet
    counts = sheet.counts | {"cylinders": 8, "mains": 5, "rod_journals": 8}
    conventions = sheet.conventions | {"cylinder_rows": "1 3 5 7 / 2 4 6 8"}
    return Engine(six.book(), sheet.model_copy(update={"counts": counts, "conventions": conventions}))


@cache
def spots() -> list[Spot]:
    """Every quantity at every place that has it."""
    engine = vee()
    return [
        (position, form, place)
        for position in engine.positions.values()
        for kind in engine.book.parts[position.part].places
        for place in engine.places(position.part, kind.kind)
        for (_, owner), form in engine.book.quantities.items()
        if owner == kind.kind
    ]


def slots() -> list[tuple[Spot, str, str]]:
    """Every place, station and direction at which something is read, the unworn station too."""
    return [
        (spot, station, direction)
        for spot in sorted(spots(), key=_rank)
        if spot[1].calc is None
        for station in dict.fromkeys((*spot[1].stations, spot[1].unworn))
        if station is not None
        for direction in spot[1].directions
    ]


def _rank(spot: Spot) -> int:
    _, form, place = spot
    name = (form.id, place.kind)
    return FIRST.index(name) if name in FIRST else len(FIRST)


def readings(number: int) -> tuple[Reading, ...]:
    """The first so many: slot by slot, and where all are read, once more in another session."""
    return tuple(islice(_readings(), number))


def _readings() -> Iterator[Reading]:
    ids = count(1)
    for session in count(1):
        for (position, form, place), station, direction in slots():
            number = next(ids)
            size = (vee().nominal(form.id, place.kind) or 0.0) / MM_PER_INCH
            yield Reading(
                id=f"r{number}",
                piece=position.id,
                quantity=form.id,
                place=str(place),
                station=station,
                direction=direction,
                value=f"{size + 0.0001 * (number % 5):.4f}",
                unit="in" if form.dimension == "length" else form.shown_in,
                conditions=vee().conditions(form.id, place.kind),
                session=f"s{session}",
                **six.COMMON,
            )


def figures(items: tuple[Reading, ...]) -> dict[tuple[str, str, Place], Figure]:
    """Every figure, read or computed, at every place of every piece, from the readings alone."""
    engine, states = vee(), dict[str, FigureState]()
    found = {}
    for position, form, place in spots():
        if position.id not in states:
            piece = pieces()[position.id]
            states[position.id] = FigureState(PieceEvidence(engine, position, piece, items))
        found[position.id, form.id, place] = states[position.id].figure(form.id, place)
    return found


def unstamped(position: Position) -> Piece:
    """The piece there, at standard size wherever no station stays unworn."""
    marks = tuple(
        Mark(text="no stamp: standard", quantity=form.id, place=str(place), size="0 in")
        for there, form, place in spots()
        if there == position and form.body == "shaft" and form.calc is None and form.unworn is None
    )
    return Piece(id=position.id, position=position.id, marks=marks)


@cache
def pieces() -> dict[str, Piece]:
    """Every piece of the machine by its position."""
    return {name: unstamped(position) for name, position in vee().positions.items()}


def as_text(items: tuple[Reading, ...]) -> bytes:
    """The readings as they are kept in a core's file."""
    return READINGS.dump_json(items)
