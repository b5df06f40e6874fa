"""How much metal a way takes off, by its rule and by what the readings prove that it needs."""

from math import isfinite

from inspect_app.closing.scene import RealScene
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
