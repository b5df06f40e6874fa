"""The fit check: every fit of the rules at every place, against its window, and what to change."""

from collections.abc import Iterator
from dataclasses import dataclass, replace
from math import isinf

from inspect_app.closing.shown import limit_shown, out, places_of
from inspect_app.closing.words import place_words
from inspect_app.metrology.conformity import CLOSE_CALL, chance_past
from inspect_app.metrology.estimate import Estimate, Undetermined
from inspect_app.metrology.figure import Figure
from inspect_app.metrology.fits import Shift, Window, p_range_inside, shift_into, window_position
from inspect_app.model.answer import RulebookUsed
from inspect_app.model.answer_figures import LimitShown, Measured
from inspect_app.model.core import Core
from inspect_app.model.evidence import standing
from inspect_app.model.fit_answer import Fit, FitAnswer, FitMissing, FitState, FitWindow
from inspect_app.model.frozen import BuildStandard
from inspect_app.model.units import clean
from inspect_app.rulebook.engine import Engine
from inspect_app.rulebook.forms_fits import FitForm
from inspect_app.rulebook.forms_quantities import QuantityForm
from inspect_app.rulebook.seats import Seat, opposite, seats

from .answer import judge
from .fit_changes import changes_of
from .fit_effects import effects
from .fit_figures import (
    FitFigure,
    States,
    compared_figure,
    fit_figure,
    furthest_apart,
    present_size,
    untouched,
)
from .fit_window import BoundWindow, setting_of, window_of
from .fit_work import Planned
from .present import states as states_of


def fit_check(core: Core, engine: Engine) -> FitAnswer:
    """Every fit and effect of one core. Raises Problems if the core does not fit the engine.

    Fits are told of the pieces that sit there now, in their latest state; effects of the ways that
    `judge` chooses.
    """
    answer = judge(core, engine)
    present, _ = states_of(core, engine, standing(core.evidence))
    check = _Check(engine, present, core.build_standard, Planned(engine, present, answer))
    return FitAnswer(
        id=core.id,
        title=core.title,
        stage=core.stage,
        build_standard=core.build_standard,
        rulebook=RulebookUsed(
            version=engine.book.pack.version, sha256=engine.book.sha256, overlays=engine.book.overlays
        ),
        machine=engine.book.pack.core_title,
        fits=tuple(fit for form in engine.book.fits.values() for fit in check.fits(form)),
        effects=tuple(effects(engine, present, answer)),
    )


@dataclass(frozen=True)
class _Check:
    engine: Engine
    states: States
    standard: BuildStandard
    planned: Planned

    def fits(self, form: FitForm) -> Iterator[Fit]:
        if not self._told(form) or any(self._told(self.engine.book.fits[name]) for name in form.unless):
            return
        every = seats(self.engine, form.at.part, form.at.kind)
        if form.compared:
            if len(every) > 1:
                yield self._compared(form, every[0])
            return
        for seat in every:
            yield self._at(form, seat)

    def _told(self, form: FitForm) -> bool:
        """Whether a fit belongs to this machine: always, or because its sheet or a reading names it."""
        if not form.only_if_given:
            return True
        setting = form.setting
        names = [form.measured, *((setting.hot, setting.cold) if setting else ())]
        if any(f"{form.at.kind}.{name}" in self.engine.sheet.quantities for name in names):
            return True
        every = seats(self.engine, form.at.part, form.at.kind)
        return any(not untouched(self.states, form.measured, seat) for seat in every)

    def _at(self, form: FitForm, seat: Seat) -> Fit:
        window = window_of(self._seen_by(seat), form, self.standard, lambda name: self._whole(name, seat))
        found = fit_figure(self.engine, self.states, form, seat)
        told = Fit(
            fit=form.id,
            title=form.title,
            position=seat.position.id,
            place=self._place(seat),
            state="open",
            window=self._window(form, window),
            set_to=self._set_to(form, seat),
        )
        first = self.planned.before(form, seat)
        again = self._read_again(form, seat)
        if found is None:
            what = again or self._to_read(form)
            return told.model_copy(update={"missing": (*first, FitMissing(what=what), *_why(window))})
        if again and not found.known and found.by == "parts":
            found = replace(found, missing=(FitMissing(what=again), *found.missing))
        return _after(first, self._held(form, told, found, window, chance=None))

    def _read_again(self, form: FitForm, seat: Seat) -> str:
        """Why a direct reading does not count: what it lacked, or what happened since; "" without one."""
        read = self.states[seat.position.id].scene.figures.read
        lacked, ended = read.left_out(form.measured, seat.place), read.ended(form.measured, seat.place)
        if lacked:
            return f"measure it again {', '.join(lacked)}"
        return f"measure it again: {', and '.join(ended)}" if ended else ""

    def _compared(self, form: FitForm, example: Seat) -> Fit:
        window = window_of(self.engine, form, self.standard, lambda name: self._whole(name, example))
        found = compared_figure(self.engine, self.states, form)
        part = self.engine.book.parts[form.at.part]
        told = Fit(
            fit=form.id,
            title=form.title,
            position=part.id,
            place="all compared",
            state="open",
            window=self._window(form, window),
        )
        first = self._first(form)
        if found is None:
            missing = (*first, FitMissing(what=self._to_read(form)), *_why(window))
            return told.model_copy(update={"missing": missing})
        chance = None
        if found.known and isinstance(window, BoundWindow) and not isinf(window.window.high):
            chance = 1 - chance_past(found.widest, window.window.high, "above")
        apart = furthest_apart(self.engine, self.states, form)
        held = _after(first, self._held(form, told, found, window, chance))
        if apart is None or held.state in ("inside", "open"):
            return held
        smallest, largest = apart
        return held.model_copy(
            update={"says": f"{held.says} Smallest: {smallest}. Largest: {largest}.".strip()}
        )

    def _first(self, form: FitForm) -> tuple[FitMissing, ...]:
        """What must come first at any of the places that are compared."""
        every = seats(self.engine, form.at.part, form.at.kind)
        return tuple(dict.fromkeys(item for seat in every for item in self.planned.before(form, seat)))

    def _held(
        self,
        form: FitForm,
        told: Fit,
        found: FitFigure,
        window: BoundWindow | Undetermined,
        chance: float | None,
    ) -> Fit:
        """A fit held against its window; open while an end of it is not known, or nobody gives a window."""
        quantity = self._quantity(form)
        evidence = tuple(dict.fromkeys((*found.closest.evidence, *found.widest.evidence)))
        told = told.model_copy(update={"known_by": found.by, "evidence": evidence})
        if not found.known or isinstance(window, Undetermined):
            more: dict[str, object] = {"missing": (*found.missing, *_why(window))}
            if found.known:
                more |= _sizes(found, found.widest, quantity)
            return told.model_copy(update=more)
        closest, widest = (Estimate(end.lo, end.u) for end in (found.closest, found.widest))
        bounds = window.window
        inside = p_range_inside(closest, widest, bounds) if chance is None else chance
        end = _deciding(found, bounds)
        shift = shift_into(closest.value, widest.value, bounds)
        position = window_position(end.lo, bounds)
        return told.model_copy(
            update={
                **_sizes(found, end, quantity),
                "state": _state(inside),
                "position_percent": None if isinstance(position, Undetermined) else position,
                "p_inside": inside,
                "says": _says(form, found, bounds, shift),
                "changes": changes_of(self.engine, form, shift, quantity),
            }
        )

    def _seen_by(self, seat: Seat) -> Engine:
        """The engine with the rows of the kind of piece that sits there."""
        return self.states[seat.position.id].scene.engine

    def _quantity(self, form: FitForm) -> QuantityForm:
        """What the fit measures; of sizes of parts it is shown as finely as they are."""
        shown = self.engine.shown(form.measured, form.at.kind)
        return shown.model_copy(update={"gap": False}) if form.term else shown

    def _to_read(self, form: FitForm) -> str:
        if self._quantity(form).calc is not None:
            return "measure the sizes of its parts"
        return "measure it, or the sizes of its parts" if form.term else "measure it"

    def _place(self, seat: Seat) -> str:
        place = place_words(self.engine, seat.position.part, seat.place)
        return f"{seat.position.title}, {place}" if seat.position.index else place

    def _whole(self, name: str, seat: Seat) -> float | Undetermined:
        """The size of which a usual window is a share, at the place that goes with a seat."""
        kind, _, quantity = name.partition(".")
        part = next(p.id for p in self.engine.book.parts.values() if self.engine.book.place_form(p.id, kind))
        other = opposite(self.engine, seat, part, kind)
        if isinstance(other, Undetermined):
            return other
        return present_size(self.engine, self.states, quantity, other)

    def _window(self, form: FitForm, window: BoundWindow | Undetermined) -> FitWindow | None:
        if isinstance(window, Undetermined):
            return None
        quantity = self._quantity(form)
        low, high = (
            None if isinf(end) else out(end, quantity.shown_in, quantity.dimension)
            for end in (window.window.low, window.window.high)
        )
        told = FitWindow(low=low, high=high, unit=quantity.shown_in, whose=window.whose, basis=window.basis)
        places = [places_of(quantity, end) for end in (low, high) if end is not None]
        coarse = [number for number in places if number is not None]
        return told.model_copy(update={"places": max(coarse) if len(coarse) == len(places) else None})

    def _set_to(self, form: FitForm, seat: Seat) -> LimitShown | None:
        cold = setting_of(self._seen_by(seat), form, form.setting) if form.setting else None
        if cold is None or isinstance(cold, Undetermined):
            return None
        quantity = self._quantity(form)
        return limit_shown(cold, quantity)


def _why(window: BoundWindow | Undetermined) -> tuple[FitMissing, ...]:
    """Why there is no window, if there is none."""
    return (FitMissing(what=window.reason),) if isinstance(window, Undetermined) else ()


def _after(first: tuple[FitMissing, ...], fit: Fit) -> Fit:
    """The fit as it is; open, with nothing to change, while work comes first that will change it."""
    if not first:
        return fit
    return fit.model_copy(
        update={"state": "open", "missing": (*first, *fit.missing), "says": "", "changes": ()}
    )


def _deciding(found: FitFigure, window: Window) -> Figure:
    """The end that stands nearer to leaving the window."""
    over, under = found.widest.lo - window.high, window.low - found.closest.lo
    return found.widest if clean(over - under) >= 0 else found.closest


def _sizes(found: FitFigure, end: Figure, form: QuantityForm) -> dict[str, object]:
    """The end shown as measured, and both ends where they differ."""
    low, high, value, u = (
        out(number, form.shown_in, form.dimension)
        for number in (found.closest.lo, found.widest.lo, end.lo, end.u)
    )
    return {
        "measured": Measured(value=value, unit=form.shown_in, u=u, places=places_of(form, value, u)),
        "spread": (low, high) if low != high else None,
    }


def _state(inside: float) -> FitState:
    if inside < CLOSE_CALL[0]:
        return "out"
    return "inside" if inside > CLOSE_CALL[1] else "close"


def _says(form: FitForm, found: FitFigure, window: Window, shift: Shift | Undetermined) -> str:
    """What a fit past an end of its window does, and why no one change brings it inside, if none does."""
    small = form.too_small if clean(window.low - found.closest.lo) > 0 else ""
    large = form.too_large if clean(found.widest.lo - window.high) > 0 else ""
    why = f"{shift.reason[:1].upper()}{shift.reason[1:]}." if isinstance(shift, Undetermined) else ""
    return " ".join(filter(None, (small, large, why)))
