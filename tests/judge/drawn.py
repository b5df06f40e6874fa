"""Evidence drawn over the rulebook's own words, on an inline-three or -six of the shipped rules."""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from functools import cache
from typing import Any

from hypothesis import strategies as st

from inspect_app.model.core import Core
from inspect_app.model.evidence import Evidence, Finding, Look, OutsideReport, Reading, Sign, Test
from inspect_app.model.places import Place, parse_place
from inspect_app.model.units import from_canonical
from inspect_app.rulebook.check_core import core_problems
from inspect_app.rulebook.engine import Engine, Position
from inspect_app.rulebook.forms_conditions import FindingCondition
from inspect_app.rulebook.forms_rules import PriceForm, RuleForm

from . import six

GAUGES = {
    "diameter": "outside micrometer",
    "wall": "ultrasonic thickness gauge",
    "edge_gap": "straightedge and feeler",
    "runout": "dial indicator",
}
"""One gauge for each quantity: a coarse gauge beside a fine one is another matter."""

ONE_WORD_TESTS = {"crack": ("magnetic particle", "dye penetrant"), "leak": ("pressure test",)}
"""Tests that look for one damage word only, so that finding it proves no other word absent."""


@cache
def engine(cylinders: int) -> Engine:
    counts = {"cylinders": cylinders, "mains": cylinders + 1, "rod_journals": cylinders, "heads": 1}
    return Engine(six.book(), six.sheet(counts=counts))


def core(bound: Engine, items: Sequence[Evidence]) -> Core:
    """These items on an engine of the six's kind, with the pieces that it has a position for."""
    pieces = tuple(piece for piece in six.pieces() if piece.position in bound.positions)
    return six.core(list(items), pieces=pieces)


@cache
def sound(cylinders: int) -> tuple[Evidence, ...]:
    """What shows this engine sound: the items of the six that it has the places for."""
    bound, items = engine(cylinders), six.looks_and_tests() + six.readings()
    return tuple(item for item in items if not core_problems(bound, core(bound, [item])))


def washed(id_: str, piece: str, **fields: Any) -> dict[str, Any]:
    return {**six.COMMON, "id": id_, "piece": piece, **fields}


@dataclass(frozen=True)
class Focus:
    """The spot that most of the drawn evidence is about, so that items meet: support, contradict, repeat."""

    position: Position
    place: Place
    words: tuple[str, ...]


@st.composite
def focuses(draw: st.DrawFn, bound: Engine, measured: bool = False) -> Focus:
    """A place of a part (often one where something is read), and damage words that its rules ask for."""
    if measured or draw(st.booleans()):
        slot = draw(st.sampled_from(slots(bound)))
        position, place = bound.positions[slot[0]], parse_place(slot[2])
    else:
        position = draw(st.sampled_from(list(bound.positions.values())))
        form = draw(st.sampled_from(bound.book.parts[position.part].places))
        place = draw(st.sampled_from(bound.places(position.part, form.kind)))
    asked = sorted({word for rule in bound.book.rules_of[position.part] for word in words_of(bound, rule)})
    return Focus(position, place, tuple(draw(st.sets(st.sampled_from(asked), min_size=1, max_size=2))))


def words_of(bound: Engine, rule: RuleForm) -> list[str]:
    leaves = [leaf.form for leaf, _ in bound.book.compiled[rule.id].leaves()]
    return [form.finding for form in leaves if isinstance(form, FindingCondition)]


@st.composite
def spots(draw: st.DrawFn, bound: Engine, focus: Focus) -> tuple[str, str, str]:
    """A piece, a place of it with or without a zone, and a damage word: mostly those of the focus."""
    position, place, words = focus.position, focus.place, focus.words
    if draw(st.integers(0, 3)) == 0:
        position = draw(st.sampled_from(list(bound.positions.values())))
        form = draw(st.sampled_from(bound.book.parts[position.part].places))
        place = draw(st.sampled_from(bound.places(position.part, form.kind)))
        words = tuple(bound.book.damage)
    form = bound.book.place_form(position.part, place.kind)
    zone = draw(st.sampled_from(["", *(form.zones if form else ())]))
    return position.id, f"{place}/{zone}" if zone else str(place), draw(st.sampled_from(words))


@st.composite
def findings(draw: st.DrawFn, bound: Engine, focus: Focus, id_: str) -> list[Evidence]:
    """A finding, suspected or seen, or confirmed by a test of that one place and for that one word."""
    piece, place, damage = draw(spots(bound, focus))
    fields = washed(id_, piece, damage=damage, place=place)
    strength = draw(st.sampled_from(["suspected", "seen", "confirmed"]))
    if strength != "confirmed" or damage not in ONE_WORD_TESTS:
        return [Finding(**fields, strength="suspected" if strength == "suspected" else "seen")]
    method = draw(st.sampled_from(ONE_WORD_TESTS[damage]))
    test = Test(**washed(f"{id_}-test", piece, method=method, places=(place,), outcome="found"))
    return [test, Finding(**fields, strength="confirmed", test=test.id)]


@st.composite
def clean_looks(draw: st.DrawFn, bound: Engine, focus: Focus, id_: str) -> list[Evidence]:
    """A look or a test that found nothing, or could not tell."""
    piece, place, damage = draw(spots(bound, focus))
    methods = draw(st.sampled_from([bound.book.damage[damage].settled_by, tuple(bound.book.methods)]))
    method = bound.book.methods[draw(st.sampled_from(methods))]
    fields = washed(id_, piece, method=method.id, places=("*",) if draw(st.booleans()) else (place,))
    if method.kind == "look":
        return [Look(**fields, lit=draw(st.booleans()))]
    return [Test(**fields, outcome=draw(st.sampled_from(["nothing_found", "cannot_tell"])))]


Slot = tuple[str, str, str, str, str]
"""Piece, quantity, place, station, direction."""


@st.composite
def readings(draw: st.DrawFn, bound: Engine, focus: Focus, id_: str, taken: set[Slot]) -> list[Evidence]:
    """A reading in a slot where nothing was read, at the focus if it can be; [] if none is free."""
    free = [slot for slot in slots(bound) if slot not in taken]
    near = [slot for slot in free if slot[0] == focus.position.id and slot[2] == str(focus.place)]
    if not free:
        return []
    slot = draw(st.sampled_from(near or free))
    taken.add(slot)
    return [draw(read_there(bound, id_, slot))]


@st.composite
def read_there(draw: st.DrawFn, bound: Engine, id_: str, slot: Slot) -> Reading:
    """A reading in this slot, anything from new to worn out."""
    piece, quantity, place, station, direction = slot
    nominal = bound.nominal(quantity, place.partition(" ")[0])
    base = 0.0 if nominal is None else from_canonical(nominal, "in")
    form = bound.book.quantities[(quantity, place.partition(" ")[0])]
    wear = draw(st.sampled_from([0, 1, 3, 6, 11, 26, 60, 120, 200, 400]))
    value = f"{base + (-wear if form.body == 'shaft' else wear) / 10_000:.4f}"
    fields = {"quantity": quantity, "place": place, "station": station, "direction": direction}
    more = {"gauge": GAUGES.get(quantity, "depth gauge"), "session": "s1", "conditions": form.conditions}
    return Reading(**washed(id_, piece, value=value, unit="in", **fields, **more))


@cache
def slots(bound: Engine) -> tuple[Slot, ...]:
    """Every slot in which a length can be read."""
    return tuple(
        (position.id, quantity, str(place), station, direction)
        for (quantity, kind), form in bound.book.quantities.items()
        if form.calc is None and form.dimension == "length" and quantity != "stack_removed"
        for position in bound.positions.values()
        for place in bound.places(position.part, kind)
        for station in (*form.stations, *([form.unworn] if form.unworn is not None else []))
        for direction in form.directions
    )


def slot_of(item: Reading) -> Slot:
    return (item.piece, item.quantity, item.place, item.station, item.direction)


def slots_taken(items: Sequence[Evidence]) -> set[Slot]:
    return {slot_of(item) for item in items if isinstance(item, Reading)}


@st.composite
def reports(draw: st.DrawFn, bound: Engine, focus: Focus, id_: str) -> list[Evidence]:
    """What the shop says, with or without grounds."""
    piece = draw(st.sampled_from([focus.position.id, "block", "crankshaft"]))
    grounds = draw(st.sampled_from(["", "crack from bore 2 into the web"]))
    return [OutsideReport(**washed(id_, piece, says="unusable", grounds=grounds))]


@st.composite
def signs(draw: st.DrawFn, bound: Engine, focus: Focus, id_: str) -> list[Evidence]:
    """A yard check with its answer."""
    form = draw(st.sampled_from(list(bound.book.signs.values())))
    answer = draw(st.sampled_from([*form.answers, "not looked", "cannot tell"]))
    pieces = [position.id for position in bound.positions.values() if position.part == form.part]
    return [Sign(**washed(id_, draw(st.sampled_from(pieces)), sign=form.id, answer=answer))]


@st.composite
def evidence(draw: st.DrawFn, bound: Engine, focus: Focus, most: int = 6) -> list[Evidence]:
    """What shows the engine sound (nearly all, or little of it), its readings at the focus drawn anew,
    and some more of every kind; each slot is read at most once.
    """
    base = sound(bound.sheet.counts["cylinders"])
    few = draw(st.sets(st.sampled_from(range(len(base))), max_size=12))
    whole = draw(st.integers(0, 3)) > 0
    items = [item for number, item in enumerate(base) if (number in few) != whole]
    items = [draw(read_there(bound, i.id, slot_of(i))) if at(focus, i) else i for i in items]
    items = [i for i in items if not at(focus, i) or draw(st.integers(0, 3))]
    taken = slots_taken(items)
    for number in range(draw(st.integers(0, most))):
        kinds = [*[findings] * 3, *[clean_looks] * 2, *[None] * 2, reports, signs]
        kind = draw(st.sampled_from(kinds))
        id_ = f"d{number}"
        items += draw(readings(bound, focus, id_, taken) if kind is None else kind(bound, focus, id_))
    return items


def at(focus: Focus, item: Evidence) -> bool:
    """Whether an item is a reading at the focus."""
    return isinstance(item, Reading) and (item.piece, item.place) == (focus.position.id, str(focus.place))


@st.composite
def shown_by_signs(draw: st.DrawFn, bound: Engine, id_: str) -> list[Evidence]:
    """A yard check whose answer shows damage at once."""
    form = draw(st.sampled_from([form for form in bound.book.signs.values() if form.shows]))
    return [Sign(**washed(id_, form.part, sign=form.id, answer=draw(st.sampled_from(list(form.shows)))))]


def scaled(form: PriceForm, times: float) -> PriceForm:
    ends = {name: getattr(form, name) * times for name in ("low", "likely", "high")}
    return form.model_copy(update=ends)


def with_prices(bound: Engine, prices: dict[str, PriceForm]) -> Engine:
    return Engine(replace(bound.book, prices=prices), bound.sheet)
