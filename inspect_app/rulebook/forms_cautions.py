"""The TOML form of a caution: what can hurt whoever handles a part, told on its papers."""

from pydantic import Field

from inspect_app.model.frozen import Frozen

from .forms_parts import Identifier


class CautionForm(Frozen):
    """A danger (`says`, no full stop) and what to do about it (`do`, a sentence).

    It is told of the `parts` named, of every part where none is; with `damage`, only where a finding that
    weighed is one of these.
    """

    id: Identifier
    says: str = Field(min_length=1, max_length=80)
    do: str = Field(min_length=1, max_length=200)
    parts: tuple[Identifier, ...] = ()
    damage: tuple[Identifier, ...] = ()
    basis: str = Field(min_length=1)
