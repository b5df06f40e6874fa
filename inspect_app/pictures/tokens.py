"""Colours of the three grounds, line weights and dashes: the one source for screens and drawings."""

from dataclasses import asdict, dataclass
from typing import Literal

GroundName = Literal["light", "dark", "paper"]


@dataclass(frozen=True)
class Ground:
    """What is drawn on, and with what. `strong` is the heavy weight that the ground's renderer has."""

    name: GroundName
    paper: str
    panel: str
    ink: str
    soft: str
    accent: str
    rule: str
    reuse: str
    recondition: str
    replace: str
    strong: int = 600

    def colours(self) -> dict[str, str]:
        """The colours alone, by token."""
        return {name: value for name, value in asdict(self).items() if name not in ("name", "strong")}


LIGHT = Ground(
    name="light",
    paper="#FBFCFB",
    panel="#EFF2F1",
    ink="#17222B",
    soft="#4F5D66",
    accent="#1B5563",
    rule="#C3CCCB",
    reuse="#A6D2EE",
    recondition="#F8DC98",
    replace="#D693B8",
)
DARK = Ground(
    name="dark",
    paper="#141A1E",
    panel="#1D252A",
    ink="#E6EBEA",
    soft="#A7B3B8",
    accent="#86C5D1",
    rule="#46535A",
    reuse="#174A6C",
    recondition="#7E5A0A",
    replace="#97567E",
)
PAPER = Ground(
    name="paper",
    paper="#FFFFFF",
    panel="#F3F5F4",
    ink="#111A21",
    soft="#46535B",
    accent="#1B5563",
    rule="#BFC8C7",
    reuse="#A6D2EE",
    recondition="#F8DC98",
    replace="#D693B8",
    strong=700,
)
GROUNDS: dict[GroundName, Ground] = {ground.name: ground for ground in (LIGHT, DARK, PAPER)}

MARKED, UNDER_MARK, BALLOON = "#F2E94E", "#111A21", "#FFFFFF"
"""On a photo, whatever the ground: the line of a mark, the ink under it, and the balloon of its letter."""

FONT = "'IBM Plex Sans Condensed', 'IBM Plex Sans', system-ui, sans-serif"

LIMIT = 2.4
SETTLED = 1.8
PROVISIONAL = 1.2
DRAWN = 1.2
UNJUDGED = 1.1
CENTRE = 0.8
HATCH = 0.75
LEADER = 0.7

CHAIN = "16 3 2 3"
TWO_DOT = "9 2.5 1.5 2.5 1.5 2.5"
DOTS = "1.2 2.6"
