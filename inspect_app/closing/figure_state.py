"""Figures of one piece: which readings count in its present state, and what is computed from them."""

from collections import defaultdict
from math import inf

from inspect_app.metrology.figures import (
    NONE,
    Figure,
    Slot,
    clean_up,
    largest_minus_smallest,
    shifted,
    wear,
    worst,
)
from inspect_app.metrology.readings import Gauge, Value, settle, unnamed_gauge
from inspect_app.model.evidence import Reading
from inspect_app.model.pieces import state_rank
from inspect_app.model.places import Place, parse_place
from inspect_app.model.units import canonical, decimal_of, factor, size
from inspect_app.rulebook.engine import Engine
from inspect_app.rulebook.forms_rules import CalcForm, GaugeForm, QuantityForm

from .damage_state import damage_state
from .piece_evidence import PieceEvidence

STAMPED = "stamped size"
NOMINAL = "nominal size on the engine sheet"


def typed_size(reading: Reading, engine: Engine, kind: str) -> float:
    """A reading in the canonical unit: a full size, or a setting plus so many gauge divisions."""
    dimension = engine.book.quantities[(reading.quantity, kind)].dimension
    if reading.setting is None:
        return canonical(decimal_of(reading.value), reading.unit, dimension)
    gauge = engine.book.gauges[reading.gauge or ""]
    assert gauge.division is not None
    number, _, unit = gauge.division.partition(" ")
    return size(reading.setting, dimension) + canonical(
        decimal_of(reading.value) * decimal_of(number), unit, dimension
    )


def gauge_of(reading: Reading, engine: Engine, dimension: str) -> Gauge:
    """The gauge named, with lengths in mm, or one assumed from the last digit typed."""
    form = engine.book.gauges.get(reading.gauge or "")
    if form is None:
        exponent = decimal_of(reading.value).as_tuple().exponent
        digit = 10.0 ** int(exponent) * float(factor(reading.unit, dimension))
        return unnamed_gauge(digit)
    return _gauge(form)


def _gauge(form: GaugeForm) -> Gauge:
    repeatability = size(form.repeatability) if form.repeatability else 0.0
    return Gauge(size(form.resolution), size(form.half_width), repeatability)


class FigureState:
    """Figures at the places of one piece, computed on first use and kept."""

    def __init__(self, evidence: PieceEvidence) -> None:
        self._evidence = evidence
        self._engine = evidence.engine
        self._read: dict[tuple[str, Place], dict[tuple[str, str], dict[int, list[Value]]]] = defaultdict(
            lambda: defaultdict(lambda: defaultdict(list))
        )
        self._figures: dict[tuple[str, Place], Figure] = {}
        for reading in evidence.readings:
            self._take(reading)

    def _take(self, reading: Reading) -> None:
        place, rank = parse_place(reading.place), state_rank(reading.state)
        spot = Place(place.kind, place.index)
        if self._evidence.history.voided(reading.quantity, spot, rank):
            return
        dimension = self._engine.book.quantities[(reading.quantity, place.kind)].dimension
        gauge = gauge_of(reading, self._engine, dimension)
        session = f"{reading.gauge or 'unnamed'}|{reading.session or reading.when[:10]}"
        value = Value(
            typed_size(reading, self._engine, place.kind), gauge.own, gauge.common, session, (reading.id,)
        )
        self._read[(reading.quantity, spot)][reading.slot][rank].append(value)

    def values(self, quantity: str, place: Place, slot: tuple[str, str]) -> tuple[Value, ...]:
        """What was read in one slot, latest state first to count: one value, or all of a conflict."""
        by_state = self._read.get((quantity, place), {}).get(slot)
        return settle(by_state[max(by_state)]) if by_state else ()

    def unread(self, quantity: str, place: Place) -> bool:
        """Whether nothing at all was read of a quantity at a place."""
        return (quantity, place) not in self._read

    def conflicts(self, quantity: str, place: Place) -> list[tuple[str, ...]]:
        """Evidence ids of readings that contradict each other in one slot."""
        slots = self._read.get((quantity, place), {})
        found = [self.values(quantity, place, slot) for slot in slots]
        return [tuple(i for value in values for i in value.evidence) for values in found if len(values) > 1]

    def figure(self, quantity: str, place: Place) -> Figure:
        """The figure at a place (kind and index), in the canonical unit of its quantity."""
        key = (quantity, place)
        if key not in self._figures:
            form = self._engine.book.quantities[(quantity, place.kind)]
            self._figures[key] = self._compute(form, place)
        return self._figures[key]

    def assume(self, quantity: str, place: Place, figure: Figure) -> None:
        """Take a figure as given, whatever was read (for the rules' examples)."""
        self._figures[(quantity, place)] = figure

    def _compute(self, form: QuantityForm, place: Place) -> Figure:
        if form.calc is None:
            return worst(self._slots(form, place), form.worse)
        base = self._engine.book.quantities[(form.calc.of, place.kind)]
        match form.calc.name:
            case "worst":
                return worst(self._slots(base, place), base.worse)
            case "largest_minus_smallest":
                return largest_minus_smallest(self._slots(base, place), form.calc.along or "station")
            case "wear":
                return wear(self._extreme(base, place), self.unworn(base, place), base.body)
            case "clean_up":
                return self._clean_up(form.calc, base, place)

    def _slots(self, form: QuantityForm, place: Place) -> dict[Slot, tuple[Value, ...]]:
        return {
            (form.id, station, direction): self.values(form.id, place, (station, direction))
            for station in form.stations
            if station != form.unworn
            for direction in form.directions
        }

    def _unworn_read(self, form: QuantityForm, place: Place) -> dict[Slot, tuple[Value, ...]]:
        """What was read where nothing rubs."""
        slots = {} if form.unworn is None else {d: (form.unworn, d) for d in form.directions}
        read = {(form.id, *slot): self.values(form.id, place, slot) for slot in slots.values()}
        return {slot: values for slot, values in read.items() if values}

    def _extreme(self, form: QuantityForm, place: Place) -> Figure:
        """The worst size of the place. An unworn reading counts too: the metal is gone there as well."""
        return worst({**self._slots(form, place), **self._unworn_read(form, place)}, form.worse)

    def unworn(self, form: QuantityForm, place: Place) -> Figure:
        """The present unworn size: read where nothing rubs, else the size cut or stamped, else open."""
        read = self._unworn_read(form, place)
        if read:
            return worst(read, "below" if form.body == "hole" else "above")
        step = self._step_marked(form.id, place)
        if not step:
            station = form.unworn if form.unworn is not None else STAMPED
            return Figure(-inf, inf, missing=((form.id, station, form.directions[0]),))
        return self._from_step(form, place, size(step))

    def _from_step(self, form: QuantityForm, place: Place, step: float) -> Figure:
        nominal = self._engine.nominal(form.id, place.kind)
        if nominal is None:
            return Figure(-inf, inf, missing=((form.id, NOMINAL, ""),))
        present = nominal + step if form.body == "hole" else nominal - step
        return Figure(present, present)

    def _step_marked(self, quantity: str, place: Place) -> str | None:
        cut = self._evidence.history.size_cut(quantity, place)
        if cut is not None:
            return cut
        marks = self._evidence.piece.marks
        return next(
            (
                m.size
                for m in marks
                if m.quantity == quantity and m.size and parse_place(m.place).covers(place)
            ),
            None,
        )

    def step(self, quantity: str, place: Place) -> Figure:
        """How far the present unworn size is from standard, positive towards less metal."""
        form = self._engine.book.quantities[(quantity, place.kind)]
        unworn, nominal = self.unworn(form, place), self._engine.nominal(quantity, place.kind)
        if nominal is None:
            return Figure(-inf, inf, missing=((quantity, NOMINAL, ""),))
        return shifted(unworn, nominal, 1 if form.body == "hole" else -1)

    def _clean_up(self, calc: CalcForm, base: QuantityForm, place: Place) -> Figure:
        worn = wear(self._extreme(base, place), self.unworn(base, place), base.body)
        stock = size(calc.stock) if calc.stock else 0.0
        return clean_up(self.step(base.id, place), worn, self._depth(calc, place), stock, calc.k)

    def _depth(self, calc: CalcForm, place: Place) -> Figure:
        """Depth of the damage that a cut must get under: none where its words are proven absent."""
        if calc.depth is None:
            return NONE
        states = [damage_state(self._evidence, word, place, ()) for word in calc.unless_absent]
        if states and not any(state.may for state in states):
            return NONE
        read = self.figure(calc.depth, place)
        if read.known:
            return read
        seen = tuple(i for state in states for i in state.shown_by)
        return Figure(0.0, inf, evidence=seen, missing=read.missing if seen else ())
