"""What was read on one piece: which readings count in its present state, at 20 degrees, settled by slot."""

from collections import defaultdict
from collections.abc import Container

from inspect_app.metrology.estimate import Estimate, rectangular_u
from inspect_app.metrology.readings import Gauge, Value, settle, unnamed_gauge
from inspect_app.metrology.temperature import REFERENCE_C, Coefficient, correction, correction_soaked
from inspect_app.model.evidence import Reading
from inspect_app.model.pieces import state_rank
from inspect_app.model.places import Place, parse_place
from inspect_app.model.units import canonical, celsius, decimal_of, factor, size
from inspect_app.rulebook.engine import Engine
from inspect_app.rulebook.forms_quantities import GaugeForm

from .piece_evidence import PieceEvidence

Spot = tuple[str, Place]
"""A quantity at a place (kind and index)."""


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
    """The gauge named, in the canonical unit, or one assumed from the last digit typed."""
    form = engine.book.gauges.get(reading.gauge or "")
    if form is None:
        exponent = decimal_of(reading.value).as_tuple().exponent
        digit = 10.0 ** int(exponent) * float(factor(reading.unit, dimension))
        return unnamed_gauge(digit)
    return _gauge(form)


def _gauge(form: GaugeForm) -> Gauge:
    repeatability = size(form.repeatability, form.dimension) if form.repeatability else 0.0
    resolution, half_width = size(form.resolution, form.dimension), size(form.half_width, form.dimension)
    return Gauge(resolution, half_width, repeatability, form.half_width_is)


class ReadValues:
    """The readings of one piece that count: not ended by later work, in the conditions asked for."""

    def __init__(self, evidence: PieceEvidence) -> None:
        self._evidence = evidence
        self._engine = evidence.engine
        self._read: dict[Spot, dict[tuple[str, str], dict[int, list[Value]]]] = defaultdict(
            lambda: defaultdict(lambda: defaultdict(list))
        )
        self._settled: dict[tuple[str, Place, tuple[str, str]], tuple[Value, ...]] = {}
        self._left_out: dict[Spot, set[str]] = defaultdict(set)
        self._voided: set[Spot] = set()
        self._ended: dict[Spot, dict[str, None]] = defaultdict(dict)
        for reading in evidence.readings:
            self._take(reading)

    def _take(self, reading: Reading) -> None:
        place, rank = parse_place(reading.place), state_rank(reading.state)
        spot = Place(place.kind, place.index)
        evidence = self._evidence
        if evidence.history.voided(reading.quantity, spot, rank):
            self._voided.add((reading.quantity, spot))
            return
        ended = evidence.around.ended(reading.quantity, evidence.position, spot, reading.when)
        if ended:
            self._ended[(reading.quantity, spot)].update(dict.fromkeys(ended))
            return
        lacking = self._lacking(reading, place.kind, rank)
        if lacking:
            self._left_out[(reading.quantity, spot)] |= lacking
            return
        value = self._value(reading, place.kind)
        self._read[(reading.quantity, spot)][reading.slot][rank].append(value)

    def _lacking(self, reading: Reading, kind: str, rank: int) -> set[str]:
        """Titles of the conditions that the quantity asks for and the reading was not taken in."""
        form = self._engine.book.quantities[(reading.quantity, kind)]
        wanted = set(self._engine.conditions(reading.quantity, kind)) - set(reading.conditions)
        titles = {self._engine.book.conditions[name].title for name in wanted}
        return titles | ({"washed"} if form.washed and rank == 0 else set())

    def _value(self, reading: Reading, kind: str) -> Value:
        dimension = self._engine.book.quantities[(reading.quantity, kind)].dimension
        gauge = gauge_of(reading, self._engine, dimension)
        session = f"{reading.gauge or 'unnamed'}|{reading.session or reading.when[:10]}"
        if reading.part_temperature is not None:
            session += f"|{reading.part_temperature}|{reading.gauge_temperature or 'soaked'}"
        typed = typed_size(reading, self._engine, kind)
        warm = self._warmth(reading, typed)
        common = (gauge.common**2 + warm.u**2) ** 0.5 if warm.u else gauge.common
        return Value(typed - warm.value, gauge.own, common, session, (reading.id,))

    def _warmth(self, reading: Reading, typed: float) -> Estimate:
        """By how much the reading is too large for its temperatures; 0 where none is given."""
        if reading.part_temperature is None:
            return Estimate(0.0)
        book = self._engine.book
        gauge = book.gauges[reading.gauge or ""].material or ""
        metals = [book.materials[name].expansion for name in (self._evidence.material or "", gauge)]
        part, of_gauge = (Coefficient(*ends) for ends in metals)
        doubt = rectangular_u(book.pack.thermometer_half_width)
        warm = Estimate(celsius(reading.part_temperature), doubt)
        if reading.gauge_temperature is None:
            return correction_soaked(typed, part, of_gauge, warm)
        at = celsius(reading.gauge_temperature)
        kept = Estimate(at, 0.0 if at == REFERENCE_C else doubt)
        return correction(typed, part, of_gauge, warm, kept)

    def values(self, quantity: str, place: Place, slot: tuple[str, str]) -> tuple[Value, ...]:
        """What was read in one slot, latest state first to count: one value, or all of a conflict."""
        key = (quantity, place, slot)
        if key not in self._settled:
            by_state = self._read.get((quantity, place), {}).get(slot)
            self._settled[key] = settle(by_state[max(by_state)]) if by_state else ()
        return self._settled[key]

    def unread(self, quantity: str, place: Place) -> bool:
        """Whether nothing at all that counts was read of a quantity at a place."""
        return (quantity, place) not in self._read

    def never_read(self, quantity: str, place: Place) -> bool:
        """Whether nothing was ever read, not even what later work or a condition keeps from counting."""
        spot = (quantity, place)
        every: tuple[Container[Spot], ...] = (self._read, self._voided, self._left_out, self._ended)
        return not any(spot in read for read in every)

    def ended(self, quantity: str, place: Place) -> tuple[str, ...]:
        """What happened to other parts since, so that readings of a quantity at a place do not count."""
        return tuple(self._ended.get((quantity, place), ()))

    def left_out(self, quantity: str, place: Place) -> tuple[str, ...]:
        """Titles of the conditions for want of which readings of a quantity at a place do not count."""
        return tuple(sorted(self._left_out.get((quantity, place), ())))

    def conflicts(self, quantity: str, place: Place) -> list[tuple[str, ...]]:
        """Evidence ids of readings that contradict each other in one slot."""
        slots = self._read.get((quantity, place), {})
        found = [self.values(quantity, place, slot) for slot in slots]
        return [tuple(i for value in values for i in value.evidence) for values in found if len(values) > 1]
