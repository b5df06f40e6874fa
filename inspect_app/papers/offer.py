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
    """A paper that can be made: of which kind, for which position."""

    kind: Kind
    position: str
    title: str

    @property
    def file_name(self) -> str:
        """The name of its file: "rejection--cylinder_head-1.pdf"."""
        safe = "".join(char if char.isalnum() or char in "_-" else "-" for char in self.position)
        return f"{self.kind}--{safe}.pdf"


@dataclass(frozen=True)
class NotOffered:
    """A paper that cannot be made as things stand, and why, in a sentence."""

    kind: Kind
    position: str
    title: str
    why: str


def offers(answer: Answer) -> list[Offer | NotOffered]:
    """A rejection sheet for each part of the answer: offered only where Replace or Scrap is settled."""
    return [_rejection(part) for part in answer.parts]


def _rejection(part: PartAnswer) -> Offer | NotOffered:
    why = _why_not(part)
    if why:
        return NotOffered("rejection", part.position, part.title, why)
    return Offer("rejection", part.position, part.title)


def _why_not(part: PartAnswer) -> str:
    if part.verdict is None:
        return f"Not judged. {not_judged_because(part)}"
    said = verdict(part.verdict)
    if part.verdict not in ("replace", "scrap"):
        return f"{said}: nothing is rejected."
    if part.standing != "settled":
        return f"{said} is not settled. {fork(part)}".strip()
    return ""
