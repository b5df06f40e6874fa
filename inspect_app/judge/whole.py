"""The verdict of the core: build it, break it for parts, or let it go, by what each leaves in hand."""

from dataclasses import dataclass

from inspect_app.model.answer import ChoiceValue, PartAnswer, TotalCost
from inspect_app.model.core import Amount, Core
from inspect_app.model.frozen import CoreChoice, Spread, Standing
from inspect_app.model.money import money
from inspect_app.prices.bill import ZERO, add, rounded, spread_of

from .joint import Outcome
from .salvage import salvage_price


@dataclass(frozen=True)
class Whole:
    """Verdict, standing, why, what it waits for, and the value of each choice."""

    verdict: CoreChoice | None
    standing: Standing | None
    why: str
    waits_for: str | None
    choices: tuple[ChoiceValue, ...]


def best_alternative(core: Core) -> float | None:
    """Mean price of the cheapest alternative, or None if none is entered."""
    return min((a.price.mean for a in core.record.alternatives), default=None)


def whole(core: Core, outcome: Outcome, parts: tuple[PartAnswer, ...], cost: TotalCost) -> Whole:
    """Judge the core from its parts; null while one that decides it is not judged, or without its value."""
    book = outcome.joint.engine.book
    deciding = [p for p in parts if book.parts[p.part].decides_core]
    lost = _lost(parts, deciding)
    values: dict[CoreChoice, Spread | None] = {
        "build": None if lost else _build(core, cost),
        "break": _break(core, outcome),
        "let_go": _let_go(core),
    }
    choices = tuple(ChoiceValue(choice=choice, value=value) for choice, value in values.items())
    waiting = [_lacking(p) for p in deciding if p.verdict is None]
    if core.record.value_built is None:
        waiting.append("value when built")
    if waiting:
        return Whole(None, None, f"Not judged: waits for {waiting[0]}.", waiting[0], choices)
    verdict = max(values, key=lambda choice: v.mean if (v := values[choice]) else float("-inf"))
    settled = all(p.standing == "settled" for p in parts)
    why = lost + _why(verdict, values, outcome.joint.engine.book.price_book.currency)
    return Whole(verdict, "settled" if settled else "provisional", why, _waits_for(parts), choices)


def _lost(parts: tuple[PartAnswer, ...], deciding: list[PartAnswer]) -> str:
    """Why it cannot be built: a position that nothing is left for, or one too dear that decides; else ""."""
    gone = [p.title.lower() for p in parts if p.verdict == "scrap" and p.grounds == "evidence"]
    if gone:
        return f"Nothing is left for the {' and the '.join(gone)}. "
    dear = [p.title.lower() for p in deciding if p.verdict == "scrap"]
    return f"The {' and the '.join(dear)} would cost more than the best alternative. " if dear else ""


def _lacking(part: PartAnswer) -> str:
    """What keeps a part from being judged: a price, else the first look."""
    prices = [point.what for point in part.open_points if point.needed_for == ("cost",)]
    return f"{prices[0]} ({part.title.lower()})" if prices else f"first look at {part.title.lower()}"


def _build(core: Core, cost: TotalCost) -> Spread | None:
    if core.record.value_built is None:
        return None
    return rounded(_less(_spread(core.record.value_built), add([cost, _asking(core)])))


def _break(core: Core, outcome: Outcome) -> Spread | None:
    """The value in parts as entered, else what the pieces bring at the book's prices."""
    if core.record.value_in_parts is not None:
        return rounded(_less(_spread(core.record.value_in_parts), _asking(core)))
    prices = outcome.joint.pricing.prices
    states = [s for s in outcome.joint.choices.states.values() if s.there]
    names = [salvage_price(outcome, state) for state in states]
    brought = add(spread_of(prices[name], 1) for name in names if name is not None and name in prices)
    return rounded(_less(brought, _asking(core)))


def _let_go(core: Core) -> Spread:
    """Nothing, or what the best alternative leaves if the engine built is worth more than its price."""
    built = core.record.value_built
    if built is None or not core.record.alternatives:
        return ZERO
    left = [_less(_spread(built), _spread(a.price)) for a in core.record.alternatives]
    best = max(left, key=lambda spread: spread.mean)
    return rounded(best) if best.mean > 0 else ZERO


def _asking(core: Core) -> Spread:
    """The asking price while it can still be left unpaid."""
    price = core.record.asking_price
    return _spread(price) if price is not None and core.stage == "yard_look" else ZERO


def _spread(amount: Amount) -> Spread:
    return Spread(low=amount.low, likely=amount.likely, high=amount.high, mean=amount.mean)


def _less(one: Spread, other: Spread) -> Spread:
    """One - other: the low end pairs with the other's high."""
    return Spread(
        low=one.low - other.high,
        likely=one.likely - other.likely,
        high=one.high - other.low,
        mean=one.mean - other.mean,
    )


_FEW_WORDS = 48
_WORDS: dict[CoreChoice, str] = {
    "build": "Built, it leaves",
    "break": "In parts it brings",
    "let_go": "Letting it go leaves",
}


def _why(verdict: CoreChoice, values: dict[CoreChoice, Spread | None], currency: str) -> str:
    order = [verdict, *(choice for choice in values if choice != verdict)]
    told = [f"{_WORDS[c]} {money(v.mean, currency)}" for c in order if (v := values[c]) is not None]
    return ". ".join([f"{told[0]} on average", *told[1:]]) + "."


def _waits_for(parts: tuple[PartAnswer, ...]) -> str | None:
    """The first open point: of a part that nobody has looked at, since looking costs least; else in order."""
    for part in sorted(parts, key=lambda p: p.verdict is not None):
        if part.open_points and part.standing != "settled":
            point = part.open_points[0]
            at = f", {point.place}" if 0 < len(point.place) <= _FEW_WORDS else ""
            return f"{part.title}: {point.what}{at}"
    return None
