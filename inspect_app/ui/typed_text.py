"""What a person typed into plain boxes: text, money and lists of lines, each with its problems in words."""

import re
import unicodedata
from collections.abc import Callable
from typing import TypeVar

from inspect_app.model.core import Amount
from inspect_app.model.problems import Problem

SHORT, LONG = 200, 2_000
_NUMBER = re.compile(r"\d+([.,]\d{1,2})?")
_SPACE = re.compile(r"\s+")
_ID = re.compile(r"[a-z0-9][a-z0-9\-]*")
_ID_LENGTH = 60
T = TypeVar("T")


class Reader:
    """Reads boxes one after another and gathers everything that is wrong in `problems`."""

    def __init__(self) -> None:
        self.problems: list[Problem] = []

    def text(self, where: str, typed: str, most: int = SHORT, *, needed: bool = False) -> str:
        """The text without space around it; one line, printable, at most so many characters."""
        text = typed.strip()
        if needed and not text:
            self.problems.append(Problem(where, "it is empty.", "Type it."))
        if len(text) > most:
            what = f"it has {len(text):,} characters, {most:,} at most."
            self.problems.append(Problem(where, what, "Make it shorter."))
        odd = next((letter for letter in text if not letter.isprintable()), None)
        if odd is not None:
            what = f"it holds a character that cannot be printed (U+{ord(odd):04X})."
            self.problems.append(Problem(where, what, "Type it again without it."))
        return text

    def amount(self, where: str, typed: str) -> Amount | None:
        """Money as one number, or as low, likely and high with spaces between; None for an empty box."""
        pieces = _SPACE.split(typed.strip()) if typed.strip() else []
        if not pieces:
            return None
        if len(pieces) not in (1, 3) or not all(map(_NUMBER.fullmatch, pieces)) or len(typed) > SHORT:
            shown = typed.strip() if len(typed) <= SHORT else f"{typed.strip()[:SHORT]} ..."
            what = f'"{shown}" is no amount of money.'
            advice = "Type one number such as 450, or low, likely and high such as 400 450 600."
            self.problems.append(Problem(where, what, advice))
            return None
        low, likely, high = (float(piece.replace(",", ".")) for piece in (pieces * 3)[:3])
        if not low <= likely <= high:
            what = f"low {low:g}, likely {likely:g} and high {high:g} are out of order."
            self.problems.append(Problem(where, what, "Type them in rising order."))
            return None
        return Amount(low=low, likely=likely, high=high)

    def lines(self, where: str, typed: str, read: Callable[[str, str], T | None]) -> tuple[T, ...]:
        """What `read` makes of each line that is not empty; it is told where the line stands."""
        numbered = enumerate(typed.split("\n"), start=1)
        made = (read(f"{where}, line {at}", line) for at, line in numbered if line.strip())
        return tuple(one for one in made if one is not None)

    def pair(self, where: str, line: str, example: str) -> tuple[str, str] | None:
        """The two sides of a line's last colon."""
        name, colon, rest = line.rpartition(":")
        if not colon or not name.strip() or not rest.strip():
            shown = line.strip() if len(line) <= SHORT else f"{line.strip()[:SHORT]} ..."
            self.problems.append(Problem(where, f'"{shown}" has no colon between two words.', example))
            return None
        return self.text(where, name), rest.strip()


def id_from(title: str, taken: set[str]) -> str:
    """An id made from a title that no core has: small letters, digits and dashes."""
    plain = unicodedata.normalize("NFKD", title).encode("ascii", "ignore").decode().lower()
    stem = re.sub(r"[^a-z0-9]+", "-", plain).strip("-")[:_ID_LENGTH].strip("-") or "core"
    numbered = (f"{stem}-{number}" for number in range(2, len(taken) + 3))
    return next(one for one in (stem, *numbered) if one not in taken)


def id_problem(core_id: str, taken: set[str]) -> Problem | None:
    """What is wrong with an id that was typed."""
    if not _ID.fullmatch(core_id) or len(core_id) > _ID_LENGTH:
        shown = core_id if len(core_id) <= SHORT else f"{core_id[:SHORT]} ..."
        advice = f"Use small letters, digits and dashes, {_ID_LENGTH} at most, with a letter or digit first."
        return Problem("Id", f'"{shown}" is no id.', advice)
    if core_id in taken:
        return Problem("Id", f'a core with the id "{core_id}" is here already.', "Give this one its own id.")
    return None


def written(amount: Amount | None) -> str:
    """An amount as it would be typed."""
    if amount is None:
        return ""
    ends = [f"{end:.2f}".removesuffix(".00") for end in (amount.low, amount.likely, amount.high)]
    return ends[0] if len(set(ends)) == 1 else " ".join(ends)
