"""Checks of one reading: its names, its number, its unit, and whether the size can be meant."""

from collections.abc import Iterator

from inspect_app.model.evidence import Reading
from inspect_app.model.pieces import Piece
from inspect_app.model.places import parse_place
from inspect_app.model.problems import Problem
from inspect_app.model.units import NotANumber, UnknownUnit, celsius, decimal_of, factor, size

from .check_sheet import use_one_of
from .engine import Engine, Position
from .forms_quantities import QuantityForm

_INCH = 25.4
_NEAR = 0.10
_NOTHING_READ = "Nothing is read there: name another place."


def reading_problems(
    engine: Engine, position: Position, piece: Piece, item: Reading, here: str
) -> Iterator[Problem]:
    """Everything wrong with a reading; places are checked elsewhere."""
    try:
        kind = parse_place(item.place).kind
    except ValueError:
        return
    if engine.book.place_form(position.part, kind) is None:
        return
    form = engine.book.quantities.get((item.quantity, kind))
    if form is None or form.calc is not None:
        known = [q for (q, k), f in engine.book.quantities.items() if k == kind and f.calc is None]
        yield Problem(
            here, f'"{item.quantity}" is not read at {kind}.', use_one_of(known) if known else _NOTHING_READ
        )
        return
    yield from _slot_problems(form, item, here)
    if item.gauge is not None and item.gauge not in engine.book.gauges:
        what = f'"{item.gauge}" is no gauge of this rulebook.'
        yield Problem(here, what, use_one_of(engine.book.gauges))
    yield from _condition_problems(engine, item, here)
    metal = piece.material or engine.material(position.part)
    yield from _temperature_problems(engine, position, metal, item, here)
    number_problems = list(_number_problems(engine, form, item, here))
    yield from number_problems
    if not number_problems:
        yield from _plausible(engine, form, kind, item, here)


def _slot_problems(form: QuantityForm, item: Reading, here: str) -> Iterator[Problem]:
    stations = (*form.stations, *([form.unworn] if form.unworn is not None else []))
    if item.station not in stations:
        yield Problem(
            here, f'"{item.station}" is no station of {form.title}.', use_one_of(map(_quoted, stations))
        )
    if item.direction not in form.directions:
        what = f'"{item.direction}" is no direction of {form.title}.'
        yield Problem(here, what, use_one_of(map(_quoted, form.directions)))


def _condition_problems(engine: Engine, item: Reading, here: str) -> Iterator[Problem]:
    known, told = engine.book.conditions, set[frozenset[str]]()
    for name in item.conditions:
        if name not in known:
            yield Problem(here, f'"{name}" is no condition of this rulebook.', use_one_of(known))
            continue
        for other in sorted(set(known[name].excludes) & set(item.conditions)):
            if frozenset((name, other)) in told:
                continue
            told.add(frozenset((name, other)))
            what = f'"{name}" and "{other}" cannot both be true of one reading.'
            yield Problem(here, what, "Take one out.")


def _temperature_problems(
    engine: Engine, position: Position, metal: str | None, item: Reading, here: str
) -> Iterator[Problem]:
    given = [text for text in (item.part_temperature, item.gauge_temperature) if text is not None]
    for text in given:
        try:
            celsius(text)
        except (NotANumber, UnknownUnit) as error:
            yield Problem(here, str(error), "")
    if given and item.part_temperature is None:
        yield Problem(here, "the gauge's temperature is given, but not the part's.", "Add part_temperature.")
    if not given:
        return
    gauge = engine.book.gauges.get(item.gauge or "")
    if gauge is None or gauge.material not in engine.book.materials:
        what = "a temperature is given, but nobody knows what the gauge is made of."
        yield Problem(here, what, "Name a gauge whose material the rulebook gives.")
    if metal not in engine.book.materials:
        what = "a temperature is given, but nobody knows how much the part expands."
        yield Problem(here, what, f"Give its material on the engine sheet: {position.part}.")


def _quoted(word: str) -> str:
    return f'"{word}"'


def _number_problems(engine: Engine, form: QuantityForm, item: Reading, here: str) -> Iterator[Problem]:
    negative = False
    try:
        negative = decimal_of(item.value) < 0
    except NotANumber as error:
        yield Problem(here, str(error), "")
    try:
        factor(item.unit, form.dimension)
    except UnknownUnit as error:
        yield Problem(here, str(error), "")
    if item.setting is not None:
        yield from _setting_problems(engine, form, item, here)
    elif negative and not form.signed:
        what = f'"{item.value}" is negative, and {form.title} cannot be.'
        yield Problem(here, what, "Type the full size, or give the setting size it counts from.")


def _setting_problems(engine: Engine, form: QuantityForm, item: Reading, here: str) -> Iterator[Problem]:
    gauge = engine.book.gauges.get(item.gauge or "")
    if gauge is None or gauge.division is None:
        what = f'"{item.value}" counts divisions from {item.setting}, but no gauge with divisions is named.'
        yield Problem(here, what, "Name the gauge.")
    try:
        size(item.setting or "", form.dimension)
    except (NotANumber, UnknownUnit) as error:
        yield Problem(f"{here}, setting", str(error), "")


def _plausible(engine: Engine, form: QuantityForm, kind: str, item: Reading, here: str) -> Iterator[Problem]:
    """A size or setting far off its nominal is asked about, unless the row says it is meant.

    Wear and listed steps stay within a few percent; a slipped point or a wrong unit does not. A new
    range that reaches further than that from its own middle is no size but the window of a fit.
    """
    nominal = engine.nominal(item.quantity, kind)
    if nominal is None or nominal <= 0 or item.as_meant:
        return
    row = engine.row(item.quantity, kind)
    if row.nominal is None and row.maximum and size(row.maximum, form.dimension) / nominal - 1 > _NEAR:
        return
    typed = item.setting or f"{item.value.strip()} {item.unit}"
    ratio = size(typed, form.dimension) / nominal
    if abs(ratio - 1) > _NEAR and item.setting is None and item.value.strip().startswith("+"):
        what = f'"{item.value.strip()}" is no size near the nominal {nominal:g} mm, and no setting is named.'
        yield Problem(here, what, "Name the setting size that it counts from, and the gauge.")
    elif any(abs(ratio / times - 1) < _NEAR for times in (_INCH, 1 / _INCH)):
        what = f"{typed} is {_INCH} times off the nominal {nominal:g} mm. Inch or millimetre?"
        yield Problem(here, what, "Correct the unit, or write as_meant = yes.")
    elif abs(ratio - 1) > _NEAR:
        what = f"{typed} is {ratio:.3g} times the nominal {nominal:g} mm. Is the decimal point right?"
        yield Problem(here, what, "Correct it, or write as_meant = yes.")
