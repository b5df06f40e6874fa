"""A core whose sheet holds misprints of US Army technical manuals is not judged; a sound sheet is taken.

The digits are the printed ones; the rod clearance stands in a row of the same sense, a span.
"""

from pathlib import Path

import pytest

from inspect_app.model.problems import Problems
from inspect_app.model.sheet import EngineSheet
from tests.judge import six

from .manual_tables import INSIDE_ITS_NEW_RANGE, RANGE_MISPRINTED, SIX_INCH, SOUND, Row
from .support import judge_written

ROWS = {
    "liner bore": "bore.diameter",
    "main journal": "main_journal.diameter",
    "rod journal": "rod_journal.diameter",
}
"""Rows of the six in inch that the rule pack knows by another name."""


def sheet_with(rows: dict[str, dict[str, str]]) -> EngineSheet:
    return six.sheet(quantities=six.sheet().model_dump()["quantities"] | rows)


def typed(row: Row, unit: str) -> dict[str, str]:
    low, high, limit = (f"{number} {unit}" for number in (row.low, row.high, row.limit))
    return {"minimum": low, "maximum": high, "wear_limit": limit}


def test_every_misprint_of_the_sheet_is_told_at_once(tmp_path: Path) -> None:
    low, high = RANGE_MISPRINTED
    sheet = sheet_with(
        {
            "bore.taper": typed(INSIDE_ITS_NEW_RANGE[0], "mm"),
            "bore.diameter": {"minimum": f"{low} in", "maximum": f"{high} in"},
        }
    )
    with pytest.raises(Problems) as caught:
        judge_written(tmp_path, six.core([]), sheet)
    taper, bore = sorted(map(str, caught.value.items), reverse=True)
    assert taper.startswith("engine sheet six, quantities.bore.taper: the wear limit 0.03 mm lies inside")
    assert bore.startswith("engine sheet six, quantities.bore.diameter: the minimum 74.915 in is above")


@pytest.mark.parametrize("row", [r for r in SOUND if r.manual == SIX_INCH and r.item in ROWS], ids=str)
def test_a_sound_row_is_taken(tmp_path: Path, row: Row) -> None:
    """Nothing was read of the engine, so nothing is judged, but the sheet is not refused."""
    answer = judge_written(tmp_path, six.core([]), sheet_with({ROWS[row.item]: typed(row, "in")}))
    assert {part.verdict for part in answer.parts} == {None}
