"""What a named person can decide about a part: open rules to waive, met ones to overrule; no hard rule."""

from dataclasses import dataclass

from inspect_app.model.answer import PartAnswer
from inspect_app.rulebook.book import Rulebook
from inspect_app.ui import words


@dataclass(frozen=True)
class Choice:
    """A rule at a place (or at all, "*"), and how the screen says it."""

    rule: str
    place: str
    said: str


def to_waive(book: Rulebook, part: PartAnswer) -> list[Choice]:
    """What a part's open points wait for, each rule once with everything that it asks."""
    asked: dict[str, list[str]] = {}
    for point in part.open_points:
        for rule in point.rules:
            if not _hard(book, rule):
                asked.setdefault(rule, []).append(point.what)
    return [
        Choice(rule, "*", f"{_named(rule)}: {'; '.join(dict.fromkeys(what))}") for rule, what in asked.items()
    ]


def to_overrule(book: Rulebook, part: PartAnswer) -> list[Choice]:
    """What closes a way of a part, each rule at each of its places."""
    found = {
        (reason.rule, reason.place or "*"): f"{_named(reason.rule)}: {reason.why}"
        for reason in part.closed
        if reason.rule in book.rules and not _hard(book, reason.rule)
    }
    said = words.told_apart({f"{rule}, {words.place(at)}": why for (rule, at), why in found.items()})
    return [Choice(rule, at, why) for (rule, at), why in zip(found, said.values(), strict=True)]


def _hard(book: Rulebook, rule: str) -> bool:
    return rule in book.rules and book.rules[rule].hard


def _named(rule: str) -> str:
    return words.plain(rule).capitalize()
