"""The core: one used engine with its record, pieces and evidence, as `core.json` holds it."""

from pathlib import PurePosixPath
from typing import Literal

from pydantic import Field, GetJsonSchemaHandler, field_validator, model_validator
from pydantic.json_schema import JsonSchemaValue
from pydantic_core import CoreSchema

from .evidence import Evidence
from .frozen import BuildStandard, Frozen, Stage
from .pieces import Piece


class Amount(Frozen):
    """Money as low, likely and high; one number stands for all three."""

    low: float = Field(ge=0, allow_inf_nan=False)
    likely: float = Field(ge=0, allow_inf_nan=False)
    high: float = Field(ge=0, allow_inf_nan=False)

    @model_validator(mode="before")
    @classmethod
    def _single(cls, value: object) -> object:
        if isinstance(value, int | float) and not isinstance(value, bool):
            return {"low": value, "likely": value, "high": value}
        return value

    @classmethod
    def __get_pydantic_json_schema__(
        cls, schema: CoreSchema, handler: GetJsonSchemaHandler
    ) -> JsonSchemaValue:
        """The form with three numbers, or one number."""
        return {"anyOf": [handler(schema), {"type": "number", "minimum": 0}]}

    @model_validator(mode="after")
    def _ordered(self) -> "Amount":
        if not self.low <= self.likely <= self.high:
            raise ValueError(f"low {self.low:g}, likely {self.likely:g}, high {self.high:g} are out of order")
        return self

    @property
    def mean(self) -> float:
        """Mean of the triangle."""
        return (self.low + self.likely + self.high) / 3


class Claim(Frozen):
    """What the seller says, and whether the evidence agrees."""

    text: str
    state: Literal["unchecked", "agrees", "contradicted"] = "unchecked"


class Alternative(Frozen):
    """What else could be bought instead of building this core."""

    name: str
    price: Amount


class NumberRead(Frozen):
    """A casting number, date code or stamp as read, with the photo that shows it."""

    what: str
    text: str
    photo: str | None = None


class CoreRecord(Frozen):
    """What is known of the core as a whole; money in the currency of the price book."""

    claims: tuple[Claim, ...] = ()
    asking_price: Amount | None = None
    value_built: Amount | None = None
    value_in_parts: Amount | None = None
    alternatives: tuple[Alternative, ...] = ()
    numbers_read: tuple[NumberRead, ...] = ()
    content: Literal["bare", "short", "long", "complete"] = "complete"
    parts: dict[str, Literal["there", "missing", "foreign"]] = Field(default_factory=dict)


class FileEntry(Frozen):
    """A file of the core's folder and the SHA-256 of its bytes; the path stays inside the folder."""

    path: str
    sha256: str = Field(pattern="^[0-9a-f]{64}$")

    @field_validator("path")
    @classmethod
    def _inside(cls, value: str) -> str:
        path = PurePosixPath(value)
        if path.is_absolute() or ".." in path.parts or "\\" in value or str(path) != value or value == ".":
            raise ValueError("the path leaves the core's folder. Name a file inside it, with forward slashes")
        return value


class Core(Frozen):
    """One core. `use` says what the built engine is for; every verdict names the build standard."""

    core_version: Literal[1] = 1
    id: str = Field(pattern=r"^[a-z0-9][a-z0-9\-]*$")
    title: str = Field(min_length=1)
    stage: Stage
    build_standard: BuildStandard
    use: str = ""
    files: tuple[FileEntry, ...] = ()
    record: CoreRecord = CoreRecord()
    pieces: tuple[Piece, ...] = ()
    evidence: tuple[Evidence, ...] = ()
