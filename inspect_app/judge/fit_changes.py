"""What brings a fit inside its window: each size of its sum, and each lever, when it alone is changed."""

from inspect_app.closing.shown import out
from inspect_app.metrology.estimate import Undetermined
from inspect_app.metrology.fits import Shift
from inspect_app.model.fit_answer import FitChange
from inspect_app.model.units import clean
from inspect_app.rulebook.engine import Engine
from inspect_app.rulebook.forms_fits import FitForm, FitTermForm, LeverForm, Way
from inspect_app.rulebook.forms_quantities import QuantityForm


def changes_of(
    engine: Engine, fit: FitForm, shift: Shift | Undetermined, shown: QuantityForm
) -> tuple[FitChange, ...]:
    """One change for each lever with words for the way needed; () inside, or where no change helps."""
    if isinstance(shift, Undetermined) or shift.least == 0:
        return ()
    levers: list[FitTermForm | LeverForm] = [*fit.lever, *fit.term]
    found = (_change(lever, _title(engine, lever), shift, shown) for lever in levers)
    return tuple(change for change in found if change is not None)


def _title(engine: Engine, lever: FitTermForm | LeverForm) -> str:
    if isinstance(lever, LeverForm):
        return lever.what
    form = engine.book.quantities[(lever.of, lever.kind)]
    place = engine.book.place_form(lever.part, lever.kind)
    return f"{(place.title if place else '') or lever.kind}, {form.title}"


def _change(
    lever: FitTermForm | LeverForm, title: str, shift: Shift, shown: QuantityForm
) -> FitChange | None:
    least = clean(shift.least / lever.times)
    way: Way = "larger" if least > 0 else "smaller"
    how = lever.larger if least > 0 else lever.smaller
    if how is None:
        return None
    middle = None if isinstance(shift.to_middle, Undetermined) else clean(shift.to_middle / lever.times)
    return FitChange(
        what=title,
        way=way,
        least=out(least, shown.shown_in, shown.dimension),
        to_middle=None if middle is None else out(middle, shown.shown_in, shown.dimension),
        unit=shown.shown_in,
        how=how,
        by_cutting=lever.cut == way,
    )
