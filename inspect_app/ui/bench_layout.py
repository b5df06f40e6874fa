"""How the boxes of a group are laid out: tables one after the other, and the order in which the hand goes."""

from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass
from typing import Literal

from inspect_app.ui import words
from inspect_app.ui.bench_groups import Box, Group, place_name

Order = Literal["place", "station"]
ORDERS: dict[Order, str] = {"place": "One place at a time", "station": "One depth across all"}
FEW_COLUMNS = 3


@dataclass(frozen=True)
class Row:
    """Boxes side by side under the heads of the table."""

    label: str
    boxes: tuple[Box, ...]


@dataclass(frozen=True)
class Table:
    """Boxes that are read together; a phone shows one table at a time."""

    title: str
    heads: tuple[str, ...]
    rows: tuple[Row, ...]
    down: bool = False

    @property
    def hand(self) -> list[Box]:
        """The boxes in the order of the hand: along the rows, or `down` the columns."""
        if self.down:
            columns = zip(*(row.boxes for row in self.rows), strict=True)
            return [box for column in columns for box in column]
        return [box for row in self.rows for box in row.boxes]


def has_orders(group: Group) -> bool:
    """Whether there is more than one order to go in."""
    stations = {box.station for box in group.boxes}
    directions = {box.direction for box in group.boxes}
    two_ways = len(stations) > 1 and len(directions) <= FEW_COLUMNS
    return not _one_table(group) and two_ways and _many_places(group)


def tables(group: Group, order: Order) -> list[Table]:
    """Every box of a group once, in tables."""
    if _one_table(group):
        return [_table("", group.boxes, _place_title(group), _slot_name)]
    if order == "station" and has_orders(group):
        by_station = _parted(group.boxes, lambda box: box.station)
        return [_table(_station(found[0]), found, _place_title(group), _direction) for found in by_station]
    titled = _place_title(group)
    by_place = _parted(group.boxes, lambda box: (box.position, box.place))
    return [_of_place(titled(found[0]), found) for found in by_place]


def _of_place(title: str, boxes: Sequence[Box]) -> Table:
    directions = {box.direction for box in boxes}
    if len(directions) <= FEW_COLUMNS:
        return _table(title, boxes, _station, _direction)
    turned = sorted(boxes, key=lambda box: [b.direction for b in boxes].index(box.direction))
    across = _table(title, turned, _direction, _station)
    return Table(across.title, across.heads, across.rows, down=True)


def _table(title: str, boxes: Sequence[Box], row: Callable[[Box], str], head: Callable[[Box], str]) -> Table:
    rows: dict[str, list[Box]] = {}
    for box in boxes:
        rows.setdefault(row(box), []).append(box)
    heads = tuple(dict.fromkeys(head(box) for box in boxes))
    return Table(title, heads, tuple(Row(label, tuple(found)) for label, found in rows.items()))


def _parted(boxes: Iterable[Box], by: Callable[[Box], object]) -> list[list[Box]]:
    parts: dict[object, list[Box]] = {}
    for box in boxes:
        parts.setdefault(by(box), []).append(box)
    return list(parts.values())


def _one_table(group: Group) -> bool:
    slots = {(box.station, box.direction) for box in group.boxes}
    return len(slots) <= FEW_COLUMNS


def _many_places(group: Group) -> bool:
    return len({(box.position, box.place) for box in group.boxes}) > 1


def _place_title(group: Group) -> Callable[[Box], str]:
    """How a place is named: by what tells it from the others of the group."""
    many = len({box.position for box in group.boxes}) > 1
    inside = len({box.place for box in group.boxes}) > 1

    def title(box: Box) -> str:
        if many and inside:
            return f"{position_name(box)}, {words.place(box.place)}"
        return position_name(box) if many else place_name(box.place)

    return title


def position_name(box: Box) -> str:
    """A position as it is said: "Rod 3"."""
    return words.sentence(words.plain(box.position))[:-1]


def _station(box: Box) -> str:
    return words.sentence(words.plain(box.station))[:-1] if box.station else ""


def _direction(box: Box) -> str:
    return words.sentence(words.plain(box.direction))[:-1] if box.direction else ""


def _slot_name(box: Box) -> str:
    return ", ".join(
        filter(None, (_station(box), _direction(box).lower() if box.station else _direction(box)))
    )


def box_name(group: Group, box: Box) -> str:
    """A box in words, for a screen reader and for what is told of it: "Bore 2, top, across"."""
    slot = [words.plain(part) for part in (box.station, box.direction) if part]
    return ", ".join([_place_title(group)(box), *slot])
