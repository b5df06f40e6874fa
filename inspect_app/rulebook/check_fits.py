"""Checks of fits and of what the machine becomes: names, sizes, windows; all problems at once."""

from collections.abc import Iterator
from decimal import Decimal

from inspect_app.model.problems import Problem
from inspect_app.model.units import NotANumber, UnknownUnit, decimal_of, factor, size

from .book import Rulebook
from .forms_fits import DIMENSIONS, OPTIONAL, ROLES, EffectForm, FitForm, FitTermForm, UsualForm
from .forms_quantities import QuantityForm
from .sizes import size_problem
from .spots import spot, unknown


def fit_problems(book: Rulebook) -> Iterator[Problem]:
    """Everything wrong with the fits and effects of a rulebook."""
    for fit in book.fits.values():
        yield from _fit(book, fit, spot(book, "fit", fit.id))
    for effect in book.effects.values():
        yield from _effect(book, effect, spot(book, "effect", effect.id))


def _fit(book: Rulebook, fit: FitForm, here: str) -> Iterator[Problem]:
    yield from _place(book, fit.at.part, fit.at.kind, here)
    measured = book.quantities.get((fit.measured, fit.at.kind))
    if measured is None:
        yield Problem(here, *_no_quantity(book, fit.measured, fit.at.kind))
        return
    for name in fit.stations:
        if name not in measured.stations or measured.calc is not None:
            known = () if measured.calc else measured.stations
            yield Problem(here, *unknown(f"station of {fit.measured}", name, known))
    for number, term in enumerate(fit.term, 1):
        yield from _term(book, term, measured, f"{here}, term {number}")
    if fit.compared and measured.calc is not None:
        yield Problem(here, f'"{fit.measured}" is computed itself.', "Compare what is read.")
    if fit.usual:
        yield from _usual(book, fit.usual, measured, f"{here}, usual")
    if fit.shared:
        yield from _place(book, fit.shared.part, fit.shared.kind, f"{here}, shared")
        yield from _usual(book, fit.shared, measured, f"{here}, shared")
    if fit.setting:
        for name in (fit.setting.hot, fit.setting.cold, fit.setting.cold_less_hot):
            if (name, fit.at.kind) not in book.quantities:
                yield Problem(f"{here}, setting", *_no_quantity(book, name, fit.at.kind))
        yield from size_problem(f"{here}, setting", "within", fit.setting.within, measured.dimension)
    for name in fit.unless:
        if name not in book.fits:
            yield Problem(here, *unknown("fit", name, book.fits))


def _no_quantity(book: Rulebook, name: str, kind: str) -> tuple[str, str]:
    known = [quantity for quantity, at in book.quantities if at == kind]
    return unknown(f"quantity of {kind}", name, known)


def _place(book: Rulebook, part: str, kind: str, here: str) -> Iterator[Problem]:
    form = book.parts.get(part)
    if form is None:
        yield Problem(here, *unknown("part", part, book.parts))
    elif book.place_form(part, kind) is None:
        yield Problem(here, *unknown(f"place of {part}", kind, [place.kind for place in form.places]))


def _term(book: Rulebook, term: FitTermForm, fit: QuantityForm, here: str) -> Iterator[Problem]:
    yield from _place(book, term.part, term.kind, here)
    form = book.quantities.get((term.of, term.kind))
    if form is None:
        yield Problem(here, *_no_quantity(book, term.of, term.kind))
        return
    if form.dimension != fit.dimension:
        what = f'"{term.of}" is a {form.dimension}, the fit is a {fit.dimension}.'
        yield Problem(here, what, "Name a quantity of the same dimension.")
    for word, named, known in (
        ("station", term.stations, form.stations),
        ("direction", term.directions, form.directions),
    ):
        for name in named:
            if name not in known or form.calc is not None:
                yield Problem(here, *unknown(f"{word} of {term.of}", name, () if form.calc else known))


def _usual(book: Rulebook, usual: UsualForm, fit: QuantityForm, here: str) -> Iterator[Problem]:
    known = {f"{kind}.{name}" for name, kind in book.quantities}
    if usual.per is not None and usual.per not in known:
        yield Problem(here, *unknown("quantity", usual.per, known))
    ends: list[Decimal | float] = []
    for name in ("low", "high", "wear_limit"):
        text = getattr(usual, name)
        if text is None:
            continue
        try:
            ends.append(decimal_of(text) if usual.per else size(text, fit.dimension))
        except (NotANumber, UnknownUnit) as error:
            yield Problem(f"{here}, {name}", str(error), "")
            return
    if usual.low and usual.high and ends[0] > ends[1]:
        what = f"low {usual.low} is above high {usual.high}."
        yield Problem(here, what, "Write the smaller one as low.")


def _effect(book: Rulebook, effect: EffectForm, here: str) -> Iterator[Problem]:
    known = {f"{kind}.{name}" for name, kind in book.quantities}
    roles = ROLES[effect.name]
    for role, quantity in effect.takes.items():
        if role not in (*roles, *OPTIONAL):
            yield Problem(here, *unknown(f"input of {effect.name}", role, (*roles, *OPTIONAL)))
        if quantity not in known:
            yield Problem(here, *unknown("quantity", quantity, known))
    for role in roles:
        if role not in effect.takes:
            yield Problem(here, f'"{role}" is missing.', f'Write takes = {{ {role} = "kind.quantity" }}.')
    for name in (*effect.cuts, *([effect.sized_by] if effect.sized_by else [])):
        part, _, concern = name.partition(".")
        if part not in book.parts or book.concern(part, concern) is None:
            concerns = [f"{p.id}.{c.id}" for p in book.parts.values() for c in p.concern]
            yield Problem(here, *unknown("concern", name, concerns))
    try:
        factor(effect.shown_in or "dimensionless", DIMENSIONS[effect.name])
    except UnknownUnit as error:
        yield Problem(f"{here}, shown_in", str(error), "")
