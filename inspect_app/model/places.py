"""Places on a piece: ``rod_journal 2/fillet/front`` is kind, index and a path of zones.

Coverage patterns are places in which ``*`` stands for every index ("rod_journal *") or, alone, for
the whole piece. A place covers everything below it.
"""

from dataclasses import dataclass
from functools import cache

WHOLE = "*"


@dataclass(frozen=True, order=True)
class Place:
    """A spot on a piece. `index` is "" where only one such place exists, "*" in a pattern for all."""

    kind: str
    index: str = ""
    zone: tuple[str, ...] = ()

    def __str__(self) -> str:
        head = f"{self.kind} {self.index}".strip()
        return "/".join((head, *self.zone))

    def covers(self, other: "Place") -> bool:
        """Whether `other` lies at or below this place (or pattern)."""
        if self.kind == WHOLE:
            return True
        same_index = self.index in (WHOLE, other.index)
        return self.kind == other.kind and same_index and other.zone[: len(self.zone)] == self.zone


@cache
def parse_place(text: str) -> Place:
    """Read a place or pattern; raises ValueError with the text if it has no kind."""
    head, *zone = (step.strip() for step in text.strip().split("/"))
    kind, _, index = head.partition(" ")
    if not kind or any(not step for step in zone):
        raise ValueError(f'"{text}" is not a place. Write it as "bore 3/wall/front".')
    return Place(kind, index.strip(), tuple(zone))


@cache
def zone_path(text: str) -> tuple[str, ...]:
    """The steps of a zone such as "fillet/front"; () for ""."""
    return tuple(step for step in text.split("/") if step)


def overlap(one: tuple[str, ...], other: tuple[str, ...]) -> bool:
    """Whether one zone path is a prefix of the other, so that the two share metal."""
    shorter = min(len(one), len(other))
    return one[:shorter] == other[:shorter]


def listing(places: list[Place]) -> str:
    """Places in one line, runs of an index drawn together: ``rod_journal 1 to 4, snout``."""
    groups: dict[tuple[str, tuple[str, ...]], list[str]] = {}
    for place in places:
        groups.setdefault((place.kind, place.zone), []).append(place.index)
    return ", ".join(str(Place(kind, runs(indices), zone)) for (kind, zone), indices in groups.items())


def runs(indices: list[str]) -> str:
    """Indices as text, three or more numbers in a row as "a to b"."""
    parts: list[list[str]] = []
    for index in indices:
        if parts and index.isdecimal() and parts[-1][-1].isdecimal() and int(index) == int(parts[-1][-1]) + 1:
            parts[-1].append(index)
        else:
            parts.append([index])
    return ", ".join(f"{run[0]} to {run[-1]}" if len(run) > 2 else ", ".join(run) for run in parts)
