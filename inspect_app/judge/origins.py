"""Which of the shop's own entries an answer rests on, and the sheet it was judged by."""

from collections.abc import Iterable, Iterator

from inspect_app.model.answer import BillLine, FromShop, PartAnswer, SheetUsed
from inspect_app.model.evidence import Evidence, Reading
from inspect_app.rulebook.engine import Engine


def sheet_used(engine: Engine) -> SheetUsed:
    """The engine sheet that sizes and limits come from."""
    sheet = engine.sheet
    return SheetUsed(id=sheet.id, title=sheet.title, source=sheet.source)


def from_shop(
    engine: Engine, items: Iterable[Evidence], parts: Iterable[PartAnswer], bill: Iterable[BillLine]
) -> tuple[FromShop, ...]:
    """Prices of the bill, gauges of the readings and rules that closed a way, where the shop wrote them."""
    found = [*_prices(engine, bill), *_gauges(engine, items), *_rules(engine, parts)]
    return tuple(sorted(set(found), key=lambda one: (one.table, one.id)))


def _prices(engine: Engine, bill: Iterable[BillLine]) -> Iterator[FromShop]:
    billed = {line.price for line in bill}
    for price in engine.book.prices.values():
        if price.id in billed:
            yield from _told(engine, "price", price.id, price.title, price.by, price.date)


def _gauges(engine: Engine, items: Iterable[Evidence]) -> Iterator[FromShop]:
    for name in {item.gauge for item in items if isinstance(item, Reading) and item.gauge}:
        gauge = engine.book.gauges[name]
        yield from _told(engine, "gauge", name, gauge.title, gauge.by, gauge.date)


def _rules(engine: Engine, parts: Iterable[PartAnswer]) -> Iterator[FromShop]:
    for name in {reason.rule for part in parts for reason in part.closed}:
        if name in engine.book.rules:
            yield from _told(engine, "rule", name, name, "", "")


def _told(engine: Engine, table: str, entry: str, title: str, by: str, date: str) -> Iterator[FromShop]:
    if engine.book.from_shop(table, entry):
        overlay = engine.book.where[(table, entry)].overlay
        yield FromShop(table=table, id=entry, title=title, overlay=overlay, by=by, date=date)
