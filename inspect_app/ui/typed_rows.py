"""A table whose cells are typed as text: stock number columns swallow commas and cut what is out of range."""

from collections.abc import Mapping, Sequence
from typing import Any

import pandas as pd
import streamlit as st

Row = dict[str, str]


def table(
    rows: Mapping[str, Row], columns: Mapping[str, str], fixed: Sequence[str], key: str, *, tall: int = 560
) -> dict[str, Row]:
    """Draw rows by id under `columns` (name: head), all but `fixed` to be typed in; the rows as they stand.

    Every cell is text, and comes back as it was typed.
    """
    frame = pd.DataFrame(
        [[row.get(name, "") for name in columns] for row in rows.values()],
        columns=list(columns),
        index=list(rows),
        dtype=str,
    )
    config = {
        name: st.column_config.TextColumn(
            head, disabled=name in fixed, width="medium" if name in fixed else None
        )
        for name, head in columns.items()
    }
    edited = st.data_editor(
        frame, column_config=config, key=key, hide_index=True, num_rows="fixed", height=tall, row_height=48
    )
    return {str(index): _row(cells) for index, cells in edited.iterrows()}


def _row(cells: Any) -> Row:
    return {str(name): "" if pd.isna(cell) else str(cell).strip() for name, cell in cells.items()}


def changed(before: Mapping[str, Row], after: Mapping[str, Row]) -> dict[str, Row]:
    """The rows in which a cell was typed anew."""
    return {name: row for name, row in after.items() if row != before.get(name)}
