"""A shop file that cannot be written: reading goes on, and writing says why not."""

import codecs
import os
import shutil
import subprocess
import tempfile
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

import pytest

from inspect_app.store import (
    DiskTrouble,
    ReadOnly,
    add_evidence,
    back_up,
    check_shop_file,
    create_shop_file,
    export_core,
    export_core_zip,
    judge_core,
    load_core,
    open_shop_file,
    picture_of,
    rack,
    restore,
)
from tests.support import pump_book

from .pumps import PICTURE, begin, photo, worn

NOBODY = 65534

# Python loads this on first use, from a folder that the user without rights may not be let into.
codecs.lookup("utf-8-sig")


@pytest.fixture
def filled(open_folder: Path) -> Path:
    """A shop file in a folder that every user may look into."""
    with create_shop_file(open_folder / "shop.sqlite") as shop:
        begin(shop, worn("r1"), photo("p1"))
        judge_core(shop, pump_book(), "pump-1")
    return open_folder / "shop.sqlite"


@contextmanager
def without_rights() -> Iterator[None]:
    """As a user for whom the modes of files count; for root none does."""
    was_root = os.geteuid() == 0
    if was_root:
        os.seteuid(NOBODY)
    try:
        yield
    finally:
        if was_root:
            os.seteuid(0)


@pytest.mark.parametrize("folder_mode", [0o555, 0o777])
def test_reading_goes_on_and_writing_gives_words(filled: Path, tmp_path: Path, folder_mode: int) -> None:
    filled.chmod(0o444)
    filled.parent.chmod(folder_mode)
    with without_rights(), open_shop_file(filled, wait_s=0.2) as shop:
        assert shop.reads_only is not None
        assert load_core(shop, "pump-1").core.evidence == (worn("r1"), photo("p1"))
        assert picture_of(shop, "pump-1", "p1") == PICTURE
        assert rack(shop, pump_book())[0].fresh
        assert judge_core(shop, pump_book(), "pump-1").core.id == "pump-1"
        assert check_shop_file(shop) == []
        with pytest.raises(ReadOnly) as caught:
            add_evidence(shop, pump_book(), "pump-1", [worn("r2")])
    assert str(caught.value) == (
        f"{filled}: it can be read, but not written. Nothing of this was saved. "
        "Give this user the right to write to the file and its folder, or copy the file to where it can be."
    )


def test_a_core_can_be_judged_anew_and_taken_out_of_a_file_that_is_only_read(filled: Path) -> None:
    with open_shop_file(filled) as shop:
        begin(shop, worn("r1"), name="pump-2")
    filled.chmod(0o444)
    filled.parent.chmod(0o555)
    out = Path(tempfile.mkdtemp(prefix="out-"))
    out.chmod(0o777)
    try:
        with without_rights(), open_shop_file(filled) as shop:
            assert judge_core(shop, pump_book(), "pump-2").core.id == "pump-2"
            export_core(shop, "pump-1", out / "pump-1")
            back_up(shop, out / "copy.sqlite")
            assert restore(filled, out / "restored.sqlite") is None
        assert {path.name for path in out.iterdir()} == {"pump-1", "copy.sqlite", "restored.sqlite"}
    finally:
        shutil.rmtree(out)


def test_writing_goes_on_in_the_same_program_when_the_right_is_given(filled: Path) -> None:
    filled.chmod(0o444)
    filled.parent.chmod(0o555)
    with without_rights():
        shop = open_shop_file(filled)
        assert shop.reads_only is not None
    filled.parent.chmod(0o777)
    filled.chmod(0o666)
    with without_rights(), shop:
        add_evidence(shop, pump_book(), "pump-1", [worn("r2")])
        assert shop.reads_only is None
        assert len(load_core(shop, "pump-1").core.evidence) == 3


def test_what_was_not_written_back_yet_is_never_passed_over(filled: Path) -> None:
    with open_shop_file(filled) as shop:
        add_evidence(shop, pump_book(), "pump-1", [worn("r2")])
        copy = filled.parent / "copied"
        copy.mkdir()
        for name in ("shop.sqlite", "shop.sqlite-wal"):
            shutil.copy(filled.parent / name, copy / name)
    copied = copy / "shop.sqlite"
    copy.chmod(0o555)
    with without_rights(), pytest.raises(ReadOnly) as caught:
        open_shop_file(copied)
    assert str(caught.value) == (
        f"{copied}: it can be neither written nor read where it lies. "
        "Copy it and shop.sqlite-wal together to where they can be written, and open the copy."
    )
    copy.chmod(0o777)
    with open_shop_file(copied) as shop:
        assert [item.id for item in load_core(shop, "pump-1").core.evidence] == ["r1", "p1", "r2"]


def test_a_disk_that_is_mounted_to_be_read_is_read(small_disk: Path, tmp_path: Path) -> None:
    path = small_disk / "shop.sqlite"
    with create_shop_file(path) as shop:
        begin(shop, worn("r1"), photo("p1"))
    subprocess.run(["mount", "-o", "remount,ro", str(small_disk)], check=True)
    with open_shop_file(path) as shop:
        assert [item.id for item in load_core(shop, "pump-1").core.evidence] == ["r1", "p1"]
        assert check_shop_file(shop) == []
        with pytest.raises(ReadOnly, match=r"it can be read, but not written\. Nothing of this was saved\."):
            add_evidence(shop, pump_book(), "pump-1", [worn("r2")])
        back_up(shop, tmp_path / "backup.sqlite")
        for write in (
            lambda: back_up(shop, small_disk / "b.sqlite"),
            lambda: restore(path, path),
            lambda: export_core(shop, "pump-1", small_disk / "out"),
            lambda: export_core_zip(shop, "pump-1", small_disk / "out.zip"),
            lambda: create_shop_file(small_disk / "new.sqlite"),
        ):
            with pytest.raises(DiskTrouble, match="it cannot be written: Read-only file system"):
                write()
