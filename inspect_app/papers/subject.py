"""What a paper is made from: the answer, the core and its rules, its photos, and the day."""

from collections.abc import Callable
from dataclasses import dataclass
from datetime import date

from inspect_app.model.answer import Answer
from inspect_app.model.core import Core
from inspect_app.model.evidence import Photo
from inspect_app.model.problems import Problems
from inspect_app.rulebook.engine import Engine


@dataclass(frozen=True)
class Picture:
    """A photo upright as JPEG, and the size in px of the whole photo, which its marks are drawn in."""

    jpeg: bytes
    width: int
    height: int


@dataclass(frozen=True)
class Subject:
    """One core as it was judged. `picture` gives a photo's picture; None where it cannot be shown."""

    answer: Answer
    core: Core
    engine: Engine
    picture: Callable[[Photo], Picture | None]
    made: date


def picture_from(data: bytes, name: str) -> Picture | None:
    """The picture of a photo's original bytes; None where they cannot be read as one."""
    from inspect_app.photos import take_in

    try:
        taken = take_in(data, name)
    except Problems:
        return None
    return Picture(taken.large, taken.width, taken.height)
