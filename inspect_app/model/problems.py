"""What is wrong with an input: every problem at once, each with its place and what to do."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from typing import Any

from pydantic import ValidationError


@dataclass(frozen=True, order=True)
class Problem:
    """One problem: `where` it stands, `what` is wrong with which value, and what to do (`advice`)."""

    where: str
    what: str
    advice: str

    def __str__(self) -> str:
        return f"{self.where}: {self.what} {self.advice}".strip()


class Problems(ValueError):
    """All problems of one input; `str()` gives a line for each, in the order they were found."""

    def __init__(self, items: Iterable[Problem]) -> None:
        self.items = tuple(dict.fromkeys(items))
        super().__init__("\n".join(map(str, self.items)))


def raise_if_any(items: Sequence[Problem]) -> None:
    """Raise :class:`Problems` with all `items`, or do nothing when there are none."""
    if items:
        raise Problems(items)


_ADVICE = {
    "missing": "Add it.",
    "extra_forbidden": "No such key is known here: check its spelling or remove it.",
    "union_tag_invalid": "Use one of the kinds named.",
    "union_tag_not_found": "Add the key that says which kind it is.",
}


def from_validation(error: ValidationError, source: str) -> list[Problem]:
    """Turn pydantic's findings about `source` (a file name) into problems that say where and what."""
    details = error.errors(include_url=False)
    return [_from_detail(detail, source) for detail in details if not _follows(detail, details)]


def _follows(detail: Any, details: Sequence[Any]) -> bool:
    """Whether a list counts as too short only because what stands in it is wrong."""
    place = detail["loc"]
    return detail["type"] == "too_short" and any(
        len(other["loc"]) > len(place) and other["loc"][: len(place)] == place for other in details
    )


def _from_detail(detail: Any, source: str) -> Problem:
    path = ".".join(str(step) for step in detail["loc"])
    message = str(detail["msg"]).removeprefix("Value error, ")
    value = "" if isinstance(detail["input"], dict | list) else f" It says {detail['input']!r}."
    what = (
        "this key is missing."
        if detail["type"] == "missing"
        else f"{message}{'' if message.endswith('.') else '.'}{value}"
    )
    return Problem(f"{source}, {path}" if path else source, what, _ADVICE.get(detail["type"], ""))
