"""What a profile is drawn from: sizes of one round place at stations along it and in directions across."""

import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Literal

from inspect_app.pictures import words
from inspect_app.pictures.svg import Svg, join, text
from inspect_app.pictures.tokens import Ground

INCH = 25.4
FOOTNOTES = 44
WORN_ACROSS = 62
"""How wide the largest deviation of a set is drawn."""


@dataclass(frozen=True)
class Profile:
    """Sizes in mm: `sizes[station][direction]`, None where nothing was read; `at` is mm along the place.

    `unworn` is the present unworn size, `listed` the next size to cut to with its name.
    """

    title: str
    stations: tuple[str, ...]
    at: tuple[float, ...]
    directions: tuple[str, ...]
    sizes: tuple[tuple[float | None, ...], ...]
    unworn: float | None = None
    listed: float | None = None
    listed_name: str = "next size"
    unit: Literal["in", "mm"] = "in"

    def __post_init__(self) -> None:
        """Refuse sizes that do not fit stations and directions; raises ValueError."""
        fits = len(self.stations) == len(self.at) == len(self.sizes) > 0
        if not fits or any(len(row) != len(self.directions) for row in self.sizes) or not self.directions:
            raise ValueError(f"{self.title}: sizes do not fit stations and directions")
        if list(self.at) != sorted(set(self.at)):
            raise ValueError(f"{self.title}: stations must follow each other")

    @property
    def read(self) -> list[float]:
        """Every size that was read."""
        return [size for row in self.sizes for size in row if size is not None]

    @property
    def base(self) -> float:
        """The size that deviations are drawn from: unworn, else the smallest read, else 0."""
        return self.unworn if self.unworn is not None else min(self.read, default=0.0)

    def shown(self, size: float) -> str:
        """Write a size as its deviation from unworn with its sign, or in full where that is not known."""
        factor, places = (INCH, 4) if self.unit == "in" else (1.0, 3)
        if self.unworn is None:
            return words.number(size / factor, places)
        return words.signed((size - self.unworn) / factor, places)


def per_mm(profiles: Sequence[Profile]) -> float:
    """Return how many pixels a mm of deviation takes: the largest of the set fills `WORN_ACROSS`."""
    shown = ((p, size) for p in profiles for size in (*p.read, p.listed) if size is not None)
    largest = max((abs(size - p.base) for p, size in shown), default=0.0)
    return WORN_ACROSS / largest if largest > 0 else 1.0


def exaggeration(times: float) -> str:
    """Say how many times too large deviations are drawn, to two figures."""
    if times <= 1:
        return "drawn to scale or smaller"
    digits = max(0, math.floor(math.log10(times)) - 1)
    return f"differences in size drawn about {round(times, -digits):.0f} times too large"


def footnotes(profiles: Sequence[Profile], times: float, x: float, y: float, ground: Ground) -> Svg:
    """Draw the two lines below a set: the unit and what numbers start from, and the exaggeration."""
    units = " and ".join(dict.fromkeys(profile.unit for profile in profiles))
    known = all(profile.unworn is not None for profile in profiles)
    start = "from the unworn size" if known else "in full where the unworn size is not known"
    return join(
        text(x, y + 14, f"{units}, {start}", ground, soft=True),
        text(x, y + 32, exaggeration(times), ground, soft=True),
    )


def summary(profile: Profile) -> str:
    """Say what is read, for those who do not see the drawing."""
    rows = (
        f"{station} {direction} {profile.shown(size) if size is not None else 'not read'}"
        for station, row in zip(profile.stations, profile.sizes, strict=True)
        for direction, size in zip(profile.directions, row, strict=True)
    )
    return f"{profile.title}, {profile.unit}: {'; '.join(rows)}"
