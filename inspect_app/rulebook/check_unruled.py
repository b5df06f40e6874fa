"""Checks of written reasons: names that exist, no reason that the rules have overtaken, no empty cell."""

import json
from collections.abc import Iterable, Iterator

from inspect_app.model.places import zone_path
from inspect_app.model.problems import Problem

from .book import Rulebook
from .forms_parts import PartForm
from .forms_unruled import EVERY, UnruledForm
from .matrix import Cell, Entry, Matrix, damage_matrix, figure_matrix, named_cells, names, ways_of
from .spots import spot, unknown


def unruled_problems(book: Rulebook) -> Iterator[Problem]:
    """Names in written reasons that nobody declared."""
    for form in book.unruled.values():
        part = book.parts.get(form.part)
        if part is None:
            yield Problem(_here(book, form), *unknown("part", form.part, book.parts))
        elif form.damage:
            yield from _damage_problems(book, part, form, _here(book, form))
        else:
            yield from _figure_problems(book, part, form, _here(book, form))


def stale_problems(book: Rulebook) -> Iterator[Problem]:
    """Written reasons, or names in them, that the rules have overtaken; all names must hold."""
    made: dict[tuple[str, bool], Matrix] = {}
    for form in book.unruled.values():
        key = (form.part, bool(form.damage))
        if key not in made:
            made[key] = (damage_matrix if form.damage else figure_matrix)(book, book.parts[form.part])
        yield from _stale(book, form, made[key])


def _here(book: Rulebook, form: UnruledForm) -> str:
    return spot(book, "unruled", form.id)


def _damage_problems(book: Rulebook, part: PartForm, form: UnruledForm, here: str) -> Iterator[Problem]:
    for word in form.damage:
        if word not in book.damage:
            yield Problem(here, *unknown("damage word", word, book.damage))
    for text in form.places:
        kind, *zone = zone_path(text) or ("",)
        place = book.place_form(part.id, kind)
        if text != EVERY and place is None:
            yield Problem(here, *unknown(f"place of {part.id}", kind, [p.kind for p in part.places]))
        elif place and not place.zones and zone:
            what = f'"{text}": {kind} has no zones.'
            yield Problem(here, what, f'Write "{kind}".')
        elif place and zone and not any(zone_path(z)[: len(zone)] == tuple(zone) for z in place.zones):
            yield Problem(here, *unknown(f"zone of {kind}", "/".join(zone), place.zones))


def _figure_problems(book: Rulebook, part: PartForm, form: UnruledForm, here: str) -> Iterator[Problem]:
    measured = {kind for _, kind in book.quantities if book.place_form(part.id, kind)}
    for kind in form.each:
        if not measured:
            yield Problem(here, f'"{kind}": nothing is measured on {part.id}.', "Take the reason out.")
        elif kind not in measured:
            yield Problem(here, *unknown(f"measured place of {part.id}", kind, measured))
    known = {name for name, kind in book.quantities if kind in form.each}
    for name in form.quantities:
        if name != EVERY and known and name not in known:
            yield Problem(here, *unknown(f"quantity of {' or '.join(form.each)}", name, known))
    columns = (EVERY, *(concern.id for concern in part.concern), *ways_of(part))
    for way in form.ways:
        if way not in columns:
            yield Problem(here, *unknown(f"way of {part.id}", way, columns))


def _stale(book: Rulebook, form: UnruledForm, matrix: Matrix) -> Iterator[Problem]:
    here, cells = _here(book, form), named_cells(form, matrix.rows, matrix.columns)
    left = [cell for cell in cells if not _settled(book, form, matrix.ruled.get(cell, ()))]
    if not left:
        what = "it covers no cell that is still without a rule."
        yield Problem(here, what, "Take it out, or name what it speaks of.")
        return
    for key in ("damage", "places", "quantities", "each", "ways"):
        for name in getattr(form, key):
            alone = form.model_copy(update={key: (name,)})
            if not any(names(alone, cell) for cell in left):
                what = f'{key} names "{name}", but every cell that it covers by that has a rule.'
                yield Problem(here, what, "Take the name out, and see that the reason still holds.")


def _settled(book: Rulebook, form: UnruledForm, by: tuple[Entry, ...]) -> bool:
    """Whether rules speak of a cell for good: a shop's rule makes no reason of the pack stale."""
    return any(book.from_shop("unruled", form.id) or not book.from_shop(*entry) for entry in by)


def empty_problems(book: Rulebook) -> list[Problem]:
    """Every empty cell of every part, put together where one rule or one reason would fill them."""
    problems: list[Problem] = []
    for part in book.parts.values():
        here = spot(book, "part", part.id)
        problems += _empty_damage(here, damage_matrix(book, part))
        problems += _empty_figures(here, figure_matrix(book, part))
    return problems


def _empty_damage(here: str, matrix: Matrix) -> Iterator[Problem]:
    for places, words in _alike((word, _places(matrix, rows)) for word, rows in _by_column(matrix.empty)):
        what = f"no rule asks for {_listed(words)} at {_listed(places)}, and nothing says why."
        reason = f"damage = {_toml(words)}, places = {_toml(places)}"
        yield Problem(here, what, f"Write a rule that asks there, or [[unruled]] with {reason} and why.")


def _empty_figures(here: str, matrix: Matrix) -> Iterator[Problem]:
    by_row: dict[str, list[str]] = {}
    for row, way in matrix.empty:
        by_row.setdefault(row, []).append(way)
    kinds = dict.fromkeys(row.partition(".")[0] for row in by_row)
    for kind in kinds:
        rows = [(row.partition("."), tuple(ways)) for row, ways in by_row.items()]
        for ways, figures in _alike((quantity, ways) for (at, _, quantity), ways in rows if at == kind):
            what = f"{_listed(figures)} of {kind} cannot close {_listed(ways)}, and nothing says why."
            reason = f'quantities = {_toml(figures)}, each = ["{kind}"], ways = {_toml(ways)}'
            yield Problem(here, what, f"Write a rule with the figure, or [[unruled]] with {reason} and why.")


def _by_column(cells: list[Cell]) -> Iterable[tuple[str, list[str]]]:
    columns: dict[str, list[str]] = {}
    for row, column in cells:
        columns.setdefault(column, []).append(row)
    return columns.items()


def _places(matrix: Matrix, rows: list[str]) -> tuple[str, ...]:
    """Rows, written as a whole kind where all its zones are among them, and as "*" where all rows are."""
    if len(rows) == len(matrix.rows):
        return (EVERY,)
    names: list[str] = []
    for row in rows:
        kind = row.partition("/")[0]
        whole = all(other in rows for other in matrix.rows if other.partition("/")[0] == kind)
        names.append(kind if whole else row)
    return tuple(dict.fromkeys(names))


def _alike(pairs: Iterable[tuple[str, tuple[str, ...]]]) -> Iterable[tuple[tuple[str, ...], list[str]]]:
    """Names that share the same second half, together."""
    groups: dict[tuple[str, ...], list[str]] = {}
    for name, others in pairs:
        groups.setdefault(others, []).append(name)
    return groups.items()


def _listed(names: Iterable[str]) -> str:
    return ", ".join(names)


def _toml(names: Iterable[str]) -> str:
    return json.dumps(list(names))
