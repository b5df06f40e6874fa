"""A full disk: words, nothing half-written, reading goes on, and writing too once there is room."""

import os
import subprocess
import sys
from pathlib import Path

import pytest

from inspect_app.store import (
    DiskFull,
    DiskTrouble,
    add_photo,
    back_up,
    check_shop_file,
    create_shop_file,
    judge_core,
    load_core,
    open_shop_file,
    picture_of,
    rack,
)
from tests.support import look, pump_book

from .pumps import PICTURE, begin, photo, worn

ROOT = Path(__file__).parents[2]
LARGE = os.urandom(3 << 20)


def fill(folder: Path) -> Path:
    """Take all the room that is left."""
    with (folder / "filler").open("wb", buffering=0) as file:
        for size in (1 << 16, 1 << 10, 1):
            try:
                while file.write(bytes(size)):
                    pass
            except OSError:
                continue
    return folder / "filler"


def test_on_a_full_disk_reading_goes_on_and_nothing_is_half_written(small_disk: Path) -> None:
    path = small_disk / "shop.sqlite"
    with create_shop_file(path) as shop:
        begin(shop, worn("r1"), photo("p1"))
        judge_core(shop, pump_book(), "pump-1")
        with pytest.raises(DiskFull) as caught:
            add_photo(shop, pump_book(), "pump-1", photo("p2", LARGE), LARGE)
        assert str(caught.value) == (
            f"{path}: the disk is full. Nothing of this was saved; what was saved before is safe. "
            "Make room on the disk and save it again."
        )
        fill(small_disk)
        assert [item.id for item in load_core(shop, "pump-1").core.evidence] == ["r1", "p1"]
        assert picture_of(shop, "pump-1", "p1") == PICTURE
        assert rack(shop, pump_book())[0].fresh
        assert check_shop_file(shop) == []


def test_a_core_is_judged_on_a_full_disk_too(small_disk: Path) -> None:
    with create_shop_file(small_disk / "shop.sqlite") as shop:
        begin(shop, look(id="l1"))
        fill(small_disk)
        assert judge_core(shop, pump_book(), "pump-1").core.id == "pump-1"


def test_a_file_is_opened_on_a_full_disk_and_written_once_there_is_room(small_disk: Path) -> None:
    path = small_disk / "shop.sqlite"
    with create_shop_file(path) as shop:
        begin(shop, worn("r1"))
    filler = fill(small_disk)
    with open_shop_file(path, wait_s=0.2) as shop:
        assert [item.id for item in load_core(shop, "pump-1").core.evidence] == ["r1"]
        with pytest.raises((DiskFull, DiskTrouble)):
            add_photo(shop, pump_book(), "pump-1", photo("p1"), PICTURE)
        filler.unlink()
        add_photo(shop, pump_book(), "pump-1", photo("p1"), PICTURE)
        assert [item.id for item in load_core(shop, "pump-1").core.evidence] == ["r1", "p1"]
        assert check_shop_file(shop) == []


def test_no_file_is_left_where_none_could_be_made_or_copied(small_disk: Path, tmp_path: Path) -> None:
    fill(small_disk)
    with pytest.raises((DiskFull, DiskTrouble), match=r"shop\.sqlite: the disk"):
        create_shop_file(small_disk / "shop.sqlite")
    with create_shop_file(tmp_path / "shop.sqlite") as shop:
        begin(shop, photo("p1"))
        with pytest.raises((DiskFull, DiskTrouble), match=r"backup\.sqlite: the disk"):
            back_up(shop, small_disk / "backup.sqlite")
    assert [path.name for path in small_disk.iterdir()] == ["filler"]


LIMITED = """
import resource, sys
from pathlib import Path
from inspect_app.model.problems import Problems
from inspect_app.store import add_photo, load_core, open_shop_file
from tests.store.pumps import photo
from tests.support import pump_book
large = bytes(3 << 20)
with open_shop_file(Path(sys.argv[1])) as shop:
    resource.setrlimit(resource.RLIMIT_FSIZE, (1 << 20, 1 << 20))
    try:
        add_photo(shop, pump_book(), "pump-1", photo("p2", large), large)
    except Problems as problems:
        print(problems)
    print([item.id for item in load_core(shop, "pump-1").core.evidence])
"""


def test_a_file_that_may_not_grow_gives_words_and_stays_as_it_was(tmp_path: Path) -> None:
    path = tmp_path / "shop.sqlite"
    with create_shop_file(path) as shop:
        begin(shop, worn("r1"))
    command = [sys.executable, "-c", LIMITED, str(path)]
    done = subprocess.run(command, cwd=ROOT, capture_output=True, text=True, check=True)
    words, held = done.stdout.splitlines()
    assert words == (
        f"{path}: the disk refused to read or write. Nothing of this was saved. "
        "Look whether the disk is full or failing, and save it again."
    )
    assert held == "['r1']"
    with open_shop_file(path) as shop:
        assert check_shop_file(shop) == []
