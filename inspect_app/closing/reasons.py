"""Why ways are closed: rule, place, evidence, figure against limit, margin; and the close calls."""

from collections.abc import Iterator
from math import isfinite

from inspect_app.metrology.conformity import chance_past, is_close_call
from inspect_app.metrology.figure import UNKNOWN, Figure
from inspect_app.model.answer import CloseCall, Closed
from inspect_app.model.frozen import LimitFrom
from inspect_app.model.places import Place, zone_path
from inspect_app.rulebook.conditions import Leaf, Threshold, threshold_of
from inspect_app.rulebook.forms_conditions import (
    FigureCondition,
    FindingCondition,
    ReportCondition,
    SignCondition,
    TestCondition,
)
from inspect_app.rulebook.forms_quantities import QuantityForm
from inspect_app.rulebook.forms_rules import RuleForm

from .ladders import Ladder, Way, keep_pair, needed, remaining, size_rule, unsupplied
from .piece_state import FLOOR, PieceState
from .rows import WHOLE_PART, Row
from .scene import RealScene
from .shown import limit_shown, measured, out
from .words import place_words

NOT_THERE = "not-there"


def closed_reasons(state: PieceState) -> list[Closed]:
    """Every rule that is met, per place and thing closed; what weighs most comes first.

    Order: what closes the own piece, then hard rules, then the larger margin in units of u.
    """
    found = [*_not_there(state), *(c for row in state.rows for c in _of_row(state, row))]
    found += [c for ladder in state.real.ladders for c in _of_sizes(state, ladder)]
    return sorted(found, key=_weight)


def _weight(closed: Closed) -> tuple[bool, bool, float]:
    spread = closed.measured.u if closed.measured and closed.measured.u else None
    margin = (closed.margin or 0.0) / spread if spread else 0.0
    return (closed.closes != "own", not closed.hard, -margin)


def _not_there(state: PieceState) -> Iterator[Closed]:
    if not state.there:
        machine = state.scene.engine.book.pack.core_title
        yield Closed(
            closes="own",
            rule=NOT_THERE,
            why="The piece is not with the core, or one that does not belong to it is in its place.",
            plain=f"This part did not come with the {machine}, or what came belongs to another {machine}.",
            basis="core record",
            hard=True,
            place="",
            evidence=(),
        )


def _of_row(state: PieceState, row: Row) -> Iterator[Closed]:
    for index, place in row.holding():
        evidence = tuple(dict.fromkeys(_evidence(state, row, index, place)))
        numbers = _numbers(state.scene, row, index, place)
        for target in row.rule.closes:
            yield Closed(
                closes=target,
                rule=row.rule.id,
                why=spoken(state, row.rule.why, place),
                plain=spoken(state, row.rule.plain, place),
                basis=row.rule.basis,
                hard=row.rule.hard,
                place=str(place),
                evidence=evidence,
                **numbers,
            )


def spoken(state: PieceState, text: str, place: Place) -> str:
    """A rule's sentence with its place in words, beginning with a capital."""
    told = text.replace("{place}", _words(state, place))
    return told[:1].upper() + told[1:]


def _words(state: PieceState, place: Place) -> str:
    return place_words(state.scene.engine, state.position.part, place)


def _evidence(state: PieceState, row: Row, index: int, place: Place) -> Iterator[str]:
    scene = state.scene
    for leaf, _ in scene.engine.book.compiled[row.rule.id].leaves():
        pair = leaf.evaluate(scene, row.kind)
        if not pair.must[index if len(pair.must) > 1 else 0]:
            continue
        asked = leaf.kind_asked(row.kind)
        bound = asked is not None and asked == row.kind
        kinds = scene.kinds() if asked is None else (asked,)
        for spot in [place] if bound else [p for k in kinds for p in scene.places(k)]:
            yield from _leaf_evidence(scene, leaf, spot)


def _leaf_evidence(scene: RealScene, leaf: Leaf, place: Place) -> Iterator[str]:
    form, evidence = leaf.form, scene.evidence
    match form:
        case FindingCondition():
            yield from scene.damage(form.finding, place, zone_path(form.zone)).shown_by
        case FigureCondition():
            yield from scene.figures.figure(form.figure, place).evidence
        case TestCondition():
            yield from (
                t.id for t in evidence.tests.values() if (t.method, t.outcome) == (form.test, "found")
            )
        case ReportCondition():
            yield from (r.id for r in evidence.reports if r.says == form.report and r.grounds)
        case SignCondition():
            yield from (s.id for s in evidence.signs if (s.sign, s.answer) == (form.sign, form.answer))


def _figures_asked(scene: RealScene, rule: RuleForm) -> list[tuple[Leaf, FigureCondition]]:
    leaves = scene.engine.book.compiled[rule.id].leaves()
    return [(leaf, leaf.form) for leaf, _ in leaves if isinstance(leaf.form, FigureCondition)]


def _figure_met(scene: RealScene, row: Row, index: int) -> FigureCondition | None:
    """The figure that met the rule at a place, of several the first; the first of all where none did."""
    asked = _figures_asked(scene, row.rule)
    for leaf, form in asked:
        must = leaf.evaluate(scene, row.kind).must
        if must[index if len(must) > 1 else 0]:
            return form
    return asked[0][1] if asked else None


def _numbers(scene: RealScene, row: Row, index: int, place: Place) -> dict[str, object]:
    """measured, limit, whose it is, its basis, margin and p_beyond of a rule with a figure; else nothing."""
    form = _figure_met(scene, row, index)
    if form is None or (form.place is not None and form.place != row.kind):
        return {}
    threshold = scene.threshold(form.figure, place.kind, threshold_of(form))
    if threshold is None:
        return {}
    figure = scene.figures.figure(form.figure, place)
    return compared(
        figure, threshold, scene.engine.shown(form.figure, place.kind), *_whose(scene, row, form, place)
    )


def _whose(scene: RealScene, row: Row, form: FigureCondition, place: Place) -> tuple[LimitFrom, str]:
    """Whose limit a condition holds a figure against, and what that rests on; its own is of its rule."""
    bound = scene.engine.limit(form.figure, place.kind, scene.standard) if form.is_ is not None else None
    if bound is not None:
        return bound.origin, bound.basis
    return "shop" if scene.engine.book.from_shop("rule", row.rule.id) else "pack", row.rule.basis


def compared(
    figure: Figure, against: Threshold, form: QuantityForm, origin: LimitFrom, basis: str
) -> dict[str, object]:
    """A figure beside its limit, in the unit it is shown in; of an endless one the limit alone."""
    value = figure.lo if against.worse == "above" else figure.hi
    if not isfinite(value):
        return {"limit": limit_shown(against.value, form), "limit_from": origin, "limit_basis": basis}
    past = value - against.value if against.worse == "above" else against.value - value
    unit, dimension = form.shown_in, form.dimension
    return {
        "measured": measured(figure, against.worse, form),
        "limit": limit_shown(against.value, form),
        "limit_from": origin,
        "limit_basis": basis,
        "margin": out(past, unit, dimension),
        "p_beyond": round(chance_past(figure, against.value, against.worse), 6),
    }


def _of_sizes(state: PieceState, ladder: Ladder) -> Iterator[Closed]:
    """Listed sizes that some place must fail, each with its worst place."""
    concern, scene = ladder.concern, state.scene
    for number, way in enumerate(ladder.ways):
        if way.size is None or not ladder.closed[number, FLOOR] or _is_past(state, ladder, way):
            continue
        if unsupplied(scene, concern, way):
            yield _size_closed(
                ladder, number, WHOLE_PART, f"no parts are listed for {way.size}.", {}, UNKNOWN
            )
            continue
        failing = [p for i, p in enumerate(ladder.places) if ladder.exceptions[number, i, FLOOR]]
        against = Threshold(way.size_mm or 0.0, "above")
        short = [p for p in failing if needed(scene, concern, p).lo > against.value]
        if short:
            worst = max(short, key=lambda p: needed(scene, concern, p).lo)
            form = scene.engine.shown(concern.need or "", worst.kind)
            numbers = compared(needed(scene, concern, worst), against, form, *_sizes_from(state, ladder))
            numbers["against"] = "size"
            why = f"{_words(state, worst)} does not clean up at {way.size}."
            yield _size_closed(ladder, number, worst, why, numbers, needed(scene, concern, worst))
            continue
        thin = [place for place in failing if keep_pair(scene, concern, way, number, place)[0]]
        if thin and concern.keep:
            worst = min(thin, key=lambda p: remaining(scene, concern, way, p).hi)
            left = remaining(scene, concern, way, worst)
            limit = scene.engine.limit(concern.keep.figure, worst.kind, scene.standard)
            form = scene.engine.shown(concern.keep.figure, worst.kind)
            numbers = compared(left, limit.threshold, form, limit.origin, limit.basis) if limit else {}
            numbers["against"] = "metal left"
            why = f"{_words(state, worst)} would keep too little metal at {way.size}."
            yield _size_closed(ladder, number, worst, why, numbers, left)


def _is_past(state: PieceState, ladder: Ladder, way: Way) -> bool:
    """Whether every place is at this size already, or past it."""
    steps = [state.scene.figures.step(ladder.concern.sizes or "", place) for place in ladder.places]
    return bool(steps) and all(step.lo >= (way.size_mm or 0.0) for step in steps)


def _sizes_from(state: PieceState, ladder: Ladder) -> tuple[LimitFrom, str]:
    """Whose list a size is from: the sheet's, with its source, else the usual sizes of the pack."""
    concern, engine = ladder.concern, state.scene.engine
    listed = engine.row(concern.sizes or "", concern.each or "").sizes
    return ("maker", engine.sheet.source) if listed else ("pack", "")


def _size_closed(
    ladder: Ladder, number: int, place: Place, why: str, numbers: dict[str, object], figure: Figure
) -> Closed:
    way, concern = ladder.ways[number], ladder.concern
    sentence = why[0].upper() + why[1:]
    return Closed(
        closes=f"{concern.id}.{way.size}",
        rule=size_rule(concern),
        why=sentence,
        plain=sentence,
        basis="computed from the readings" if numbers else "engine sheet",
        hard=False,
        place=str(place),
        evidence=figure.evidence,
        **numbers,
    )


def close_calls(state: PieceState) -> Iterator[CloseCall]:
    """Figures that a simple decision put on one side with 5 to 95 % beyond the limit, each told once."""
    told: set[tuple[str, str]] = set()
    for row in state.rows:
        for _, form in _figures_asked(state.scene, row.rule):
            if row.kind is None or form.is_ is None or form.place not in (None, row.kind):
                continue
            if (form.figure, row.kind) not in told:
                told.add((form.figure, row.kind))
                yield from _close_calls_of(state.scene, row, row.kind, form.figure)


def _close_calls_of(scene: RealScene, row: Row, kind: str, asked: str) -> Iterator[CloseCall]:
    limit = scene.engine.limit(asked, kind, scene.standard)
    quantity = scene.engine.shown(asked, kind)
    for place in row.places if limit else ():
        figure = scene.figures.figure(asked, place)
        if limit is None or not figure.known:
            continue
        chance = chance_past(figure, limit.value, limit.threshold.worse)
        if is_close_call(chance, limit.decision):
            yield CloseCall(
                rule=row.rule.id,
                place=str(place),
                measured=measured(figure, quantity.worse, quantity),
                limit=limit_shown(limit.value, quantity),
                p_beyond=round(chance, 6),
            )
