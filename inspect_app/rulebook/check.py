"""Checks of a whole rulebook: every reference, every size, polarity and twins, all errors at once."""

from collections.abc import Iterable, Iterator

from inspect_app.model.problems import Problem
from inspect_app.model.units import UnknownUnit, factor

from .book import Rulebook
from .check_couplings import coupling_problems
from .check_rules import rule_problems
from .check_unruled import stale_problems, unruled_problems
from .forms_parts import BillForm, ConcernForm, PartForm
from .forms_rules import CalcForm, QuantityForm, ShareForm
from .sizes import size_problem


def check(book: Rulebook) -> list[Problem]:
    """Everything wrong with the entries as a whole; [] when the pack can be used."""
    problems: list[Problem] = []
    for part in book.parts.values():
        problems += _part_problems(book, part)
    for (quantity, kind), form in book.quantities.items():
        problems += _quantity_problems(book, quantity, kind, form)
    problems += _map_problems(book)
    problems += _limit_problems(book)
    problems += _operation_problems(book)
    problems += _word_problems(book)
    problems += _shared_problems(book)
    problems += _pack_problems(book)
    problems += rule_problems(book)
    problems += coupling_problems(book)
    problems += unruled_problems(book)
    return problems or list(stale_problems(book))


def spot(book: Rulebook, table: str, entry: str) -> str:
    """Where an entry stands, as the head of a problem."""
    where = book.where.get((table, entry))
    return f"{where.file if where else '?'}, {table} {entry}"


def unknown(kind: str, name: str, known: Iterable[str]) -> tuple[str, str]:
    """The words for a name that is not declared, and the names that are."""
    return f'"{name}" is no {kind} of this rulebook.', f"Use one of: {', '.join(sorted(known))}."


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
    if concern.exception and any(
        bill.per == "core"
        for op in concern.exception.does
        if op in book.operations
        for bill in book.operations[op].bills
    ):
        yield Problem(here, "a line of an exception is billed per core.", "Bill it per place.")
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


def _map_problems(book: Rulebook) -> Iterator[Problem]:
    plan = book.pack.map
    for name in (plan.bays, plan.banks, plan.stations) if plan else ():
        if name not in book.counts:
            yield Problem(f"{spot(book, 'pack', 'pack')}, map", *unknown("count", name, book.counts))
    for part in book.parts.values() if plan is None else ():
        if part.shape is not None:
            what = "the part has a shape, but the pack has no map to draw it on."
            yield Problem(spot(book, "part", part.id), what, "Add [pack.map], or leave the shape out.")


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
    if form.calc is not None:
        yield from _source_problems(book, form.calc, kind, here)
        yield from _calc_problems(book, form.calc, here)


def _share_problems(book: Rulebook, share: ShareForm, form: QuantityForm, here: str) -> Iterator[Problem]:
    known = {f"{kind}.{name}": other for (name, kind), other in book.quantities.items()}
    whole = known.get(share.quantity)
    if whole is None:
        yield Problem(f"{here}, share_of", *unknown("quantity", share.quantity, known))
    elif whole.dimension != form.dimension:
        what = f'"{share.quantity}" is a {whole.dimension}, this is a {form.dimension}.'
        yield Problem(f"{here}, share_of", what, "Name a quantity of the same dimension.")


def _source_problems(book: Rulebook, calc: CalcForm, kind: str, here: str) -> Iterator[Problem]:
    """What a figure is computed from must be read, at the same kind of place."""
    base = book.quantities.get((calc.of, kind))
    if base is not None and base.calc is not None:
        yield Problem(here, f'"{calc.of}" is computed itself.', "Compute from what is read.")
    elif base is not None and calc.name in ("wear", "clean_up") and base.body == "other":
        what = f'"{calc.of}" does not say which way it wears.'
        yield Problem(here, what, 'Write body = "hole" or body = "shaft" there.')
    depth = book.quantities.get((calc.depth or "", kind))
    if depth is not None and depth.calc is not None:
        yield Problem(here, f'the depth "{depth.id}" is computed itself.', "Name a quantity that is read.")
    for source in (calc.of, calc.depth):
        if source and (source, kind) not in book.quantities:
            known = [name for name, other in book.quantities if other == kind]
            yield Problem(here, *unknown(f"quantity of {kind}", source, known))


def _calc_problems(book: Rulebook, calc: CalcForm, here: str) -> Iterator[Problem]:
    for word in calc.unless_absent:
        if word not in book.damage:
            yield Problem(here, *unknown("damage word", word, book.damage))
    if calc.stock:
        yield from size_problem(here, "calc.stock", calc.stock)
    if calc.name == "largest_minus_smallest" and calc.along is None:
        what = "a largest-minus-smallest needs along."
        yield Problem(here, what, 'Write along = "station" or "direction".')
    if calc.k[0] > calc.k[1] or calc.k[0] < 0:
        yield Problem(here, f"k = {list(calc.k)} is no interval.", "Write the smaller factor first.")


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


def _limit_problems(book: Rulebook) -> Iterator[Problem]:
    for (quantity, kind), form in book.limits.items():
        here = spot(book, "limit", f"{kind}.{quantity}")
        target = book.quantities.get((quantity, kind))
        if target is None:
            known = [f"{other}.{name}" for name, other in book.quantities]
            yield Problem(here, *unknown("quantity", f"{kind}.{quantity}", known))
            continue
        side, wanted = ("max", "above") if form.max is not None else ("min", "below")
        if target.worse != wanted:
            what = f'"{side}" does not fit: {quantity} of {kind} is worse {target.worse}.'
            yield Problem(here, what, f'Write "{"min" if side == "max" else "max"}".')
        values = form.max if form.max is not None else form.min
        for text in values.values() if isinstance(values, dict) else [values]:
            yield from size_problem(here, side, str(text), target.dimension)


def _operation_problems(book: Rulebook) -> Iterator[Problem]:
    names = {name for name, _ in book.quantities}
    for operation in book.operations.values():
        here = spot(book, "operation", operation.id)
        for quantity in (*operation.voids, *([operation.sets] if operation.sets else [])):
            if quantity not in names:
                yield Problem(here, *unknown("quantity", quantity, names))
        kinds = {place.kind for part in book.parts.values() for place in part.places}
        for kind in operation.reaches:
            if kind not in kinds:
                yield Problem(here, *unknown("kind of place", kind, kinds))
        for name in operation.includes:
            if name not in book.operations:
                yield Problem(here, *unknown("operation", name, book.operations))
        for word in (*operation.clears, *operation.retest):
            if word not in book.damage and word not in book.methods:
                yield Problem(here, *unknown("damage word or method", word, (*book.damage, *book.methods)))


def _word_problems(book: Rulebook) -> Iterator[Problem]:
    for damage in book.damage.values():
        for method in damage.settled_by:
            if method not in book.methods:
                here = spot(book, "damage", damage.id)
                yield Problem(here, *unknown("method", method, book.methods))
    for gauge in book.gauges.values():
        here = spot(book, "gauge", gauge.id)
        for name in ("resolution", "half_width", "repeatability", "division"):
            if getattr(gauge, name) is not None:
                yield from size_problem(here, name, getattr(gauge, name))
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
