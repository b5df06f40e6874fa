"""Nothing in an append-only table is changed or removed, whichever way somebody tries."""

import sqlite3
from collections.abc import Iterator
from contextlib import closing

import pytest

from inspect_app.store import ShopFile, check_shop_file, revise_core
from inspect_app.store.connections import connect
from inspect_app.store.guards import APPEND_ONLY
from tests.support import pump_book, pump_sheet

from .pumps import PICTURE, begin, photo, pump, sha256, worn

MAY_CHANGE = {"draft", "preview", "judgement", "paired", "alembic_version", "sqlite_sequence"}


@pytest.fixture(params=["as the program", "as any program"])
def raw(request: pytest.FixtureRequest, shop: ShopFile) -> Iterator[sqlite3.Connection]:
    """A filled file, with the settings of our connections and with SQLite's own."""
    begin(shop, photo("p1"), worn("r1"))
    revise_core(shop, pump_book(), pump(title="Renamed"), pump_sheet(), "B. Tester", [1])
    shop.close()
    opened = connect(shop.path) if request.param == "as the program" else sqlite3.connect(shop.path)
    with closing(opened):
        yield opened


def rows(raw: sqlite3.Connection, table: str) -> list[tuple[object, ...]]:
    return raw.execute(f"SELECT * FROM {table} ORDER BY 1, 2").fetchall()


def columns(raw: sqlite3.Connection, table: str) -> list[str]:
    return [row[1] for row in raw.execute(f"PRAGMA table_info({table})")]


def attempts(raw: sqlite3.Connection, table: str) -> Iterator[str]:
    names = columns(raw, table)
    all_names = ", ".join(f'"{name}"' for name in names)
    changed = ", ".join([*(f'"{name}"' for name in names[:-1]), "'other'"])
    if table == "record_follows":
        changed = all_names
    key = f'"{names[0]}"'
    yield f"UPDATE {table} SET \"{names[-1]}\" = 'other'"
    yield f"UPDATE {table} SET {key} = {key}"
    yield f"UPDATE OR REPLACE {table} SET {key} = {key}"
    yield f"UPDATE {table} SET rowid = rowid + 1000"
    yield f"DELETE FROM {table}"
    yield f"DELETE FROM {table} WHERE rowid IN (SELECT max(rowid) FROM {table})"
    for verb in ("REPLACE", "INSERT OR REPLACE", "INSERT", "INSERT OR IGNORE", "INSERT OR FAIL"):
        yield f"{verb} INTO {table} ({all_names}) SELECT {changed} FROM {table}"
    yield (
        f"INSERT INTO {table} ({all_names}) SELECT {all_names} FROM {table} WHERE true "
        f"ON CONFLICT DO UPDATE SET \"{names[-1]}\" = 'other'"
    )


@pytest.mark.parametrize("table", APPEND_ONLY)
def test_every_way_to_change_a_row_is_refused(raw: sqlite3.Connection, table: str) -> None:
    before = rows(raw, table)
    assert before, "there is something to lose"
    for sql in attempts(raw, table):
        with pytest.raises(sqlite3.IntegrityError):
            raw.execute(sql)
        raw.rollback()
        assert rows(raw, table) == before, sql


def test_a_row_cannot_be_replaced_by_its_other_key_either(raw: sqlite3.Connection) -> None:
    before = rows(raw, "evidence")
    taken = (
        'REPLACE INTO evidence (core, id, kind, who, "when", written, body) '
        "SELECT core, id, kind, 'somebody else', \"when\", written, body FROM evidence"
    )
    with pytest.raises(sqlite3.IntegrityError, match="nothing in the table evidence is changed"):
        raw.execute(taken)
    raw.rollback()
    assert rows(raw, "evidence") == before


def test_every_table_is_append_only_or_known_to_change(raw: sqlite3.Connection) -> None:
    tables = {name for (name,) in raw.execute("SELECT name FROM sqlite_master WHERE type = 'table'")}
    assert tables == {*APPEND_ONLY, *MAY_CHANGE}


@pytest.mark.parametrize(
    ("sql", "told"),
    [
        ("DROP TRIGGER evidence_no_delete", 'the guard "evidence_no_delete" of its tables is missing.'),
        (
            "CREATE TRIGGER more AFTER INSERT ON evidence BEGIN DELETE FROM draft; END",
            'the guard "more" of its tables is not ours.',
        ),
    ],
)
def test_the_check_tells_of_guards_that_are_not_as_they_were_made(
    shop: ShopFile, sql: str, told: str
) -> None:
    with closing(sqlite3.connect(shop.path)) as raw:
        raw.execute(sql)
    (problem,) = check_shop_file(shop)
    assert problem.what == told


def test_a_guard_that_was_weakened_is_told(shop: ShopFile) -> None:
    with closing(sqlite3.connect(shop.path)) as raw:
        raw.execute("DROP TRIGGER photo_no_delete")
        raw.execute("CREATE TRIGGER photo_no_delete BEFORE DELETE ON photo BEGIN SELECT 1; END")
    (problem,) = check_shop_file(shop)
    assert problem.what == 'the guard "photo_no_delete" of its tables is changed.'


def test_the_check_finds_what_went_around_the_guards(shop: ShopFile) -> None:
    begin(shop, photo("p1"), worn("r1"))
    with closing(sqlite3.connect(shop.path, isolation_level=None)) as raw:
        kept = dict(raw.execute("SELECT name, sql FROM sqlite_master WHERE type = 'trigger'").fetchall())
        for name in kept:
            raw.execute(f"DROP TRIGGER {name}")
        raw.execute("UPDATE evidence SET body = replace(body, '40.020', '40.000')")
        raw.execute("UPDATE photo SET id = 'p2'")
        raw.execute(
            "INSERT INTO evidence SELECT 99, core, 'p3', kind, piece, who, \"when\", written, "
            "digest, '{}' FROM evidence WHERE id = 'p1'"
        )
        raw.execute("UPDATE file_bytes SET bytes = x'00' WHERE size < 100")
        raw.execute("UPDATE record SET title = 'x', body = replace(body, 'Pump 1', 'Pump 2')")
        for sql in kept.values():
            raw.execute(sql)
    told = [str(problem) for problem in check_shop_file(shop)]
    assert any(text.startswith('core "pump-1", record 1: it does not hold what was') for text in told)
    assert any(text.startswith('core "pump-1", evidence r1: it does not hold') for text in told)
    assert any(text.startswith('core "pump-1", evidence p3: it does not hold') for text in told)
    assert any("evidence p3: its picture is not in the file." in text for text in told)
    assert any(f"{sha256(PICTURE)[:12]}...: its bytes are not those that were kept." in text for text in told)
