"""The words of the fit check, for screens and terminal: counts, windows, places drawn together, changes."""

import re
from collections.abc import Iterable

from inspect_app.metrology.display import MINUS
from inspect_app.model.answer_figures import LimitShown, Measured
from inspect_app.model.fit_answer import Effect, Fit, FitAnswer, FitChange, FitState, FitWindow
from inspect_app.model.places import runs
from inspect_app.pictures.words import HARD_SPACE, number
from inspect_app.ui import figures, words

STATES: dict[FitState, str] = {
    "out": "Out of the window",
    "close": "Close calls",
    "open": "Open",
    "inside": "Inside",
}
WHOSE = {"maker": "the maker's window", "shop": "the shop's window", "pack": "usual window"}
KNOWN_BY = {"measured": "measured", "parts": "from parts"}
_UNITS = {"degree": "°", "mm**2": "mm²", "ft_lb": "lb-ft", "dimensionless": "", "cc": "cc"}
_NUMBERED = re.compile(r"^(.*?)(\d+)(\D*)$")


def heading(answer: FitAnswer) -> str:
    """Say the answer: "3 fits out of their window, 1 close, 5 not measured"."""
    out, close, inside = (answer.counted(state) for state in ("out", "close", "inside"))
    unread = sum(fit.state == "open" and fit.measured is None for fit in answer.fits)
    waiting = answer.counted("open") - unread
    if not answer.fits:
        return "No fit is asked for"
    if unread == len(answer.fits):
        return "No fit is measured yet"
    if inside == len(answer.fits):
        return f"All {inside} fits inside their windows" if inside > 1 else "The one fit is inside its window"
    told = [
        _out(out),
        f"{close} close" if close else "",
        f"{waiting} waiting" if waiting else "",
        f"{unread} not measured" if unread else "",
        f"{inside} inside" if inside else "",
    ]
    said = ", ".join(filter(None, told))
    return said if out else f"No fit out of its window, {said}"


def _out(count: int) -> str:
    if not count:
        return ""
    return "1 fit out of its window" if count == 1 else f"{count} fits out of their window"


def unit(name: str) -> str:
    """A unit as a person writes it: "degree" -> "°"."""
    return _UNITS.get(name, name)


def amount(value: float, of: str, places: int | None = None) -> str:
    """A size with its unit, with `places` or those of a gauge: "0.0012 in", "−2°"."""
    shown = unit(of)
    text = number(value, _places(of, value) if places is None else places)
    return f"{text}{shown}" if shown == "°" else f"{text}{HARD_SPACE}{shown}".strip()


def _places(of: str, value: float) -> int:
    if of in ("in", "mm"):
        return figures.decimals(of, value)
    return 1 if of in ("degree", "ft_lb", "cc") else 2


def measured(figure: Measured | None) -> str:
    """The size with its standard uncertainty."""
    if figure is None:
        return "not measured"
    places = _places(figure.unit, figure.value) if figure.places is None else figure.places
    give = "".join(f" {piece}" for piece in figures.give(figure.u, places))
    value = number(figure.value, places)
    shown = unit(figure.unit)
    return f"{value}{give}{shown}" if shown == "°" else f"{value}{give}{HARD_SPACE}{shown}".strip()


def both_ends(fit: Fit) -> str:
    """From where the parts are closest to where widest; "" where they are of one size."""
    if fit.spread is None or fit.measured is None:
        return ""
    low, high = fit.spread
    of, shown = fit.measured.unit, fit.measured.places
    places = _places(of, low) if shown is None else shown
    return f"{number(low, places)} to {amount(high, of, shown)} round the place"


def window(bounds: FitWindow | None) -> str:
    """The window in words: "0.0010 to 0.0025 in", "0.080 in or more"."""
    if bounds is None:
        return "none"
    if bounds.high is None and bounds.low is not None:
        return f"{amount(bounds.low, bounds.unit, bounds.places)} or more"
    if bounds.low is None and bounds.high is not None:
        return f"{amount(bounds.high, bounds.unit, bounds.places)} or less"
    assert bounds.low is not None
    assert bounds.high is not None
    places = _places(bounds.unit, bounds.low) if bounds.places is None else bounds.places
    return f"{number(bounds.low, places)} to {amount(bounds.high, bounds.unit, bounds.places)}"


def whose(bounds: FitWindow | None) -> str:
    """Whose window it is and on what a usual one rests."""
    if bounds is None:
        return ""
    return words.sentence(WHOSE[bounds.whose] + (f": {bounds.basis}" if bounds.basis else ""))


def percent(value: float | None) -> str:
    """A position in percent: "50 %"; "" where there is none."""
    if value is None:
        return ""
    text = f"{value:.0f}"
    return f"{MINUS if text.startswith('-') and text != '-0' else ''}{text.lstrip('-')}{HARD_SPACE}%"


def chance(value: float | None) -> str:
    """A chance from 0 to 1 in percent, never rounded to sure: "under 1 %", "over 99 %"."""
    if value is None:
        return ""
    if value < 0.005:
        return f"under 1{HARD_SPACE}%"
    return f"over 99{HARD_SPACE}%" if value > 0.995 else percent(100 * value)


def change(item: FitChange) -> str:
    """What to change: "Diameter of the journal at least 0.0005 in smaller (0.0012 in to the middle): ..."."""
    least = amount(abs(item.least), item.unit)
    middle = _middle(item)
    metal = " Takes metal off." if item.by_cutting else ""
    return f"{words.sentence(item.what)[:-1]}: at least {least} {item.way}{middle}, {item.how}.{metal}"


def _middle(item: FitChange) -> str:
    if item.to_middle is None:
        return ""
    return f", {amount(abs(item.to_middle), item.unit)} to reach the middle"


def set_to(value: LimitShown | None) -> str:
    """The cold setting that the sheet tells; "" where it tells none."""
    return f"Set cold: {amount(value.value, value.unit, value.places)}." if value else ""


def together(places: Iterable[str]) -> str:
    """Places in one line, those that differ in their last number drawn together: "main web 1 to 5"."""
    groups: dict[tuple[str, str], list[str]] = {}
    for place in dict.fromkeys(places):
        found = _NUMBERED.match(place)
        head, index, tail = found.groups() if found else (place, "", "")
        groups.setdefault((head, tail), []).append(index)
    return "; ".join(f"{head}{runs(numbers)}{tail}" for (head, tail), numbers in groups.items())


def alike(fits: Iterable[Fit]) -> list[Fit]:
    """Fits that tell the same at several places as one, its place that of all of them."""
    groups: dict[Fit, list[Fit]] = {}
    for fit in fits:
        told = fit.model_copy(update={"position": "", "place": "", "evidence": ()})
        groups.setdefault(told, []).append(fit)
    return [
        told.model_copy(
            update={
                "position": group[0].position,
                "place": together(fit.place for fit in group),
                "evidence": tuple(dict.fromkeys(item for fit in group for item in fit.evidence)),
            }
        )
        for told, group in groups.items()
    ]


def waiting(fits: Iterable[Fit]) -> list[tuple[str, str, str, str]]:
    """Open fits as (title, places, window, what is missing), places that wait for the same in one row."""
    groups: dict[tuple[str, tuple[str, ...]], list[Fit]] = {}
    for fit in fits:
        told = [set_to(fit.set_to), *(item.what for item in fit.missing)]
        whats = tuple(dict.fromkeys(filter(None, told)))
        groups.setdefault((fit.title, whats), []).append(fit)
    return [
        (title, together(fit.place for fit in group), _windows(group), " ".join(map(words.sentence, whats)))
        for (title, whats), group in groups.items()
    ]


def _windows(group: list[Fit]) -> str:
    """The window of a group, its ends as far apart as any of them where they differ a little."""
    told = list(dict.fromkeys(window(fit.window) for fit in group))
    return told[0] if len(told) == 1 else f"{told[0]}, by place"


def effect(item: Effect) -> tuple[str, str, str]:
    """An effect as (before, after, what goes with it or is missing)."""
    if item.missing:
        lacking = "; ".join(item.missing)
        return "", "", words.sentence(f"not known: {lacking}")
    if item.before == 0:
        return _moved(item)
    before, after = (
        "not known" if value is None else amount(value, item.unit) for value in (item.before, item.after)
    )
    return before, after, item.says


def _moved(item: Effect) -> tuple[str, str, str]:
    """An effect that is itself a change: nothing before it, and nothing to heed while nothing changes."""
    if item.after == 0:
        return "", "no change", ""
    return "", "not known" if item.after is None else amount(item.after, item.unit), item.says
