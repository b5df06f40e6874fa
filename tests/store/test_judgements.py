"""The kept judgement is the one that a fresh look would give, and the rack reads nothing else."""

import sqlite3
from collections.abc import Iterator
from dataclasses import replace
from itertools import count
from pathlib import Path

import pytest
from hypothesis import HealthCheck, given, settings

from inspect_app.judge import judge
from inspect_app.model.answer import Answer
from inspect_app.model.evidence import Evidence
from inspect_app.model.problems import Problems
from inspect_app.rulebook.book import Rulebook
from inspect_app.rulebook.engine import Engine
from inspect_app.rulebook.load import load_rulebook
from inspect_app.store import (
    ShopFile,
    add_evidence,
    check_shop_file,
    create_shop_file,
    drop_judgements,
    judge_core,
    load_core,
    photos_of,
    previews_about,
    rack,
    revise_core,
)
from tests.support import PUMP, changed_pack, finding, look, pump_book, pump_sheet

from . import drawn
from .pumps import OTHER, PICTURE, begin, photo, worn

UNHURRIED = {"deadline": None, "suppress_health_check": list(HealthCheck)}
_names = count(1)


def fresh(shop: ShopFile, book: Rulebook, name: str = "pump-1") -> Answer:
    held = load_core(shop, name)
    return judge(held.core, Engine(book, held.sheet))


def kept(shop: ShopFile, name: str = "pump-1") -> bool:
    with shop.reading() as connection:
        query = "SELECT count(*) FROM judgement WHERE core = ?"
        return bool(connection.exec_driver_sql(query, (name,)).scalar())


@pytest.fixture(scope="module")
def shared(tmp_path_factory: pytest.TempPathFactory) -> Iterator[ShopFile]:
    with create_shop_file(tmp_path_factory.mktemp("judged") / "shop.sqlite") as shop:
        yield shop


def kept_is_fresh(shop: ShopFile, first: tuple[Evidence, ...], more: tuple[Evidence, ...]) -> None:
    name, book = f"drawn-{next(_names)}", pump_book()
    begin(shop, *first, name=name)
    assert judge_core(shop, book, name) == fresh(shop, book, name)
    assert kept(shop, name)
    assert judge_core(shop, book, name) == fresh(shop, book, name), "read back from the file"
    add_evidence(shop, book, name, more, [PICTURE])
    assert judge_core(shop, book, name) == fresh(shop, book, name), "after more evidence"


@given(drawn.evidence(), drawn.evidence(most=2, prefix="more"))
@settings(max_examples=25, **UNHURRIED)
def test_a_kept_judgement_is_a_fresh_one(
    shared: ShopFile, first: tuple[Evidence, ...], more: tuple[Evidence, ...]
) -> None:
    kept_is_fresh(shared, first, more)


@pytest.mark.long
@given(drawn.evidence(most=20), drawn.evidence(most=6, prefix="more"))
@settings(max_examples=400, **UNHURRIED)
def test_a_kept_judgement_is_a_fresh_one_for_many(
    shared: ShopFile, first: tuple[Evidence, ...], more: tuple[Evidence, ...]
) -> None:
    kept_is_fresh(shared, first, more)


@pytest.mark.parametrize(
    "change",
    [
        {'[[price]]\nid = "housing-new"': '[[price]]\nid = "housing-new"'},
        {'version = "1.0"': 'version = "1.1"'},
    ],
    ids=["nothing", "rules"],
)
def test_another_rulebook_judges_anew(shop: ShopFile, tmp_path: Path, change: dict[str, str]) -> None:
    begin(shop, look(id="l1"), worn("r1"))
    judge_core(shop, pump_book(), "pump-1")
    other = load_rulebook(changed_pack(tmp_path, change))
    same = other.sha256 == pump_book().sha256
    assert rack(shop, other)[0].fresh == same
    assert judge_core(shop, other, "pump-1") == fresh(shop, other)
    assert rack(shop, other)[0].fresh
    assert rack(shop, pump_book())[0].fresh == same


def test_another_price_judges_anew(shop: ShopFile, tmp_path: Path) -> None:
    begin(shop, look(id="l1"), worn("r1"))
    before = judge_core(shop, pump_book(), "pump-1")
    folder = changed_pack(tmp_path)
    prices = folder / "prices.toml"
    prices.write_text(prices.read_text().replace("60", "61"))
    dearer = load_rulebook(folder)
    assert dearer.sha256 == pump_book().sha256
    assert not rack(shop, dearer)[0].fresh
    after = judge_core(shop, dearer, "pump-1")
    assert after == fresh(shop, dearer)
    assert after.prices != before.prices


def test_a_shops_own_folder_judges_anew(shop: ShopFile, tmp_path: Path) -> None:
    begin(shop, worn("r1"))
    judge_core(shop, pump_book(), "pump-1")
    overlay = tmp_path / "ours"
    overlay.mkdir()
    rows = (PUMP / "prices.toml").read_text()
    (overlay / "ours.toml").write_text("[[price]]" + rows.split("[[price]]")[1])
    with_ours = load_rulebook(PUMP, [overlay])
    assert not rack(shop, with_ours)[0].fresh
    assert judge_core(shop, with_ours, "pump-1") == fresh(shop, with_ours)


def test_a_changed_record_judges_anew(shop: ShopFile) -> None:
    begin(shop, look(id="l1"))
    assert judge_core(shop, pump_book(), "pump-1").core.build_standard == "rebuild"
    held = load_core(shop, "pump-1")
    changed = held.core.model_copy(update={"build_standard": "run"})
    revise_core(shop, pump_book(), changed, pump_sheet(), "A", held.records)
    assert judge_core(shop, pump_book(), "pump-1").core.build_standard == "run"


def test_judgements_can_be_dropped_at_any_time(shop: ShopFile) -> None:
    begin(shop, worn("r1"))
    before = judge_core(shop, pump_book(), "pump-1")
    drop_judgements(shop)
    assert not kept(shop)
    assert judge_core(shop, pump_book(), "pump-1") == before
    assert check_shop_file(shop) == []


def test_a_core_that_cannot_be_judged_keeps_its_words(shop: ShopFile) -> None:
    begin(shop, finding("crack", "pocket driver", id="f1"))
    fewer = {word: form for word, form in pump_book().damage.items() if word != "crack"}
    less = replace(pump_book(), damage=fewer, sha256="0" * 64)
    for _ in range(2):
        with pytest.raises(Problems, match='evidence f1: "crack" is no damage word of this rulebook'):
            judge_core(shop, less, "pump-1")
    (row,) = rack(shop, less)
    assert row.fresh
    assert row.problem is not None
    assert row.problem.startswith('evidence f1: "crack" is no damage word of this rulebook.')


def test_the_rack_shows_what_was_judged_and_that_it_is_old(shop: ShopFile) -> None:
    begin(shop, look(id="l1"), photo("p1"))
    begin(shop, name="apart")
    answer = judge_core(shop, pump_book(), "pump-1")
    never, judged = rack(shop, pump_book())
    assert (never.id, never.title, never.fresh, never.verdict) == ("apart", "Pump 1", False, None)
    assert judged.fresh
    assert (judged.verdict, judged.standing, judged.waits_for, judged.cost_likely, judged.not_judged) == (
        answer.core.verdict,
        answer.core.standing,
        answer.core.waits_for,
        answer.core.cost.likely,
        len(answer.core.not_judged),
    )
    add_evidence(shop, pump_book(), "pump-1", [worn("r1")])
    _, old = rack(shop, pump_book())
    assert not old.fresh
    assert old.verdict == judged.verdict


def test_the_rack_and_the_list_of_photos_read_no_bytes_of_files(shop: ShopFile) -> None:
    begin(shop, photo("p1"), photo("p2", OTHER), worn("r1"))
    judge_core(shop, pump_book(), "pump-1")
    read: set[tuple[str, str]] = set()

    def note(action: int, table: str | None, column: str | None, *_: object) -> int:
        if action == sqlite3.SQLITE_READ:
            read.add((table or "", column or ""))
        return sqlite3.SQLITE_OK

    with shop.reading() as connection:
        raw = connection.connection.driver_connection
    assert isinstance(raw, sqlite3.Connection)
    raw.set_authorizer(note)
    rack(shop, pump_book())
    of_rack = set(read)
    photos_of(shop, "pump-1")
    previews_about(shop, "pump-1", "small")
    load_core(shop, "pump-1")
    raw.set_authorizer(None)
    assert ("judgement", "verdict") in of_rack, "the reads are seen at all"
    heavy = {("evidence", "body"), ("record", "body"), ("judgement", "answer"), ("photo", "sha256")}
    assert of_rack & heavy == set()
    assert ("photo", "size") in read
    assert {pair for pair in read if pair[0] == "file_bytes" or pair == ("preview", "bytes")} == set()
