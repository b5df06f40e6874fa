"""Questions about a reading that is saved but stands far from those beside it; they stop nobody."""

from collections.abc import Iterator, Mapping, Sequence
from decimal import Decimal

from inspect_app.closing.read_values import gauge_of, typed_size
from inspect_app.metrology.readings import Value, agree
from inspect_app.model.evidence import Reading
from inspect_app.model.units import decimal_of, factor, from_canonical
from inspect_app.rulebook.engine import Engine
from inspect_app.ui.bench_groups import Box, Group

FEWEST = 3
"""Fewer readings than this say nothing about what is usual here (judgement)."""
DIGITS_APART = 10
"""Readings may always stand so many digits of the gauge outside the others (judgement)."""


def questions(engine: Engine, group: Group, shown: Mapping[Box, Reading]) -> dict[Box, str]:
    """What to ask about each reading shown, by its box.

    A reading is asked about when it stands further outside the others of its group than they spread, or
    than ten digits of its gauge, whichever is more; not when somebody has said that it is meant.
    """
    sizes = {box: typed_size(reading, engine, group.kind) for box, reading in shown.items()}
    found: dict[Box, str] = {}
    for box, reading in shown.items():
        others = [size for other, size in sizes.items() if other != box]
        if reading.as_meant or len(others) < FEWEST:
            continue
        digit = gauge_of(reading, engine, group.form.dimension).resolution
        least, most = min(others), max(others)
        room = max(most - least, DIGITS_APART * digit)
        away = max(least - sizes[box], sizes[box] - most)
        if away > room:
            found[box] = _asked(engine, group, reading, away, (least - room, most + room))
    return found


def _asked(engine: Engine, group: Group, reading: Reading, away: float, span: tuple[float, float]) -> str:
    apart = from_canonical(away, reading.unit, group.form.dimension)
    said = f"{reading.value} stands {apart:.4g} {reading.unit} outside the others of this group."
    for text, why in _slips(engine, group, reading):
        other = reading.model_copy(update={"value": text})
        if span[0] <= typed_size(other, engine, group.kind) <= span[1]:
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
