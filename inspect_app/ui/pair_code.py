"""The one-time code by which a phone is paired: short to type, short-lived, and dead after few guesses."""

import hmac
import secrets
import threading
from dataclasses import dataclass
from datetime import datetime, timedelta

# None of these is taken for another one on a dirty screen.
_LETTERS = "23456789ABCDEFGHJKMNPQRSTVWXYZ"
_LENGTH, _GROUP = 8, 4
LIFE = timedelta(minutes=10)
GUESSES = 5


@dataclass(frozen=True)
class Code:
    """A code as it is typed, and the moment at which it ends."""

    text: str
    until: datetime

    @property
    def grouped(self) -> str:
        """The code in groups, to be read from one screen and typed on another."""
        return " ".join(self.text[at : at + _GROUP] for at in range(0, _LENGTH, _GROUP))


class CodeDesk:
    """At most one code at a time. It ends when it is used, after `LIFE`, or with the last of `GUESSES`."""

    def __init__(self) -> None:
        self._code: Code | None = None
        self._wrong = 0
        self._lock = threading.Lock()

    def make(self, now: datetime) -> Code:
        """Make a new code; the one before it, if any, ends."""
        code = Code("".join(secrets.choice(_LETTERS) for _ in range(_LENGTH)), now + LIFE)
        with self._lock:
            self._code, self._wrong = code, 0
        return code

    def current(self, now: datetime) -> Code | None:
        """The code that counts now, or None."""
        code = self._code
        return code if code is not None and now < code.until else None

    def end(self) -> None:
        """End the code that counts, if there is one."""
        with self._lock:
            self._code = None

    def fits(self, typed: str, now: datetime) -> bool:
        """Whether `typed` is the code, in any case and spacing. A wrong one counts as a guess."""
        plain = "".join(letter for letter in typed.upper() if letter.isalnum())
        with self._lock:
            code = self.current(now)
            if code is None:
                return False
            if hmac.compare_digest(plain.encode(), code.text.encode()):
                return True
            self._wrong += 1
            if self._wrong >= GUESSES:
                self._code = None
            return False
