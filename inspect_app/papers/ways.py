"""The two tables of a rejection: why no way to keep the piece is left, and the ways forward."""

from dataclasses import dataclass

from inspect_app.model.answer import Closed, Option, PartAnswer
from inspect_app.model.frozen import Source, Spread
from inspect_app.papers.subject import Subject
from inspect_app.pictures.answer_words import asks, closes, plain, reasons_by_rule, sentence, ways
from inspect_app.pictures.figure_words import against
from inspect_app.pictures.words import LIMITS_FROM, money

ALL_WAYS = "Every way to keep it"
PIECES: dict[Source, str] = {
    "own": "Keep it",
    "another_core": "Piece from another core",
    "used": "Used piece",
    "exchange": "Exchange piece",
    "new": "New piece",
}


@dataclass(frozen=True)
class ClosedRow:
    """A way to keep the piece, what speaks against it, the figure if one does, and the basis of that."""

    way: str
    by: str
    figure: str
    basis: str


@dataclass(frozen=True)
class WayForward:
    """A way forward. `likely` and `spread` are money in words; `asks` what it forces on other parts."""

    what: str
    likely: str
    spread: str
    asks: str


def closed_rows(subject: Subject, part: PartAnswer) -> list[ClosedRow]:
    """Why no way to keep the piece is taken, the strongest reason first, reasons of one way together."""
    groups = reasons_by_rule(part.closed)
    rows = [_closed(subject, part, reasons) for reasons in groups if _own(reasons[0])]
    order = {row.way: at for at, row in reversed(list(enumerate(rows)))}
    rows.sort(key=lambda row: order[row.way])
    return [*rows, *_forced(part, subject), *_left_open(subject, part)]


def _own(reason: Closed) -> bool:
    return reason.closes == "own" or "." in reason.closes


def _closed(subject: Subject, part: PartAnswer, reasons: list[Closed]) -> ClosedRow:
    reason, more = reasons[0], len(reasons) - 1
    also = f"The same at {more} more place{'' if more == 1 else 's'}." if more else ""
    said = " ".join(filter(None, (reason.why, also)))
    basis = f"{'hard rule, ' if reason.hard else ''}{reason.basis}"
    return ClosedRow(_way(subject, part, reason.closes), said, _figure(reason), basis)


def _figure(reason: Closed) -> str:
    """The figure against its limit and whose that is, in short; the first of them is told in full above."""
    if reason.measured is None or reason.limit is None:
        return ""
    whose = f", {LIMITS_FROM[reason.limit_from]}" if reason.limit_from else ""
    return f"{sentence(against(reason.measured, reason.limit))[:-1]}{whose}"


def _way(subject: Subject, part: PartAnswer, closed: str) -> str:
    """The way that a reason closes, by the titles that the rules give it."""
    if closed == "own":
        return ALL_WAYS
    concern_id, _, way_id = closed.partition(".")
    concern = subject.engine.book.concern(part.part, concern_id)
    if concern is None:
        return sentence(closes(closed))[:-1]
    title = next((way.title for way in concern.rungs() if way.id == way_id), plain(way_id))
    return sentence(f"{concern.title}: {title}")[:-1]


def _forced(part: PartAnswer, subject: Subject) -> list[ClosedRow]:
    """What another part's way asks of this one, where that is why it is not kept."""
    if part.grounds != "coupling":
        return []
    named = {other.position: other.title for other in subject.answer.parts}
    basis = {form.why: form.basis for form in subject.engine.book.couplings.values()}
    rows = []
    for one in part.forced_by:
        said = f"{named.get(one.position, one.position)}, {one.choice}: {one.why}"
        rows.append(ClosedRow(ALL_WAYS, said, "", basis.get(one.why, "")))
    return rows


def _left_open(subject: Subject, part: PartAnswer) -> list[ClosedRow]:
    """The ways to keep it that no rule closes, where money speaks against them."""
    if part.grounds != "money":
        return []
    rows = []
    for option in _priced(part, own=True):
        assert option.cost is not None
        cost = f"Likely {_money(subject, option.cost.likely)}, {_spread(subject, option.cost)}."
        rows.append(ClosedRow(sentence(ways(option.ways))[:-1], "Not closed by a rule.", cost, "prices"))
    return rows


def _priced(part: PartAnswer, *, own: bool) -> list[Option]:
    """The options left that have a price, the cheapest first."""
    left = [o for o in part.options if o.state != "closed" and (o.source == "own") == own and o.cost]
    return sorted(left, key=lambda option: option.cost.mean if option.cost else 0.0)


def ways_forward(subject: Subject, part: PartAnswer) -> list[WayForward]:
    """Every way that is not closed: other pieces, the cheapest first, then keeping it, then stopping."""
    offered = [*_priced(part, own=False), *(_priced(part, own=True) if part.grounds == "money" else [])]
    unpriced = [o for o in part.options if o.state != "closed" and o.source != "own" and o.cost is None]
    told = [_forward(subject, part, option) for option in [*offered, *unpriced]]
    return [*told, *_stop(subject)]


def _forward(subject: Subject, part: PartAnswer, option: Option) -> WayForward:
    named = {other.position: other.title for other in subject.answer.parts}
    kind = f", {plain(option.kind)}" if option.kind else ""
    kept = f": {ways(option.ways)}" if option.source == "own" else ""
    counted = option.source == part.source and option.kind == part.kind
    asked = [asks(option.forces, named), "The estimate counts on this way." if counted else ""]
    what = f"{PIECES[option.source]}{kind}{kept}"
    if option.cost is None:
        return WayForward(what, "no price", "", " ".join(filter(None, asked)))
    likely = _money(subject, option.cost.likely)
    return WayForward(what, likely, _spread(subject, option.cost), " ".join(filter(None, asked)))


def _stop(subject: Subject) -> list[WayForward]:
    """Breaking the core for parts, where its value so is known."""
    found = (choice.value for choice in subject.answer.choices if choice.choice == "break" and choice.value)
    return [
        WayForward(
            "Stop here: break the core for parts",
            f"leaves {_money(subject, value.likely)}",
            _spread(subject, value),
            "",
        )
        for value in found
    ]


def _money(subject: Subject, amount: float) -> str:
    return money(amount, subject.answer.currency)


def _spread(subject: Subject, cost: Spread) -> str:
    return f"{_money(subject, cost.low)} to {_money(subject, cost.high)}"
