"""What the rules speak of: zone x damage word and quantity x way, each cell ruled, reasoned or empty.

A damage cell is ruled if a rule of the part asks the word there. A figure cell is ruled if the figure,
or one computed from it, lets a rule close the way, a ladder choose the size, or a coupling sum it up.
"""

from collections import defaultdict
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass

from inspect_app.model.places import zone_path

from .book import Rulebook
from .conditions import Leaf
from .forms_conditions import FigureCondition, FindingCondition
from .forms_parts import ConcernForm, PartForm, PlaceForm
from .forms_rules import RuleForm
from .forms_unruled import EVERY, UnruledForm

Cell = tuple[str, str]
"""Row and column: ("bore/ring_travel", "crack") or ("bore.taper", "bores.hone")."""
Entry = tuple[str, str]
"""Table and id of what rules a cell: ("rule", "bore-wall-broken"), ("part", "block")."""

ANY_SIZE = "any size"


@dataclass(frozen=True)
class Matrix:
    """One matrix of a part: rows, columns, what rules a cell, and the id of the reason why nothing does."""

    part: str
    rows: tuple[str, ...]
    columns: tuple[str, ...]
    ruled: Mapping[Cell, tuple[Entry, ...]]
    reasons: Mapping[Cell, str]

    @property
    def cells(self) -> list[Cell]:
        """Every cell, row by row."""
        return [(row, column) for row in self.rows for column in self.columns]

    @property
    def empty(self) -> list[Cell]:
        """The cells that nothing rules and no reason covers."""
        return [cell for cell in self.cells if cell not in self.ruled and cell not in self.reasons]


def damage_matrix(book: Rulebook, part: PartForm) -> Matrix:
    """Every finest zone of the part's places x every damage word."""
    rows = tuple(row for place in part.places for row in _zone_rows(place))
    return _matrix(book, part, rows, tuple(book.damage), _asked(book, part, rows))


def figure_matrix(book: Rulebook, part: PartForm) -> Matrix:
    """Every quantity at the part's places x its own piece and every way of its concerns."""
    rows = tuple(f"{kind}.{quantity}" for place in part.places for quantity, kind in _read_at(book, place))
    return _matrix(book, part, rows, ways_of(part), _closing(book, part))


def _matrix(
    book: Rulebook,
    part: PartForm,
    rows: tuple[str, ...],
    columns: tuple[str, ...],
    by: Iterable[tuple[Cell, Entry]],
) -> Matrix:
    ruled: dict[Cell, list[Entry]] = defaultdict(list)
    for cell, entry in by:
        if entry not in ruled[cell]:
            ruled[cell].append(entry)
    reasons: dict[Cell, str] = {}
    for form in book.unruled.values():
        if form.part == part.id:
            for cell in named_cells(form, rows, columns):
                if cell not in ruled:
                    reasons.setdefault(cell, form.id)
    return Matrix(part.id, rows, columns, {cell: tuple(entries) for cell, entries in ruled.items()}, reasons)


def named_cells(form: UnruledForm, rows: Iterable[str], columns: Iterable[str]) -> Iterator[Cell]:
    """The cells of a matrix that a written reason speaks of, ruled or not."""
    named = [row for row in rows if _names_row(form, row)]
    for column in columns:
        if _names_column(form, column):
            yield from ((row, column) for row in named)


def names(form: UnruledForm, cell: Cell) -> bool:
    """Whether a written reason speaks of a cell."""
    return _names_row(form, cell[0]) and _names_column(form, cell[1])


def _names_row(form: UnruledForm, row: str) -> bool:
    """Whether a reason speaks of a zone ("bore/foot") or of a quantity ("bore.taper")."""
    if form.damage:
        return any(place == EVERY or covers(place, row) for place in form.places)
    kind, _, quantity = row.partition(".")
    return kind in form.each and (EVERY in form.quantities or quantity in form.quantities)


def _names_column(form: UnruledForm, column: str) -> bool:
    """Whether a reason speaks of a damage word or of a way."""
    if form.damage:
        return column in form.damage
    return any(way in (EVERY, column, column.partition(".")[0]) for way in form.ways)


def covers(place: str, row: str) -> bool:
    """Whether a place such as "bore" or "bore/foot" holds the zone of a row."""
    steps = zone_path(place)
    return zone_path(row)[: len(steps)] == steps


def ways_of(part: PartForm) -> tuple[str, ...]:
    """The columns of the figure matrix: own, then every way; all sizes of a ladder are one column."""
    return ("own", *(f"{concern.id}.{way}" for concern in part.concern for way in _ways(concern)))


def _ways(concern: ConcernForm) -> list[str]:
    if concern.ladder == "plain":
        return [way.id for way in concern.ways]
    exception = [concern.exception.id] if concern.exception else []
    return [*([concern.first.id] if concern.first else []), ANY_SIZE, *exception]


def _zone_rows(place: PlaceForm) -> list[str]:
    """The kind itself, or its zones without those that another zone divides further."""
    paths = [zone_path(zone) for zone in place.zones]
    finest = [
        path for path in paths if not any(other != path and other[: len(path)] == path for other in paths)
    ]
    return ["/".join((place.kind, *path)) for path in finest] or [place.kind]


def _read_at(book: Rulebook, place: PlaceForm) -> list[tuple[str, str]]:
    return [key for key in book.quantities if key[1] == place.kind]


def _asked(book: Rulebook, part: PartForm, rows: tuple[str, ...]) -> Iterator[tuple[Cell, Entry]]:
    for rule in book.rules_of[part.id]:
        for leaf, form in _leaves(book, rule):
            if isinstance(form, FindingCondition):
                for kind in _kinds(part, rule, leaf):
                    asked = "/".join((kind, *zone_path(form.zone)))
                    yield from (
                        ((row, form.finding), ("rule", rule.id)) for row in rows if covers(asked, row)
                    )


def _leaves(book: Rulebook, rule: RuleForm) -> Iterator[tuple[Leaf, object]]:
    return ((leaf, leaf.form) for leaf, _ in book.compiled[rule.id].leaves())


def _kinds(part: PartForm, rule: RuleForm, leaf: Leaf) -> tuple[str, ...]:
    """Where a rule asks a leaf: at the place it names, at the rule's places, or everywhere."""
    named = leaf.kind_asked(None)
    return (named,) if named else rule.each or tuple(place.kind for place in part.places)


def _closing(book: Rulebook, part: PartForm) -> Iterator[tuple[Cell, Entry]]:
    yield from _closed_by_rules(book, part)
    yield from _used_by_ladders(book, part)
    yield from _summed_up(book, part)


def _closed_by_rules(book: Rulebook, part: PartForm) -> Iterator[tuple[Cell, Entry]]:
    for rule in book.rules_of[part.id]:
        closed = [way for way in ways_of(part) if any(_is_way(part, target, way) for target in rule.closes)]
        for leaf, form in _leaves(book, rule):
            if isinstance(form, FigureCondition):
                for kind in _kinds(part, rule, leaf):
                    yield from _cells(book, form.figure, kind, closed, ("rule", rule.id))


def _is_way(part: PartForm, name: str, column: str) -> bool:
    """Whether what a rule closes is, or holds, the way of a column; the size way has two names."""
    concern_id, _, way = column.partition(".")
    form = next((form for form in part.concern if form.id == concern_id), None)
    size = f"{concern_id}.{form.size.id}" if form and form.size and way == ANY_SIZE else column
    return name in (column, concern_id, size)


def _used_by_ladders(book: Rulebook, part: PartForm) -> Iterator[tuple[Cell, Entry]]:
    for concern in part.concern:
        keep = concern.keep.figure if concern.keep else None
        for quantity in (concern.need, concern.sizes, keep):
            if quantity and concern.each:
                ways = [f"{concern.id}.{ANY_SIZE}"]
                yield from _cells(book, quantity, concern.each, ways, ("part", part.id))


def _summed_up(book: Rulebook, part: PartForm) -> Iterator[tuple[Cell, Entry]]:
    """A sum can close those of its concerns' ways that take metal."""
    for coupling in book.couplings.values():
        if coupling.sum is None:
            continue
        kind, _, quantity = coupling.sum.at_most.partition(".")
        ways = [
            f"{concern.id}.{way.id}"
            for concern in part.concern
            if f"{part.id}.{concern.id}" in coupling.sum.of
            for way in concern.rungs()
            if way.takes
        ]
        if any(place.kind == kind for place in part.places):
            yield from _cells(book, quantity, kind, ways, ("coupling", coupling.id))


def _cells(
    book: Rulebook, quantity: str, kind: str, ways: list[str], entry: Entry
) -> Iterator[tuple[Cell, Entry]]:
    """The cells of a figure, and of every quantity that it is computed from, at these ways."""
    for name, at in _made_of(book, quantity, kind):
        yield from (((f"{at}.{name}", way), entry) for way in ways)


def _made_of(book: Rulebook, quantity: str, kind: str) -> set[tuple[str, str]]:
    """A quantity and all it is computed from, to the first reading."""
    found: set[tuple[str, str]] = set()
    todo = [(quantity, kind)]
    while todo:
        key = todo.pop()
        if key in found or key not in book.quantities:
            continue
        found.add(key)
        calc = book.quantities[key].calc
        if calc is not None:
            todo += [(name, key[1]) for name in calc.sources]
    return found
