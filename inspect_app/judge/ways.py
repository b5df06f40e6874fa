"""The ways that an outcome takes, in the words of the answer."""

import numpy as np

from inspect_app.closing.piece_state import FLOOR, Closings
from inspect_app.model.answer_figures import WayTaken

from .choices import Concern
from .joint import Outcome


def ways_taken(outcome: Outcome, position: str) -> tuple[WayTaken, ...]:
    """The way taken for each concern, with the places done otherwise."""
    return tuple(
        way_taken(outcome.closings[position], concern, way) for concern, way in outcome.ways(position)
    )


def way_taken(closings: Closings, concern: Concern, number: int) -> WayTaken:
    """One way in the words of the answer."""
    ladder = closings.ladders[concern.number]
    way = ladder.ways[number]
    apart = ladder.exceptions[number, :, FLOOR] if ladder.concern.exception else np.zeros(0, dtype=bool)
    places = tuple(str(place) for place, there in zip(ladder.places, apart, strict=False) if there)
    other = ladder.concern.exception
    return WayTaken(
        concern=concern.id,
        way=way.form.id,
        size=way.size,
        except_at=places,
        except_way=other.id if other and places else None,
    )
