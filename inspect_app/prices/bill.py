"""Needs become lines of a bill: a shared line counts once, an unpriced one says so.

Prices are triangles (low, likely, high) in the currency of the price book; everything is ranked by
the mean (low + likely + high) / 3.
"""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass

from inspect_app.model.answer import BillLine, TotalCost
from inspect_app.model.frozen import Spread
from inspect_app.rulebook.forms_parts import BillForm
from inspect_app.rulebook.forms_rules import PriceForm

ZERO = Spread(low=0.0, likely=0.0, high=0.0, mean=0.0)
CENTS = 2


@dataclass(frozen=True, order=True)
class Need:
    """A price taken so many times; `shared`: once for the whole core, whoever needs it."""

    price: str
    quantity: float
    shared: bool = False


def need_of(bill: BillForm, places: int = 1) -> Need:
    """A bill line of a rule file as a need; `places` is how many places the work is done at."""
    times = places if bill.per == "place" else 1
    return Need(bill.price, bill.quantity * bill.chance * times, bill.per == "core")


def mean(price: PriceForm) -> float:
    """Mean of the triangle."""
    return (price.low + price.likely + price.high) / 3


def spread_of(price: PriceForm, quantity: float) -> Spread:
    """A price taken `quantity` times."""
    low, likely, high = (quantity * value for value in (price.low, price.likely, price.high))
    return Spread(low=low, likely=likely, high=high, mean=(low + likely + high) / 3)


def unpriced(needs: Iterable[Need], prices: Mapping[str, PriceForm]) -> tuple[str, ...]:
    """Ids of prices that the book lacks."""
    return tuple(sorted({need.price for need in needs if need.price not in prices}))


def total(needs: Iterable[Need], prices: Mapping[str, PriceForm]) -> Spread:
    """Sum of all priced needs, each as it stands (nothing shared out or merged)."""
    return add(spread_of(prices[need.price], need.quantity) for need in needs if need.price in prices)


def add(spreads: Iterable[Spread | BillLine]) -> Spread:
    """Sum of spreads: all lows, all likely values, all highs, all means."""
    parts = list(spreads)
    return Spread(
        low=sum(s.low for s in parts),
        likely=sum(s.likely for s in parts),
        high=sum(s.high for s in parts),
        mean=sum(s.mean for s in parts),
    )


def rounded(spread: Spread) -> Spread:
    """To the cent, for showing."""
    return Spread(**{name: round(value, CENTS) + 0.0 for name, value in spread.model_dump().items()})


Asked = tuple[tuple[str, ...], Need]
"""Who needs something, and what."""


def bill_lines(asked: Iterable[Asked], prices: Mapping[str, PriceForm]) -> tuple[BillLine, ...]:
    """One line for each price, as a total. A shared need counts once; other quantities add up."""
    by_price: dict[str, list[Asked]] = {}
    for who, need in asked:
        by_price.setdefault(need.price, []).append((who, need))
    lines = (_line(prices[price], needs) for price, needs in by_price.items() if price in prices)
    return tuple(line for line in lines if line.quantity)


def _line(price: PriceForm, asked: list[Asked]) -> BillLine:
    shared = max((need.quantity for _, need in asked if need.shared), default=0.0)
    quantity = round(shared + sum(need.quantity for _, need in asked if not need.shared), 6)
    who = tuple(dict.fromkeys(name for names, _ in asked for name in names))
    spread = rounded(spread_of(price, quantity))
    return BillLine(
        line=price.title,
        price=price.id,
        quantity=quantity,
        days=price.days,
        needed_by=who,
        **spread.model_dump(),
    )


def bill_total(lines: Iterable[BillLine]) -> TotalCost:
    """The bill's total: `mean` is exactly the sum of the lines' means, to the cent."""
    return TotalCost(basis="sum", **rounded(add(lines)).model_dump())
