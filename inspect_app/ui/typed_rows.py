"""A table whose cells are typed as text: stock number columns swallow commas and cut what is out of range."""

from collections.abc import Collection, Mapping
from dataclasses import dataclass, field
from hashlib import sha256
from typing import Any

import pandas as pd
import streamlit as st

Row = dict[str, str]
ROW, HEAD, TALL = 48, 40, 600


@dataclass(frozen=True)
class Look:
    """Columns by name with their heads, those that nobody types in, and widths in px."""

    columns: Mapping[str, str]
    fixed: Collection[str] = ()
    wide: Mapping[str, int] = field(default_factory=dict)


def typed(rows: Mapping[str, Row], seen: Collection[str], look: Look, key: str) -> dict[str, Row]:
    """Draw the rows that are to be `seen`, by id; all rows typed anew under this `key` so far, seen or not.

    Every cell is text, and comes back as it was typed. What was typed outlasts a change of `seen`, until
    `forget`; cells that nobody typed in here are those of `rows`, also where somebody else changed them.
    """
    held = _held(key)
    if not seen:
        return _whole(rows, held)
    view = f"{key}|{sha256(repr(list(seen)).encode()).hexdigest()[:16]}"
    # The table itself remembers edits by their place in it: what it begins with must not change under it.
    if st.session_state.get(f"{key}_view") != view:
        st.session_state[f"{key}_view"] = view
        st.session_state[f"{key}_begun"] = dict(held)
    begun: dict[str, Row] = st.session_state[f"{key}_begun"]
    drawn = _drawn({name: rows[name] | begun.get(name, {}) for name in seen}, look, view)
    for name, row in drawn.items():
        typed_here = {column: cell for column, cell in row.items() if cell != rows[name][column]}
        if typed_here:
            held[name] = typed_here
        else:
            held.pop(name, None)
    return _whole(rows, held)


def _whole(rows: Mapping[str, Row], held: Mapping[str, Row]) -> dict[str, Row]:
    """The rows typed in, whole; one that somebody else took away has nothing to be typed over."""
    return {name: rows[name] | cells for name, cells in held.items() if name in rows}


def forget(key: str) -> None:
    """Forget what was typed under a key, once it is saved."""
    for name in (f"{key}_typed", f"{key}_view", f"{key}_begun"):
        st.session_state.pop(name, None)
    st.session_state[f"{key}_turn"] = st.session_state.get(f"{key}_turn", 0) + 1


def _held(key: str) -> dict[str, Row]:
    held: dict[str, Row] = st.session_state.setdefault(f"{key}_typed", {})
    return held


def _drawn(rows: Mapping[str, Row], look: Look, view: str) -> dict[str, Row]:
    frame = pd.DataFrame(
        [[row.get(name, "") for name in look.columns] for row in rows.values()],
        columns=list(look.columns),
        index=list(rows),
        dtype=str,
    )
    config = {
        name: st.column_config.TextColumn(head, disabled=name in look.fixed, width=look.wide.get(name))
        for name, head in look.columns.items()
    }
    turn = st.session_state.get(f"{view.partition('|')[0]}_turn", 0)
    edited = st.data_editor(
        frame,
        column_config=config,
        key=f"{view}|{turn}",
        hide_index=True,
        num_rows="fixed",
        height=min(TALL, ROW * len(rows) + HEAD),
        row_height=ROW,
    )
    cells = {str(index): _row(typed) for index, typed in edited.iterrows()}
    return {name: row | cells[name] for name, row in rows.items()}


def _row(cells: Any) -> Row:
    return {str(name): "" if pd.isna(cell) else str(cell).strip() for name, cell in cells.items()}
