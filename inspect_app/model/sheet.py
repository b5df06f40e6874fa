"""The engine sheet: counts, sizes, limits and conventions, typed from the maker's manual once per family.

Every number is optional and kept as typed, with its unit ("3.4331 in"). The ids of counts and
quantities are declared by the rule pack; `inspect_app.rulebook` checks a sheet against it.
"""

from typing import Annotated, Literal

from pydantic import Field

from .frozen import Frozen


class SheetQuantity(Frozen):
    """One row: sizes as text with unit. `minimum` and `maximum` are the new range."""

    nominal: str | None = None
    minimum: str | None = None
    maximum: str | None = None
    wear_limit: str | None = None
    sizes: tuple[str, ...] = Field(default=(), description="listed steps from standard, as amounts")
    conditions: tuple[str, ...] = Field(default=(), description="conditions a reading must be taken in")
    note: str = ""

    def texts(self) -> dict[str, str]:
        """Every size typed in this row by the name of its field."""
        named = {name: getattr(self, name) for name in ("nominal", "minimum", "maximum", "wear_limit")}
        listed = {f"sizes.{number}": text for number, text in enumerate(self.sizes)}
        return {name: text for name, text in named.items() if text is not None} | listed


class SheetKinds(Frozen):
    """The kind this family left the factory with, and others that exist for the position.

    `rows` holds, by kind, the quantities in which it differs from the one fitted.
    """

    fitted: str
    others: tuple[str, ...] = ()
    rows: dict[str, dict[str, SheetQuantity]] = Field(default_factory=dict)


class EngineSheet(Frozen):
    """One engine family (or another machine): what the rule pack needs to know of it."""

    sheet_version: Literal[1] = 1
    id: str = Field(min_length=1)
    title: str
    source: str = Field(description="document, page and table that the numbers were typed from")
    counts: dict[str, Annotated[int, Field(gt=0, le=64)]] = Field(default_factory=dict)
    names: dict[str, tuple[str, ...]] = Field(
        default_factory=dict, description="names instead of numbers for a count, e.g. left and right heads"
    )
    materials: dict[str, str] = Field(default_factory=dict)
    kinds: dict[str, SheetKinds] = Field(default_factory=dict)
    quantities: dict[str, SheetQuantity] = Field(default_factory=dict)
    conventions: dict[str, str] = Field(default_factory=dict)
