"""The TOML forms of conditions: a closed set of heads, so that every rule can be checked for polarity."""

from typing import Annotated, Any, Literal

from pydantic import Discriminator, Field, Tag, model_validator

from inspect_app.model.frozen import Frozen

from .forms_parts import Identifier


class FindingCondition(Frozen):
    """Met where the damage word is seen or confirmed; open where nobody settled its absence."""

    finding: Identifier
    zone: str = ""
    place: Identifier | None = None


class FigureCondition(Frozen):
    """Met where a figure is past its limit, or past a size written here.

    With `if_read` it is not met while nothing was ever read of it: for a second way to measure one thing.
    A reading that no longer counts asks for another. With `if_limited` it is not met where nobody limits it:
    for what only some makers limit.
    """

    figure: Identifier
    is_: Literal["past limit"] | None = Field(default=None, alias="is")
    above: str | None = None
    below: str | None = None
    place: Identifier | None = None
    if_read: bool = False
    if_limited: bool = False

    @model_validator(mode="after")
    def _one(self) -> "FigureCondition":
        if sum(x is not None for x in (self.is_, self.above, self.below)) != 1:
            raise ValueError('a figure is either is = "past limit", above = "..." or below = "..."')
        if self.if_limited and self.is_ is None:
            raise ValueError('if_limited goes with is = "past limit": a size written here is a limit')
        return self


class SignCondition(Frozen):
    """Met when a yard check was answered so; open while nobody answered it."""

    sign: Identifier
    answer: str


class TestCondition(Frozen):
    """Met where a test found what it looks for; open where it was not done."""

    __test__ = False
    test: Identifier
    zone: str = ""
    place: Identifier | None = None


class LookCondition(Frozen):
    """Never met: it stays open until somebody looked by this method, for what no other rule asks."""

    look: Identifier
    zone: str = ""
    place: Identifier | None = None


class ReportCondition(Frozen):
    """Met by an outside report with grounds; open when the report gives none; not met without one."""

    report: Identifier


class MadeOfCondition(Frozen):
    """Met by a piece of one of these materials or of kind `or_kind`; open while nobody told its material."""

    made_of: tuple[Identifier, ...] = Field(min_length=1)
    or_kind: str | None = None


class AllCondition(Frozen):
    all: tuple["Condition", ...] = Field(min_length=1)


class AnyCondition(Frozen):
    any: tuple["Condition", ...] = Field(min_length=1)


class NotCondition(Frozen):
    not_: "Condition" = Field(alias="not")


HEADS = ("finding", "figure", "sign", "test", "look", "report", "made_of", "all", "any", "not")


def _head(value: Any) -> str | None:
    if isinstance(value, dict):
        return next((head for head in HEADS if head in value), None)
    return next((head for head in HEADS if hasattr(value, head) or hasattr(value, f"{head}_")), None)


Condition = Annotated[
    Annotated[FindingCondition, Tag("finding")]
    | Annotated[FigureCondition, Tag("figure")]
    | Annotated[SignCondition, Tag("sign")]
    | Annotated[TestCondition, Tag("test")]
    | Annotated[LookCondition, Tag("look")]
    | Annotated[ReportCondition, Tag("report")]
    | Annotated[MadeOfCondition, Tag("made_of")]
    | Annotated[AllCondition, Tag("all")]
    | Annotated[AnyCondition, Tag("any")]
    | Annotated[NotCondition, Tag("not")],
    Discriminator(
        _head,
        custom_error_type="condition_head",
        custom_error_message="a condition starts with one of: " + ", ".join(HEADS),
    ),
]

for _form in (AllCondition, AnyCondition, NotCondition):
    _form.model_rebuild()
