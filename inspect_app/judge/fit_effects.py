"""What the whole becomes by the ways chosen: volumes, ratio, and what milled faces move."""

from collections.abc import Callable, Iterator
from dataclasses import dataclass
from math import fsum

from inspect_app.metrology.display import GAUGE_PLACES, number
from inspect_app.metrology.engine_arithmetic import (
    chamber_after_cut,
    clearance_cm3,
    compression_ratio,
    side_face_shift,
    stack_change,
    swept_cm3,
    timing_lag,
)
from inspect_app.metrology.estimate import Undetermined
from inspect_app.model.answer import Answer
from inspect_app.model.answer_figures import WayTaken
from inspect_app.model.fit_answer import Effect
from inspect_app.model.units import from_canonical, size
from inspect_app.rulebook.engine import Engine
from inspect_app.rulebook.forms_fits import DIMENSIONS, ROLES, EffectForm, EffectName
from inspect_app.rulebook.seats import Seat, seats
from inspect_app.rulebook.shown_units import LENGTHS

from .fit_figures import States, present_size
from .metal import metal_taken

Sizes = dict[str, float]
Result = tuple[float | Undetermined, float | Undetermined, str]
"""Before, after, and what goes with it, in the canonical unit."""


def effects(engine: Engine, states: States, answer: Answer) -> Iterator[Effect]:
    """Every effect that this machine has; one whose inputs are lacking says which."""
    taken = {(part.position, way.concern): way for part in answer.parts for way in part.ways}
    for form in engine.book.effects.values():
        work = _Work(engine, states, taken, form)
        if work.told():
            yield work.effect()


@dataclass(frozen=True)
class _Work:
    engine: Engine
    states: States
    taken: dict[tuple[str, str], WayTaken]
    form: EffectForm

    def told(self) -> bool:
        plan, counts = self.engine.book.pack.map, self.engine.sheet.counts
        if self.form.name == "side_faces" and (plan is None or counts[plan.banks] != 2):
            return False
        rows = self.engine.sheet.quantities
        wanted = (self.form.takes[role] for role in ROLES[self.form.name])
        return not self.form.only_if_given or any(name in rows for name in wanted)

    def effect(self) -> Effect:
        before, missing = self._sizes(as_new=True)
        after, missing_now = self._sizes(as_new=False)
        form = self.form
        told = Effect(effect=form.id, title=form.title, unit=self.unit, before=None, after=None)
        lacking = tuple(dict.fromkeys((*missing, *missing_now)))
        if lacking:
            return told.model_copy(update={"missing": lacking, "says": form.note})
        was, becomes, says = _CALCULATORS[form.name](self, before, after)
        reasons = [value.reason for value in (was, becomes) if isinstance(value, Undetermined)]
        return told.model_copy(
            update={
                "before": self._out(was),
                "after": self._out(becomes),
                "says": " ".join(filter(None, (says, form.note))),
                "missing": tuple(dict.fromkeys(reasons)),
            }
        )

    def _out(self, value: float | Undetermined) -> float | None:
        if isinstance(value, Undetermined):
            return None
        dimension = DIMENSIONS[self.form.name]
        return from_canonical(value, self.unit or "dimensionless", dimension)

    @property
    def unit(self) -> str:
        """What the effect is shown in: a length as most lengths on the sheet."""
        shown = self.form.shown_in
        return (self.engine.usual_length or shown) if shown in LENGTHS else shown

    def _sizes(self, as_new: bool) -> tuple[Sizes, list[str]]:
        """Each input as the sheet has it, or as it is now, and what is lacking."""
        found, lacking = {}, []
        for role, name in self.form.takes.items():
            value = self._size(name, as_new)
            if not isinstance(value, Undetermined):
                found[role] = value
            elif role in ROLES[self.form.name]:
                lacking.append(value.reason)
        return found, lacking

    def _size(self, name: str, as_new: bool) -> float | Undetermined:
        kind, _, quantity = name.partition(".")
        nominal = self.engine.nominal(quantity, kind)
        if as_new and nominal is not None:
            return nominal
        return _mean([present_size(self.engine, self.states, quantity, seat) for seat in self._seats(kind)])

    def _seats(self, kind: str) -> tuple[Seat, ...]:
        return seats(self.engine, self._owner(kind), kind)

    def _owner(self, kind: str) -> str:
        parts = self.engine.book.parts.values()
        return next(part.id for part in parts if self.engine.book.place_form(part.id, kind))

    def bores(self) -> list[float | Undetermined]:
        """Each bore after the way chosen: its listed size, standard where done otherwise, or as it is."""
        kind, _, quantity = self.form.takes["bore"].partition(".")
        return [self._bore(quantity, seat) for seat in self._seats(kind)]

    def _bore(self, quantity: str, seat: Seat) -> float | Undetermined:
        concern = (self.form.sized_by or "").partition(".")[2]
        way = self.taken.get((seat.position.id, concern))
        nominal = self.engine.nominal(quantity, seat.place.kind)
        if way is None or nominal is None or (way.size is None and str(seat.place) not in way.except_at):
            return present_size(self.engine, self.states, quantity, seat)
        return nominal if str(seat.place) in way.except_at else nominal + size(way.size or "0")

    def cut(self, of: str) -> float:
        """How much the way chosen for a concern takes off a face, mm; the most of several pieces."""
        part, _, name = of.partition(".")
        concern = self.engine.book.concern(part, name)
        rungs = {way.id: way for way in concern.rungs()} if concern else {}
        chosen = [(at, way.way) for (at, of_), way in self.taken.items() if of_ == name]
        cuts = [(at, rungs[way]) for at, way in chosen if self._part(at) == part and way in rungs]
        return max((metal_taken(self.states[at].scene, way) for at, way in cuts), default=0.0)

    def _part(self, position: str) -> str:
        return self.engine.positions[position].part

    def cuts_of(self, kind: str) -> float:
        """What is taken off faces of the part that has this kind of place."""
        owner = self._owner(kind)
        return fsum(self.cut(of) for of in self.form.cuts if of.partition(".")[0] == owner)

    def lowered(self, before: Sizes, after: Sizes) -> float:
        """By how much the whole stack sits lower, mm."""
        cuts = tuple(self.cut(of) for of in self.form.cuts)
        return -stack_change(cuts, after.get("gasket", 0.0), before.get("gasket", 0.0))


def _mean(values: list[float | Undetermined]) -> float | Undetermined:
    known = [value for value in values if not isinstance(value, Undetermined)]
    if len(known) < len(values):
        return next(value for value in values if isinstance(value, Undetermined))
    return fsum(known) / len(known)


def _swept(work: _Work, before: Sizes, after: Sizes) -> Result:
    bores = work.bores()
    lacking = next((bore for bore in bores if isinstance(bore, Undetermined)), None)
    known = [bore for bore in bores if not isinstance(bore, Undetermined)]
    was = swept_cm3(before["bore"], before["stroke"], len(bores))
    return was, lacking or fsum(swept_cm3(bore, after["stroke"]) for bore in known), ""


def _ratio(work: _Work, before: Sizes, after: Sizes) -> Result:
    bore = _mean(work.bores())
    if isinstance(bore, Undetermined):
        return bore, bore, ""
    chamber_kind = work.form.takes["chamber"].partition(".")[0]
    off_chamber = work.cuts_of(chamber_kind)
    off_rest = fsum(work.cut(of) for of in work.form.cuts) - off_chamber
    chamber = chamber_after_cut(after["chamber"], after["face_area"], off_chamber)
    was = _ratio_of(before, before["bore"], before["chamber"], before["deck"])
    if isinstance(chamber, Undetermined):
        return was, chamber, ""
    return was, _ratio_of(after, bore, chamber, after["deck"] - off_rest), ""


def _ratio_of(sizes: Sizes, bore: float, chamber: float, deck: float) -> float | Undetermined:
    left = clearance_cm3(chamber, bore, deck, sizes["gasket_bore"], sizes["gasket"], sizes["dish"])
    if left <= 0:
        return Undetermined("no volume would be left at the top: check chamber, top clearance and gasket")
    return compression_ratio(swept_cm3(bore, sizes["stroke"]), left)


def _stack(work: _Work, before: Sizes, after: Sizes) -> Result:
    return 0.0, -work.lowered(before, after), ""


def _side_faces(work: _Work, before: Sizes, after: Sizes) -> Result:
    shift = side_face_shift(work.lowered(before, after), after["bank_angle"], after["face_angle"])
    sinks = from_canonical(shift.down, work.unit)
    return 0.0, shift.side, f"It then sinks by {number(sinks, GAUGE_PLACES.get(work.unit, 4))} {work.unit}."


def _lag(work: _Work, before: Sizes, after: Sizes) -> Result:
    return 0.0, timing_lag(work.lowered(before, after), after["pitch_radius"]).driver, ""


_CALCULATORS: dict[EffectName, Callable[[_Work, Sizes, Sizes], Result]] = {
    "swept_volume": _swept,
    "compression_ratio": _ratio,
    "stack_height": _stack,
    "side_faces": _side_faces,
    "drive_lag": _lag,
}
