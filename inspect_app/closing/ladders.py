"""Ways of a concern and which of them are closed, in every column at once (floor and roof, or draws).

Columns: [.., 2] for a real piece (0 = must, 1 = may), [.., draws] for drawn ones.
"""

from collections.abc import Mapping
from dataclasses import dataclass, replace
from math import hypot

import numpy as np
from numpy.typing import NDArray

from inspect_app.metrology.figure import Figure, added
from inspect_app.model.places import Place, parse_place
from inspect_app.model.units import clean
from inspect_app.rulebook.conditions import Threshold
from inspect_app.rulebook.forms_parts import ConcernForm, WayForm
from inspect_app.rulebook.pair import Bools, Pair

from .rows import Row, overlay
from .scene import RealScene, past

Columns = Mapping[tuple[str, str | None], Bools]


@dataclass(frozen=True)
class Way:
    """One rung: its form, and the listed size (text and mm) if it is cut to one."""

    form: WayForm
    size: str | None = None
    size_mm: float | None = None

    def goes_by(self, name: str) -> bool:
        """Whether a rule or coupling that says `name` means this way."""
        return name == self.form.id or (name == "any size" and self.size is not None)


@dataclass(frozen=True)
class Ladder:
    """The ways of one concern, lowest first.

    closed [ways, columns]; exceptions [ways, places, columns] tells where a place is done otherwise,
    barred [places, columns] where it cannot be (only for a size common to a set).
    """

    concern: ConcernForm
    ways: tuple[Way, ...]
    places: tuple[Place, ...]
    closed: Bools
    exceptions: Bools
    barred: Bools


def ladders(
    scene: RealScene, rows: list[Row], columns: Columns, width: int, drawn: "SizesDrawn | None" = None
) -> list[Ladder]:
    """Every concern of the piece with its ways, in `width` columns."""
    part = scene.engine.book.parts[scene.part]
    return [
        _plain(concern, rows, columns, width)
        if concern.ladder == "plain"
        else _common_size(scene, concern, rows, columns, width, drawn)
        for concern in part.concern
    ]


def _plain(concern: ConcernForm, rows: list[Row], columns: Columns, width: int) -> Ladder:
    ways = tuple(Way(form) for form in concern.ways)
    closed = np.stack([closed_target(rows, columns, names_of(concern, way), width) for way in ways])
    nowhere = np.zeros((0, width), dtype=bool)
    return Ladder(concern, ways, (), closed, np.zeros((len(ways), 0, width), dtype=bool), nowhere)


def names_of(concern: ConcernForm, way: Way) -> set[str]:
    """Targets of rules that close this way."""
    names = {concern.id, f"{concern.id}.{way.form.id}"}
    return names | ({f"{concern.id}.any size"} if way.size is not None else set())


def closed_target(rows: list[Row], columns: Columns, targets: set[str], width: int) -> Bools:
    """Whether some rule closes one of `targets` at some place, per column."""
    closed = np.zeros(width, dtype=bool)
    for row in rows:
        if targets.intersection(row.rule.closes):
            closed |= columns[(row.rule.id, row.kind)].any(axis=0)
    return closed


def _failing(
    rows: list[Row], columns: Columns, targets: set[str], places: tuple[Place, ...], kind: str, width: int
) -> Bools:
    """Places [places, columns] where a rule closes one of `targets`; a rule of another kind fails all."""
    failing = np.zeros((len(places), width), dtype=bool)
    for row in rows:
        if targets.intersection(row.rule.closes):
            column = columns[(row.rule.id, row.kind)]
            failing |= column if row.kind == kind else column.any(axis=0, keepdims=True)
    return failing


def size_ways(scene: RealScene, concern: ConcernForm) -> tuple[Way, ...]:
    """The first rung and one way for each listed size (a ladder of common size has all of these)."""
    assert concern.first
    assert concern.size
    assert concern.sizes
    assert concern.each
    listed = scene.engine.sizes(concern.sizes, concern.each, concern.usual_sizes)
    return (Way(concern.first), *(Way(concern.size, text, mm) for text, mm in listed))


def _common_size(
    scene: RealScene,
    concern: ConcernForm,
    rows: list[Row],
    columns: Columns,
    width: int,
    drawn: "SizesDrawn | None",
) -> Ladder:
    kind = concern.each or ""
    places, ways = scene.places(kind), size_ways(scene, concern)
    barred = np.zeros((len(places), width), dtype=bool)
    if concern.exception:
        target = {f"{concern.id}.{concern.exception.id}"}
        barred = _failing(rows, columns, target, places, kind, width)
    closed, exceptions = [], []
    for number, way in enumerate(ways):
        failing = _failing(rows, columns, names_of(concern, way), places, kind, width)
        if way.size is not None:
            failing = failing | _size_fails(scene, concern, way, number, places, drawn)
        closed.append(_too_many(concern, failing, barred) | unsupplied(scene, concern, way))
        exceptions.append(failing)
    return Ladder(concern, ways, places, np.stack(closed), np.stack(exceptions), barred)


def _too_many(concern: ConcernForm, failing: Bools, barred: Bools) -> Bools:
    """The best exceptions at a size are exactly the failing places: more only cost more."""
    if concern.exception is None:
        return np.asarray(failing.any(axis=0))
    over = failing.sum(axis=0) > concern.exception.at_most
    return np.asarray(over | (failing & barred).any(axis=0))


def unsupplied(scene: RealScene, concern: ConcernForm, way: Way) -> bool:
    """Whether the sheet lists the sizes of the parts that go with it, and this one is not among them."""
    steps = scene.engine.supplied(concern.supplied)
    return (
        way.size_mm is not None
        and steps is not None
        and not any(clean(step - way.size_mm) == 0 for step in steps)
    )


@dataclass(frozen=True)
class SizesDrawn:
    """Drawn truths [places, draws] in mm that sizes are checked against, by quantity."""

    figures: Mapping[tuple[str, str], NDArray[np.float64]]


def _size_fails(
    scene: RealScene,
    concern: ConcernForm,
    way: Way,
    number: int,
    places: tuple[Place, ...],
    drawn: SizesDrawn | None,
) -> Bools:
    real = size_pair(scene, concern, way, number, places)
    if drawn is None:
        return np.stack([real.must, real.may], axis=1)
    truth = _drawn_fails(scene, concern, way, number, drawn)
    return overlay(real, truth)


def size_rule(concern: ConcernForm) -> str:
    """The name under which the check of a concern's sizes is told, and can be waived."""
    return f"{concern.id}: size"


def size_pair(
    scene: RealScene, concern: ConcernForm, way: Way, number: int, places: tuple[Place, ...]
) -> Pair:
    """Whether each place must and may fail a listed size (the `number`-th rung, first rung 0)."""
    fails = [_place_fails(scene, concern, way, number, place) for place in places]
    waived = [_waived(scene, concern, place) for place in places]
    fails = [(must, may and (must or not lifted)) for (must, may), lifted in zip(fails, waived, strict=True)]
    array = np.array(fails, dtype=bool).reshape(len(fails), 2)
    return Pair(array[:, 0], array[:, 1])


def _waived(scene: RealScene, concern: ConcernForm, place: Place) -> bool:
    """Whether a named person answers for it that a place cleans up at the size chosen."""
    return any(
        d.decision == "waive" and d.rule == size_rule(concern) and parse_place(d.place).covers(place)
        for d in scene.evidence.decisions
    )


def _place_fails(
    scene: RealScene, concern: ConcernForm, way: Way, number: int, place: Place
) -> tuple[bool, bool]:
    need = past(needed(scene, concern, place), Threshold(way.size_mm or 0.0, "above"))
    kept = keep_pair(scene, concern, way, number, place)
    return need[0] or kept[0], need[1] or kept[1]


def needed(scene: RealScene, concern: ConcernForm, place: Place) -> Figure:
    """The clean-up size of one place as a step from standard, mm."""
    return scene.figures.figure(concern.need or "", place)


def keep_pair(
    scene: RealScene, concern: ConcernForm, way: Way, number: int, place: Place
) -> tuple[bool, bool]:
    """Whether too little metal must or may remain at a place after this size.

    The first `after_sizes` ask for no reading; one that shows too little counts there too.
    """
    keep = concern.keep
    if keep is None:
        return False, False
    limit = scene.engine.limit(keep.figure, place.kind, scene.standard)
    must, may = past(remaining(scene, concern, way, place), limit.threshold if limit else None)
    return must, must if number <= keep.after_sizes else may


def remaining(scene: RealScene, concern: ConcernForm, way: Way, place: Place) -> Figure:
    """Metal left at a place after a listed size: the figure less `loses` x (size - present step)."""
    assert concern.keep is not None
    figure = scene.figures.figure(concern.keep.figure, place)
    step = scene.figures.step(concern.sizes or "", place)
    loses, size = concern.keep.loses, way.size_mm or 0.0
    left = added((1.0, figure), (loses, step), plus=-loses * size)
    if not step.known:
        return left
    candidates = tuple(
        (clean(value - loses * (size - step.lo)), hypot(u, loses * step.u)) for value, u in figure.candidates
    )
    return replace(left, candidates=candidates)


def _drawn_fails(scene: RealScene, concern: ConcernForm, way: Way, number: int, drawn: SizesDrawn) -> Bools:
    kind = concern.each or ""
    size = way.size_mm or 0.0
    fails = drawn.figures[(concern.need or "", kind)] > size
    keep = concern.keep
    if keep is None or number <= keep.after_sizes:
        return fails
    limit = scene.engine.limit(keep.figure, kind, scene.standard)
    if limit is None:
        return fails
    steps = [scene.figures.step(concern.sizes or "", place) for place in scene.places(kind)]
    present = np.array([[step.lo if step.known else 0.0] for step in steps])
    left = drawn.figures[(keep.figure, kind)] - keep.loses * (size - present)
    return np.asarray(
        fails | (left < limit.value if limit.threshold.worse == "below" else left > limit.value)
    )
