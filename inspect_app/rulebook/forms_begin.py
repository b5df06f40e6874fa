"""The TOML forms of what is asked to begin a core without an engine sheet."""

from pydantic import Field, model_validator

from inspect_app.model.frozen import Frozen


class LayoutForm(Frozen):
    """One way of standing: its words for the sheet, and a row of counts for each number there is of it.

    `said` may name a count in braces. `names` replaces the numbers of a count by words.
    """

    id: str = Field(min_length=1)
    title: str
    said: str = Field(min_length=1)
    counts: tuple[dict[str, int], ...] = Field(min_length=1)
    names: dict[str, tuple[str, ...]] = Field(default_factory=dict)


class MaterialAskForm(Frozen):
    """A part whose material is asked for, and the materials to choose from, the usual one first."""

    part: str
    of: tuple[str, ...] = Field(min_length=1)


class WordsAskForm(Frozen):
    """A convention of the sheet that is asked for, and the words to choose from, the usual ones first."""

    id: str = Field(min_length=1)
    title: str
    of: tuple[str, ...] = Field(min_length=1)


class BeginForm(Frozen):
    """What a minimal engine sheet is made from: `ask` is the count from which all others follow."""

    ask: str
    basis: str = Field(min_length=1)
    layout: tuple[LayoutForm, ...] = Field(min_length=1)
    material: tuple[MaterialAskForm, ...] = ()
    convention: tuple[WordsAskForm, ...] = ()

    @model_validator(mode="after")
    def _each_once(self) -> "BeginForm":
        for form in self.layout:
            numbers = [row.get(self.ask) for row in form.counts]
            if None in numbers or len(set(numbers)) < len(numbers):
                raise ValueError(f'each row of the layout "{form.id}" needs its own number of {self.ask}')
        ids = [form.id for form in self.layout]
        if len(set(ids)) < len(ids):
            raise ValueError("two layouts have one id")
        return self
