"""What is missing where a rule or a size stays open: what to get, where, and the answer that clears it."""

from collections.abc import Iterator
from dataclasses import dataclass

from inspect_app.metrology.figure import Figure, Slot
from inspect_app.model.frozen import EntryKind
from inspect_app.model.places import Place, zone_path
from inspect_app.rulebook.conditions import Leaf, Threshold, open_leaves, threshold_of
from inspect_app.rulebook.forms_conditions import (
    FigureCondition,
    FindingCondition,
    LookCondition,
    MadeOfCondition,
    ReportCondition,
    SignCondition,
    TestCondition,
)
from inspect_app.rulebook.forms_parts import ConcernForm
from inspect_app.rulebook.forms_quantities import QuantityForm

from .figure_state import NOMINAL, STAMPED
from .ladders import Way, keep_pair, needed, remaining, size_pair, size_rule
from .piece_state import PieceState
from .rows import Row
from .scene import RealScene, past
from .shown import out
from .words import slot_words


@dataclass(frozen=True, order=True)
class Missing:
    """`what` to do at `place`; with `answer`, what was open is closed no longer.

    `by` is the kind of entry that does it, `name` the id of the method, quantity, report or sign.
    """

    what: str
    place: Place
    answer: str
    by: EntryKind
    name: str = ""


def of_row(state: PieceState, row: Row) -> Iterator[Missing]:
    """Missing evidence of every open place of a row, by the leaves that are open there."""
    node = state.scene.engine.book.compiled[row.rule.id]
    for index, place in row.open():
        for leaf in open_leaves(node, state.scene, row.kind, index):
            yield from _of_leaf(state.scene, leaf, row.kind, place)


def _of_leaf(scene: RealScene, leaf: Leaf, kind: str | None, place: Place) -> Iterator[Missing]:
    asked = leaf.kind_asked(kind)
    bound = asked is not None and asked == kind
    kinds = scene.kinds() if asked is None else (asked,)
    places = [place] if bound else [p for k in kinds for p in scene.places(k)]
    form = leaf.form
    match form:
        case FindingCondition():
            for spot in places:
                yield from unsettled(scene, form.finding, spot, zone_path(form.zone))
        case FigureCondition():
            for spot in places:
                yield from _figure(scene, form.figure, spot, leaf)
        case TestCondition() | LookCondition():
            yield from _method(scene, form, places)
        case ReportCondition():
            ask = scene.engine.book.reports[form.report].ask
            yield Missing(ask, Place(""), "it is taken back", "report", form.report)
        case MadeOfCondition():
            answer = f"none of {', '.join(form.made_of)}"
            yield Missing("material on the engine sheet", Place(""), answer, "sheet")
        case SignCondition():
            question = scene.engine.book.signs[form.sign].question
            yield Missing(question, Place(""), f"not {form.answer}", "sign", form.sign)


def unsettled(scene: RealScene, damage: str, place: Place, zone: tuple[str, ...]) -> Iterator[Missing]:
    """The look or test that would prove a damage word absent, at the whole place if all of it is open."""
    state = scene.damage(damage, place, zone)
    if not state.may or state.must:
        return
    if state.unexplained:
        tests = " and ".join(state.unexplained)
        yield Missing(f"write down what {tests} found, and where", place, f"no {damage}", "finding", damage)
        return
    name = _settling(scene, damage)
    if name is None:
        yield Missing("material on the engine sheet", Place(""), "one that a test suits", "sheet")
        return
    method = scene.engine.book.methods[name]
    by: EntryKind = "look" if method.kind == "look" else "test"
    leaves = scene.engine.leaves(scene.part, place.kind)
    whole = len(state.unsettled) == len(leaves)
    for leaf in [place] if whole else state.unsettled:
        yield Missing(method.ask or method.title, leaf, "nothing found", by, name)


def _settling(scene: RealScene, damage: str) -> str | None:
    """The first method that proves the word absent on this material; None if none does."""
    methods = scene.engine.book.methods
    settling = scene.engine.book.damage[damage].settled_by
    material = scene.evidence.material
    suited = (name for name in settling if not methods[name].suits or material in methods[name].suits)
    return next(suited, None)


def _method(scene: RealScene, form: TestCondition | LookCondition, places: list[Place]) -> Iterator[Missing]:
    name = form.test if isinstance(form, TestCondition) else form.look
    title = scene.engine.book.methods[name].title
    zone = zone_path(form.zone)
    for spot in places:
        ask = scene.test if isinstance(form, TestCondition) else scene.look
        order = scene.places(spot.kind).index(Place(spot.kind, spot.index))
        if ask(name, spot.kind, zone).may[order]:
            by: EntryKind = "test" if isinstance(form, TestCondition) else "look"
            yield Missing(title, Place(spot.kind, spot.index, zone), "nothing found", by, name)


def _figure(scene: RealScene, quantity: str, place: Place, leaf: Leaf) -> Iterator[Missing]:
    assert isinstance(leaf.form, FigureCondition)
    threshold = scene.threshold(quantity, place.kind, threshold_of(leaf.form))
    figure = scene.figures.figure(quantity, place)
    form = scene.engine.shown(quantity, place.kind)
    if threshold is None:
        what = f"a limit for {form.title} on the engine sheet"
        yield Missing(what, place, "inside the limit", "sheet", quantity)
        return
    must, may = past(figure, threshold)
    if may and not must:
        items = list(of_figure(scene, quantity, figure, place, "inside the limit"))
        closer = Missing(_closer(figure, form), place, "inside the limit", "reading", quantity)
        yield from items or [closer]


def _closer(figure: Figure, form: QuantityForm) -> str:
    """What to read where everything was read and still leaves an interval."""
    lo, hi = (f"{out(end, form.shown_in, form.dimension):g}" for end in (figure.lo, figure.hi))
    return f"{form.title}, read more closely than {lo} to {hi} {form.shown_in}"


def of_figure(
    scene: RealScene, quantity: str, figure: Figure, place: Place, answer: str
) -> Iterator[Missing]:
    """The readings that a half-known figure lacks, the looks its depth waits for, or a finer gauge."""
    found = False
    for slot in dict.fromkeys(figure.missing):
        found = True
        yield _reading(scene, slot, place, answer)
    calc = scene.engine.book.quantities[(quantity, place.kind)].calc
    if calc is not None and not figure.known:
        for word in calc.unless_absent:
            for item in unsettled(scene, word, place, ()):
                found = True
                yield item
    if not found and figure.known:
        title = scene.engine.book.quantities[(quantity, place.kind)].title
        yield Missing(f"{title} with a finer gauge", place, answer, "reading", quantity)


def _reading(scene: RealScene, slot: Slot, place: Place, answer: str) -> Missing:
    """The slot to read, or the whole quantity where nothing of it was read yet."""
    quantity, station, direction = slot
    title = scene.engine.book.quantities[(quantity, place.kind)].title
    if station in (STAMPED, NOMINAL):
        by: EntryKind = "sheet" if station == NOMINAL else "piece"
        return Missing(f"{station}: {title}", place, answer, by, quantity)
    lacking = scene.figures.read.left_out(quantity, place)
    ended = scene.figures.read.ended(quantity, place)
    if lacking:
        title = f"{title}, read again {', '.join(lacking)}"
    elif ended and scene.figures.read.unread(quantity, place):
        title = f"{title}, measured again: {', and '.join(ended)}"
    elif not scene.figures.read.unread(quantity, place):
        title = f"{title}{slot_words(station, direction)}"
    return Missing(title, place, answer, "reading", quantity)


def of_way(
    state: PieceState, concern: ConcernForm, way: Way, number: int, places: tuple[Place, ...]
) -> Iterator[Missing]:
    """What a listed size waits for at the places where it may fail: readings, or a trial cut."""
    if way.size is None:
        return
    scene = state.scene
    pair = size_pair(scene, concern, way, number, places)
    for index, place in enumerate(places):
        if not pair.may[index] or pair.must[index]:
            continue
        yield from _of_need(scene, concern, way, place)
        must, may = keep_pair(scene, concern, way, number, place)
        if may and not must and concern.keep:
            yield from _of_keep(scene, concern, way, place)


def _of_keep(scene: RealScene, concern: ConcernForm, way: Way, place: Place) -> Iterator[Missing]:
    """The reading, or the limit, without which nobody knows whether enough metal remains."""
    assert concern.keep is not None
    quantity = concern.keep.figure
    if scene.threshold(quantity, place.kind, None) is None:
        title = scene.engine.book.quantities[(quantity, place.kind)].title
        what = f"a limit for {title} on the engine sheet"
        yield Missing(what, place, "enough is left", "sheet", quantity)
        return
    yield from of_figure(scene, quantity, remaining(scene, concern, way, place), place, "enough is left")


def _of_need(scene: RealScene, concern: ConcernForm, way: Way, place: Place) -> Iterator[Missing]:
    need = needed(scene, concern, place)
    must, may = past(need, Threshold(way.size_mm or 0.0, "above"))
    if must or not may:
        return
    items = list(of_figure(scene, concern.need or "", need, place, "it cleans up"))
    cut = f"trial cut: does it clean up at {way.size}"
    yield from items or [Missing(cut, place, "it does", "decision", size_rule(concern))]
