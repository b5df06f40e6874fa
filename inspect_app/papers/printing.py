"""From an offer to the paper itself: its data made printable, set, and held to one page."""

from dataclasses import dataclass

from inspect_app.model.problems import Problem, Problems
from inspect_app.papers.offer import Offer
from inspect_app.papers.printable import Printable, clean
from inspect_app.papers.rejection import rejection
from inspect_app.papers.subject import Subject
from inspect_app.papers.typeset import template, typeset

PREVIEW_PPI = 192
"""Twice the pixels of a screen: below that the numbers in drawings lose strokes."""


@dataclass(frozen=True)
class Paper:
    """The PDF; its pages as PNG where they were asked for; in words what it cannot print, "" for nothing."""

    pdf: bytes
    pages: tuple[bytes, ...]
    missing: str


def print_paper(offer: Offer, subject: Subject, *, pages: bool = False) -> Paper:
    """Make a paper that `offers` told of this answer.

    The same subject gives the same bytes. Raises Problems where it is not set within its bounds, or the
    answer has no such position.
    """
    part = next((part for part in subject.answer.parts if part.position == offer.position), None)
    if part is None:
        what = f'the answer has no position "{offer.position}".'
        raise Problems([Problem("papers", what, "Ask again which papers it offers.")])
    sheet = rejection(subject, part)
    printable = Printable()
    data = clean(sheet.data, printable, sheet.files)
    ppi = PREVIEW_PPI if pages else 0
    made = typeset(template("rejection.typ"), data, sheet.files, subject.made, ppi=ppi)
    return Paper(made.pdf, made.pages, printable.told)
