"""Checks of what is measured: materials, gauges, conditions, quantities, their calculators, and limits."""

from collections.abc import Iterator

from inspect_app.model.problems import Problem
from inspect_app.model.units import UnknownUnit, factor

from .book import Rulebook
from .forms_quantities import FROM_READINGS, CalcForm, QuantityForm, ShareForm
from .sizes import size_problem
from .spots import spot, unknown

_WANTED = {
    "largest_minus_smallest": ("along", 'Write along = "station" or "direction".'),
    "minus": ("less", 'Write less = "...", the quantity that is taken off.'),
    "press_stress": ("ring", "Write ring = { wall, interference, material }."),
}


def measuring_problems(book: Rulebook) -> Iterator[Problem]:
    """Everything wrong with gauges, conditions, quantities and limits."""
    yield from _gauge_problems(book)
    for condition in book.conditions.values():
        for name in condition.excludes:
            if name not in book.conditions:
                here = spot(book, "condition", condition.id)
                yield Problem(here, *unknown("condition", name, book.conditions))
    for (quantity, kind), form in book.quantities.items():
        yield from _quantity_problems(book, quantity, kind, form)
    yield from _limit_problems(book)


def _gauge_problems(book: Rulebook) -> Iterator[Problem]:
    for gauge in book.gauges.values():
        here = spot(book, "gauge", gauge.id)
        for name in ("resolution", "half_width", "repeatability", "division"):
            if getattr(gauge, name) is not None:
                yield from size_problem(here, name, getattr(gauge, name), gauge.dimension)
        if gauge.material is not None and gauge.material not in book.materials:
            yield Problem(here, *unknown("material", gauge.material, book.materials))


def _quantity_problems(book: Rulebook, quantity: str, kind: str, form: QuantityForm) -> Iterator[Problem]:
    here = spot(book, "quantity", f"{kind}.{quantity}")
    owners = [part.id for part in book.parts.values() if book.place_form(part.id, kind)]
    if not owners:
        kinds = {place.kind for part in book.parts.values() for place in part.places}
        yield Problem(here, *unknown("kind of place", kind, kinds))
    if len(owners) > 1:
        names = " and ".join(owners)
        yield Problem(here, f'"{kind}" is a place of {names}.', "Measure at a place that one part has.")
    try:
        factor(form.shown_in, form.dimension)
    except UnknownUnit as error:
        yield Problem(f"{here}, shown_in", str(error), "")
    if form.share_of is not None:
        yield from _share_problems(book, form.share_of, form, here)
    for name in form.conditions:
        if name not in book.conditions:
            yield Problem(here, *unknown("condition", name, book.conditions))
    for name in form.rests_on:
        yield from _rest_problems(book, name, form, owners, here)
    if form.calc is not None:
        yield from _source_problems(book, form.calc, kind, here)
        yield from _calc_problems(book, form.calc, here)
        if _circle(book, quantity, kind):
            yield Problem(here, "it is computed from itself.", "Break the circle.")


def _rest_problems(
    book: Rulebook, name: str, form: QuantityForm, owners: list[str], here: str
) -> Iterator[Problem]:
    """A reading rests on a place of another part; what its own part does to it, that part's work voids."""
    kind, dot, quantity = name.partition(".")
    at = next((part.id for part in book.parts.values() if book.place_form(part.id, kind)), None)
    if at is None:
        kinds = {place.kind for part in book.parts.values() for place in part.places}
        yield Problem(f"{here}, rests_on", *unknown("kind of place", kind, kinds))
    elif at in owners:
        what = f'"{name}" is a place of its own part, {at}.'
        yield Problem(f"{here}, rests_on", what, f"Let the operations of {at} void it.")
    elif dot and (quantity, kind) not in book.quantities:
        known = [f"{kind}.{other}" for other, place in book.quantities if place == kind]
        yield Problem(f"{here}, rests_on", *unknown("quantity", name, known))
    if form.calc is not None:
        what = "it is computed, so it rests on its own readings."
        yield Problem(f"{here}, rests_on", what, "Write rests_on at what is read.")


def _share_problems(book: Rulebook, share: ShareForm, form: QuantityForm, here: str) -> Iterator[Problem]:
    known = {f"{kind}.{name}": other for (name, kind), other in book.quantities.items()}
    whole = known.get(share.quantity)
    if whole is None:
        yield Problem(f"{here}, share_of", *unknown("quantity", share.quantity, known))
    elif whole.dimension != form.dimension:
        what = f'"{share.quantity}" is a {whole.dimension}, this is a {form.dimension}.'
        yield Problem(f"{here}, share_of", what, "Name a quantity of the same dimension.")


def _source_problems(book: Rulebook, calc: CalcForm, kind: str, here: str) -> Iterator[Problem]:
    """What a figure is computed from must exist at the same kind of place, and be of the sort it takes."""
    known = [name for name, other in book.quantities if other == kind]
    for source in calc.sources:
        if source not in known:
            yield Problem(here, *unknown(f"quantity of {kind}", source, known))
    base = book.quantities.get((calc.of, kind))
    if base is not None and base.calc is not None and calc.name in FROM_READINGS:
        yield Problem(here, f'"{calc.of}" is computed itself.', "Compute from what is read.")
    elif base is not None and calc.name in ("wear", "clean_up") and base.body == "other":
        what = f'"{calc.of}" does not say which way it wears.'
        yield Problem(here, what, 'Write body = "hole" or body = "shaft" there.')
    elif base is not None and calc.name == "straightedge" and set(base.directions) != {"passes", "stops"}:
        what = f'"{calc.of}" is not read with leaves.'
        yield Problem(here, what, 'Write directions = ["passes", "stops"] there.')
    depth = book.quantities.get((calc.depth or "", kind))
    if depth is not None and depth.calc is not None:
        yield Problem(here, f'the depth "{depth.id}" is computed itself.', "Name a quantity that is read.")


def _circle(book: Rulebook, name: str, kind: str, passed: tuple[str, ...] = ()) -> bool:
    """Whether a computed quantity rests on itself."""
    if name in passed:
        return True
    form = book.quantities.get((name, kind))
    sources = form.calc.sources if form and form.calc else ()
    return any(_circle(book, source, kind, (*passed, name)) for source in sources)


def _calc_problems(book: Rulebook, calc: CalcForm, here: str) -> Iterator[Problem]:
    for word in calc.unless_absent:
        if word not in book.damage:
            yield Problem(here, *unknown("damage word", word, book.damage))
    if calc.stock:
        yield from size_problem(here, "calc.stock", calc.stock)
    wanted, advice = _WANTED.get(calc.name, ("of", ""))
    if getattr(calc, wanted) is None:
        yield Problem(here, f"a {calc.name.replace('_', '-')} needs {wanted}.", advice)
    if list(calc.k) != sorted(calc.k) or calc.k[0] < 0:
        yield Problem(here, f"k = {list(calc.k)} is no interval.", "Write smallest, usual, largest.")
    if calc.ring is not None:
        for name in ("wall", "interference"):
            yield from size_problem(here, f"calc.ring.{name}", getattr(calc.ring, name))
        if calc.ring.material not in book.materials:
            yield Problem(here, *unknown("material", calc.ring.material, book.materials))


def _limit_problems(book: Rulebook) -> Iterator[Problem]:
    for (quantity, kind), form in book.limits.items():
        here = spot(book, "limit", f"{kind}.{quantity}")
        target = book.quantities.get((quantity, kind))
        if target is None:
            known = [f"{other}.{name}" for name, other in book.quantities]
            yield Problem(here, *unknown("quantity", f"{kind}.{quantity}", known))
            continue
        for name in form.of:
            if name not in book.materials:
                yield Problem(here, *unknown("material", name, book.materials))
        side, wanted = ("max", "above") if form.max is not None else ("min", "below")
        if target.worse != wanted:
            what = f'"{side}" does not fit: {quantity} of {kind} is worse {target.worse}.'
            yield Problem(here, what, f'Write "{"min" if side == "max" else "max"}".')
        values = form.max if form.max is not None else form.min
        for text in values.values() if isinstance(values, dict) else [values]:
            yield from size_problem(here, side, str(text), target.dimension)
