"""Pieces: the things that sit or sat in a position, and the states that work brings them into.

A position without an entry holds an implied piece: id = position, origin = this core, no marks.
"""

import re
from typing import Literal

from pydantic import Field, field_validator

from .frozen import Frozen

Origin = Literal["this_core", "another_core", "used", "exchange", "new"]
AS_FOUND, WASHED = "as_found", "washed"
_STATE = re.compile(r"as_found|washed|after [1-9]\d*")


def state_rank(state: str) -> int:
    """Order of states: as found 0, washed 1, after operation n 1 + n."""
    if not _STATE.fullmatch(state):
        raise ValueError(f'"{state}" is not a state. Use as_found, washed or "after 1" (after operation 1)')
    return {AS_FOUND: 0, WASHED: 1}.get(state) or (int(state[6:]) + 1 if state.startswith("after") else 0)


class Mark(Frozen):
    """A stamp or maker's mark. With `quantity`, `size` is the step from standard ("0", "0.010 in")."""

    text: str
    quantity: str | None = None
    place: str = "*"
    size: str | None = None


class OperationDone(Frozen):
    """Work done on a piece; the first is state "after 1". `places` are coverage patterns.

    `size` is the step from standard that it was cut to, where the operation sets one.
    """

    operation: str
    size: str | None = None
    places: tuple[str, ...] = ("*",)
    when: str = ""
    by: str = ""


class Piece(Frozen):
    """One thing with an identity of its own; evidence hangs on it and never moves to another.

    `since`: the date on which a piece that the core did not come with was put in; "" is not known.
    """

    id: str = Field(min_length=1)
    position: str
    origin: Origin = "this_core"
    sits: bool = True
    since: str = ""
    kind: str | None = None
    material: str | None = None
    marks: tuple[Mark, ...] = ()
    operations: tuple[OperationDone, ...] = ()

    @field_validator("id", "position")
    @classmethod
    def _trimmed(cls, value: str) -> str:
        return value.strip()
