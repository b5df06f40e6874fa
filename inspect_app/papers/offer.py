"""Which papers an answer offers, and of the others why not."""

from dataclasses import dataclass
from typing import Literal

from inspect_app.model.answer import Answer, PartAnswer
from inspect_app.pictures.answer_words import fork, not_judged_because
from inspect_app.pictures.words import verdict

Kind = Literal["rejection"]
TITLES: dict[Kind, str] = {"rejection": "Rejection sheet"}


@dataclass(frozen=True)
class Offer:
    """A paper that can be made. `name` is that of its file without the ending, its own among the offers."""

    kind: Kind
    position: str
    title: str
    name: str

    @property
    def file_name(self) -> str:
        """The name of its file: "rejection--cylinder_head-1.pdf"."""
        return f"{self.name}.pdf"


@dataclass(frozen=True)
class NotOffered:
    """A paper that cannot be made as things stand, and why, in a sentence."""

    kind: Kind
    position: str
    title: str
    why: str


def offers(answer: Answer) -> list[Offer | NotOffered]:
    """A rejection sheet for each part of the answer: offered only where Replace or Scrap is settled."""
    told: list[Offer | NotOffered] = []
    names: set[str] = set()
    for part in answer.parts:
        why = _why_not(part)
        if why:
            told.append(NotOffered("rejection", part.position, part.title, why))
        else:
            name = _name("rejection", part.position, names)
            names.add(name)
            told.append(Offer("rejection", part.position, part.title, name))
    return told


def _name(kind: Kind, position: str, taken: set[str]) -> str:
    """A name that every file system and address takes; two positions that would share one get numbers."""
    safe = "".join(char if char.isascii() and (char.isalnum() or char in "_-") else "-" for char in position)
    name = first = f"{kind}--{safe[:80]}"
    number = 2
    while name in taken:
        name, number = f"{first}--{number}", number + 1
    return name


def _why_not(part: PartAnswer) -> str:
    if part.verdict is None:
        return f"Not judged. {not_judged_because(part)}"
    said = verdict(part.verdict)
    if part.verdict not in ("replace", "scrap"):
        return f"{said}: nothing is rejected."
    if part.standing != "settled":
        return f"{said} is not settled. {fork(part)}".strip()
    return ""
