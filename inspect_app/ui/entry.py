"""What every entry shares: its stamp, its piece and state, and the words when it is saved or not."""

from collections.abc import Iterable, Sequence
from datetime import datetime
from typing import Any
from uuid import uuid4

import streamlit as st

from inspect_app.model.evidence import Evidence, OnPiece
from inspect_app.model.pieces import AS_FOUND, WASHED, Piece, state_rank
from inspect_app.model.problems import Problems
from inspect_app.rulebook.book import Rulebook
from inspect_app.rulebook.check_core import pieces_of
from inspect_app.ui import blocks, shelf
from inspect_app.ui.markup import lines, tag
from inspect_app.ui.shelf import Slot

_TOLD = "entry_told"


def new_id(kind: str) -> str:
    """An id that no other item has, in this shop file or any other."""
    return f"{kind}-{uuid4().hex[:16]}"


def stamp(slot: Slot, who: str) -> dict[str, Any]:
    """The fields `who`, `when` (to the minute, local time) and `stage` of a new item."""
    assert slot.held is not None
    when = datetime.now().isoformat(timespec="minutes")
    return {"who": who, "when": when, "stage": slot.held.core.stage}


def piece_in(slot: Slot, position: str) -> Piece:
    """The piece that sits in a position of a judged core."""
    assert slot.held is not None
    assert slot.engine is not None
    assert slot.answer is not None
    sits = next(part.piece for part in slot.answer.parts if part.position == position)
    return pieces_of(slot.engine, slot.held.core)[sits]


def states(piece: Piece) -> tuple[str, ...]:
    """The states a piece can be described in, earliest first."""
    return (AS_FOUND, WASHED, *(f"after {number}" for number in range(1, len(piece.operations) + 1)))


def present_state(slot: Slot, piece: Piece) -> str:
    """The latest state that the work done on a piece, or any evidence about it, speaks of."""
    assert slot.held is not None
    told = [
        item.state for item in slot.held.core.evidence if isinstance(item, OnPiece) and item.piece == piece.id
    ]
    worked = states(piece)[-1] if piece.operations else AS_FOUND
    return max([worked, *told], key=state_rank)


def state_words(book: Rulebook, piece: Piece, state: str) -> str:
    """A state in words: "as found", "washed", "after work 1: mill the deck"."""
    if not state.startswith("after"):
        return state.replace("_", " ").capitalize()
    number = state_rank(state) - 1
    done = piece.operations[number - 1] if number <= len(piece.operations) else None
    return f"After work {number}" + (f": {book.operations[done.operation].title}" if done else "")


def save(slot: Slot, items: Sequence[Evidence], said: str, pictures: Iterable[bytes] = ()) -> bool:
    """Write items; `said` is told once they are on the disk, else why nothing was saved. True if saved."""
    try:
        shelf.current().add(slot.id, items, pictures)
    except Problems as problems:
        refuse(problems)
        return False
    tell(f"Saved: {said}")
    return True


def tell(*said: str) -> None:
    """Have words shown at the head of the page when it is drawn next."""
    st.session_state[_TOLD] = ("ia-told", said)


def refuse(problems: Problems) -> None:
    """Have the words of what prevented an entry shown when the page is drawn next."""
    st.session_state[_TOLD] = ("ia-refused", ("Not saved.", *str(problems).splitlines()))


def show_told() -> None:
    """Show what the last entry came to, once."""
    told = st.session_state.pop(_TOLD, None)
    if told is not None:
        cls, said = told
        blocks.show(tag("div", lines(*said), cls=cls, role="status"))
