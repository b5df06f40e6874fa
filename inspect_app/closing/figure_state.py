"""Figures of one piece: what its readings prove, computed on first use by the calculators of its rulebook."""

from collections.abc import Callable
from dataclasses import replace
from math import inf

from inspect_app.metrology.figure import NONE, Figure, Slot, added
from inspect_app.metrology.figures import clean_up, largest_minus_smallest, shifted, wear, worst
from inspect_app.metrology.form_figures import flatness_plane, flatness_zone, roundness, straightedge_gap
from inspect_app.metrology.readings import Value
from inspect_app.model.places import Place, parse_place
from inspect_app.model.units import clean, size
from inspect_app.rulebook.forms_quantities import CalcForm, QuantityForm

from .damage_state import damage_state
from .piece_evidence import PieceEvidence
from .pressed import press_stress
from .read_values import ReadValues

STAMPED = "stamped size"
NOMINAL = "nominal size on the engine sheet"


class FigureState:
    """Figures at the places of one piece, computed on first use and kept."""

    def __init__(self, evidence: PieceEvidence) -> None:
        self._evidence = evidence
        self._engine = evidence.engine
        self.read = ReadValues(evidence)
        self._figures: dict[tuple[str, Place], Figure] = {}

    def figure(self, quantity: str, place: Place) -> Figure:
        """The figure at a place (kind and index), in the canonical unit of its quantity."""
        key = (quantity, place)
        if key not in self._figures:
            form = self._engine.book.quantities[(quantity, place.kind)]
            self._figures[key] = self._compute(form, place)
        return self._figures[key]

    def assume(self, quantity: str, place: Place, figure: Figure) -> None:
        """Take a figure as given, whatever was read (for the rules' examples)."""
        self._figures[(quantity, place)] = figure

    def untouched(self, quantity: str, place: Place) -> bool:
        """Whether nothing was read that the figure could rest on."""
        return self._nowhere(self.read.unread, quantity, place)

    def never_read(self, quantity: str, place: Place) -> bool:
        """The same, but what no longer counts counts here: who read it once must read it again after work."""
        return self._nowhere(self.read.never_read, quantity, place)

    def _nowhere(self, unread: Callable[[str, Place], bool], quantity: str, place: Place) -> bool:
        if (quantity, place) in self._figures and self._figures[(quantity, place)].known:
            return False
        calc = self._engine.book.quantities[(quantity, place.kind)].calc
        if calc is None:
            return unread(quantity, place)
        return all(
            self._nowhere(unread, source, place) for source in (calc.of, calc.depth, calc.beside) if source
        )

    def _compute(self, form: QuantityForm, place: Place) -> Figure:
        if form.calc is None:
            return worst(self.slots(form, place), form.worse)
        calc, base = form.calc, self._engine.book.quantities[(form.calc.of, place.kind)]
        match calc.name:
            case "worst":
                return worst(self.slots(base, place), form.worse)
            case "largest_minus_smallest":
                return largest_minus_smallest(self.slots(base, place), calc.along or "station")
            case "wear":
                return wear(self._extreme(base, place), self.unworn(base, place), base.body)
            case "clean_up":
                return clean_up(*self.clean_up_terms(form, place), calc.k)
            case "straightedge":
                return straightedge_gap(self.slots(base, place))
            case "flatness_zone":
                return flatness_zone(self.slots(base, place), base.stations, base.directions)
            case "flatness_plane":
                return flatness_plane(self.slots(base, place), base.stations, base.directions)
            case "roundness":
                diameter = self._engine.nominal("diameter", place.kind)
                return roundness(self.slots(base, place), base.directions, diameter)
            case _:
                return self._from_figures(calc, place)

    def _from_figures(self, calc: CalcForm, place: Place) -> Figure:
        figure = self.figure(calc.of, place)
        match calc.name:
            case "times":
                return added((calc.times, figure))
            case "minus":
                return added((1.0, figure), (-1.0, self.figure(calc.less or "", place)))
            case "face_cut":
                return self._face_cut(calc, self._worse_of(figure, calc.beside, place), place)
            case "past_new":
                return self._past_new(calc, figure, place)
            case _:
                assert calc.ring is not None
                return press_stress(self._engine, self._evidence.material, calc.ring, figure, place.kind)

    def _worse_of(self, figure: Figure, beside: str | None, place: Place) -> Figure:
        """A gap, or the one that a second way of measuring shows where that is larger; what lacks of both."""
        if beside is None or self.untouched(beside, place):
            return figure
        other = self.figure(beside, place)
        worse = other if other.lo > figure.lo else figure
        missing = tuple(dict.fromkeys((*figure.missing, *other.missing)))
        return replace(worse, hi=max(figure.hi, other.hi), missing=missing, layout=None)

    def _face_cut(self, calc: CalcForm, gap: Figure, place: Place) -> Figure:
        """Metal to take off a face: at least the larger of gap and pits, at most both, with the stock."""
        deep, stock = self._depth(calc, place), size(calc.stock) if calc.stock else 0.0
        both = added((1.0, gap), (1.0, deep), plus=stock)
        return replace(both, lo=clean(max(gap.lo, deep.lo) + stock))

    def _past_new(self, calc: CalcForm, figure: Figure, place: Place) -> Figure:
        """How far a figure lies past the end of the sheet's new range on its worse side; below 0 inside."""
        end = self._engine.new_end(calc.of, place.kind)
        if end is None:
            source = self._engine.book.quantities[(calc.of, place.kind)].calc
            return Figure(-inf, inf, missing=((source.of if source else calc.of, NOMINAL, ""),))
        worse = self._engine.book.quantities[(calc.of, place.kind)].worse
        return shifted(figure, end, 1 if worse == "above" else -1)

    def slots(self, form: QuantityForm, place: Place) -> dict[Slot, tuple[Value, ...]]:
        """What was read in every slot that a figure is made from."""
        unread = self.read.unread(form.id, place)
        return {
            (form.id, station, direction): ()
            if unread
            else self.read.values(form.id, place, (station, direction))
            for station in form.stations
            if station != form.unworn
            for direction in form.directions
        }

    def _unworn_read(self, form: QuantityForm, place: Place) -> dict[Slot, tuple[Value, ...]]:
        """What was read where nothing rubs."""
        slots = {} if form.unworn is None else {d: (form.unworn, d) for d in form.directions}
        read = {(form.id, *slot): self.read.values(form.id, place, slot) for slot in slots.values()}
        return {slot: values for slot, values in read.items() if values}

    def _extreme(self, form: QuantityForm, place: Place) -> Figure:
        """The worst size of the place. An unworn reading counts too: the metal is gone there as well."""
        return worst({**self.slots(form, place), **self._unworn_read(form, place)}, form.worse)

    def unworn(self, form: QuantityForm, place: Place) -> Figure:
        """The present unworn size: read where nothing rubs, else the size cut or stamped, else open."""
        read = self._unworn_read(form, place)
        if read:
            return worst(read, "below" if form.body == "hole" else "above")
        step = self._step_marked(form.id, place)
        if not step:
            station = form.unworn if form.unworn is not None else STAMPED
            return Figure(-inf, inf, missing=((form.id, station, form.directions[0]),))
        return self._from_step(form, place, size(step))

    def _from_step(self, form: QuantityForm, place: Place, step: float) -> Figure:
        nominal = self._engine.nominal(form.id, place.kind)
        if nominal is None:
            return Figure(-inf, inf, missing=((form.id, NOMINAL, ""),))
        larger = form.body == "hole" or form.step_adds
        present = nominal + step if larger else nominal - step
        return Figure(present, present)

    def _step_marked(self, quantity: str, place: Place) -> str | None:
        cut = self._evidence.history.size_cut(quantity, place)
        if cut is not None:
            return cut
        marks = self._evidence.piece.marks
        return next(
            (
                m.size
                for m in marks
                if m.quantity == quantity and m.size and parse_place(m.place).covers(place)
            ),
            None,
        )

    def step(self, quantity: str, place: Place) -> Figure:
        """How far the present unworn size is from standard, positive towards less metal."""
        form = self._engine.book.quantities[(quantity, place.kind)]
        unworn, nominal = self.unworn(form, place), self._engine.nominal(quantity, place.kind)
        if nominal is None:
            return Figure(-inf, inf, missing=((quantity, NOMINAL, ""),))
        return shifted(unworn, nominal, 1 if form.body == "hole" else -1)

    def clean_up_terms(self, form: QuantityForm, place: Place) -> tuple[Figure, Figure, Figure, float]:
        """What a clean-up size is the sum of: present step, wear, depth of damage, stock (mm)."""
        assert form.calc is not None
        base = self._engine.book.quantities[(form.calc.of, place.kind)]
        worn = wear(self._extreme(base, place), self.unworn(base, place), base.body)
        stock = size(form.calc.stock) if form.calc.stock else 0.0
        return self.step(base.id, place), worn, self._depth(form.calc, place), stock

    def _depth(self, calc: CalcForm, place: Place) -> Figure:
        """Depth of the damage that a cut must get under: none where its words are proven absent."""
        if calc.depth is None:
            return NONE
        states = [damage_state(self._evidence, word, place, ()) for word in calc.unless_absent]
        if states and not any(state.may for state in states):
            return NONE
        read = self.figure(calc.depth, place)
        if read.known:
            return read
        seen = tuple(i for state in states for i in state.shown_by)
        return Figure(0.0, inf, evidence=seen, missing=read.missing if seen else ())
