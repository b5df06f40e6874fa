"""The answer names the shop's own entries that it rests on, and no others."""

from pathlib import Path

from inspect_app.bundle import judge_folder
from inspect_app.rulebook.forms_quantities import GaugeForm
from inspect_app.rulebook.forms_rules import PriceForm
from inspect_app.rulebook.load import load_rulebook
from inspect_app.rulebook.shop_rules import put_entry
from inspect_app.shipped import shipped

FOUR = shipped("demo_cores") / "brackwater-four"


def test_the_shipped_pack_alone_names_none() -> None:
    answer = judge_folder(FOUR, load_rulebook(shipped("rules")))
    assert answer.from_shop == ()
    assert answer.sheet is not None
    assert answer.sheet.source


def test_entries_that_were_used_are_named_with_who_and_when(tmp_path: Path) -> None:
    book = load_rulebook(shipped("rules"))
    plain = judge_folder(FOUR, book)
    used = {line.price for line in plain.bill}
    billed = book.prices[sorted(used)[0]]
    unbilled = next(price for price in book.prices.values() if price.id not in used)
    ours = tmp_path / "ours"
    for price in (billed, unbilled):
        put_entry(ours, "price", PriceForm(**(price.model_dump() | {"by": "B.W.", "date": "2026-11-25"})))
    gauge = book.gauges["dial bore gauge"]
    put_entry(ours, "gauge", GaugeForm(**(gauge.model_dump() | {"by": "K.O.", "date": "2026-11-24"})))
    answer = judge_folder(FOUR, load_rulebook(shipped("rules"), [ours]))
    told = [(one.table, one.id, one.overlay, one.by, one.date) for one in answer.from_shop]
    assert ("price", billed.id, "ours", "B.W.", "2026-11-25") in told
    assert ("gauge", "dial bore gauge", "ours", "K.O.", "2026-11-24") in told
    assert len(told) == 2
