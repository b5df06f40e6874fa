"""Backup while the shop works on, and restore that keeps what was there."""

import shutil
import sqlite3
import threading
from contextlib import closing
from pathlib import Path

import pytest

from inspect_app.model.problems import Problems
from inspect_app.store import (
    Busy,
    Damaged,
    NotAShopFile,
    ShopFile,
    add_evidence,
    back_up,
    check_shop_file,
    create_shop_file,
    load_core,
    open_shop_file,
    picture_of,
    restore,
)
from tests.support import pump_book

from .pumps import PICTURE, begin, photo, worn
from .test_migrations import filled_at


def ids(path: Path) -> list[str]:
    with open_shop_file(path) as shop:
        assert check_shop_file(shop) == []
        return [item.id for item in load_core(shop, "pump-1").core.evidence]


def test_a_backup_is_one_sound_file_with_all_that_was_saved(shop: ShopFile, tmp_path: Path) -> None:
    begin(shop, worn("r1"), photo("p1"))
    target = tmp_path / "away" / "backup.sqlite"
    target.parent.mkdir()
    back_up(shop, target)
    assert [path.name for path in target.parent.iterdir()] == ["backup.sqlite"]
    assert target.read_bytes()[18:20] == b"\x01\x01", "SQLite's mark of a file that is read alone"
    assert ids(target) == ["r1", "p1"]
    with open_shop_file(target) as copy:
        assert picture_of(copy, "pump-1", "p1") == PICTURE


def test_a_backup_holds_one_moment_while_others_write(tmp_path: Path) -> None:
    with create_shop_file(tmp_path / "shop.sqlite", wait_s=30) as shop:
        begin(shop)
        done = threading.Event()
        written: list[str] = []

        def write() -> None:
            while not done.is_set():
                name = f"r{len(written)}"
                add_evidence(shop, pump_book(), "pump-1", [worn(name)])
                written.append(name)

        thread = threading.Thread(target=write)
        thread.start()
        try:
            for number in range(3):
                before = len(written)
                back_up(shop, tmp_path / f"backup-{number}.sqlite")
                held = ids(tmp_path / f"backup-{number}.sqlite")
                assert len(held) >= before
                assert held == [f"r{n}" for n in range(len(held))], "nothing between is missing"
        finally:
            done.set()
            thread.join()
        assert [item.id for item in load_core(shop, "pump-1").core.evidence] == written


def test_a_backup_writes_over_nothing(shop: ShopFile, tmp_path: Path) -> None:
    (tmp_path / "backup.sqlite").write_text("mine")
    with pytest.raises(Problems, match="something of this name is there already"):
        back_up(shop, tmp_path / "backup.sqlite")
    assert (tmp_path / "backup.sqlite").read_text() == "mine"


def test_a_backup_that_would_not_be_sound_is_not_made(shop: ShopFile, tmp_path: Path) -> None:
    with closing(sqlite3.connect(shop.path)) as raw:
        raw.execute("DROP TRIGGER evidence_no_update")
    target = tmp_path / "backup.sqlite"
    with pytest.raises(Problems) as caught:
        back_up(shop, target)
    assert str(caught.value).startswith(f'{target}: the guard "evidence_no_update" of its tables is missing.')
    assert sorted(path.name for path in tmp_path.iterdir() if "copy" in path.name or path == target) == []


def test_a_folder_that_is_not_there_is_told(shop: ShopFile, tmp_path: Path) -> None:
    with pytest.raises(Problems, match="it cannot be written: No such file or directory"):
        back_up(shop, tmp_path / "none" / "backup.sqlite")


@pytest.fixture
def two(tmp_path: Path) -> tuple[Path, Path]:
    """A backup with one reading, and the shop file with one more."""
    path, backup = tmp_path / "shop.sqlite", tmp_path / "backup.sqlite"
    with create_shop_file(path) as shop:
        begin(shop, worn("r1"))
        back_up(shop, backup)
        add_evidence(shop, pump_book(), "pump-1", [worn("r2")])
    return path, backup


def test_restore_keeps_the_file_that_was_there_and_says_where(two: tuple[Path, Path]) -> None:
    path, backup = two
    before = backup.read_bytes()
    kept = restore(backup, path)
    assert kept is not None
    assert kept.parent == path.parent
    assert kept.name.startswith("shop-before-restore-")
    assert {found.name for found in path.parent.iterdir()} == {path.name, backup.name, kept.name}
    assert backup.read_bytes() == before
    assert (ids(path), ids(kept)) == (["r1"], ["r1", "r2"])


def test_restore_twice_in_one_second_keeps_both(two: tuple[Path, Path]) -> None:
    path, backup = two
    first, second = restore(backup, path), restore(backup, path)
    assert first is not None
    assert second is not None
    assert first != second
    assert (ids(first), ids(second)) == (["r1", "r2"], ["r1"])


def test_restore_to_a_place_where_nothing_was(two: tuple[Path, Path]) -> None:
    path, backup = two
    assert restore(backup, path.with_name("new.sqlite")) is None
    assert ids(path.with_name("new.sqlite")) == ["r1"]


def test_restore_waits_for_no_program_that_has_the_file_open(two: tuple[Path, Path]) -> None:
    path, backup = two
    with open_shop_file(path) as shop:
        load_core(shop, "pump-1")
        with pytest.raises(Busy) as caught:
            restore(backup, path, wait_s=0.2)
        add_evidence(shop, pump_book(), "pump-1", [worn("r3")])
    assert str(caught.value) == (
        f"{path}: a program has it open. Nothing was restored. Close the program first."
    )
    assert ids(path) == ["r1", "r2", "r3"]
    assert {found.name for found in path.parent.iterdir()} == {path.name, backup.name}


def test_restore_over_a_damaged_file_keeps_that_too(two: tuple[Path, Path]) -> None:
    path, backup = two
    path.write_bytes(path.read_bytes()[:100] + b"torn" * 999)
    damaged = path.read_bytes()
    kept = restore(backup, path)
    assert kept is not None
    assert kept.read_bytes() == damaged
    assert ids(path) == ["r1"]


def test_what_lay_unwritten_beside_the_old_file_goes_with_it(two: tuple[Path, Path], tmp_path: Path) -> None:
    path, backup = two
    with open_shop_file(path) as shop:
        add_evidence(shop, pump_book(), "pump-1", [worn("r3")])
        killed = tmp_path / "killed.sqlite"
        for end in ("", "-wal"):
            shutil.copy(f"{path}{end}", f"{killed}{end}")
    kept = restore(backup, killed)
    assert kept is not None
    assert (ids(killed), ids(kept)) == (["r1"], ["r1", "r2", "r3"])


@pytest.mark.parametrize("spoil", ["text", "torn", "unguarded"])
def test_a_backup_that_is_not_sound_is_not_restored(two: tuple[Path, Path], spoil: str) -> None:
    path, backup = two
    match spoil:
        case "text":
            backup.write_text("a letter")
        case "torn":
            backup.write_bytes(backup.read_bytes()[:100] + b"torn" * 9999)
        case _:
            with closing(sqlite3.connect(backup)) as raw:
                raw.execute("DROP TRIGGER core_no_delete")
    with pytest.raises(Problems) as caught:
        restore(backup, path)
    assert str(caught.value).startswith(f"{backup}: ")
    assert isinstance(caught.value, NotAShopFile) == (spoil == "text")
    assert isinstance(caught.value, Damaged) == (spoil == "torn")
    assert ids(path) == ["r1", "r2"]
    assert {found.name for found in path.parent.iterdir()} == {path.name, backup.name}


def test_an_older_backup_is_brought_up_and_stays_as_it_is(tmp_path: Path) -> None:
    backup = filled_at(tmp_path, "0001")
    before = backup.read_bytes()
    restore(backup, tmp_path / "shop.sqlite")
    assert ids(tmp_path / "shop.sqlite") == ["r1", "p1"]
    assert backup.read_bytes() == before
