"""Checks of couplings: names, ways, amounts, and that the joint decision stays small."""

from collections.abc import Iterator

from inspect_app.model.problems import Problem

from .book import Rulebook
from .check_rules import way_names
from .forms_parts import ConcernForm
from .forms_rules import CouplingForm
from .tables import LARGEST_TABLE, elimination_order

_SIZES_ASSUMED = 4


def coupling_problems(book: Rulebook) -> Iterator[Problem]:
    """Everything wrong with the couplings; the size of the joint decision only if the names hold."""
    problems = [problem for form in book.couplings.values() for problem in _form_problems(book, form)]
    yield from problems
    if not problems:
        yield from _size_problems(book)


def _form_problems(book: Rulebook, form: CouplingForm) -> Iterator[Problem]:
    here = f"{book.where[('coupling', form.id)].file}, coupling {form.id}"
    for taken in (*((form.if_way,) if form.if_way else ()), *(form.if_ways or ())):
        yield from _taken_problems(book, taken.of, taken.ways, here)
    if form.if_source:
        yield from _part_problem(book, form.if_source.of, here)
    for part in form.same_kind or ():
        yield from _part_problem(book, part, here)
    if form.sum:
        yield from _sum_problems(book, form, here)
    if any(bill.per == "core" for bill in form.adds):
        yield Problem(here, "a line that two ways add is billed per core.", "Bill it per part.")
    if form.closes:
        yield from _part_problem(book, form.closes.part, here)
        if form.closes.way and form.closes.part in book.parts:
            concern, _, way = form.closes.way.partition(".")
            yield from _taken_problems(book, f"{form.closes.part}.{concern}", (way,), here)


def _part_problem(book: Rulebook, part: str, here: str) -> Iterator[Problem]:
    if part not in book.parts:
        yield Problem(here, f'"{part}" is no part of this rulebook.', f"Use one of: {', '.join(book.parts)}.")


def _taken_problems(book: Rulebook, of: str, ways: tuple[str, ...], here: str) -> Iterator[Problem]:
    part, _, concern_id = of.partition(".")
    concern = book.concern(part, concern_id) if part in book.parts else None
    if concern is None:
        known = [f"{p.id}.{c.id}" for p in book.parts.values() for c in p.concern]
        yield Problem(here, f'"{of}" is no concern of a part.', f"Use one of: {', '.join(known)}.")
        return
    known = [name for name in way_names(concern) if not concern.exception or name != concern.exception.id]
    for way in ways:
        if way not in known:
            yield Problem(here, f'"{way}" is no way of {of}.', f"Use one of: {', '.join(known)}.")


def _sum_problems(book: Rulebook, form: CouplingForm, here: str) -> Iterator[Problem]:
    assert form.sum is not None
    for of in form.sum.of:
        yield from _taken_problems(book, of, (), here)
    kind, _, quantity = form.sum.at_most.partition(".")
    if (quantity, kind) not in book.quantities:
        known = [f"{other}.{name}" for name, other in book.quantities]
        what = f'"{form.sum.at_most}" is no quantity of this rulebook.'
        yield Problem(here, what, f"Use one of: {', '.join(known)}.")


def _size_problems(book: Rulebook) -> Iterator[Problem]:
    size, at = largest_table(book)
    if size > LARGEST_TABLE:
        names = ", ".join(sorted(at))
        what = f"the couplings tie {names} into one table of {size} entries; {LARGEST_TABLE} is the most."
        yield Problem("couplings", what, "Take out a coupling, or let one part of the loop decide alone.")


def largest_table(book: Rulebook) -> tuple[int, frozenset[str]]:
    """Entries and variables of the largest table at the usual counts, without shared bill lines."""
    domains: dict[str, int] = {}
    for part in book.parts.values():
        domains[part.id] = 2 + len(part.source)
        for concern in part.concern:
            domains[f"{part.id}.{concern.id}"] = _ways(concern) + 1
    scopes = [frozenset({p.id, f"{p.id}.{c.id}"}) for p in book.parts.values() for c in p.concern]
    scopes += [frozenset(scope_of(form)) for form in book.couplings.values()]
    _, size, at = elimination_order(domains, scopes)
    return size, at


def scope_of(form: CouplingForm) -> tuple[str, ...]:
    """The variables (part, or part.concern) that a coupling ties together."""
    if form.same_kind:
        return form.same_kind
    if form.sum:
        return form.sum.of
    if form.if_ways:
        return tuple(taken.of for taken in form.if_ways)
    head = form.if_way.of if form.if_way else form.if_source.of if form.if_source else ""
    assert form.closes is not None
    way = form.closes.way
    return (head, form.closes.part if way is None else f"{form.closes.part}.{way.partition('.')[0]}")


def _ways(concern: ConcernForm) -> int:
    if concern.ladder == "plain":
        return len(concern.ways)
    return 1 + (len(concern.usual_sizes) or _SIZES_ASSUMED)
