"""How a problem of a rulebook says where it stands, and which names would have been known."""

from collections.abc import Iterable

from .book import Rulebook


def spot(book: Rulebook, table: str, entry: str) -> str:
    """Where an entry stands, as the head of a problem."""
    where = book.where.get((table, entry))
    return f"{where.file if where else '?'}, {table} {entry}"


def unknown(kind: str, name: str, known: Iterable[str]) -> tuple[str, str]:
    """The words for a name that is not declared, and the names that are."""
    return f'"{name}" is no {kind} of this rulebook.', f"Use one of: {', '.join(sorted(known))}."
