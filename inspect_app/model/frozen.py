"""The base of everything the library passes around, and the words that its parts share."""

from typing import Literal

from pydantic import BaseModel, ConfigDict

Stage = Literal["yard_look", "teardown", "bench", "machine_shop", "fit_check", "closed"]
BuildStandard = Literal["run", "freshen", "rebuild"]
Source = Literal["own", "another_core", "used", "exchange", "new"]
Verdict = Literal["reuse", "recondition", "replace", "scrap"]
Standing = Literal["settled", "provisional"]
CoreChoice = Literal["build", "break", "let_go"]
WayState = Literal["closed", "open", "proven"]
LimitFrom = Literal["maker", "shop", "pack"]
EntryKind = Literal[
    "sign", "look", "finding", "reading", "test", "report", "decision", "sheet", "price", "piece"
]


class Frozen(BaseModel):
    """Base of everything the library passes around: immutable, and strict about unknown keys."""

    # Schemas are built on first use: a program that only reads an answer builds no rule forms.
    model_config = ConfigDict(frozen=True, extra="forbid", defer_build=True)


class Spread(Frozen):
    """An amount of money as a triangle; `mean` = (low + likely + high) / 3 and ranks."""

    low: float
    likely: float
    high: float
    mean: float
