"""The order of the Rack, and what is found in it."""

from inspect_app.ui import words
from inspect_app.ui.shelf import RackRow

CANNOT, LOOK, OPEN, ASKED, SETTLED, CLOSED = range(6)
"""What a core waits for: a repair of its record; a first look; open points; others; nothing; it is closed."""

_OF_OTHERS = ("price", "report")


def waits_on(row: RackRow) -> int:
    """Who has to act next on a core, by what was last known of it.

    First what cannot be judged. Then what a person here can do now: two records to settle, a core never
    judged or without a verdict, for want of a first look or of a figure in its record; then one with open
    points. Then what waits for somebody else: a price, a report, or a provisional core that is at the
    machine shop. Then the settled, and last the closed.
    """
    if row.problem is not None:
        return CANNOT
    if row.records > 1:
        return LOOK
    if row.stage == "closed":
        return CLOSED
    if row.waits_by in _OF_OTHERS:
        return ASKED
    if row.verdict is None:
        return LOOK
    if row.standing == "settled":
        return SETTLED
    return ASKED if row.stage == "machine_shop" else OPEN


def place(row: RackRow) -> tuple[int, int, str, str]:
    """Sort key: who has to act, then the latest evidence first, then the title."""
    return waits_on(row), -row.revision, row.title.casefold(), row.id


def has(row: RackRow, wanted: str) -> bool:
    """Whether every word that was typed is in the title, id, engine, stage, or in what the core waits for."""
    if not wanted.strip():
        return True
    words_of = (row.title, row.id, row.sheet_title, words.STAGES[row.stage], row.waits_for or "")
    text = "\n".join(words_of).casefold()
    return all(word in text for word in wanted.casefold().split())
