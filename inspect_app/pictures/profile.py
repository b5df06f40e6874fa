"""What a profile is drawn from: sizes of one round place at stations along it and in directions across."""

import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Literal

from inspect_app.pictures import words
from inspect_app.pictures.svg import Svg, join, text
from inspect_app.pictures.tokens import Ground

INCH = 25.4
FOOT_LINE = 18
WORN_ACROSS = 62
"""How wide the largest deviation of a set is drawn."""


@dataclass(frozen=True)
class Profile:
    """Sizes in `unit`: `sizes[station][direction]`, None where nothing was read; `at` is mm along the place.

    Without `at` the stations are drawn evenly and no distance is written. `unworn` is the present unworn
    size, `listed` the next size to cut to with its name.
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
        fits = len(self.stations) == len(self.along) == len(self.sizes) > 0
        if not fits or any(len(row) != len(self.directions) for row in self.sizes) or not self.directions:
            raise ValueError(f"{self.title}: sizes do not fit stations and directions")
        if list(self.at) != sorted(set(self.at)):
            raise ValueError(f"{self.title}: stations must follow each other")

    @property
    def along(self) -> tuple[float, ...]:
        """Where each station is drawn along the place: mm, or a step apart where nobody said."""
        return self.at or tuple(float(number) for number in range(len(self.stations)))

    @property
    def signs(self) -> list[str]:
        """The words at each station: its name, with its distance where that is known."""
        if not self.at:
            return list(self.stations)
        return [f"{name}, {at:g} mm" for name, at in zip(self.stations, self.at, strict=True)]

    @property
    def read(self) -> list[float]:
        """Every size that was read."""
        return [size for row in self.sizes for size in row if size is not None]

    @property
    def base(self) -> float:
        """The size that deviations are drawn from: unworn, else the smallest read, else 0."""
        return self.unworn if self.unworn is not None else min(self.read, default=0.0)

    @property
    def in_mm(self) -> float:
        """How many mm one of the unit is."""
        return INCH if self.unit == "in" else 1.0

    def shown(self, size: float) -> str:
        """Write a size as its deviation from unworn with its sign, or in full where that is not known."""
        places = words.GAUGE_PLACES[self.unit]
        if self.unworn is None:
            return words.number(size, places)
        return words.signed(size - self.unworn, places)


def per_mm(profiles: Sequence[Profile]) -> float:
    """Return how many pixels a mm of deviation takes: the largest of the set fills `WORN_ACROSS`."""
    shown = ((p, size) for p in profiles for size in (*p.read, p.listed) if size is not None)
    largest = max((abs(size - p.base) * p.in_mm for p, size in shown), default=0.0)
    return WORN_ACROSS / largest if largest > 0 else 1.0


def along_per_mm(profiles: Sequence[Profile], room: float) -> float:
    """Return how many pixels a mm along takes, or a step between stations: the longest fills `room`."""
    longest = max(profile.along[-1] - profile.along[0] for profile in profiles)
    return room / longest if longest else 1.0


def exaggeration(times: float) -> str:
    """Say how many times too large deviations are drawn, to two figures."""
    if times <= 1:
        return "drawn to scale or smaller"
    digits = max(0, math.floor(math.log10(times)) - 1)
    return f"differences in size drawn about {round(times, -digits):.0f} times too large"


def footnotes(profiles: Sequence[Profile], across: float, along: float) -> list[str]:
    """Write what stands below a set: the unit, what numbers start from, the exaggeration where it is known.

    `across` and `along` are pixels a mm, in size and along the place.
    """
    units = " and ".join(dict.fromkeys(profile.unit for profile in profiles))
    known = all(profile.unworn is not None for profile in profiles)
    cut = ["two-dot line: the size to cut to"] if any(p.listed is not None for p in profiles) else []
    start = "from the unworn size" if known else "in full where the unworn size is not known"
    if all(profile.at for profile in profiles):
        return [f"{units}, {start}", *cut, exaggeration(across / along)]
    even = "stations drawn evenly, as no distance is given"
    return [f"{units}, {start}", *cut, "differences in size drawn far too large", even]


def foot(lines: Sequence[str]) -> float:
    """Return how high the lines below a set stand."""
    return 8 + FOOT_LINE * len(lines)


def draw_footnotes(lines: Sequence[str], x: float, y: float, ground: Ground) -> Svg:
    """Draw the lines below a set."""
    return join(*(text(x, y + 14 + FOOT_LINE * at, said, ground, soft=True) for at, said in enumerate(lines)))


def summary(profile: Profile) -> str:
    """Say what is read, for those who do not see the drawing."""
    rows = (
        f"{station} {direction} {profile.shown(size) if size is not None else 'not read'}"
        for station, row in zip(profile.stations, profile.sizes, strict=True)
        for direction, size in zip(profile.directions, row, strict=True)
    )
    return f"{profile.title}, {profile.unit}: {'; '.join(rows)}"
