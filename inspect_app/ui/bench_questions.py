"""Questions about a reading that is saved but stands far from those beside it; they stop nobody."""

from collections.abc import Iterator, Mapping, Sequence
from decimal import Decimal

from inspect_app.closing.read_values import gauge_of, typed_size
from inspect_app.metrology.readings import Value, agree
from inspect_app.model.evidence import Reading
from inspect_app.model.units import clean, decimal_of, factor
from inspect_app.rulebook.engine import Engine
from inspect_app.ui.bench_groups import Box, Group

FEWEST = 3
"""Fewer readings than this say nothing about what is usual there (judgement)."""
DIGITS_APART, SPREADS_APART = 10, 1.5
"""How far outside its neighbours a reading may stand: digits of the gauge, spreads of theirs (judgement)."""

Span = tuple[float, float]


def questions(engine: Engine, group: Group, shown: Mapping[Box, Reading]) -> dict[Box, str]:
    """What to ask about each reading shown, by its box.

    Its neighbours are the readings at the same place, and those at the same station of the other places. It
    is asked about when it stands far outside both, as far as there are enough of them; not when somebody has
    said that it is meant.
    """
    sizes = {box: typed_size(reading, engine, group.kind) for box, reading in shown.items()}
    found: dict[Box, str] = {}
    for box, reading in shown.items():
        digit = gauge_of(reading, engine, group.form.dimension).resolution
        spans = list(_usual(box, sizes, digit))
        away = min((_away(sizes[box], span) for span in spans), default=0.0)
        if away > 0 and not reading.as_meant:
            found[box] = _asked(engine, group, reading, spans)
    return found


def _usual(box: Box, sizes: Mapping[Box, float], digit: float) -> Iterator[Span]:
    """The ends between which a reading of this box is not asked about, for each kind of neighbours."""
    at = (box.position, box.place)
    place = [size for other, size in sizes.items() if other != box and (other.position, other.place) == at]
    station = [size for other, size in sizes.items() if other != box and other.station == box.station]
    for neighbours in (place, station):
        if len(neighbours) >= FEWEST:
            least, most = min(neighbours), max(neighbours)
            room = max(SPREADS_APART * (most - least), DIGITS_APART * digit)
            yield (least - room, most + room)


def _away(size: float, span: Span) -> float:
    return clean(max(span[0] - size, size - span[1], 0.0))


def _asked(engine: Engine, group: Group, reading: Reading, spans: Sequence[Span]) -> str:
    said = f"{reading.value} stands far from the readings beside it."
    for text, why in _slips(engine, group, reading):
        size = typed_size(reading.model_copy(update={"value": text}), engine, group.kind)
        if any(_away(size, span) == 0 for span in spans):
            return f"{said} {text} would fit: {why}?"
    return f"{said} Is it meant?"


def _slips(engine: Engine, group: Group, reading: Reading) -> Iterator[tuple[str, str]]:
    """The usual slips: what would have been typed, and the slip in words."""
    number = decimal_of(reading.value)
    yield _text(-number, reading), "the other sign"
    yield _text(number / 10, reading), "the point one place further left"
    yield _text(number * 10, reading), "the point one place further right"
    gauge = engine.book.gauges.get(reading.gauge or "")
    if reading.setting is not None and gauge is not None and gauge.division is not None:
        amount, _, unit = gauge.division.partition(" ")
        for typed_in in dict.fromkeys((unit, "in", "mm")):
            share = factor(typed_in, group.form.dimension) / factor(unit, group.form.dimension)
            counted = number * share / decimal_of(amount)
            yield _text(round(counted, 1), reading), f"{typed_in} typed in place of divisions"
    elif group.form.dimension == "length":
        yield _text(number * Decimal("25.4"), reading), "inch typed in place of millimetre"
        yield _text(round(number / Decimal("25.4"), 5), reading), "millimetre typed in place of inch"


def _text(number: Decimal, reading: Reading) -> str:
    plain = f"{number.normalize():f}"
    return f"+{plain}" if reading.setting is not None and number > 0 else plain


def contradict(engine: Engine, group: Group, readings: Sequence[Reading]) -> bool:
    """Whether readings of one spot differ by more than their uncertainty allows, as the judge holds them."""
    values = []
    for reading in readings:
        gauge = gauge_of(reading, engine, group.form.dimension)
        session = f"{reading.gauge}|{reading.session or reading.when[:10]}"
        size = typed_size(reading, engine, group.kind)
        values.append(Value(size, gauge.own, gauge.common, session, (reading.id,)))
    return not agree(values)
