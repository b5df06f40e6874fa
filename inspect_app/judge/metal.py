"""How much metal a way takes off, and how much of the same stock is gone already."""

from math import isfinite

from inspect_app.closing.scene import RealScene
from inspect_app.model.places import Place, parse_place
from inspect_app.model.units import size
from inspect_app.rulebook.forms_parts import WayForm


def metal_taken(scene: RealScene, way: WayForm) -> float:
    """Metal in mm that a way takes off the piece of a scene; 0 for one that takes none.

    What the rule says it `takes`, or the known end of its `at_least` figure at the worst place, if that
    is more: what is not read cannot be counted yet.
    """
    usual = size(way.takes) if way.takes else 0.0
    kinds = [kind for kind in scene.kinds() if (way.at_least, kind) in scene.engine.book.quantities]
    needed = [
        scene.figures.figure(way.at_least or "", place).lo for kind in kinds for place in scene.places(kind)
    ]
    return max([usual, *filter(isfinite, needed)])


def metal_gone(scene: RealScene, quantity: str, kind: str) -> float:
    """Metal in mm that earlier work took off, at the place that lost most; 0 where nobody tells of any.

    What was read, stamped on the piece or recorded with its work; of several the most: each only tells
    what is gone for sure.
    """
    return max((_gone(scene, quantity, place) for place in scene.places(kind)), default=0.0)


def _gone(scene: RealScene, quantity: str, place: Place) -> float:
    read = scene.figures.figure(quantity, place).lo
    piece = scene.evidence.piece
    marks = [m.size for m in piece.marks if m.quantity == quantity and parse_place(m.place).covers(place)]
    told = [*marks, scene.evidence.history.size_cut(quantity, place)]
    return max([0.0, *filter(isfinite, [read]), *(size(text) for text in told if text)])
