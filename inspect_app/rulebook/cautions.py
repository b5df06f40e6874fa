"""Cautions: whether they name what there is, and which apply to a part."""

from collections.abc import Collection, Iterator

from inspect_app.model.problems import Problem

from .book import Rulebook
from .forms_cautions import CautionForm
from .spots import spot, unknown


def caution_problems(book: Rulebook) -> Iterator[Problem]:
    """Parts and damage words that no other file declares."""
    for caution in book.cautions.values():
        here = spot(book, "caution", caution.id)
        for part in caution.parts:
            if part not in book.parts:
                yield Problem(here, *unknown("part", part, book.parts))
        for damage in caution.damage:
            if damage not in book.damage:
                yield Problem(here, *unknown("damage", damage, book.damage))


def cautions_for(book: Rulebook, part: str, damage: Collection[str]) -> list[CautionForm]:
    """The cautions of a part on which these damage words were found; those of its own damage first."""
    found = [
        caution
        for caution in book.cautions.values()
        if (not caution.parts or part in caution.parts)
        and (not caution.damage or set(caution.damage) & set(damage))
    ]
    return sorted(found, key=lambda caution: (not caution.damage, not caution.parts))
