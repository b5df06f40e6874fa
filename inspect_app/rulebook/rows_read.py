"""Which rows of an engine sheet the limits are read of: by rules, ladders, couplings, fits and effects."""

from collections.abc import Iterator

from .book import Rulebook
from .forms_conditions import FigureCondition

Row = tuple[str, str]
"""A quantity and its kind of place."""
_TAKE_THE_LIMITS = ("worst", "wear", "times", "past_new")


def rows_read(book: Rulebook) -> frozenset[Row]:
    """Rows whose minimum, maximum or wear limit anything in the rulebook is held against or built from."""
    held = {*_by_rules(book), *_by_ladders(book), *_by_fits(book), *_by_effects(book)}
    return frozenset(row for one in held for row in _with_sources(book, one))


def _with_sources(book: Rulebook, row: Row) -> Iterator[Row]:
    """A row, and those from which a figure without a row of its own takes its limits."""
    yield row
    form = book.quantities.get(row)
    if form is not None and form.calc is not None and form.calc.name in _TAKE_THE_LIMITS:
        yield from _with_sources(book, (form.calc.of, row[1]))


def _by_rules(book: Rulebook) -> Iterator[Row]:
    for rule in book.rules.values():
        for leaf, _ in book.compiled[rule.id].leaves():
            form = leaf.form
            if isinstance(form, FigureCondition):
                computed = [
                    (form.figure, kind)
                    for kind in ((form.place,) if form.place else rule.each)
                    if (form.figure, kind) in book.quantities
                ]
                yield from (row for row in computed if form.is_ or _past_new(book, row))


def _past_new(book: Rulebook, row: Row) -> bool:
    calc = book.quantities[row].calc
    return calc is not None and calc.name == "past_new"


def _by_ladders(book: Rulebook) -> Iterator[Row]:
    for part in book.parts.values():
        for concern in part.concern:
            names = (concern.sizes, concern.keep.figure if concern.keep else None)
            yield from ((name, concern.each) for name in names if name and concern.each)
            yield from _named(concern.supplied)
    for coupling in book.couplings.values():
        yield from _named(coupling.sum.at_most if coupling.sum else None)


def _by_fits(book: Rulebook) -> Iterator[Row]:
    for fit in book.fits.values():
        yield fit.measured, fit.at.kind
        yield from ((term.of, term.kind) for term in fit.term)
        for usual in (fit.usual, fit.shared):
            yield from _named(usual.per if usual else None)
        if fit.setting:
            rows = (fit.setting.hot, fit.setting.cold, fit.setting.cold_less_hot)
            yield from ((name, fit.at.kind) for name in rows)


def _by_effects(book: Rulebook) -> Iterator[Row]:
    for effect in book.effects.values():
        for name in effect.takes.values():
            yield from _named(name)


def _named(name: str | None) -> Iterator[Row]:
    """A row written kind.quantity."""
    if name:
        kind, _, quantity = name.partition(".")
        yield quantity, kind
