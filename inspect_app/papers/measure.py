"""The figure of a rejection against its limit, drawn to scale, and where that limit comes from."""

from dataclasses import dataclass

from inspect_app.model.answer import Closed, PartAnswer
from inspect_app.papers.subject import Subject
from inspect_app.pictures.figure_bars import reason_bar
from inspect_app.pictures.figure_words import against_limit
from inspect_app.pictures.limit_bar import NARROW, limit_bar
from inspect_app.pictures.tokens import PAPER


@dataclass(frozen=True)
class Measure:
    """The bar as SVG with its title, the same in words, and the origin of its limit in a sentence.

    `besides`: a stronger reason than this one has no figure.
    """

    bar: bytes
    title: str
    said: str
    limit: str
    besides: bool


def measure(subject: Subject, part: PartAnswer, reasons: list[Closed]) -> Measure | None:
    """The first of these reasons that has a figure and a limit to draw; None where none has."""
    for reason in reasons:
        bar = reason_bar(part, reason)
        if bar is not None:
            drawn = str(limit_bar(bar, PAPER, NARROW)).encode("utf-8")
            besides = reason is not reasons[0]
            return Measure(drawn, bar.title, against_limit(reason), limit_origin(subject, reason), besides)
    return None


def limit_origin(subject: Subject, reason: Closed) -> str:
    """Where the limit stands: the engine sheet, the shop's own rules, or the rule pack and its version."""
    book, sheet = subject.engine.book, subject.engine.sheet
    match reason.limit_from:
        case "maker":
            return f"The limit stands on the engine sheet {sheet.title}."
        case "shop":
            return "The limit stands in the shop's own rules."
        case "pack":
            return f"The limit stands in the rule pack {book.pack.title}, {book.pack.version}."
    return ""
