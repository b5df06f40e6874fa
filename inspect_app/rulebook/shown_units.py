"""The unit a quantity is shown in: that of the sheet row it comes from, else the sheet's, else the pack's."""

from collections import Counter
from decimal import Decimal
from functools import cache

from inspect_app.model.sheet import EngineSheet, SheetQuantity
from inspect_app.model.units import Dimension, UnknownUnit, factor

from .book import Rulebook
from .forms_quantities import QuantityForm

LENGTHS = ("in", "mm")
"""What a length is shown in; any other unit of length typed counts as the one of these it belongs to."""
_NOISE = Decimal("1e-9")


class ShownQuantity(QuantityForm):
    """A quantity as one engine's answer shows it; `gap`: with the places of gaps, flatness and depths."""

    gap: bool = False


def is_gap(book: Rulebook, form: QuantityForm, kind: str) -> bool:
    """Whether a quantity is no size of a hole or shaft, nor computed from one: a gap, flatness, depth."""
    at = form
    while at.calc is not None:
        at = book.quantities[(at.calc.of, kind)]
    return form.dimension == "length" and at.body == "other"


def shown_unit(book: Rulebook, sheet: EngineSheet, usual: str | None, quantity: str, kind: str) -> str:
    """The unit for a quantity at a kind of place: of its own row, of the row it is computed from, `usual`.

    `usual` is the unit of most lengths on the sheet; a quantity that the pack shows in neither inches nor
    mm is never shown in it. Raises KeyError for a quantity that the pack does not have.
    """
    form = book.quantities[(quantity, kind)]
    found = _of_rows(book, sheet, form, kind)
    if found is not None:
        return _same(found, form)
    return usual if usual is not None and form.shown_in in LENGTHS else form.shown_in


def usual_length(sheet: EngineSheet) -> str | None:
    """The unit, in or mm, of most lengths typed on a sheet; None without any, or with as many of each."""
    units = [unit for row in sheet.quantities.values() for unit in map(_length, row.texts().values()) if unit]
    counts = Counter(units).most_common()
    if not counts or (len(counts) > 1 and counts[0][1] == counts[1][1]):
        return None
    return counts[0][0]


def _of_rows(book: Rulebook, sheet: EngineSheet, form: QuantityForm, kind: str) -> str | None:
    dimension: Dimension = form.dimension
    at: QuantityForm | None = form
    while at is not None and at.dimension == dimension:
        unit = _of_row(sheet.quantities.get(f"{kind}.{at.id}"), dimension)
        if unit is not None:
            return unit
        at = book.quantities.get((at.calc.of, kind)) if at.calc else None
    return None


def _of_row(row: SheetQuantity | None, dimension: Dimension) -> str | None:
    """The unit of the first size in a row that has one."""
    texts = row.texts().values() if row else ()
    return next((unit for unit in (_unit(text) for text in texts) if unit and _is(unit, dimension)), None)


def _unit(text: str) -> str:
    return text.strip().partition(" ")[2].strip()


def _length(text: str) -> str | None:
    unit = _unit(text)
    return _family(unit) if unit and _is(unit, "length") else None


@cache
def _is(unit: str, dimension: Dimension) -> bool:
    try:
        factor(unit, dimension)
    except UnknownUnit:
        return False
    return True


@cache
def _family(unit: str) -> str:
    """Inches for a unit that is a round number of millionths of an inch (thou, ft), else mm."""
    millionths = factor(unit) / factor("in") * 1_000_000
    return "in" if abs(millionths - round(millionths)) < _NOISE else "mm"


def _same(unit: str, form: QuantityForm) -> str:
    """The pack's own name where the unit typed is the same one, in or mm where the pack shows one of them."""
    if form.shown_in in LENGTHS:
        return _family(unit)
    return form.shown_in if factor(unit, form.dimension) == factor(form.shown_in, form.dimension) else unit
