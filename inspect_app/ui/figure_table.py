"""The figures of a part as tables: a row for each place, a column for each figure, its limit in the head."""

from collections import Counter
from collections.abc import Iterable, Sequence

from inspect_app.model.answer_figures import FigureShown
from inspect_app.model.places import parse_place
from inspect_app.pictures.words import BOUNDS, HARD_SPACE
from inspect_app.ui import figures, words
from inspect_app.ui.markup import Html, join, tag

STATES = {"inside": "inside", "beyond": "beyond", "open": "still open", "no limit": ""}
_WHOLE = "the whole part"


def counted(shown: Sequence[FigureShown]) -> str:
    """Say how many figures there are and where they stand: "18 figures: 12 beyond, 6 inside"."""
    counts = Counter(STATES[figure.state] or "without a limit" for figure in shown)
    counts["close call"] = sum(figure.close_call for figure in shown)
    order = ("beyond", "inside", "still open", "close call", "without a limit")
    said = ", ".join(f"{counts[name]} {name}" for name in order if counts[name])
    return f"{len(shown)} figure{'' if len(shown) == 1 else 's'}: {said}"


def tables(shown: Sequence[FigureShown]) -> Html:
    """Build one table for each kind of place, in the order in which the answer gives them."""
    kinds: dict[str, list[FigureShown]] = {}
    for figure in shown:
        kinds.setdefault(parse_place(figure.place).kind if figure.place else "", []).append(figure)
    return join(*(_table(kind, found) for kind, found in kinds.items()))


def _table(kind: str, found: list[FigureShown]) -> Html:
    columns = [_Column(found, quantity) for quantity in dict.fromkeys(figure.quantity for figure in found)]
    rows = (
        tag("tr", tag("th", _row_name(place), scope="row"), *(_cell(column, place) for column in columns))
        for place in dict.fromkeys(figure.place for figure in found)
    )
    name = words.sentence(words.plain(kind) or _WHOLE)[:-1]
    top = tag(
        "tr", tag("th", name, scope="col"), *(tag("th", _head(column), scope="col") for column in columns)
    )
    return tag("table", tag("thead", top), tag("tbody", *rows), cls="ia-figures")


def _row_name(place: str) -> str:
    """The number of the place alone, as its kind stands in the head; more where it is not just a number."""
    at = parse_place(place) if place else None
    if at is None or (not at.index and not at.zone):
        return ""
    return ", ".join([words.plain(at.index), *map(words.plain, at.zone)]).strip(", ")


class _Column:
    """One figure at all places of a kind; what all of them share stands in its head."""

    def __init__(self, found: Iterable[FigureShown], quantity: str) -> None:
        self.at = {figure.place: figure for figure in found if figure.quantity == quantity}
        shown = list(self.at.values())
        self.any = shown[0]
        self.places = max(figures.places_of(figure.measured) for figure in shown)
        self.one_limit = len({(figure.limit, figure.limit_from, figure.worse) for figure in shown}) == 1
        self.one_give = len({self.give(figure) for figure in shown}) == 1

    def give(self, figure: FigureShown) -> str:
        """The uncertainty of one figure with the places of the column; "" for none."""
        return HARD_SPACE.join(figures.give(figure.measured.u, self.places))


def _head(column: _Column) -> Html:
    unit = column.any.measured.unit
    said = column.give(column.any)
    give = f"{said}{HARD_SPACE}" if column.one_give and said else ""
    named = tag("span", words.sentence(column.any.title)[:-1], cls="ia-figure-name")
    measured_in = tag("span", f"{give}{unit or 'no unit'}", cls="ia-figure-name")
    limit = tag("span", limit_said(column.any), cls="ia-soft") if column.one_limit else ""
    return join(named, measured_in, limit)


def limit_said(figure: FigureShown) -> str:
    """Say a figure's limit and whose it is: "at most 0.0005, the maker's limit"; or that it has none."""
    if figure.limit is None:
        return "no limit of its own"
    bound = "at most" if figure.worse == "above" else "at least"
    whose = f", {figures.limit_whose(figure.limit_from, figure.limit_basis)}" if figure.limit_from else ""
    return f"{bound} {figures.number(figure.limit.value, figures.limit_places(figure.limit))}{whose}"


def _cell(column: _Column, place: str) -> Html:
    figure = column.at.get(place)
    if figure is None:
        return tag("td", tag("span", "not read", cls="ia-soft"))
    value = f"{BOUNDS[figure.measured.bound]}{figures.number(figure.measured.value, column.places)}"
    give = "" if column.one_give else f" {column.give(figure)}"
    below = [stands(figure), "" if column.one_limit else limit_said(figure)]
    return tag(
        "td",
        tag("strong", value) if figure.state == "beyond" or figure.close_call else value,
        tag("span", give, cls="ia-soft"),
        tag("span", ", ".join(filter(None, below)), cls="ia-stands"),
    )


def stands(figure: FigureShown) -> str:
    """Say where the decision on a figure stands: "beyond", or of a close call its odds too."""
    said = STATES[figure.state]
    if not figure.close_call or figure.p_beyond is None:
        return said
    return f"{said}, close call: {figures.odds(figure.p_beyond)} beyond"
