"""The figure of a fit: from where its parts are closest to where widest, read directly or summed up."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from math import inf
from typing import Literal

from inspect_app.closing.missing import of_figure
from inspect_app.closing.piece_state import PieceState
from inspect_app.closing.words import place_words
from inspect_app.metrology.estimate import Undetermined, rectangular_u
from inspect_app.metrology.figure import Figure, Slot, Slots, added
from inspect_app.metrology.figures import largest_minus_smallest, worst
from inspect_app.metrology.readings import Value
from inspect_app.model.fit_answer import FitMissing
from inspect_app.model.units import Dimension, decimal_of, factor, size
from inspect_app.rulebook.engine import Engine
from inspect_app.rulebook.forms_fits import FitForm, FitTermForm
from inspect_app.rulebook.seats import Seat, opposite, seats

States = Mapping[str, PieceState]


@dataclass(frozen=True)
class FitFigure:
    """Both ends of a fit (equal where its parts are of one size), how it is known, and what is missing."""

    closest: Figure
    widest: Figure
    by: Literal["measured", "parts"]
    missing: tuple[FitMissing, ...] = ()

    @property
    def known(self) -> bool:
        """Whether both ends are numbers."""
        return self.closest.known and self.widest.known


def fit_figure(engine: Engine, states: States, fit: FitForm, seat: Seat) -> FitFigure | None:
    """The fit as read directly, else from parts; None where nothing at all was read of it.

    One that is only half read gives way to one from parts that is whole, never the other way round. A
    quantity that is computed itself is no direct reading: of it the parts tell both ends.
    """
    computed = engine.book.quantities[(fit.measured, fit.at.kind)].calc is not None and bool(fit.term)
    unread = computed or _unread(states, fit, seat)
    direct = None if unread else _direct(states, fit, seat)
    if (direct is not None and direct.known) or not fit.term:
        return direct
    summed = _from_parts(engine, states, fit, seat)
    return summed if direct is None or (summed is not None and summed.known) else direct


def untouched(states: States, quantity: str, seat: Seat) -> bool:
    """Whether nothing was read at a place that a quantity could rest on."""
    return states[seat.position.id].scene.figures.untouched(quantity, seat.place)


def _unread(states: States, fit: FitForm, seat: Seat) -> bool:
    """Whether the fit was not read directly, in none of its stations."""
    if untouched(states, fit.measured, seat) or not fit.stations:
        return untouched(states, fit.measured, seat)
    closest, widest = _ends(states, fit.measured, seat, fit.stations, ())
    return not closest.evidence and not widest.evidence


def _direct(states: States, fit: FitForm, seat: Seat) -> FitFigure:
    closest, widest = _ends(states, fit.measured, seat, fit.stations, ())
    missing = tuple(dict.fromkeys(_lacking(states, fit.measured, seat, closest, widest)))
    return FitFigure(closest, widest, "measured", missing)


def _ends(
    states: States, quantity: str, seat: Seat, stations: tuple[str, ...], directions: tuple[str, ...]
) -> tuple[Figure, Figure]:
    """The smallest and the largest of a quantity at a place, in some of its stations and directions."""
    figures = states[seat.position.id].scene.figures
    form = states[seat.position.id].scene.engine.book.quantities[(quantity, seat.place.kind)]
    if form.calc is not None:
        figure = figures.figure(quantity, seat.place)
        return figure, figure
    slots = {
        slot: read
        for slot, read in figures.slots(form, seat.place).items()
        if (not stations or slot[1] in stations) and (not directions or slot[2] in directions)
    }
    return worst(slots, "below"), worst(slots, "above")


def _lacking(
    states: States, quantity: str, seat: Seat, closest: Figure, widest: Figure
) -> Iterator[FitMissing]:
    scene = states[seat.position.id].scene
    for figure in (closest, widest):
        if not figure.known:
            for item in of_figure(scene, quantity, figure, seat.place, ""):
                yield FitMissing(what=item.what, place=_named(scene.engine, seat))


def _named(engine: Engine, seat: Seat) -> str:
    """The place in words, after its piece where there are several of those."""
    place = place_words(engine, seat.position.part, seat.place)
    return f"{seat.position.title.lower()}, {place}" if seat.position.index else place


def _from_parts(engine: Engine, states: States, fit: FitForm, seat: Seat) -> FitFigure | None:
    """The sum of the terms; ends by interval arithmetic, errors that one session shares cancel."""
    low, high, missing, touched = [], [], list[FitMissing](), False
    for term in fit.term:
        other = opposite(engine, seat, term.part, term.kind)
        if isinstance(other, Undetermined):
            return FitFigure(_OPEN, _OPEN, "parts", (FitMissing(what=other.reason),))
        closest, widest, read = _term(engine, states, term, other)
        touched = touched or read
        small, large = (closest, widest) if term.times > 0 else (widest, closest)
        low.append((term.times, small))
        high.append((term.times, large))
        missing += _lacking(states, term.of, other, closest, widest)
    if not touched:
        return None
    return FitFigure(added(*low), added(*high), "parts", tuple(dict.fromkeys(missing)))


_OPEN = Figure(-inf, inf)


def _term(engine: Engine, states: States, term: FitTermForm, seat: Seat) -> tuple[Figure, Figure, bool]:
    """Both ends of one size, and whether it was read; else the sheet's new range where a new part counts."""
    if untouched(states, term.of, seat):
        new = _new_part(engine, term) if term.new_part else None
        if new is not None:
            return new, new, False
        closest, widest = _ends(states, term.of, seat, term.stations, term.directions)
        return closest, widest, False
    closest, widest = _ends(states, term.of, seat, term.stations, term.directions)
    return closest, widest, True


def _new_part(engine: Engine, term: FitTermForm) -> Figure | None:
    """The middle of the sheet's new range, anywhere in it as likely; one error for all parts of a kind.

    Of a nominal size alone the last digit typed is in doubt, either way.
    """
    form, row = engine.book.quantities[(term.of, term.kind)], engine.row(term.of, term.kind)
    middle = engine.nominal(term.of, term.kind)
    if middle is None:
        return None
    if row.minimum and row.maximum:
        half = (size(row.maximum, form.dimension) - size(row.minimum, form.dimension)) / 2
    else:
        half = _last_digit(row.nominal or "0", form.dimension)
    u = rectangular_u(half)
    return Figure(middle, middle, u, errors={f"sheet {term.kind}.{term.of}": u} if u else {})


def _last_digit(text: str, dimension: Dimension) -> float:
    """What one step of the last digit typed is worth, in the canonical unit."""
    number, _, unit = text.partition(" ")
    exponent = int(decimal_of(number).as_tuple().exponent)
    return 10.0**exponent * float(factor(unit.strip(), dimension))


def compared_figure(engine: Engine, states: States, fit: FitForm) -> FitFigure | None:
    """The largest less the smallest of all places; None where nothing was read at any of them."""
    every = seats(engine, fit.at.part, fit.at.kind)
    if all(untouched(states, fit.measured, seat) for seat in every):
        return None
    span = largest_minus_smallest(_all_slots(states, fit, every), "station")
    missing = [
        item
        for seat in every
        for item in _lacking(states, fit.measured, seat, *_ends(states, fit.measured, seat, (), ()))
    ]
    return FitFigure(span, span, "measured", tuple(dict.fromkeys(missing)))


def _all_slots(states: States, fit: FitForm, every: tuple[Seat, ...]) -> Slots:
    """What was read at all places as one row: each place is a station of it."""
    slots: dict[Slot, tuple[Value, ...]] = {}
    for seat in every:
        scene = states[seat.position.id].scene
        form = scene.engine.book.quantities[(fit.measured, seat.place.kind)]
        for (_, station, direction), read in scene.figures.slots(form, seat.place).items():
            spot = f"{seat.position.id} {seat.place} {station} {direction}"
            slots[(fit.measured, spot, "")] = read
    return slots


def furthest_apart(engine: Engine, states: States, fit: FitForm) -> tuple[str, str] | None:
    """The places of the smallest and of the largest value read; None with fewer than two."""
    found = []
    for seat in seats(engine, fit.at.part, fit.at.kind):
        closest, widest = _ends(states, fit.measured, seat, (), ())
        if closest.evidence:
            found.append((closest.hi, widest.lo, _named(engine, seat)))
    if len(found) < 2:
        return None
    return min(found, key=lambda item: item[0])[2], max(found, key=lambda item: item[1])[2]


def present_size(engine: Engine, states: States, quantity: str, seat: Seat) -> float | Undetermined:
    """A size at a place as it is now, midway between its ends, else as the sheet has it; canonical unit."""
    closest, widest = _ends(states, quantity, seat, (), ())
    if closest.known and widest.known:
        return (closest.lo + widest.lo) / 2
    nominal = engine.nominal(quantity, seat.place.kind)
    if nominal is not None:
        return nominal
    title = engine.book.quantities[(quantity, seat.place.kind)].title
    return Undetermined(f"{title} on the engine sheet ({seat.place.kind}.{quantity})")
