"""The window of a fit for one build standard: the maker's rows first, else what is usual; and settings."""

from collections.abc import Callable
from dataclasses import dataclass
from math import inf

from inspect_app.metrology.estimate import Undetermined
from inspect_app.metrology.fits import Window
from inspect_app.metrology.gaps import GapSheet, cold_gap
from inspect_app.model.frozen import BuildStandard, LimitFrom
from inspect_app.model.units import clean, decimal_of, size
from inspect_app.rulebook.engine import Engine
from inspect_app.rulebook.forms_fits import FitForm, SettingForm, UsualForm
from inspect_app.rulebook.forms_quantities import QuantityForm
from inspect_app.rulebook.seats import seats

Whole = Callable[[str], "float | Undetermined"]
"""The size of which a usual window is a share, by kind.quantity, at the place that goes with the fit."""


@dataclass(frozen=True)
class BoundWindow:
    """A window in the canonical unit, whose it is and, if usual, on what it rests."""

    window: Window
    whose: LimitFrom
    basis: str = ""


@dataclass(frozen=True)
class _Range:
    low: float | None
    high: float | None
    wear_limit: float | None = None

    def window(self, worse: str, standard: BuildStandard, reserve: float) -> Window | None:
        """The new range; to run its worse end is the wear limit, to freshen that less a reserve."""
        new = self.high if worse == "above" else self.low
        end = new
        if self.wear_limit is not None and standard != "rebuild":
            kept = reserve * (self.wear_limit - new) if standard == "freshen" and new is not None else 0.0
            end = clean(self.wear_limit - kept)
        low, high = (self.low, end) if worse == "above" else (end, self.high)
        return None if low is None and high is None else _window(low, high)


def window_of(
    engine: Engine, fit: FitForm, standard: BuildStandard, whole: Whole
) -> BoundWindow | Undetermined:
    """The window that counts; Undetermined, naming what the sheet lacks, where nobody gives one.

    A row of the sheet tells of one place, not how far places may differ: a compared fit goes by the pack.
    """
    if fit.setting:
        return _set_window(engine, fit, fit.setting)
    form = engine.book.quantities[(fit.measured, fit.at.kind)]
    reserve = engine.book.pack.freshen_reserve
    row = engine.row(fit.measured, fit.at.kind)
    texts = (row.minimum, row.maximum, row.wear_limit)
    sheet = _Range(*(None if fit.compared else _size(form, text) for text in texts))
    told = _usual_form(engine, fit)
    usual = None if told is None else _usual(told, form, whole)
    if sheet.low is not None or sheet.high is not None or standard == "run":
        found = sheet.window(form.worse, standard, reserve)
        if found is not None:
            return _closed(found, form.worse, usual, "" if told is None else told.basis)
    if told is None or usual is None:
        return Undetermined(f"a window for {form.title} on the engine sheet ({fit.at.kind}.{fit.measured})")
    if isinstance(usual, Undetermined):
        return usual
    found = usual.window(form.worse, standard, reserve)
    assert found is not None
    whose: LimitFrom = "shop" if engine.book.from_shop("fit", fit.id) else "pack"
    return BoundWindow(_not_past(found, sheet.wear_limit, form.worse), whose, told.basis)


def _closed(sheet: Window, worse: str, usual: "_Range | Undetermined | None", basis: str) -> BoundWindow:
    """The sheet's window; where it gives only the worse end, the other is the usual one.

    A wear limit says how wide a fit may become, never that none at all will do.
    """
    better = None if not isinstance(usual, _Range) else usual.low if worse == "above" else usual.high
    if better is None:
        return BoundWindow(sheet, "maker")
    if worse == "above" and sheet.low == -inf and better < sheet.high:
        return BoundWindow(Window(better, sheet.high), "maker", f"its other end: {basis}")
    if worse == "below" and sheet.high == inf and better > sheet.low:
        return BoundWindow(Window(sheet.low, better), "maker", f"its other end: {basis}")
    return BoundWindow(sheet, "maker")


def _usual_form(engine: Engine, fit: FitForm) -> UsualForm | None:
    """The usual window, of places that share one of another part the window for those."""
    if fit.shared is not None:
        here, there = seats(engine, fit.at.part, fit.at.kind), seats(engine, fit.shared.part, fit.shared.kind)
        if 2 * len(there) == len(here):
            return fit.shared
    return fit.usual


def _size(form: QuantityForm, text: str | None) -> float | None:
    return None if text is None else size(text, form.dimension)


def _usual(usual: UsualForm, form: QuantityForm, whole: Whole) -> _Range | Undetermined:
    texts = (usual.low, usual.high, usual.wear_limit)
    if usual.per is None:
        return _Range(*(_size(form, text) for text in texts))
    per = whole(usual.per)
    if isinstance(per, Undetermined):
        return per
    return _Range(*(None if text is None else clean(float(decimal_of(text)) * per) for text in texts))


def _not_past(usual: Window, limit: float | None, worse: str) -> Window:
    """A usual window never reaches past the maker's wear limit."""
    if limit is None:
        return usual
    if worse == "above":
        return Window(min(usual.low, limit), min(usual.high, limit))
    return Window(max(usual.low, limit), max(usual.high, limit))


def _window(low: float | None, high: float | None) -> Window:
    first, last = -inf if low is None else low, inf if high is None else high
    return Window(min(first, last), max(first, last))


def setting_of(engine: Engine, fit: FitForm, setting: SettingForm) -> float | Undetermined:
    """The gap to set cold, from the sheet alone; Undetermined says why none is proposed."""
    sheet = GapSheet(*(_nominal(engine, name, fit.at.kind) for name in _rows(setting)))
    return cold_gap(sheet)


def _rows(setting: SettingForm) -> tuple[str, str, str]:
    return setting.hot, setting.cold, setting.cold_less_hot


def _nominal(engine: Engine, quantity: str, kind: str) -> float | Undetermined:
    value = engine.nominal(quantity, kind)
    return Undetermined(f"the sheet has no row {kind}.{quantity}") if value is None else value


def _set_window(engine: Engine, fit: FitForm, setting: SettingForm) -> BoundWindow | Undetermined:
    """The sheet's range of the cold setting, else the setting give or take how near it must be met."""
    form = engine.book.quantities[(setting.cold, fit.at.kind)]
    row = engine.row(setting.cold, fit.at.kind)
    if row.minimum and row.maximum:
        ends = (size(text, form.dimension) for text in (row.minimum, row.maximum))
        return BoundWindow(Window(*ends), "maker")
    cold = setting_of(engine, fit, setting)
    if isinstance(cold, Undetermined):
        return cold
    near = size(setting.within, form.dimension)
    return BoundWindow(Window(clean(cold - near), clean(cold + near)), "maker")
