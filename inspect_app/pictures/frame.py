"""The frame of the map: where along the centre line and how far from it everything stands."""

import math
from dataclasses import dataclass

from inspect_app.pictures.plan import Plan
from inspect_app.rulebook.forms_shapes import BoxShape, DiscShape, PanShape, ShaftShape

PITCH, PITCH_VEE = 112, 140
FRONT = 77
OVERHANG = 15
SIDE_BY_SIDE = 13
ROOM_FOR_NUMBERS = 40
AROUND_THROW = 12


@dataclass(frozen=True)
class Frame:
    """From slots and distances of a plan to x and y; `line` is the y of the centre line."""

    plan: Plan
    line: float

    @property
    def slots(self) -> int:
        """How many bays stand in one bank."""
        return len(self.plan.rows[0])

    def edge(self, number: int) -> float:
        """Return the x between two slots, 0 before the first."""
        return FRONT + number * (PITCH_VEE if self.plan.is_vee else PITCH)

    def centre(self, bank: int, slot: int) -> float:
        """Return the x of a bay: in a V, two share a throw side by side."""
        shift = (SIDE_BY_SIDE if bank else -SIDE_BY_SIDE) if self.plan.is_vee else 0
        return (self.edge(slot) + self.edge(slot + 1)) / 2 + shift

    @property
    def left(self) -> float:
        """The x where the body begins."""
        return self.edge(0) - OVERHANG

    @property
    def right(self) -> float:
        """The x where the body ends."""
        return self.edge(self.slots) + OVERHANG

    def y(self, bank: int, distance: float) -> float:
        """Return the y at a distance from the line; the second bank lies below it."""
        return self.line + distance if bank else self.line - distance

    def top(self, bank: int, start: float, end: float) -> float:
        """Return the upper y of what reaches from one distance to another."""
        return min(self.y(bank, start), self.y(bank, end))

    def throw(self, bank: int, slot: int) -> float:
        """Return how far towards this bank the throw of a slot stands."""
        outward = self.plan.throw * math.cos(math.radians(self.plan.angles[slot]))
        return -outward if bank else outward

    def stroke(self, bank: int, slot: int) -> float:
        """Return where in its travel a bay is, 1 at the outer end, -1 at the inner."""
        turned = -self.plan.vee / 2 if bank else self.plan.vee / 2
        return math.cos(math.radians(self.plan.angles[slot] + turned))

    def station(self, number: int) -> float:
        """Return the x of a station; they share the line evenly, from end to end."""
        last = len(self.plan.stations) - 1
        share = number / last if last else 0.5
        return self.edge(0) + share * (self.edge(self.slots) - self.edge(0))


def outer(plan: Plan) -> float:
    """Return how far the farthest shape of a bank lies from the line."""
    ends = [getattr(s.shape, "end", 0.0) for s in plan.drawn if not isinstance(s.shape, PanShape | BoxShape)]
    return max([*ends, 60.0])


def below(plan: Plan) -> float:
    """Return how far the drawing reaches below the line."""
    if plan.is_vee:
        return outer(plan) + ROOM_FOR_NUMBERS
    reach = [60.0]
    for seat in plan.drawn:
        match seat.shape:
            case PanShape() | BoxShape():
                reach.append(seat.shape.end)
            case DiscShape():
                reach.append(seat.shape.radius)
            case ShaftShape():
                reach.append(plan.throw + seat.shape.radius + 2 + AROUND_THROW)
    return max(reach)
