"""A row of the rack: what it says without reading an Answer, also of a core that is older than the rules."""

import sqlite3
from contextlib import closing
from pathlib import Path

from inspect_app.model.answer import Answer
from inspect_app.store import (
    ShopFile,
    add_evidence,
    families,
    judge_core,
    load_core,
    open_shop_file,
    rack,
    revise_core,
    row_judged,
)
from tests.support import look, pump_book, pump_sheet

from .pumps import begin, worn
from .test_migrations import filled_at


def counted(answer: Answer) -> list[tuple[str | None, str | None]]:
    return [(part.verdict, part.standing) for part in answer.parts]


def test_a_row_says_of_the_answer_what_the_rack_shows(shop: ShopFile) -> None:
    begin(shop, look(id="l1"), worn("r1"))
    (before,) = rack(shop, pump_book())
    answer = judge_core(shop, pump_book(), "pump-1")
    (row,) = rack(shop, pump_book())
    left = next((c.value for c in answer.choices if c.choice == answer.core.verdict), None)
    assert (row.money, row.currency) == (left, answer.currency)
    assert row.sheet_title == pump_sheet().title
    spread = [(one.verdict, one.standing) for one in row.parts for _ in range(one.parts)]
    assert sorted(spread, key=str) == sorted(counted(answer), key=str)
    assert row == row_judged(before, answer), "kept or not, the row is the same"


def test_a_row_tells_a_core_never_judged_from_one_judged_before(shop: ShopFile) -> None:
    begin(shop, look(id="l1"))
    (never,) = rack(shop, pump_book())
    assert (never.fresh, never.judged, never.parts, never.money) == (False, False, (), None)
    judge_core(shop, pump_book(), "pump-1")
    revision = add_evidence(shop, pump_book(), "pump-1", [worn("r1")])
    (old,) = rack(shop, pump_book())
    assert (old.fresh, old.judged, old.revision) == (False, True, revision)
    assert old.parts


def test_a_row_names_the_entry_that_brings_what_the_core_waits_for(shop: ShopFile) -> None:
    begin(shop)
    answer = judge_core(shop, pump_book(), "pump-1")
    (row,) = rack(shop, pump_book())
    asked = {p.enter.by for part in answer.parts for p in part.open_points if p.enter}
    assert row.waits_by is None or row.waits_by in asked


def test_two_records_are_counted(shop: ShopFile) -> None:
    begin(shop)
    held = load_core(shop, "pump-1")
    for title in ("One", "Other"):
        changed = held.core.model_copy(update={"title": title})
        revise_core(shop, pump_book(), changed, pump_sheet(), "A", held.records)
    (row,) = rack(shop, pump_book())
    assert row.records == 2


def test_families_are_the_sheets_of_standing_records(shop: ShopFile) -> None:
    assert families(shop) == ()
    begin(shop)
    begin(shop, name="other")
    held = load_core(shop, "other")
    sheet = pump_sheet().model_copy(update={"title": "Pump, later"})
    revise_core(shop, pump_book(), held.core, sheet, "A", held.records)
    (family,) = families(shop)
    assert (family.sheet, family.title, family.cores, family.latest) == (
        pump_sheet().id,
        "Pump, later",
        2,
        "other",
    )


def test_a_judgement_of_an_older_file_is_the_last_known_and_not_fresh(tmp_path: Path) -> None:
    path = filled_at(tmp_path, "0004")
    with closing(sqlite3.connect(path)) as raw:
        row = ("pump-1", 1, 1, "r", "p", "build", "settled", None, 400.0, "USD", 0, "{}", None)
        raw.execute(f"INSERT INTO judgement VALUES ({', '.join('?' * len(row))})", row)
        raw.commit()
    with open_shop_file(path) as shop:
        (known,) = rack(shop, pump_book())
        assert (known.fresh, known.judged, known.verdict, known.cost_likely) == (False, True, "build", 400.0)
        assert (known.parts, known.money, known.sheet_title) == ((), None, "")
        judge_core(shop, pump_book(), "pump-1")
        assert rack(shop, pump_book())[0].fresh


def test_the_answer_stands_behind_all_that_the_rack_reads(shop: ShopFile) -> None:
    with shop.reading() as connection:
        columns = [row[1] for row in connection.exec_driver_sql("PRAGMA table_info(judgement)")]
    assert columns[-1] == "answer"
