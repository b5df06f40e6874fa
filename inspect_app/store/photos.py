"""Photos: what is known of each without its bytes, the bytes themselves, and previews made once."""

from dataclasses import dataclass
from typing import Any

from sqlalchemy import Select, delete, insert, select

from inspect_app.model.evidence import Photo
from inspect_app.model.problems import Problem, Problems
from inspect_app.rulebook.book import Rulebook

from . import tables
from .evidence import add_evidence
from .file import ShopFile
from .keeping import content_of
from .texts import item_of


@dataclass(frozen=True)
class PhotoHeld:
    """A photo of a core as evidence, and the size of its file in bytes."""

    photo: Photo
    size: int


@dataclass(frozen=True)
class Preview:
    """A picture made from a photo: `about` says in JSON what its maker knows of the two."""

    about: str
    content: bytes


def add_photo(shop: ShopFile, book: Rulebook, core_id: str, photo: Photo, picture: bytes) -> int:
    """Add a photo with its original bytes, both or neither; the core's revision after it.

    Raises Problems as `add_evidence` does; one is that the bytes are not those of `photo.sha256`.
    """
    return add_evidence(shop, book, core_id, [photo], [picture])


def photos_of(shop: ShopFile, core_id: str) -> tuple[PhotoHeld, ...]:
    """Every photo of a core in the order they came, withdrawn ones too; no bytes are read."""
    evidence, photo = tables.evidence.c, tables.photo.c
    query = (
        select(evidence.body, photo.size)
        .join(tables.evidence, evidence.number == photo.evidence)
        .where(photo.core == core_id)
        .order_by(photo.evidence)
    )
    with shop.reading() as connection:
        found = [(item_of(row.body), row.size) for row in connection.execute(query)]
    return tuple(PhotoHeld(item, size) for item, size in found if isinstance(item, Photo))


def picture_of(shop: ShopFile, core_id: str, photo_id: str) -> bytes:
    """The original bytes of a photo, found by its id, never by a path. Raises Problems if none has it."""
    with shop.reading() as connection:
        row = connection.execute(_sha256(core_id, photo_id)).first()
        if row is None:
            raise Problems([_no_photo(core_id, photo_id)])
        return content_of(connection, row.sha256)


def sha256_of(shop: ShopFile, core_id: str, photo_id: str) -> str | None:
    """The SHA-256 of a photo's bytes, in hexadecimal; None if the core has no such photo."""
    with shop.reading() as connection:
        return connection.execute(_sha256(core_id, photo_id)).scalar()


def keep_preview(shop: ShopFile, sha256: str, name: str, preview: Preview) -> None:
    """Keep what was made from the photo with this SHA-256 under a name, in place of what was there."""
    held = tables.preview
    with shop.writing() as connection:
        connection.execute(delete(held).where(held.c.sha256 == sha256, held.c.name == name))
        row = {"sha256": sha256, "name": name, "about": preview.about, "bytes": preview.content}
        connection.execute(insert(held).values(row))


def preview_of(shop: ShopFile, sha256: str, name: str) -> Preview | None:
    """The preview of this name, or None if it was not made yet."""
    held = tables.preview.c
    query = select(held.about, held.bytes).where(held.sha256 == sha256, held.name == name)
    with shop.reading() as connection:
        row = connection.execute(query).first()
    return None if row is None else Preview(row.about, row.bytes)


def previews_about(shop: ShopFile, core_id: str, name: str) -> dict[str, str]:
    """What is known of the previews of this name, by the SHA-256 of their photos; no bytes are read."""
    held, photo = tables.preview.c, tables.photo.c
    query = (
        select(held.sha256, held.about)
        .join(tables.photo, photo.sha256 == held.sha256)
        .where(photo.core == core_id, held.name == name)
    )
    with shop.reading() as connection:
        return {row.sha256: row.about for row in connection.execute(query)}


def _sha256(core_id: str, photo_id: str) -> Select[Any]:
    photo = tables.photo.c
    return select(photo.sha256).where(photo.core == core_id, photo.id == photo_id)


def _no_photo(core_id: str, photo_id: str) -> Problem:
    return Problem(f'core "{core_id}"', f'it has no photo "{photo_id}".', "Load the page of the part again.")
