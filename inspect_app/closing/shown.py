"""The figures and profiles of a piece as a person is shown them: everything read, beside its limit."""

from collections.abc import Iterator, Mapping
from math import isfinite

from inspect_app.metrology.conformity import chance_past, is_close_call
from inspect_app.metrology.display import gap_places
from inspect_app.metrology.figure import Figure
from inspect_app.model.answer_figures import FigureShown, LimitShown, Measured, Profile, ProfilePoint
from inspect_app.model.places import Place
from inspect_app.model.units import Dimension, from_canonical
from inspect_app.rulebook.engine import BoundLimit
from inspect_app.rulebook.forms_quantities import QuantityForm, Worse
from inspect_app.rulebook.shown_units import ShownQuantity

from .piece_state import PieceState
from .scene import past

Cuts = Mapping[tuple[str, Place], tuple[str, float]]
"""The size (text, and the diameter in mm) that a quantity at a place is to be cut to."""


def out(value: float, unit: str, dimension: Dimension) -> float:
    """A canonical value in the unit it is shown in, without float noise."""
    return round(from_canonical(value, unit, dimension), 9)


def measured(figure: Figure, worse: Worse, form: QuantityForm) -> Measured:
    """The known end of a figure in the unit it is shown in, and whether what is not read could move it."""
    value = figure.lo if worse == "above" else figure.hi
    bound = "exact" if figure.known else "at_least" if worse == "above" else "at_most"
    shown, u = (out(number, form.shown_in, form.dimension) for number in (value, figure.u))
    return Measured(value=shown, unit=form.shown_in, u=u, bound=bound, places=places_of(form, shown, u))


def limit_shown(value: float, form: QuantityForm) -> LimitShown:
    """A limit in the unit in which its quantity is shown."""
    shown = out(value, form.shown_in, form.dimension)
    return LimitShown(value=shown, unit=form.shown_in, places=places_of(form, shown))


def places_of(form: QuantityForm, value: float, u: float = 0.0) -> int | None:
    """The places to show a value of a quantity with, in its unit; None for those of a gauge."""
    gap = isinstance(form, ShownQuantity) and form.gap
    return gap_places(form.shown_in, value, u) if gap else None


def figures_shown(state: PieceState) -> Iterator[FigureShown]:
    """Every figure that is computed, or has a limit, and rests on some reading; sizes are in profiles."""
    scene = state.scene
    for quantity, kind in scene.engine.book.quantities:
        form = scene.engine.shown(quantity, kind)
        limit = scene.engine.limit(quantity, kind, scene.standard)
        if form.calc is None and (limit is None or form.body != "other"):
            continue
        for place in scene.places(kind):
            figure = scene.figures.figure(quantity, place)
            if isfinite(figure.lo if form.worse == "above" else figure.hi) and figure.evidence:
                yield _shown(form, place, figure, limit)


def _shown(form: QuantityForm, place: Place, figure: Figure, limit: BoundLimit | None) -> FigureShown:
    told = FigureShown(
        quantity=form.id,
        title=form.title,
        place=str(place),
        measured=measured(figure, form.worse, form),
        worse=form.worse,
    )
    if limit is None:
        return told
    must, may = past(figure, limit.threshold)
    chance = chance_past(figure, limit.value, form.worse)
    return told.model_copy(
        update={
            "limit": limit_shown(limit.value, form),
            "limit_from": limit.origin,
            "limit_basis": limit.basis,
            "decision": limit.decision,
            "p_beyond": round(chance, 6),
            "close_call": figure.known and is_close_call(chance, limit.decision),
            "state": "beyond" if must else "open" if may else "inside",
        }
    )


def profiles(state: PieceState, cuts: Cuts) -> Iterator[Profile]:
    """The sizes read at each round place that has several stations, in the unit shown."""
    scene = state.scene
    for quantity, kind in scene.engine.book.quantities:
        form = scene.engine.shown(quantity, kind)
        if form.calc is not None or form.body == "other" or len(form.stations) < 2:
            continue
        for place in scene.places(kind):
            if not scene.figures.read.unread(quantity, place):
                yield _profile(state, form, place, cuts.get((quantity, place)))


def _profile(state: PieceState, form: QuantityForm, place: Place, cut: tuple[str, float] | None) -> Profile:
    figures = state.scene.figures
    unworn = figures.unworn(form, place)
    stations = tuple(station for station in form.stations if station != form.unworn)
    return Profile(
        place=str(place),
        quantity=form.id,
        body="hole" if form.body == "hole" else "shaft",
        unit=form.shown_in,
        stations=stations,
        directions=form.directions,
        points=tuple(_points(state, form, place, stations)),
        unworn=out(unworn.lo, form.shown_in, form.dimension) if unworn.known else None,
        cut_to=out(cut[1], form.shown_in, form.dimension) if cut else None,
        cut_name=cut[0] if cut else None,
    )


def _points(
    state: PieceState, form: QuantityForm, place: Place, stations: tuple[str, ...]
) -> Iterator[ProfilePoint]:
    """One point for each slot; of a conflict the worse value, as it counts."""
    worse = max if form.worse == "above" else min
    for station in stations:
        for direction in form.directions:
            read = state.scene.figures.read.values(form.id, place, (station, direction))
            value = out(worse(v.value for v in read), form.shown_in, form.dimension) if read else None
            yield ProfilePoint(station=station, direction=direction, value=value)
