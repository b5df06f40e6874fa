"""Evidence drawn over the rulebook's own words, on an inline-three or -six of the shipped rules."""

from collections.abc import Sequence
from functools import cache
from typing import Any

from hypothesis import strategies as st

from inspect_app.model.core import Core
from inspect_app.model.evidence import Evidence, Finding, Look, OutsideReport, Reading, Sign, Test
from inspect_app.model.units import from_canonical
from inspect_app.rulebook.check_core import core_problems
from inspect_app.rulebook.engine import Engine

from . import six

GAUGES = {
    "diameter": "outside micrometer",
    "wall": "ultrasonic thickness gauge",
    "flatness": "straightedge and feeler",
    "bend": "dial indicator",
}
"""One gauge for each quantity: a coarse gauge beside a fine one is another matter."""

ONE_WORD_TESTS = {"crack": ("magnetic particle", "dye penetrant"), "leak": ("pressure test",)}
"""Tests that look for one damage word only, so that finding it proves no other word absent."""


@cache
def engine(cylinders: int) -> Engine:
    counts = {"cylinders": cylinders, "mains": cylinders + 1, "rod_journals": cylinders, "heads": 1}
    return Engine(six.book(), six.sheet(counts=counts))


def core(items: Sequence[Evidence], **changes: Any) -> Core:
    return six.core(list(items), **changes)


@cache
def sound(cylinders: int) -> tuple[Evidence, ...]:
    """What shows this engine sound: the items of the six that it has the places for."""
    items = six.looks_and_tests() + six.readings()
    return tuple(item for item in items if not core_problems(engine(cylinders), core([item])))


def washed(id_: str, piece: str, **fields: Any) -> dict[str, Any]:
    return {**six.COMMON, "id": id_, "piece": piece, **fields}


@st.composite
def places(draw: st.DrawFn, bound: Engine, part: str) -> str:
    """A place of a part, with or without a zone."""
    form = draw(st.sampled_from(bound.book.parts[part].places))
    place = str(draw(st.sampled_from(bound.places(part, form.kind))))
    zone = draw(st.sampled_from(["", *form.zones]))
    return f"{place}/{zone}" if zone else place


@st.composite
def findings(draw: st.DrawFn, bound: Engine, id_: str) -> list[Evidence]:
    """A finding, suspected or seen, or confirmed by a test of that one place and for that one word."""
    position = draw(st.sampled_from(list(bound.positions.values())))
    place = draw(places(bound, position.part))
    damage = draw(st.sampled_from(sorted(bound.book.damage)))
    fields = washed(id_, position.id, damage=damage, place=place)
    strength = draw(st.sampled_from(["suspected", "seen", "confirmed"]))
    if strength != "confirmed" or damage not in ONE_WORD_TESTS:
        return [Finding(**fields, strength="suspected" if strength == "suspected" else "seen")]
    method = draw(st.sampled_from(ONE_WORD_TESTS[damage]))
    test = Test(**washed(f"{id_}-test", position.id, method=method, places=(place,), outcome="found"))
    return [test, Finding(**fields, strength="confirmed", test=test.id)]


@st.composite
def clean_looks(draw: st.DrawFn, bound: Engine, id_: str) -> list[Evidence]:
    """A look or a test that found nothing, or could not tell."""
    position = draw(st.sampled_from(list(bound.positions.values())))
    where = ("*",) if draw(st.booleans()) else (draw(places(bound, position.part)),)
    method = draw(st.sampled_from(list(bound.book.methods.values())))
    fields = washed(id_, position.id, method=method.id, places=where)
    if method.kind == "look":
        return [Look(**fields, lit=draw(st.booleans()))]
    return [Test(**fields, outcome=draw(st.sampled_from(["nothing_found", "cannot_tell"])))]


@st.composite
def readings(draw: st.DrawFn, bound: Engine, id_: str, taken: set[tuple[str, ...]]) -> list[Evidence]:
    """A reading in a slot where nothing was read, anything from new to worn out; [] if none is free."""
    free = [slot for slot in slots(bound) if slot not in taken]
    if not free:
        return []
    piece, quantity, place, station, direction = slot = draw(st.sampled_from(free))
    taken.add(slot)
    nominal = bound.nominal(quantity, place.partition(" ")[0])
    base = 0.0 if nominal is None else from_canonical(nominal, "in")
    thou = draw(st.integers(0, 300) if nominal is None else st.integers(-150, 450))
    value = f"{base + thou / 10_000:.4f}"
    slot_fields = {"quantity": quantity, "place": place, "station": station, "direction": direction}
    gauge = GAUGES.get(quantity, "depth gauge")
    return [Reading(**washed(id_, piece, value=value, unit="in", gauge=gauge, session="s1", **slot_fields))]


def slots(bound: Engine) -> list[tuple[str, ...]]:
    """Every (piece, quantity, place, station, direction) that can be read."""
    return [
        (position.id, quantity, str(place), station, direction)
        for (quantity, kind), form in bound.book.quantities.items()
        if form.calc is None and quantity != "stack_removed"
        for position in bound.positions.values()
        for place in bound.places(position.part, kind)
        for station in (*form.stations, *([form.unworn] if form.unworn is not None else []))
        for direction in form.directions
    ]


def slot_of(item: Evidence) -> tuple[str, ...]:
    assert isinstance(item, Reading)
    return (item.piece, item.quantity, item.place, item.station, item.direction)


@st.composite
def words(draw: st.DrawFn, bound: Engine, id_: str) -> list[Evidence]:
    """A report of the shop, with or without grounds, or a yard check with its answer."""
    if draw(st.booleans()):
        piece = draw(st.sampled_from(list(bound.positions)))
        report = draw(st.sampled_from(sorted(bound.book.reports)))
        grounds = draw(st.sampled_from(["", "crack from bore 2 into the web"]))
        return [OutsideReport(**washed(id_, piece, says=report, grounds=grounds))]
    form = draw(st.sampled_from(list(bound.book.signs.values())))
    answer = draw(st.sampled_from([*form.answers, "not looked", "cannot tell"]))
    return [Sign(**washed(id_, form.part, sign=form.id, answer=answer))]


@st.composite
def evidence(draw: st.DrawFn, bound: Engine, most: int = 6) -> list[Evidence]:
    """Some of what shows the engine sound, and some more of every kind, each slot read at most once."""
    cylinders = bound.sheet.counts["cylinders"]
    base = sound(cylinders)
    kept = draw(st.sets(st.sampled_from(range(len(base))), max_size=25))
    whole = draw(st.booleans())
    items = [item for number, item in enumerate(base) if (number in kept) != whole]
    taken = {slot_of(item) for item in items if isinstance(item, Reading)}
    for number in range(draw(st.integers(0, most))):
        kind = draw(st.sampled_from([findings, clean_looks, words, None]))
        id_ = f"d{number}"
        items += draw(readings(bound, id_, taken) if kind is None else kind(bound, id_))
    return items


@st.composite
def adverse(draw: st.DrawFn, bound: Engine, items: Sequence[Evidence]) -> list[Evidence]:
    """Something against the engine: a finding, a report with grounds, a sign that shows, a new reading."""
    taken = {slot_of(item) for item in items if isinstance(item, Reading)}
    kind = draw(st.sampled_from(["finding", "reading", "report", "sign"]))
    if kind == "finding":
        return draw(findings(bound, "against"))
    if kind == "reading":
        return draw(readings(bound, "against", taken))
    if kind == "report":
        piece = draw(st.sampled_from(list(bound.positions)))
        return [OutsideReport(**washed("against", piece, says="unusable", grounds="crack in the web"))]
    form = draw(st.sampled_from([form for form in bound.book.signs.values() if form.shows]))
    return [
        Sign(**washed("against", form.part, sign=form.id, answer=draw(st.sampled_from(list(form.shows)))))
    ]
