"""Add evidence to a core: checked as a whole, written once, never overwritten."""

import hashlib
from collections.abc import Iterable, Iterator, Sequence

from pydantic import ValidationError
from sqlalchemy import Connection, insert

from inspect_app.model.core import FileEntry
from inspect_app.model.evidence import Evidence, OnPiece, Photo
from inspect_app.model.problems import Problem, from_validation, raise_if_any
from inspect_app.rulebook.book import Rulebook

from . import tables
from .cores import HeldCore, new_problems, read_held, revision_of
from .file import ShopFile
from .keeping import holds, keep_files, size_of
from .texts import digest_of, item_text, now, photos_among, same_item


def add_evidence(
    shop: ShopFile, book: Rulebook, core_id: str, items: Sequence[Evidence], pictures: Iterable[bytes] = ()
) -> int:
    """Add items, with the bytes of photos among them; the core's revision after it.

    On return all of it is on the disk; on any exception nothing is. An item that is held already, by
    id and content, is passed over. Raises Problems with everything wrong at once: what the rulebook
    does not know, an id that is held with other content, a photo without its picture.
    """
    contents = {hashlib.sha256(data).hexdigest(): data for data in pictures}
    with shop.writing() as connection:
        return add_items(connection, book, core_id, items, contents)


def add_items(
    connection: Connection,
    book: Rulebook,
    core_id: str,
    items: Sequence[Evidence],
    contents: dict[str, bytes],
) -> int:
    """The same within a transaction; `contents` by their SHA-256."""
    held = read_held(connection, core_id)
    fresh = fresh_items(held.core.evidence, items)
    problems = [
        *id_problems(held.core.evidence, items),
        *_photo_problems(connection, photos_among(fresh), contents),
        *_rule_problems(book, held, fresh),
    ]
    raise_if_any(problems)
    keep_files(connection, [contents[p.sha256] for p in photos_among(fresh) if p.sha256 in contents])
    write_items(connection, core_id, fresh)
    return revision_of(connection, core_id)


def fresh_items(held: Iterable[Evidence], items: Iterable[Evidence]) -> list[Evidence]:
    """The items whose id is not held yet, each id once."""
    known, fresh = {item.id for item in held}, dict[str, Evidence]()
    for item in items:
        if item.id not in known:
            fresh.setdefault(item.id, item)
    return list(fresh.values())


def id_problems(held: Iterable[Evidence], items: Iterable[Evidence]) -> Iterator[Problem]:
    """Items that have the id of another and say something else."""
    known = {item.id: item for item in held}
    for item in items:
        if not same_item(known.setdefault(item.id, item), item):
            what = f'another item with the id "{item.id}" is held, and it says something else.'
            yield Problem(f"evidence {item.id}", what, "Give this one its own id; to correct, supersede it.")


def write_items(connection: Connection, core_id: str, items: Iterable[Evidence]) -> None:
    """Write items that were checked; the pictures of photos among them must be held."""
    for item in items:
        body = item_text(item)
        row = {
            "core": core_id,
            "id": item.id,
            "kind": item.kind,
            "piece": item.piece if isinstance(item, OnPiece) else None,
            "who": item.who,
            "when": item.when,
            "written": now(),
            "digest": digest_of(body),
            "body": body,
        }
        number = connection.execute(
            insert(tables.evidence).values(row).returning(tables.evidence.c.number)
        ).scalar_one()
        if isinstance(item, Photo):
            _write_photo(connection, number, core_id, item)


def _write_photo(connection: Connection, number: int, core_id: str, photo: Photo) -> None:
    size = size_of(connection, photo.sha256)
    row = {"evidence": number, "core": core_id, "id": photo.id, "sha256": photo.sha256, "size": size}
    connection.execute(insert(tables.photo).values(row))


def _rule_problems(book: Rulebook, held: HeldCore, fresh: Sequence[Evidence]) -> list[Problem]:
    if not fresh:
        return []
    core = held.core.model_copy(update={"evidence": (*held.core.evidence, *fresh)})
    return new_problems(book, held, core, held.sheet)


def _photo_problems(
    connection: Connection, photos: Iterable[Photo], contents: dict[str, bytes]
) -> Iterator[Problem]:
    for photo in photos:
        here = f"evidence {photo.id}"
        try:
            FileEntry(path=photo.path, sha256=photo.sha256)
        except ValidationError as error:
            yield from from_validation(error, here)
        if photo.sha256 not in contents and not holds(connection, photo.sha256):
            what = f'the picture "{photo.path}" with the SHA-256 {photo.sha256[:12]}... did not come with it.'
            yield Problem(here, what, "Send the photo again, together with its picture.")
