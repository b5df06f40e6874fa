"""What each place of a set needs and bears, for the plan of its sizes, and how that is told."""

from dataclasses import dataclass
from math import inf, isfinite

from inspect_app.metrology.estimate import Estimate
from inspect_app.metrology.figure import Figure
from inspect_app.metrology.size_plan import Spot
from inspect_app.metrology.sizes import needed_step, next_listed
from inspect_app.model.answer_figures import Measured, SizeNeed
from inspect_app.model.places import Place
from inspect_app.rulebook.forms_quantities import QuantityForm

from .ladders import Ladder, Way, keep_pair, needed, remaining, unsupplied
from .piece_state import FLOOR, PieceState
from .shown import measured, out


@dataclass(frozen=True)
class SizeSet:
    """One ladder of common size on one piece, with the form of the quantity that its places need."""

    state: PieceState
    ladder: Ladder
    form: QuantityForm

    @property
    def sized(self) -> list[tuple[int, Way, float]]:
        """Rung, way and step (mm) of every listed size for which parts exist."""
        concern, scene = self.ladder.concern, self.state.scene
        return [
            (number, way, way.size_mm)
            for number, way in enumerate(self.ladder.ways)
            if way.size_mm is not None and not unsupplied(scene, concern, way)
        ]

    def spot(self, index: int) -> Spot:
        """What the readings prove so far of one place: its need, and the largest size its metal bears.

        A place that a rule sends to an exception at every size needs more than any.
        """
        place, scene, concern = self.ladder.places[index], self.state.scene, self.ladder.concern
        need = needed(scene, concern, place).lo
        thin = [keep_pair(scene, concern, way, number, place)[0] for number, way, _ in self.sized]
        steps = [step for _, _, step in self.sized]
        fails = [bool(self.ladder.exceptions[number, index, FLOOR]) for number, _, _ in self.sized]
        ruled_out = any(f and not t and step >= need for f, t, step in zip(fails, thin, steps, strict=True))
        borne = [step for t, step in zip(thin, steps, strict=True) if not t]
        largest = inf if not any(thin) else max(borne, default=-inf)
        return Spot(inf if ruled_out else max(need, 0.0), largest, self._excepted(index))

    def _excepted(self, index: int) -> bool:
        return self.ladder.concern.exception is not None and not bool(self.ladder.barred[index, FLOOR])

    def need(self, index: int, taken: Way) -> SizeNeed:
        """How the need of one place is told, with what is left of its metal at the size taken."""
        place, concern = self.ladder.places[index], self.ladder.concern
        figure = needed(self.state.scene, concern, place)
        usual, shown = self._usual(place, figure)
        listed = next_listed(figure.hi, [step for _, _, step in self.sized]) if isfinite(figure.hi) else None
        names = {step: way.size for _, way, step in self.sized}
        return SizeNeed(
            place=str(place),
            low=self._out(figure.lo),
            usual=usual,
            high=self._out(figure.hi),
            shown=shown,
            next_size=names[listed] if isinstance(listed, float) else None,
            left=self._left(taken, place),
        )

    def shown(self, value: float) -> float:
        """A step in mm in the unit that the need is shown in."""
        return out(value, self.form.shown_in, self.form.dimension)

    def _out(self, value: float) -> float | None:
        return self.shown(value) if isfinite(value) else None

    def _usual(self, place: Place, figure: Figure) -> tuple[float | None, str]:
        """The need at the usual factor, and its sum; empty where a term is not known."""
        calc = self.form.calc
        if calc is None or not (isfinite(figure.lo) and isfinite(figure.hi)):
            return None, ""
        step, worn, depth, stock = self.state.scene.figures.clean_up_terms(self.form, place)
        if not (step.known and worn.known and depth.known):
            return None, ""
        present, gone, deep = (Estimate(self.shown(term.lo)) for term in (step, worn, depth))
        found = needed_step(present, gone, deep, self.shown(stock), calc.k)
        return found.usual, f"{found.shown} {self.form.shown_in}"

    def _left(self, taken: Way, place: Place) -> Measured | None:
        keep = self.ladder.concern.keep
        if keep is None or taken.size is None:
            return None
        left = remaining(self.state.scene, self.ladder.concern, taken, place)
        form = self.state.scene.engine.shown(keep.figure, place.kind)
        known = left.lo if form.worse == "above" else left.hi
        return measured(left, form.worse, form) if isfinite(known) else None

    def left_over(self, taken: Way, cut: list[int]) -> tuple[str, ...]:
        """The listed sizes larger than the one taken that every place cut could still bear."""
        scene, concern = self.state.scene, self.ladder.concern
        larger = [(n, way) for n, way, step in self.sized if step > (taken.size_mm or 0.0)]
        return tuple(
            way.size or ""
            for n, way in larger
            if not any(keep_pair(scene, concern, way, n, self.ladder.places[i])[0] for i in cut)
        )


def size_set(state: PieceState, number: int) -> SizeSet | None:
    """The set of a piece's concern, or None where its ladder is no common size."""
    ladder = state.real.ladders[number]
    concern = ladder.concern
    if concern.ladder != "common_size":
        return None
    form = state.scene.engine.shown(concern.need or "", concern.each or "")
    return SizeSet(state, ladder, form)
