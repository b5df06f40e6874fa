"""Checks of rules: names they use, targets they close, polarity, twins."""

import json
from collections.abc import Iterator

from inspect_app.model.places import zone_path
from inspect_app.model.problems import Problem
from inspect_app.model.units import NotANumber, UnknownUnit

from .book import Rulebook
from .conditions import Leaf, threshold_of
from .forms_conditions import (
    FigureCondition,
    FindingCondition,
    LookCondition,
    MadeOfCondition,
    ReportCondition,
    SignCondition,
    TestCondition,
)
from .forms_parts import ConcernForm
from .forms_rules import RuleForm


def rule_problems(book: Rulebook) -> Iterator[Problem]:
    """Everything wrong with the rules, in the order of the files."""
    for rule in book.rules.values():
        here = f"{book.where[('rule', rule.id)].file}, rule {rule.id}"
        if rule.part not in book.parts:
            known = ", ".join(book.parts)
            yield Problem(here, f'"{rule.part}" is no part of this rulebook.', f"Use one of: {known}.")
            continue
        yield from _place_problems(book, rule, here)
        yield from _target_problems(book, rule, here)
        for leaf, turned in book.compiled[rule.id].leaves():
            yield from _leaf_problems(book, rule, leaf, here)
            yield from _polarity(book, rule, leaf, turned, here)
    yield from _twins(book)


def _place_problems(book: Rulebook, rule: RuleForm, here: str) -> Iterator[Problem]:
    kinds = [place.kind for place in book.parts[rule.part].places]
    for kind in rule.each:
        if kind not in kinds:
            yield Problem(here, f'"{kind}" is no place of {rule.part}.', f"Use one of: {', '.join(kinds)}.")


def _target_problems(book: Rulebook, rule: RuleForm, here: str) -> Iterator[Problem]:
    part = book.parts[rule.part]
    known = {"own", *(source.source for source in part.source)}
    for concern in part.concern:
        known |= {concern.id, *(f"{concern.id}.{way}" for way in way_names(concern))}
    for target in rule.closes:
        if target not in known:
            what = f'closes "{target}", which {part.id} does not have.'
            yield Problem(here, what, f"Use one of: {', '.join(sorted(known))}.")


def way_names(concern: ConcernForm) -> list[str]:
    """The names by which rules and couplings call the ways of a concern."""
    names = [way.id for way in concern.rungs()]
    if concern.ladder == "common_size":
        names.append("any size")
    return names + ([concern.exception.id] if concern.exception else [])


def _leaf_problems(book: Rulebook, rule: RuleForm, leaf: Leaf, here: str) -> Iterator[Problem]:
    part, form = book.parts[rule.part], leaf.form
    asked = getattr(form, "place", None)
    own = [place.kind for place in part.places]
    if asked is not None and asked not in own:
        yield Problem(here, f'"{asked}" is no place of {part.id}.', f"Use one of: {', '.join(own)}.")
        return
    kinds = [asked] if asked else [kind for kind in rule.each if kind in own]
    match form:
        case FindingCondition():
            yield from _known("damage word", form.finding, list(book.damage), here)
        case FigureCondition():
            yield from _figure_problems(book, form, kinds, here)
        case TestCondition():
            yield from _known("method", form.test, list(book.methods), here)
        case LookCondition():
            yield from _known("method", form.look, list(book.methods), here)
        case ReportCondition():
            yield from _known("report", form.report, list(book.reports), here)
        case MadeOfCondition():
            for name in form.made_of:
                yield from _known("material", name, list(book.materials), here)
        case SignCondition():
            yield from _known("sign", form.sign, list(book.signs), here)
    yield from _zone_problems(book, rule, getattr(form, "zone", ""), kinds or own, here)


def _known(kind: str, name: str, known: list[str], here: str) -> Iterator[Problem]:
    if name not in known:
        what = f'"{name}" is no {kind} of this rulebook.'
        yield Problem(here, what, f"Use one of: {', '.join(sorted(known))}.")


def _figure_problems(book: Rulebook, form: FigureCondition, kinds: list[str], here: str) -> Iterator[Problem]:
    if not kinds:
        yield Problem(here, f'the figure "{form.figure}" has no place.', 'Add "each", or "place" beside it.')
    for kind in kinds:
        if (form.figure, kind) not in book.quantities:
            known = [name for name, other in book.quantities if other == kind]
            yield from _known(f"quantity of {kind}", form.figure, known, here)
    try:
        threshold_of(form)
    except (NotANumber, UnknownUnit) as error:
        yield Problem(here, str(error), "")


def _zone_problems(
    book: Rulebook, rule: RuleForm, zone: str, kinds: list[str], here: str
) -> Iterator[Problem]:
    if not zone:
        return
    known = [
        z for kind in kinds for place in [book.place_form(rule.part, kind)] if place for z in place.zones
    ]
    steps = zone_path(zone)
    if not any(zone_path(other)[: len(steps)] == steps for other in known):
        where = " or ".join(kinds)
        yield Problem(here, f'"{zone}" is no zone of {where}.', f"Use one of: {', '.join(known) or 'none'}.")


def _polarity(book: Rulebook, rule: RuleForm, leaf: Leaf, turned: bool, here: str) -> Iterator[Problem]:
    form = leaf.form
    if not isinstance(form, FigureCondition):
        if turned:
            what = "a way would open with more damage: the rule closes where something was not found."
            yield Problem(here, what, "Leave out the not, or write the milder case as a lower rung.")
        return
    for kind in [form.place] if form.place else rule.each:
        quantity = book.quantities.get((form.figure, kind))
        if quantity is None:
            continue
        direction = "above" if form.above else "below" if form.below else quantity.worse
        if (direction == quantity.worse) == turned:
            what = f"a way would open with more wear: {form.figure} of {kind} is worse {quantity.worse}."
            yield Problem(here, what, "Turn the comparison; write a band as two rungs.")


def _twins(book: Rulebook) -> Iterator[Problem]:
    seen: dict[str, list[RuleForm]] = {}
    for rule in book.rules.values():
        key = json.dumps(
            [[c.model_dump(mode="json") for c in rule.when], sorted(rule.closes), rule.hard], sort_keys=True
        )
        for other in seen.setdefault(key, []):
            if _same_words(rule, other) or _same_ground(rule, other):
                here = f"{book.where[('rule', rule.id)].file}, rule {rule.id}"
                what = f'it says the same as rule "{other.id}".'
                yield Problem(here, what, 'Write one rule with all places in "each".')
        seen[key].append(rule)


def _same_words(one: RuleForm, other: RuleForm) -> bool:
    return one.part == other.part and (one.why, one.plain) == (other.why, other.plain)


def _same_ground(one: RuleForm, other: RuleForm) -> bool:
    return one.part == other.part and (
        not one.each or not other.each or bool(set(one.each) & set(other.each))
    )
