"""Money and figures as screens and papers write them, each with its unit and a true minus."""

import math

from inspect_app.model.answer import CloseCall, Closed
from inspect_app.model.answer_figures import LimitShown, Measured
from inspect_app.model.frozen import LimitFrom
from inspect_app.pictures.answer_words import place, plain, sentence
from inspect_app.pictures.words import AGAINST, BOUNDS, GAUGE_PLACES, LIMITS_FROM
from inspect_app.pictures.words import HARD_SPACE as HARD_SPACE
from inspect_app.pictures.words import MINUS as MINUS
from inspect_app.pictures.words import money as money
from inspect_app.pictures.words import number as number


def quantity(value: float) -> str:
    """Write a count or a small amount without needless places: 4.0 -> "4", 0.25 -> "0.25"."""
    text = number(value, 2)
    return text.rstrip("0").rstrip(".") if "." in text else text


def measured(figure: Measured, places: int | None = None) -> str:
    """Write a figure with its uncertainty and unit, on one line: "at least 0.0077 ± 0.0002 in".

    `places` is the number of places; without it those of a gauge for that unit.
    """
    shown = places_of(figure) if places is None else places
    value = f"{BOUNDS[figure.bound].replace(' ', HARD_SPACE)}{number(figure.value, shown)}"
    return HARD_SPACE.join([value, *give(figure.u, shown), figure.unit]).strip()


def give(u: float, places: int) -> list[str]:
    """Write an uncertainty as pieces of a line; none for none."""
    if u <= 0:
        return []
    least = 10.0**-places
    return ["±", f"under{HARD_SPACE}{number(least, places)}" if u < least / 2 else number(u, places)]


def against(figure: Measured, limit: LimitShown) -> str:
    """Write a figure against its limit, with as many places as it takes to tell the two apart."""
    places = places_of(figure)
    same = figure.unit == limit.unit and figure.value != limit.value
    while same and places < 9 and number(figure.value, places) == number(limit.value, places):
        places += 1
    shown = max(places if figure.unit == limit.unit else 0, limit_places(limit))
    bound = f"{number(limit.value, shown)}{HARD_SPACE}{limit.unit}".strip()
    return f"{measured(figure, places)} against {bound}"


def limit_places(limit: LimitShown) -> int:
    """Return the places to show of a limit: those of a gauge, or one or two more where it takes them."""
    usual = places_of(limit)
    return next(
        (p for p in range(usual, usual + 2) if abs(round(limit.value, p) - limit.value) < 1e-9), usual + 2
    )


def places_of(figure: Measured | LimitShown) -> int:
    """Return the places to show a figure or limit with: its own, else those of the gauge."""
    return decimals(figure.unit, figure.value) if figure.places is None else figure.places


def decimals(unit: str, value: float) -> int:
    """Return the places to show: those of the gauge for a length, else enough for three figures."""
    if unit in GAUGE_PLACES:
        return GAUGE_PLACES[unit]
    return max(0, 2 - math.floor(math.log10(abs(value)))) if value and math.isfinite(value) else 0


def against_limit(reason: Closed) -> str:
    """Say a reason's figure against its limit, whose limit, and by how much past; "" without a figure."""
    if reason.measured is None:
        return ""
    if reason.limit is None:
        return f"Measured {measured(reason.measured)}."
    named = f", the {AGAINST[reason.against]}" if reason.against != "limit" else ""
    whose = f", {_whose(reason)}" if reason.limit_from else named
    past = f"; {_past(reason.margin, reason.measured.unit)}" if reason.margin is not None else ""
    chance = f"; {odds(reason.p_beyond)} beyond" if reason.p_beyond is not None else ""
    return f"{_VALUES[reason.against]} {against(reason.measured, reason.limit)}{whose}{past}{chance}."


def limit_whose(limit_from: LimitFrom, basis: str) -> str:
    """Say whose limit it is and what it rests on: "the rule pack's limit (common practice)"."""
    return f"{LIMITS_FROM[limit_from]} ({basis})" if basis else LIMITS_FROM[limit_from]


def _whose(reason: Closed) -> str:
    assert reason.limit_from is not None
    if reason.against != "size":
        return limit_whose(reason.limit_from, reason.limit_basis)
    return "a size of the engine sheet" if reason.limit_from == "maker" else "a usual size of the rule pack"


_VALUES = {"limit": "Measured", "size": "Needs", "metal left": "Leaves"}


def _past(margin: float, unit: str) -> str:
    places = decimals(unit, margin)
    while margin and places < 9 and not float(f"{margin:.{places}f}"):
        places += 1
    size = f"{number(abs(margin), places)}{HARD_SPACE}{unit}".strip()
    return f"{size} past it" if margin >= 0 else f"{size} short of it"


def close_call(call: CloseCall) -> str:
    """Say a close call: "Deck flatness, deck: 0.0041 ± 0.0004 in against 0.0040 in, likely beyond."."""
    rule = sentence(plain(call.rule))[:-1]
    return f"{rule}, {place(call.place)}: {against(call.measured, call.limit)}, {odds(call.p_beyond)} beyond."


def odds(chance: float) -> str:
    """Say a probability from 0 to 1 as a word.

    Unlikely below 0.15, possible to 0.5, likely to 0.9, near certain above.
    """
    if chance < 0.15:
        return "unlikely"
    if chance <= 0.5:
        return "possible"
    return "likely" if chance <= 0.9 else "near certain"
