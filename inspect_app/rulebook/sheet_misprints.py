"""Misprints in the rows of an engine sheet: numbers of the manual that cannot all be right."""

from collections.abc import Iterator, Mapping
from decimal import Decimal

from inspect_app.metrology.misprints import (
    limit_inside_new_range,
    range_reversed,
    share_too_large,
    size_or_allowance_mixed,
    step_is_a_size,
)
from inspect_app.model.sheet import SheetQuantity
from inspect_app.model.units import NotANumber, UnknownUnit, size

from .forms_quantities import QuantityForm, ShareForm

Misprint = tuple[str, str, str]
"""The field it stands in ("" for the whole row), what is wrong, what to do."""

_LOOK_AGAIN = "One of them is misprinted: look at the manual again."
_TRUST = "One of them is misprinted: leave out the one you cannot trust."
_MIXED = "Some manuals mix sizes and allowances in one column: type the size that is meant, or leave it out."
_WORDS = {"nominal": "nominal", "minimum": "minimum", "maximum": "maximum", "wear_limit": "wear limit"}


def row_misprints(form: QuantityForm, row: SheetQuantity) -> Iterator[Misprint]:
    """What cannot be right within one row, all of whose texts are sizes of its dimension."""
    low, high = _value(form, row.minimum), _value(form, row.maximum)
    if low is not None and high is not None and range_reversed(low, high):
        yield "minimum", f"the minimum {row.minimum} is above the maximum {row.maximum}.", _LOOK_AGAIN
        return
    mixed = [*_mixed_limit(form, row), *_mixed_with_nominal(form, row)]
    yield from mixed or _limit_that_new_parts_pass(form, row)


def share_misprints(
    form: QuantityForm, row: SheetQuantity, rows: Mapping[str, SheetQuantity], whole_form: QuantityForm
) -> Iterator[Misprint]:
    """Numbers of a row too large, or too small, for the whole that its quantity names in `share_of`."""
    share = form.share_of
    whole = _whole(share, rows, whole_form) if share else None
    if share is None or whole is None:
        return
    text, amount = whole
    for name, words in _WORDS.items():
        typed = getattr(row, name)
        value = _value(form, typed)
        if value is None or not share_too_large(value, amount, Decimal(repr(share.at_most))):
            continue
        if value > 0:
            what = f"the {words} {typed} is more than {share.at_most:g} of {share.quantity}, {text}."
            yield name, what, "Look for a slipped point in either."
        else:
            yield name, f"the {words} {typed} is not above 0.", "Leave it out if the manual gives none."


def _whole(
    share: ShareForm, rows: Mapping[str, SheetQuantity], form: QuantityForm
) -> tuple[str, Decimal] | None:
    """The largest size of the whole as typed and in the canonical unit; None if it is not given."""
    row = rows.get(share.quantity, SheetQuantity())
    sizes = []
    for text in (row.nominal, row.maximum, row.minimum):
        try:
            value = _value(form, text)
        except (NotANumber, UnknownUnit):
            continue
        if text is not None and value is not None:
            sizes.append((text, value))
    return max(sizes, key=lambda size: size[1], default=None)


def _mixed_limit(form: QuantityForm, row: SheetQuantity) -> Iterator[Misprint]:
    """A wear limit of another kind than the new range, or than the nominal where there is no range."""
    limit, nominal = _value(form, row.wear_limit), _value(form, row.nominal)
    low, high = _value(form, row.minimum), _value(form, row.maximum)
    beside = f"the new range {row.minimum} to {row.maximum}"
    if low is None or high is None:
        low = high = nominal
        beside = f"the nominal {row.nominal}"
    if limit is None or low is None or high is None or low <= 0:
        return
    if size_or_allowance_mixed(low, high, limit):
        kind = "an allowance" if limit < low else "a size"
        yield "wear_limit", f"the wear limit {row.wear_limit} looks like {kind} beside {beside}.", _MIXED


def _mixed_with_nominal(form: QuantityForm, row: SheetQuantity) -> Iterator[Misprint]:
    """Ends of the range that are allowances, and listed steps that are sizes, beside the size itself."""
    nominal = _value(form, row.nominal) or _value(form, row.maximum) or _value(form, row.minimum)
    if form.body == "other" or nominal is None or nominal <= 0:
        return
    beside = row.nominal or row.maximum or row.minimum
    for name in ("minimum", "maximum"):
        typed = getattr(row, name)
        value = _value(form, typed)
        if value is not None and size_or_allowance_mixed(nominal, nominal, value):
            kind = "an allowance" if value < nominal else "a slipped point"
            yield name, f"the {name} {typed} looks like {kind} beside {beside}.", _MIXED
    for number, typed in enumerate(row.sizes):
        step = _value(form, typed)
        if step is not None and step_is_a_size(nominal, step):
            what = f"the listed size {typed} looks like a full size beside {beside}."
            yield f"sizes.{number}", what, "Type how far each listed size is from standard."


def _limit_that_new_parts_pass(form: QuantityForm, row: SheetQuantity) -> Iterator[Misprint]:
    limit, low, high = (_value(form, text) for text in (row.wear_limit, row.minimum, row.maximum))
    worse_end = high if form.worse == "above" else low
    if limit is None or worse_end is None:
        return
    first, last = (low, high) if low is not None and high is not None else (worse_end, worse_end)
    found = limit_inside_new_range(first, last, limit, form.worse)
    if found:
        where = "inside" if first <= limit <= last else "on the wrong side of"
        new = f"the new range {row.minimum} to {row.maximum}"
        if low is None or high is None:
            new = f"the new {'maximum' if low is None else 'minimum'} {row.maximum or row.minimum}"
        yield "wear_limit", f"the wear limit {row.wear_limit} lies {where} {new}.", _TRUST


def _value(form: QuantityForm, text: str | None) -> Decimal | None:
    """A size of the sheet in the canonical unit, with the digits of a decimal, or None."""
    return None if text is None else Decimal(repr(size(text, form.dimension)))
