"""The stress that a pressed-in ring would put into the wall around it, as a figure in kPa."""

from math import inf

from inspect_app.metrology.estimate import Undetermined
from inspect_app.metrology.figure import UNKNOWN, Figure
from inspect_app.metrology.press_fit import Metal, Rings, press
from inspect_app.model.units import clean, size
from inspect_app.rulebook.engine import Engine
from inspect_app.rulebook.forms_quantities import RingForm

_KPA_IN_MPA = 1000.0


def press_stress(engine: Engine, material: str | None, ring: RingForm, wall: Figure, kind: str) -> Figure:
    """Hoop stress in the wall left around a hole of this kind once it is bored for the ring.

    The ring's inside is the nominal size. `wall` is the thinnest present wall, taken all round: that
    says too much rather than too little. Its uncertainty is what a wall thinner by its own would add; where
    that leaves none the upper end is open. Unknown without a nominal size or the moduli; infinite where the
    ring leaves no wall.
    """
    inside = engine.nominal("diameter", kind)
    outer, inner = _metal(engine, material), _metal(engine, ring.material)
    if inside is None or outer is None or inner is None:
        return UNKNOWN
    lo, hi = (_stress(ring, inside, left, inner, outer) for left in (wall.hi, wall.lo))
    read = [(_stress(ring, inside, left, inner, outer), left - u) for left, u in wall.candidates]
    thin = [(stress, _stress(ring, inside, thinner, inner, outer)) for stress, thinner in read]
    candidates = tuple((stress, clean(thinner - stress)) for stress, thinner in thin if thinner < inf)
    thinner = _stress(ring, inside, wall.hi - wall.u, inner, outer)
    if thinner == inf:
        return Figure(lo, inf, 0.0, wall.evidence, wall.missing, candidates)
    return Figure(lo, hi, clean(thinner - lo), wall.evidence, wall.missing, candidates)


def _metal(engine: Engine, name: str | None) -> Metal | None:
    form = engine.book.materials.get(name or "")
    return Metal(form.modulus_gpa, form.poisson) if form and form.modulus_gpa else None


def _stress(ring: RingForm, inside: float, wall: float, inner: Metal, outer: Metal) -> float:
    """In kPa; the stress falls as the wall grows, to that of an endless one."""
    joint = inside + 2 * size(ring.wall)
    outside = inside + 2 * wall
    if outside <= joint:
        return inf
    rings = Rings(inside, joint, min(outside, 100 * joint), inner, outer)
    pressed = press(rings, size(ring.interference))
    return inf if isinstance(pressed, Undetermined) else clean(pressed.hoop_outer * _KPA_IN_MPA)
