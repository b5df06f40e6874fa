"""The TOML form of a written reason: why no rule speaks of some cells of the rulebook's matrices."""

from pydantic import field_validator, model_validator

from inspect_app.model.frozen import Frozen

from .forms_parts import Identifier

EVERY = "*"
_WORDS_OF_A_SENTENCE = 5


class UnruledForm(Frozen):
    """Why no rule of `part` asks these damage words at these places, or lets these figures close these ways.

    Either `damage` with `places` (a kind, a kind/zone, or "*"), or `quantities` (names or "*") with
    `each` (kinds of place) and `ways` ("*", "own", a concern, or concern.way). Damage words are always
    named, so that a new word must be thought about at every place.
    """

    id: Identifier
    part: Identifier
    why: str
    damage: tuple[Identifier, ...] = ()
    places: tuple[str, ...] = ()
    quantities: tuple[Identifier, ...] = ()
    each: tuple[Identifier, ...] = ()
    ways: tuple[str, ...] = ()

    @field_validator("why")
    @classmethod
    def _sentence(cls, why: str) -> str:
        if len(why.split()) < _WORDS_OF_A_SENTENCE or not why.rstrip().endswith("."):
            raise ValueError("a reason is at least one whole sentence that ends in a full stop")
        return why

    @model_validator(mode="after")
    def _one_form(self) -> "UnruledForm":
        of_damage, of_figures = (self.damage, self.places), (self.quantities, self.each, self.ways)
        if not (all(of_damage) and not any(of_figures)) and not (all(of_figures) and not any(of_damage)):
            raise ValueError('a reason has either "damage" and "places", or "quantities", "each" and "ways"')
        return self
