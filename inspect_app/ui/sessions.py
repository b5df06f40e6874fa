"""Who was paired with this server: what the gate asks of the place where sessions are kept."""

import threading
from dataclasses import dataclass, replace
from datetime import datetime
from typing import Protocol


@dataclass(frozen=True)
class Paired:
    """One paired phone. Of its secret only the SHA-256, in hexadecimal, is known; times are aware."""

    token_sha256: str
    name: str
    made: datetime
    seen: datetime
    expires: datetime


class Sessions(Protocol):
    """Where paired phones are kept. What writes may raise Problems; nothing was kept then."""

    def add(self, paired: Paired) -> None:
        """Keep a phone that was paired."""

    def find(self, token_sha256: str) -> Paired | None:
        """The phone with this secret; None if there is none or it was revoked."""

    def note_seen(self, token_sha256: str, when: datetime) -> None:
        """Keep when a phone was last seen."""

    def revoke(self, token_sha256: str, when: datetime) -> None:
        """Let a phone in no more."""

    def all(self) -> tuple[Paired, ...]:
        """Every phone that was not revoked, in the order in which they were paired."""


class SessionsInMemory:
    """Sessions that end with the program, for a server without a shop file."""

    def __init__(self) -> None:
        self._held: dict[str, Paired] = {}
        self._lock = threading.Lock()

    def add(self, paired: Paired) -> None:
        """Keep a phone until the program ends."""
        with self._lock:
            self._held[paired.token_sha256] = paired

    def find(self, token_sha256: str) -> Paired | None:
        """The phone with this secret, or None."""
        return self._held.get(token_sha256)

    def note_seen(self, token_sha256: str, when: datetime) -> None:
        """Keep when a phone was last seen."""
        with self._lock:
            if held := self._held.get(token_sha256):
                self._held[token_sha256] = replace(held, seen=max(held.seen, when))

    def revoke(self, token_sha256: str, when: datetime) -> None:
        """Forget a phone."""
        with self._lock:
            self._held.pop(token_sha256, None)

    def all(self) -> tuple[Paired, ...]:
        """Every phone, in the order in which they were paired."""
        with self._lock:
            return tuple(self._held.values())
