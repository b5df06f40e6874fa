"""The TOML forms that draw a machine: kinds of geometry along one centre line, no name of any part.

Lengths are in drawing units, about a pixel at 1:1; `start` and `end` are distances from the centre line.
"""

from typing import Annotated, Literal, TypeAlias

from pydantic import Field

from inspect_app.model.frozen import Frozen


class PhaseForm(Frozen):
    """Angles of the throws from the front, for so many bays in each of so many banks."""

    bays: int = Field(gt=0)
    banks: Literal[1, 2] = 1
    angles: tuple[float, ...] = Field(min_length=1)


class MapForm(Frozen):
    """What the map of the machine is laid out by: counts of the sheet along one centre line.

    `bays` counts the channels, `banks` their rows, `stations` the bearings of the line between the bays.
    `rows` names the convention of a sheet that lists the bays of each bank, as "1 3 5 / 2 4 6"; `layout`
    the one that says how the banks stand, as "inline" or "V6 at 90 degrees".
    """

    bays: str
    banks: str
    stations: str
    station_sign: str = ""
    ends: tuple[str, str] = ("front", "rear")
    rows: str = "bay_rows"
    layout: str = "layout"
    bay_word: str = "bay"
    throw: float = Field(default=27, ge=0)
    vee: float = 90
    phase: tuple[PhaseForm, ...] = ()


class _Shape(Frozen):
    """`layer`: the higher lies over the lower. `label`: words at the leader, if not the part's title."""

    layer: int = 0
    label: str = ""


class _Radial(_Shape):
    start: float = Field(ge=0)
    end: float = Field(gt=0)


class BlockShape(_Radial):
    """A body over the whole length of every bank, open by a channel at each bay."""

    kind: Literal["block"]
    channel: float = Field(gt=0)
    wall: float = Field(default=0, ge=0)


class SlabShape(_Radial):
    """A body over the whole length of its bank; `recess` is hollowed into it at each bay."""

    kind: Literal["slab"]
    recess: float = Field(default=0, ge=0)
    overhang: float = 0


class SlugShape(_Radial):
    """A body in each channel, at `start` to `end` in mid travel; lines across it, a hole through it."""

    kind: Literal["slug"]
    width: float = Field(gt=0)
    travel: float = Field(default=0, ge=0)
    grooves: tuple[float, ...] = ()
    hole: float = Field(default=0, ge=0)


class LinkShape(_Radial):
    """A body from the throw (wide, `start` below its middle) to `end` in mid travel (narrow)."""

    kind: Literal["link"]
    wide: float = Field(gt=0)
    narrow: float = Field(gt=0)
    travel: float = Field(default=0, ge=0)


class ShaftShape(_Shape):
    """A shaft on the centre line: `radius` at the stations, `pin` at the throws, cheeks beside them."""

    kind: Literal["shaft"]
    radius: float = Field(gt=0)
    pin: float = Field(gt=0)
    cheek: float = Field(gt=0)
    pin_width: float = Field(default=30, gt=0)


class DiscShape(_Shape):
    """A wheel at one end of the centre line; `along` is its distance from the last station."""

    kind: Literal["disc"]
    at: Literal["front", "rear"]
    radius: float = Field(gt=0)
    width: float = Field(gt=0)
    along: float = 0


class PanShape(_Radial):
    """A tray below the line of a machine with one bank; a V, opened like a book, has it in the list."""

    kind: Literal["pan"]
    slope: float = 26


class BoxShape(_Radial):
    """A plain box below the line of a machine with one bank, `along` its length from 0 to 1."""

    kind: Literal["box"]
    along: float = Field(ge=0, le=1)
    width: float = Field(gt=0)


ShapeForm: TypeAlias = Annotated[
    BlockShape | SlabShape | SlugShape | LinkShape | ShaftShape | DiscShape | PanShape | BoxShape,
    Field(discriminator="kind"),
]
