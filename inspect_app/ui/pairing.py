"""Pairing: who holds a session, since when and until when, and which live connections hang on it.

A session lasts `LIFETIME` at most and ends earlier when nothing was heard for `IDLE`. Of its secret,
256 random bits, only the SHA-256 is kept, here and in `Sessions`.
"""

import hashlib
import logging
import secrets
import threading
from collections import defaultdict
from collections.abc import Callable, Iterable, Iterator
from contextlib import contextmanager
from dataclasses import dataclass, replace
from datetime import UTC, datetime, timedelta

from inspect_app.model.problems import Problem, Problems
from inspect_app.ui.pair_code import Code, CodeDesk
from inspect_app.ui.sessions import Paired, Sessions

LIFETIME = timedelta(days=30)
IDLE = timedelta(days=7)
EVERY = timedelta(minutes=1)
"""How often, at most, a session is read again and its last sight is written."""

LONGEST_NAME = 40
FROM = "x-inspect-from"
"""The request header in which the gate tells pages who asks; the gate takes out one that came in."""
MACHINE, PHONE = "this machine", "paired phone"
_log = logging.getLogger(__name__)


class NotPaired(Problems):
    """The phone was not paired: the code does not count, or a name is missing."""


@dataclass(frozen=True)
class _Known:
    paired: Paired
    read: datetime


class Pairing:
    """The sessions of one server. Every method may be called from any thread.

    `addresses` are those at which a phone reaches this server, the likeliest first; empty when it
    serves its own machine only. `port` names the cookie: browsers send cookies to every port alike.
    """

    def __init__(
        self,
        sessions: Sessions,
        port: int,
        addresses: Iterable[str] = (),
        now: Callable[[], datetime] = lambda: datetime.now(UTC),
    ) -> None:
        self.cookie = f"inspect_{port}"
        self.addresses = tuple(addresses)
        self._sessions = sessions
        self._now = now
        self._desk = CodeDesk()
        self._known: dict[str, _Known] = {}
        self._revoked: set[str] = set()
        self._open: defaultdict[str, set[Callable[[], None]]] = defaultdict(set)
        self._lock = threading.Lock()
        self._one_at_a_time = threading.Lock()

    def make_code(self) -> Code:
        """Make a code; the one before it ends."""
        return self._desk.make(self._now())

    def code(self) -> tuple[Code, timedelta] | None:
        """The code that counts now and how long it still does, or None."""
        now = self._now()
        code = self._desk.current(now)
        return None if code is None else (code, code.until - now)

    def end_code(self) -> None:
        """End the code that counts, if there is one."""
        self._desk.end()

    def pair(self, typed: str, name: str) -> str:
        """Begin a session for the code `typed` and return its secret; the code has ended then.

        Raises NotPaired in words; Problems of the place where sessions are kept leave the code as it is.
        """
        named = _named(name)
        with self._one_at_a_time:
            now = self._now()
            if not self._desk.fits(typed, now):
                what = "it is mistyped, used already, older than ten minutes, or was tried too often."
                advice = "Type it again, or ask the person at the shop's computer for a new one."
                raise NotPaired([Problem("The code does not count", what, advice)])
            secret = secrets.token_urlsafe(32)
            self._sessions.add(Paired(digest_of(secret), named, now, now, now + LIFETIME))
            self._desk.end()
        return secret

    def admitted(self, digest: str, *, heard: bool = True) -> Paired | None:
        """The session whose secret has this SHA-256, or None if it does not count now.

        `heard` says that the phone has just sent something, from which `IDLE` counts anew. May wait for
        the disk. Raises Problems when the sessions cannot be read; not when they cannot be written.
        """
        now = self._now()
        paired = self._paired(digest, now)
        if paired is None or digest in self._revoked or now >= ends(paired):
            return None
        if heard and now - paired.seen >= EVERY:
            paired = replace(paired, seen=now)
            with self._lock:
                self._known[digest] = _Known(paired, now)
            self._note_seen(paired)
        return paired

    def left(self, paired: Paired) -> timedelta:
        """How long a session still lasts if nothing more is heard of it."""
        return ends(paired) - self._now()

    def phones(self) -> tuple[Paired, ...]:
        """Every session that counts now, in the order in which they were paired."""
        now = self._now()
        held = (self._latest(paired) for paired in self._sessions.all())
        return tuple(one for one in held if now < ends(one) and one.token_sha256 not in self._revoked)

    def revoke(self, digest: str) -> None:
        """End a session and close its live connections at once.

        Raises Problems when that could not be kept: the session has ended all the same, until the
        program starts again.
        """
        with self._lock:
            self._revoked.add(digest)
            self._known.pop(digest, None)
            closing = tuple(self._open.get(digest, ()))
        for close in closing:
            close()
        self._sessions.revoke(digest, self._now())

    @contextmanager
    def open(self, digest: str, close: Callable[[], None]) -> Iterator[None]:
        """A live connection of a session; `close` is called, from any thread, when it is revoked."""
        with self._lock:
            self._open[digest].add(close)
            gone = digest in self._revoked
        try:
            if gone:
                close()
            yield
        finally:
            with self._lock:
                self._open[digest].discard(close)
                if not self._open[digest]:
                    del self._open[digest]

    def _paired(self, digest: str, now: datetime) -> Paired | None:
        known = self._known.get(digest)
        if known is not None and now - known.read < EVERY:
            return known.paired
        found = self._sessions.find(digest)
        with self._lock:
            if found is None:
                self._known.pop(digest, None)
                return None
            if known is not None:
                # What could not be written is known here all the same.
                found = replace(found, seen=max(found.seen, known.paired.seen))
            self._known[digest] = _Known(found, now)
        return found

    def _latest(self, paired: Paired) -> Paired:
        known = self._known.get(paired.token_sha256)
        return paired if known is None else replace(paired, seen=max(paired.seen, known.paired.seen))

    def _note_seen(self, paired: Paired) -> None:
        try:
            self._sessions.note_seen(paired.token_sha256, paired.seen)
        except Exception as error:
            _log.warning("When a phone was last seen could not be kept: %s", error)


def digest_of(secret: str) -> str:
    """SHA-256 of a secret, in hexadecimal."""
    return hashlib.sha256(secret.encode()).hexdigest()


def ends(paired: Paired) -> datetime:
    """The moment at which a session ends if nothing more is heard of it."""
    return min(paired.expires, paired.seen + IDLE)


def _named(name: str) -> str:
    named = " ".join("".join(letter if letter.isprintable() else " " for letter in name).split())
    if not named:
        advice = "Write who uses this phone, so that it can be told from others."
        raise NotPaired([Problem("The name", "it is empty.", advice)])
    if len(named) > LONGEST_NAME:
        what = f"it has {len(named)} characters, {LONGEST_NAME} at most are kept."
        raise NotPaired([Problem("The name", what, "Write a shorter one.")])
    return named


_current: Pairing | None = None


def use(pairing: Pairing) -> None:
    """Set the pairing that the pages and routes of this process work with."""
    global _current
    _current = pairing


def current() -> Pairing:
    """Return the pairing of this process; `RuntimeError` before `use` was called."""
    if _current is None:
        raise RuntimeError("no pairing is set: start the app with `inspect-app serve`")
    return _current
