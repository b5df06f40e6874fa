"""What is read together at the bench: one quantity at all places of a kind, with a box for each reading."""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass

from inspect_app.model.evidence import Reading, standing
from inspect_app.model.places import parse_place
from inspect_app.rulebook.book import Rulebook
from inspect_app.rulebook.engine import Engine
from inspect_app.rulebook.forms_quantities import QuantityForm
from inspect_app.ui import words
from inspect_app.ui.shelf import Slot

Spot = tuple[str, str, str, str, str]
"""Piece, quantity, place, station, direction: where one reading belongs."""


@dataclass(frozen=True)
class Box:
    """One reading to take: where, and on which piece in which position."""

    position: str
    piece: str
    place: str
    station: str
    direction: str

    @property
    def key(self) -> str:
        """The name of the box within its group."""
        return "|".join((self.position, self.place, self.station, self.direction))


@dataclass(frozen=True)
class Group:
    """One quantity at every place of one kind on all pieces of a part, in the order of the hand."""

    part: str
    kind: str
    title: str
    form: QuantityForm
    boxes: tuple[Box, ...]

    @property
    def key(self) -> str:
        """The name of the group in the address of the page."""
        return f"{self.part}/{self.kind}/{self.form.id}"

    def spot(self, box: Box) -> Spot:
        """Where the readings of a box belong."""
        return (box.piece, self.form.id, box.place, box.station, box.direction)


@dataclass(frozen=True)
class Standing:
    """A group of one core: how many of its boxes are read, and how many the answer waits for."""

    group: Group
    read: int
    waits: int

    @property
    def told(self) -> str:
        """How far it is: "6 of 24 read"."""
        return f"{self.read} of {len(self.group.boxes)} read"


def standings(slot: Slot) -> list[Standing]:
    """Every group of a judged core: first those waited for, then those begun, then by the rules' order."""
    assert slot.held is not None
    read = {spot_of(item) for item in readings(slot)}
    waited = _waited_for(slot)
    found = [
        Standing(
            group,
            sum(group.spot(box) in read for box in group.boxes),
            sum((box.position, group.form.id, box.place) in waited for box in group.boxes),
        )
        for group in groups(slot)
    ]
    return sorted(found, key=lambda one: (not one.waits, not one.read))


def groups(slot: Slot) -> Iterator[Group]:
    """Every group of a judged core in the order of the rules."""
    engine, answer = slot.engine, slot.answer
    assert engine is not None
    assert answer is not None
    pieces = {part.position: part.piece for part in answer.parts}
    for part in engine.book.parts.values():
        at = [p.id for p in engine.positions.values() if p.part == part.id and p.id in pieces]
        for kind in dict.fromkeys(form.kind for form in part.places):
            for (_, each), form in engine.book.quantities.items():
                if each == kind and form.calc is None:
                    boxes = tuple(_boxes(engine, part.id, kind, form, {name: pieces[name] for name in at}))
                    title = f"{part.title}, {words.plain(kind)}: {form.title}"
                    yield Group(part.id, kind, title, form, boxes)


def _boxes(engine: Engine, part: str, kind: str, form: QuantityForm, sits: dict[str, str]) -> Iterator[Box]:
    stations = (*form.stations, *([form.unworn] if form.unworn is not None else []))
    for position, piece in sits.items():
        for place in engine.places(part, kind):
            for station in stations:
                for direction in form.directions:
                    yield Box(position, piece, str(place), station, direction)


def readings(slot: Slot) -> Iterable[Reading]:
    """The readings of a core that count: neither withdrawn nor corrected."""
    assert slot.held is not None
    return (item for item in standing(slot.held.core.evidence) if isinstance(item, Reading))


def spot_of(item: Reading) -> Spot:
    """Where a reading belongs."""
    return (item.piece, item.quantity, item.place, item.station, item.direction)


def _waited_for(slot: Slot) -> set[tuple[str, str, str]]:
    """Position, quantity and place of every reading that an open point asks for."""
    engine, answer = slot.engine, slot.answer
    assert engine is not None
    assert answer is not None
    found = set[tuple[str, str, str]]()
    for part in answer.parts:
        asked = (p.enter for p in part.open_points if p.enter is not None and p.enter.by == "reading")
        for enter in asked:
            for place in enter.places:
                names = sources(engine.book, enter.name, kind_of(place))
                named = {(part.position, name, place) for name in names}
                found |= named
    return found


def sources(book: Rulebook, quantity: str, kind: str) -> set[str]:
    """What is read for a quantity: itself, or for one that is computed all that it is computed from."""
    form = book.quantities.get((quantity, kind))
    if form is None or form.calc is None:
        return {quantity}
    return {name for source in form.calc.sources for name in sources(book, source, kind)}


def place_name(place: str) -> str:
    """The head over the boxes of a place: "Bore 2", "Head face"."""
    return words.sentence(words.place(place))[:-1]


def kind_of(place: str) -> str:
    """The kind of a place, "" for what is none."""
    try:
        return parse_place(place).kind
    except ValueError:
        return ""
