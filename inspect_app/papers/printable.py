"""Text of any kind made fit to print: what no paper can show is replaced, and told in words."""

import re
import unicodedata
from collections.abc import Collection, Iterable
from dataclasses import dataclass, field

from inspect_app.papers.fonts import characters

LONGEST_WORD = 20
"""A longer run without a space may be broken anywhere, so that it stays inside its column."""
LONGEST_TEXT = 1200
"""More than any sheet shows of one text; what follows is not even looked at."""
SHOWN_MISSING = 12

_BREAK = "\u200b"
_REPLACED = "\ufffd"
_TURNING = frozenset("\u202a\u202b\u202c\u202d\u202e\u2066\u2067\u2068\u2069")
"""Marks that turn the direction of what follows: a name could turn round the words beside it."""
_SPACES = re.compile(r"[^\S\u00a0\u202f]+")
"""Every space but the hard ones, which keep a figure and its unit together."""


@dataclass
class Printable:
    """Makes text printable, and remembers what could not be."""

    missing: set[str] = field(default_factory=set)

    def __call__(self, text: str) -> str:
        """One line: composed, without control or turning marks, long words breakable."""
        line = _SPACES.sub(" ", unicodedata.normalize("NFC", text[: 2 * LONGEST_TEXT])).strip()[:LONGEST_TEXT]
        self.missing |= {char for char in line if not _drawn(char)}
        return " ".join(_breakable("".join(map(_shown, word))) for word in line.split(" "))

    @property
    def told(self) -> str:
        """What cannot be printed, in words; "" where all can."""
        if not self.missing:
            return ""
        named = [_named(char) for char in sorted(self.missing)]
        more = len(named) - SHOWN_MISSING
        rest = f" and {more} more" if more > 0 else ""
        what = f"{', '.join(named[:SHOWN_MISSING])}{rest}"
        return f"The paper cannot print: {what}. A box or a question mark stands in its place."


def _control(char: str) -> bool:
    return unicodedata.category(char) in ("Cc", "Cs", "Co", "Cn") or char in _TURNING


def _drawn(char: str) -> bool:
    """Whether the fonts draw a character, or it is one that is never drawn."""
    if _control(char):
        return False
    return char in characters() or _never_drawn(char)


def _never_drawn(char: str) -> bool:
    """Joiners, variation selectors and the like: they change others and have no shape of their own."""
    return unicodedata.category(char) == "Cf" or "\ufe00" <= char <= "\ufe0f"


def _shown(char: str) -> str:
    return _REPLACED if _control(char) else char


def _named(char: str) -> str:
    code = f"U+{ord(char):04X}"
    return code if _control(char) or unicodedata.combining(char) else f"{char} ({code})"


def _breakable(word: str) -> str:
    if len(word) <= LONGEST_WORD:
        return word
    return "".join(char if _joined(char) else _BREAK + char for char in word).removeprefix(_BREAK)


def _joined(char: str) -> bool:
    """Whether a character belongs to the one before it."""
    return bool(unicodedata.combining(char)) or _never_drawn(char)


def clean(data: object, printable: Printable, names: Collection[str] = ()) -> object:
    """Every text in nested lists and tables, made printable; `names` of files and what is no text stay."""
    match data:
        case str():
            return data if data in names else printable(data)
        case dict():
            return {key: clean(value, printable, names) for key, value in data.items()}
        case Iterable():
            return [clean(value, printable, names) for value in data]
        case _:
            return data
