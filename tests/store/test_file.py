"""The shop file opened, made, refused and shared."""

import os
import sqlite3
import stat
import threading
from contextlib import closing
from pathlib import Path

import pytest

from inspect_app.model.problems import Problems
from inspect_app.store import (
    Busy,
    NewerShopFile,
    ShopFile,
    add_evidence,
    check_shop_file,
    create_shop_file,
    load_core,
    open_shop_file,
    rack,
)
from tests.support import pump_book

from .pumps import begin, worn

SETTINGS = {
    "foreign_keys": 1,
    "recursive_triggers": 1,
    "journal_mode": "wal",
    "synchronous": 2,
    "busy_timeout": 200,
    "trusted_schema": 0,
}


def words(path: Path) -> str:
    with pytest.raises(Problems) as caught:
        open_shop_file(path)
    return str(caught.value)


def test_a_new_file_is_sound_and_empty_and_stands_alone(shop: ShopFile) -> None:
    assert check_shop_file(shop) == []
    assert rack(shop, pump_book()) == ()
    shop.close()
    assert [path.name for path in shop.path.parent.iterdir()] == ["shop.sqlite"]


def test_a_new_file_has_the_rights_that_this_user_gives(tmp_path: Path) -> None:
    old = os.umask(0o027)
    try:
        create_shop_file(tmp_path / "new.sqlite").close()
    finally:
        os.umask(old)
    assert stat.S_IMODE((tmp_path / "new.sqlite").stat().st_mode) == 0o640


@pytest.mark.parametrize("setting", SETTINGS)
def test_every_connection_has_its_settings(shop: ShopFile, setting: str) -> None:
    def asked() -> object:
        with shop.reading() as connection:
            return connection.exec_driver_sql(f"PRAGMA {setting}").scalar()

    with shop.reading(), shop.reading(), shop.writing():
        assert asked() == SETTINGS[setting]


def test_a_write_takes_the_right_to_write_before_it_reads(shop: ShopFile) -> None:
    with shop.writing(), pytest.raises(Busy) as caught, shop.writing():
        pass
    assert str(caught.value) == (
        f"{shop.path}: somebody else is writing to it. Nothing of this was saved. "
        "Try again in a moment; if it stays so, close the other program."
    )


def test_a_read_is_a_snapshot_and_stops_no_write(shop: ShopFile) -> None:
    begin(shop)
    with shop.reading() as connection:
        count = "SELECT count(*) FROM evidence"
        assert connection.exec_driver_sql(count).scalar() == 0
        add_evidence(shop, pump_book(), "pump-1", [worn("r1")])
        assert connection.exec_driver_sql(count).scalar() == 0
    assert load_core(shop, "pump-1").core.evidence == (worn("r1"),)


def test_a_block_that_fails_leaves_nothing_behind(shop: ShopFile) -> None:
    def half() -> None:
        with shop.writing() as connection:
            connection.exec_driver_sql("INSERT INTO core VALUES ('x', 'now')")
            connection.exec_driver_sql("CREATE TABLE also (x)")
            raise RuntimeError

    with pytest.raises(RuntimeError):
        half()
    with shop.reading() as connection:
        assert connection.exec_driver_sql("SELECT count(*) FROM core").scalar() == 0
        assert connection.exec_driver_sql("SELECT 1 FROM sqlite_master WHERE name = 'also'").first() is None


def test_many_threads_write_and_nothing_is_lost(tmp_path: Path) -> None:
    with create_shop_file(tmp_path / "shop.sqlite", wait_s=30) as shop:
        begin(shop)

        def write(thread: int) -> None:
            for number in range(6):
                add_evidence(shop, pump_book(), "pump-1", [worn(f"r{thread}-{number}")])

        threads = [threading.Thread(target=write, args=(number,)) for number in range(4)]
        for thread in threads:
            thread.start()
        for thread in threads:
            thread.join()
        held = load_core(shop, "pump-1")
    assert {item.id for item in held.core.evidence} == {f"r{t}-{n}" for t in range(4) for n in range(6)}


def test_a_name_that_is_taken_is_not_written_over(tmp_path: Path) -> None:
    path = tmp_path / "shop.sqlite"
    path.write_text("mine")
    with pytest.raises(Problems, match=r"something of this name is there already\. Name a new one\."):
        create_shop_file(path)
    assert path.read_text() == "mine"
    assert [found.name for found in tmp_path.iterdir()] == ["shop.sqlite"]


def test_a_folder_that_is_not_there_is_told(tmp_path: Path) -> None:
    with pytest.raises(Problems, match=r"it cannot be written: No such file or directory\. Name a place"):
        create_shop_file(tmp_path / "none" / "shop.sqlite")


def test_what_is_no_shop_file_is_told(tmp_path: Path) -> None:
    text, empty, other = tmp_path / "a.txt", tmp_path / "empty", tmp_path / "other.sqlite"
    text.write_text("a letter")
    empty.touch()
    with closing(sqlite3.connect(other)) as database:
        database.execute("CREATE TABLE mine (x)")
    before = other.read_bytes()
    assert words(text) == f"{text}: this is not a shop file. Name the shop's own file."
    assert words(empty) == f"{empty}: this is not a shop file. Name the shop's own file."
    assert words(other) == f"{other}: this database is not a shop file. Name the shop's own file."
    assert words(tmp_path) == f"{tmp_path}: it cannot be read: Is a directory. Name the shop's own file."
    assert other.read_bytes() == before, "nor is its way of writing changed"
    none = tmp_path / "none"
    assert words(none) == f"{none}: it cannot be read: No such file or directory. Name the shop's own file."
    assert not none.exists()


def test_what_only_begins_like_one_is_no_shop_file(tmp_path: Path) -> None:
    path = tmp_path / "torn.sqlite"
    path.write_bytes(b"SQLite format 3\x00" + b"torn" * 2000)
    assert words(path) == f"{path}: this database is not a shop file. Name the shop's own file."


def test_a_torn_shop_file_is_told(shop: ShopFile) -> None:
    begin(shop, worn("r1"))
    shop.close()
    data = bytearray(shop.path.read_bytes())
    data[100:] = b"torn" * (len(data) // 4 - 25)
    shop.path.write_bytes(data)
    assert words(shop.path) == (
        f"{shop.path}: its content is damaged. Stop writing to it and restore the latest backup: "
        "the damaged file is kept beside it."
    )
    shop.path.write_bytes(bytes(data[:100]) + b"short")
    assert "damaged" in words(shop.path) or "not a shop file" in words(shop.path)


def test_a_file_of_a_newer_program_is_told_and_left_alone(shop: ShopFile) -> None:
    shop.close()
    with closing(sqlite3.connect(shop.path, isolation_level=None)) as raw:
        raw.execute("UPDATE alembic_version SET version_num = '0999'")
    before = shop.path.read_bytes()
    with pytest.raises(NewerShopFile) as caught:
        open_shop_file(shop.path)
    assert str(caught.value) == (
        f"{shop.path}: a newer program has written it (version 0999; this program knows 0005). "
        "Update this program. The file was not touched."
    )
    assert shop.path.read_bytes() == before


def test_names_that_an_address_would_misread_are_plain_names(tmp_path: Path) -> None:
    path = tmp_path / "50% of #1 ?mode=memory.sqlite"
    create_shop_file(path).close()
    assert path.is_file()
    open_shop_file(path).close()
