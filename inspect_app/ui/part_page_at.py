"""What every entry at a part is made with: the core, the piece that sits there, its state, and who enters."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from functools import cached_property
from typing import Any

from inspect_app.closing.piece_evidence import PieceEvidence
from inspect_app.model.core import Core
from inspect_app.model.evidence import Evidence, standing
from inspect_app.model.pieces import Piece
from inspect_app.model.problems import Problem, Problems
from inspect_app.rulebook.engine import Engine
from inspect_app.rulebook.forms_parts import PartForm
from inspect_app.ui import entry, who
from inspect_app.ui.shelf import Slot

LONGEST_LINE, LONGEST_NOTE = 200, 2000
"""Characters that a line and a note of an entry may have."""


@dataclass(frozen=True)
class AtPart:
    """One part of a judged core, and the `state` of its piece in which the next entry is made."""

    slot: Slot
    core: Core
    engine: Engine
    position: str
    piece: Piece
    state: str

    @property
    def part(self) -> str:
        """The id of the part that this position is of."""
        return self.engine.positions[self.position].part

    @property
    def form(self) -> PartForm:
        """The part as the rules describe it."""
        return self.engine.book.parts[self.part]

    @property
    def key(self) -> str:
        """Core and piece, in the keys of widgets: what was typed at one part must not stand at another."""
        return f"{self.slot.id}_{self.position}_{self.piece.id}"

    @cached_property
    def counting(self) -> tuple[Evidence, ...]:
        """The items of the core that are neither withdrawn nor corrected."""
        return standing(self.core.evidence)

    @cached_property
    def evidence(self) -> PieceEvidence:
        """What counts on the piece that sits here."""
        return PieceEvidence(self.engine, self.engine.positions[self.position], self.piece, self.counting)

    def stamp(self, kind: str) -> dict[str, Any]:
        """The fields that every new item about this piece has."""
        return entry.stamp(self.slot, who.who()) | {
            "id": entry.new_id(kind),
            "piece": self.piece.id,
            "state": self.state,
        }


def at_part(slot: Slot, position: str, state: str | None = None) -> AtPart:
    """The part at a position of a core that was judged; without a state that which it is in now."""
    assert slot.held is not None
    assert slot.engine is not None
    piece = entry.piece_in(slot, position)
    known = entry.states(piece)
    now = state if state in known else entry.present_state(slot, piece)
    return AtPart(slot, slot.held.core, slot.engine, position, piece, now)


def save(at: AtPart, items: Sequence[Evidence], said: str) -> bool:
    """Write items about a part and have it told; what prevents it is told instead.

    Whether the entry is `complete` is asked before its items are made: an item names who made it.
    """
    problems = too_long(items)
    if problems:
        entry.refuse(Problems(problems))
        return False
    return entry.save(at.slot, items, said)


def complete(given: Mapping[str, object]) -> bool:
    """Whether somebody is named who enters and nothing that was asked is empty; else it is told."""
    problems = unsigned()
    for asked, answer in given.items():
        if not answer:
            problems.append(Problem(asked, "nothing is chosen.", "Choose it, and save again."))
    if problems:
        entry.refuse(Problems(problems))
    return not problems


def unsigned() -> list[Problem]:
    """The problem of an entry by nobody."""
    if who.who():
        return []
    return [Problem("Who enters", "nobody is named.", "Type your initials at the head of the page.")]


def too_long(items: Sequence[Evidence]) -> list[Problem]:
    """A problem for each text of an entry that has more characters than there is room for."""
    found = []
    for item in items:
        for name, text in item.model_dump().items():
            longest = LONGEST_NOTE if name in ("note", "reason") else LONGEST_LINE
            if isinstance(text, str) and len(text) > longest:
                what = f"it has {len(text):,} characters; there is room for {longest:,}."
                found.append(Problem(name.capitalize(), what, "Shorten it: what you typed is still there."))
    return found
