"""Checks of a whole rulebook: every reference, every size, polarity and twins, all errors at once."""

from collections.abc import Iterator

from inspect_app.model.problems import Problem

from .begin import begin_problems
from .book import Rulebook
from .cautions import caution_problems
from .check_couplings import coupling_problems
from .check_fits import fit_problems
from .check_operations import operation_problems
from .check_quantities import measuring_problems
from .check_rules import rule_problems
from .check_unruled import stale_problems, unruled_problems
from .forms_parts import BillForm, ConcernForm, PartForm, WayForm
from .sizes import size_problem
from .spots import spot, unknown


def check(book: Rulebook) -> list[Problem]:
    """Everything wrong with the entries as a whole; [] when the pack can be used."""
    problems: list[Problem] = []
    for part in book.parts.values():
        problems += _part_problems(book, part)
    problems += measuring_problems(book)
    problems += fit_problems(book)
    problems += _map_problems(book)
    problems += operation_problems(book)
    problems += _word_problems(book)
    problems += _shared_problems(book)
    problems += _pack_problems(book)
    problems += begin_problems(book)
    problems += rule_problems(book)
    problems += coupling_problems(book)
    problems += caution_problems(book)
    problems += unruled_problems(book)
    return problems or list(stale_problems(book))


def _part_problems(book: Rulebook, part: PartForm) -> Iterator[Problem]:
    here = spot(book, "part", part.id)
    kinds = [place.kind for place in part.places]
    for kind in {kind for kind in kinds if kinds.count(kind) > 1}:
        yield Problem(here, f'the place "{kind}" is listed twice.', "List it once, with all its zones.")
    counts = [part.positions] if part.positions else []
    counts += [name for place in part.places if place.count for name in place.count.split("/")]
    for name in counts:
        if name not in book.counts:
            yield Problem(here, *unknown("count", name, book.counts))
    for kind in part.first_looks:
        if kind not in kinds:
            yield Problem(here, *unknown(f"place of {part.id}", kind, kinds))
    for test in part.test:
        if test.method not in book.methods:
            yield Problem(here, *unknown("method", test.method, book.methods))
    for concern in part.concern:
        yield from _concern_problems(book, part, concern, f"{here}, concern {concern.id}")
    if not part.source:
        yield Problem(here, "the part has no [[part.source]].", "Say where a replacement can come from.")


def _concern_problems(book: Rulebook, part: PartForm, concern: ConcernForm, here: str) -> Iterator[Problem]:
    ways = [*concern.rungs(), *([concern.exception] if concern.exception else [])]
    for way in ways:
        for operation in way.does:
            if operation not in book.operations:
                yield Problem(here, *unknown("operation", operation, book.operations))
        if way.takes:
            yield from size_problem(f"{here}, way {way.id}", "takes", way.takes)
        yield from _depth_problems(book, part, way, f"{here}, way {way.id}")
    if concern.exception and any(
        bill.per != "place"
        for op in concern.exception.does
        if op in book.operations
        for bill in book.operations[op].bills
    ):
        yield Problem(here, "a line of an exception is not billed per place.", "Bill it per place.")
    yield from _cheap_exception(book, concern, here)
    if concern.each is None:
        return
    if book.place_form(part.id, concern.each) is None:
        kinds = [place.kind for place in part.places]
        yield Problem(here, *unknown(f"place of {part.id}", concern.each, kinds))
    asked = (concern.need, concern.sizes, concern.keep.figure if concern.keep else None)
    for quantity in (name for name in asked if name):
        if (quantity, concern.each) not in book.quantities:
            known = [name for name, kind in book.quantities if kind == concern.each]
            yield Problem(here, *unknown(f"quantity of {concern.each}", quantity, known))
    for text in concern.usual_sizes:
        yield from size_problem(here, "usual_sizes", text)


def _depth_problems(book: Rulebook, part: PartForm, way: WayForm, here: str) -> Iterator[Problem]:
    """The figure that says how much a way takes at least is one of its part."""
    if way.at_least is None:
        return
    kinds = {place.kind for place in part.places}
    known = [quantity for quantity, kind in book.quantities if kind in kinds]
    if way.at_least not in known:
        yield Problem(here, *unknown(f"quantity of {part.id}", way.at_least, known))
    if way.takes is None:
        yield Problem(here, "at_least is given, but not what the way takes.", 'Write takes = "0.006 in".')


def _cheap_exception(book: Rulebook, concern: ConcernForm, here: str) -> Iterator[Problem]:
    """The places done otherwise are those that fail a size: true only while more of them save nothing."""
    if concern.exception is None:
        return
    apart = _per_place(book, concern.exception)
    for way in concern.rungs():
        common = _per_place(book, way)
        if apart is not None and common is not None and apart < common:
            what = f"{concern.exception.id} costs {apart:g} for one place and {way.id} costs {common:g}."
            advice = f"{concern.exception.id} is for places that fail: price it at {common:g} or more."
            yield Problem(here, what, advice)


def _per_place(book: Rulebook, way: WayForm) -> float | None:
    """Mean price of a way for one place more; None where an operation or a price is missing."""
    operations = [book.operations.get(name) for name in way.does]
    bills = [bill for operation in operations if operation for bill in operation.bills if bill.per == "place"]
    prices = [book.prices.get(bill.price) for bill in bills]
    if None in operations or None in prices:
        return None
    paid = zip(bills, prices, strict=True)
    return sum(b.quantity * b.chance * (p.low + p.likely + p.high) / 3 for b, p in paid if p is not None)


def _map_problems(book: Rulebook) -> Iterator[Problem]:
    plan = book.pack.map
    for name in (plan.bays, plan.banks, plan.stations) if plan else ():
        if name not in book.counts:
            yield Problem(f"{spot(book, 'pack', 'pack')}, map", *unknown("count", name, book.counts))
    for part in book.parts.values() if plan is None else ():
        if part.shape is not None:
            what = "the part has a shape, but the pack has no map to draw it on."
            yield Problem(spot(book, "part", part.id), what, "Add [pack.map], or leave the shape out.")


def _pack_problems(book: Rulebook) -> Iterator[Problem]:
    for content, parts in book.pack.contents.items():
        for part in parts:
            if part not in book.parts:
                here = f"{spot(book, 'pack', 'pack')}, contents.{content}"
                yield Problem(here, *unknown("part", part, book.parts))


def _shared_problems(book: Rulebook) -> Iterator[Problem]:
    """A price billed once per core is taken at one quantity, whoever needs it."""
    taken: dict[str, set[float]] = {}
    for bill in _bills(book):
        if bill.per == "core":
            taken.setdefault(bill.price, set()).add(bill.quantity * bill.chance)
    for price, amounts in taken.items():
        if len(amounts) > 1:
            listed = " and ".join(f"{amount:g}" for amount in sorted(amounts))
            yield Problem(spot(book, "price", price), f"it is billed per core as {listed}.", "Bill it alike.")


def _bills(book: Rulebook) -> Iterator[BillForm]:
    for part in book.parts.values():
        for source in part.source:
            yield from source.bills
        for test in part.test:
            yield from test.bills
    for operation in book.operations.values():
        yield from operation.bills
    for coupling in book.couplings.values():
        yield from coupling.adds
    yield from (line.bill for line in book.core_lines.values())


def _word_problems(book: Rulebook) -> Iterator[Problem]:
    for damage in book.damage.values():
        for method in damage.settled_by:
            if method not in book.methods:
                here = spot(book, "damage", damage.id)
                yield Problem(here, *unknown("method", method, book.methods))
    for sign in book.signs.values():
        here = spot(book, "sign", sign.id)
        if sign.part not in book.parts:
            yield Problem(here, *unknown("part", sign.part, book.parts))
        for answer, shown in sign.shows.items():
            if answer not in sign.answers:
                yield Problem(here, f'"{answer}" is no answer of this check.', "List it under answers.")
            if shown.damage not in book.damage:
                yield Problem(here, *unknown("damage word", shown.damage, book.damage))
            kind = shown.place.partition("/")[0].partition(" ")[0]
            form = book.place_form(sign.part, kind) if sign.part in book.parts else None
            if form is None:
                yield Problem(here, f'"{kind}" is no place of {sign.part}.', "Name one of its places.")
            elif form.count and " " not in shown.place.partition("/")[0]:
                what = f'"{shown.place}": there are several, and the answer does not say which.'
                yield Problem(here, what, "Name a place that there is one of.")
