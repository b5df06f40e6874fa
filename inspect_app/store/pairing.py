"""Phones that were paired with this shop: who has one, since when, and until when it is let in.

Of the secret that a phone carries only the SHA-256 is here, so the file opens no door. All times are
universal time, kept to the second.
"""

from dataclasses import dataclass
from datetime import datetime

from sqlalchemy import Connection, Row, delete, insert, select, update

from . import tables
from .file import ShopFile


@dataclass(frozen=True)
class PairedPhone:
    """One paired phone that was not revoked; whether it has expired is for the reader to tell."""

    token_sha256: str
    name: str
    made: datetime
    seen: datetime
    expires: datetime


def add_paired(shop: ShopFile, phone: PairedPhone) -> None:
    """Keep a phone that was paired. Raises ReadOnly and its neighbours when nothing can be written."""
    times = {name: _text(getattr(phone, name)) for name in ("made", "seen", "expires")}
    row = {"token_sha256": phone.token_sha256, "name": phone.name, **times}
    with shop.writing() as connection:
        connection.execute(insert(tables.paired).values(row))


def find_paired(shop: ShopFile, token_sha256: str) -> PairedPhone | None:
    """The phone whose secret has this SHA-256; None if there is none or it was revoked."""
    held = tables.paired.c
    query = select(tables.paired).where(held.token_sha256 == token_sha256, held.revoked.is_(None))
    with shop.reading() as connection:
        row = connection.execute(query).first()
    return None if row is None else _phone(row)


def note_seen(shop: ShopFile, token_sha256: str, when: datetime) -> None:
    """Keep when a phone was last seen; a time before the one that is kept changes nothing."""
    held = tables.paired.c
    change = update(tables.paired).where(held.token_sha256 == token_sha256, held.seen < _text(when))
    with shop.writing() as connection:
        connection.execute(change.values(seen=_text(when)))


def revoke_paired(shop: ShopFile, token_sha256: str, when: datetime) -> None:
    """Let a phone in no more. An unknown one, or one revoked already, is left as it is."""
    held = tables.paired.c
    change = update(tables.paired).where(held.token_sha256 == token_sha256, held.revoked.is_(None))
    with shop.writing() as connection:
        connection.execute(change.values(revoked=_text(when)))


def paired_phones(shop: ShopFile) -> tuple[PairedPhone, ...]:
    """Every phone that was not revoked, expired ones too, in the order in which they were paired."""
    held = tables.paired.c
    query = select(tables.paired).where(held.revoked.is_(None)).order_by(held.made, held.token_sha256)
    with shop.reading() as connection:
        return tuple(map(_phone, connection.execute(query)))


def forget_phones(connection: Connection) -> None:
    """Forget every phone, as in a file from a backup, which does not know who was revoked since."""
    connection.execute(delete(tables.paired))


def _phone(row: Row[tuple[str, ...]]) -> PairedPhone:
    times = (datetime.fromisoformat(text) for text in (row.made, row.seen, row.expires))
    return PairedPhone(row.token_sha256, row.name, *times)


def _text(when: datetime) -> str:
    return when.isoformat(timespec="seconds")
