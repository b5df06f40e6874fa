"""Checks of work: what it names exists, and every figure it voids is one that it can void."""

from collections.abc import Iterator

from inspect_app.model.problems import Problem

from .book import Rulebook
from .forms_rules import OperationForm
from .spots import spot, unknown


def operation_problems(book: Rulebook) -> Iterator[Problem]:
    """Everything wrong with the operations of a rulebook."""
    names = {name for name, _ in book.quantities}
    kinds = {place.kind for part in book.parts.values() for place in part.places}
    for operation in book.operations.values():
        here = spot(book, "operation", operation.id)
        if operation.sets and operation.sets not in names:
            yield Problem(here, *unknown("quantity", operation.sets, names))
        for kind in operation.reaches:
            if kind not in kinds:
                yield Problem(here, *unknown("kind of place", kind, kinds))
        for name in operation.voids:
            yield from _void_problems(book, operation, name, here)
        for name in operation.includes:
            if name not in book.operations:
                yield Problem(here, *unknown("operation", name, book.operations))
        for word in (*operation.clears, *operation.retest):
            if word not in book.damage and word not in book.methods:
                yield Problem(here, *unknown("damage word or method", word, (*book.damage, *book.methods)))


def _void_problems(book: Rulebook, operation: OperationForm, name: str, here: str) -> Iterator[Problem]:
    """A void names a quantity that is read, at a kind of place that the work reaches or that it names."""
    kind, dot, quantity = name.rpartition(".")
    if dot:
        known = {f"{at}.{other}" for other, at in book.quantities}
        if name not in known:
            yield Problem(here, *unknown("quantity", name, known))
            return
        at = [kind]
    else:
        at = [place for other, place in book.quantities if other == quantity]
        if not at:
            yield Problem(here, *unknown("quantity", name, {other for other, _ in book.quantities}))
            return
    if not dot and not any(operation.reached(place) for place in at):
        what = f'it voids "{name}", and reaches no place where that is measured.'
        advice = f'Write "{at[0]}.{name}" to void it there all the same, or add {at[0]} to reaches.'
        yield Problem(here, what, advice)
    elif dot and operation.reaches and kind in operation.reaches and quantity in operation.voids:
        yield Problem(here, f'it voids "{quantity}" and "{name}".', "Write it once.")
    elif all(book.quantities[(quantity, place)].calc for place in at):
        what = f'it voids "{name}", which is computed: nothing is read of it.'
        yield Problem(here, what, "Void what it is computed from.")
