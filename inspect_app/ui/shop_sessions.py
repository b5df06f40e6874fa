"""Paired phones as the shop file keeps them."""

from dataclasses import asdict
from datetime import datetime

from inspect_app import store
from inspect_app.ui.sessions import Paired


class ShopSessions:
    """Sessions in a shop file, so that the phones stay paired when the program starts again."""

    def __init__(self, shop: store.ShopFile) -> None:
        self._shop = shop

    def add(self, paired: Paired) -> None:
        """Write a phone that was paired. Raises Problems in words when nothing can be written."""
        store.add_paired(self._shop, store.PairedPhone(**asdict(paired)))

    def find(self, token_sha256: str) -> Paired | None:
        """The phone with this secret; None if there is none or it was revoked."""
        found = store.find_paired(self._shop, token_sha256)
        return None if found is None else Paired(**asdict(found))

    def note_seen(self, token_sha256: str, when: datetime) -> None:
        """Write when a phone was last seen. Raises Problems in words when nothing can be written."""
        store.note_seen(self._shop, token_sha256, when)

    def revoke(self, token_sha256: str, when: datetime) -> None:
        """Let a phone in no more. Raises Problems in words when nothing can be written."""
        store.revoke_paired(self._shop, token_sha256, when)

    def all(self) -> tuple[Paired, ...]:
        """Every phone that was not revoked, in the order in which they were paired."""
        return tuple(Paired(**asdict(phone)) for phone in store.paired_phones(self._shop))
