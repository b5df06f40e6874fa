"""Marks that are still being drawn: stored on every change, evidence only when confirmed.

Each session has its own draft on a photo, so two that mark one photo do not disturb each other. The
screen sends the whole list with a number that grows; what comes late is passed over.
"""

import json
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from sqlalchemy import Connection, delete, insert, select

from inspect_app.model.evidence import Evidence
from inspect_app.model.problems import Problem, Problems
from inspect_app.rulebook.book import Rulebook

from . import tables
from .evidence import add_items
from .file import ShopFile
from .texts import now, text_of

Mark = Mapping[str, Any]


@dataclass(frozen=True)
class Draft:
    """The marks of one session on one photo, as plain JSON data, and when they were stored."""

    photo: str
    session: str
    revision: int
    marks: tuple[Mark, ...]
    written: str


def save_draft(
    shop: ShopFile, core_id: str, photo_id: str, session: str, revision: int, marks: Sequence[Mark]
) -> bool:
    """Store the whole list of marks; False if the stored one is as new or newer, and stays.

    Raises Problems if the core has no such photo.
    """
    with shop.writing() as connection:
        _refuse_unknown(connection, core_id, photo_id)
        held = _draft(connection, core_id, photo_id, session)
        if held is not None and held.revision >= revision:
            return False
        _drop(connection, core_id, photo_id, session)
        _write(connection, core_id, photo_id, session, revision, marks)
        return True


def drafts_of(shop: ShopFile, core_id: str, photo_id: str | None = None) -> tuple[Draft, ...]:
    """The drafts on a photo, or on all photos of a core, oldest first."""
    with shop.reading() as connection:
        return _drafts(connection, core_id, photo_id)


def discard_draft(shop: ShopFile, core_id: str, photo_id: str, session: str) -> None:
    """Forget the draft of a session on a photo."""
    with shop.writing() as connection:
        _drop(connection, core_id, photo_id, session)


def confirm_draft(
    shop: ShopFile,
    book: Rulebook,
    core_id: str,
    photo_id: str,
    session: str,
    items: Sequence[Evidence],
    left: Sequence[Mark] = (),
) -> int:
    """Write the evidence that a draft has become and forget the draft, both or neither; the revision.

    Marks that are `left` stay as the draft, numbered one on. Raises Problems as `add_evidence` does; the
    draft is kept then.
    """
    with shop.writing() as connection:
        revision = add_items(connection, book, core_id, items, {})
        held = _draft(connection, core_id, photo_id, session)
        _drop(connection, core_id, photo_id, session)
        if left:
            _write(connection, core_id, photo_id, session, held.revision + 1 if held else 1, left)
        return revision


def _refuse_unknown(connection: Connection, core_id: str, photo_id: str) -> None:
    photo = tables.photo.c
    query = select(photo.id).where(photo.core == core_id, photo.id == photo_id)
    if connection.execute(query).first() is None:
        what = f'it has no photo "{photo_id}" to mark.'
        raise Problems([Problem(f'core "{core_id}"', what, "Load the page of the part again.")])


def _drafts(connection: Connection, core_id: str, photo_id: str | None) -> tuple[Draft, ...]:
    held = tables.draft.c
    query = select(held.photo, held.session, held.revision, held.marks, held.written).where(
        held.core == core_id
    )
    if photo_id is not None:
        query = query.where(held.photo == photo_id)
    rows = connection.execute(query.order_by(held.written, held.photo, held.session))
    return tuple(
        Draft(row.photo, row.session, row.revision, tuple(json.loads(row.marks)), row.written) for row in rows
    )


def _draft(connection: Connection, core_id: str, photo_id: str, session: str) -> Draft | None:
    found = _drafts(connection, core_id, photo_id)
    return next((draft for draft in found if draft.session == session), None)


def _write(
    connection: Connection, core_id: str, photo_id: str, session: str, revision: int, marks: Sequence[Mark]
) -> None:
    key = {"core": core_id, "photo": photo_id, "session": session}
    row = {"revision": revision, "marks": text_of(list(marks)), "written": now()}
    connection.execute(insert(tables.draft).values(key | row))


def _drop(connection: Connection, core_id: str, photo_id: str, session: str) -> None:
    held = tables.draft.c
    connection.execute(
        delete(tables.draft).where(held.core == core_id, held.photo == photo_id, held.session == session)
    )
