"""Cores in and out of the shop file as folders and zips; what is wrong is told before a byte is kept."""

import io
import json
import stat
import struct
import zipfile
import zlib
from collections.abc import Callable
from pathlib import Path

import pytest

from inspect_app.bundle import CORE_FILE, export_zip, read_core
from inspect_app.model.problems import Problems
from inspect_app.rulebook.load import load_rulebook
from inspect_app.shipped import shipped
from inspect_app.store import (
    Limits,
    ShopFile,
    create_shop_file,
    export_core,
    export_core_zip,
    import_bundle,
    load_core,
    picture_of,
    rack,
)
from tests.support import pump_book

from .pumps import PICTURE, begin, folder_of, photo, worn

SMALL = Limits(files=10, one=4 << 20, all=6 << 20, ratio=100)


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    files = {"photos/p1.jpg": PICTURE, "notes/old.txt": b"from the seller"}
    return folder_of(tmp_path / "pump", [worn("r1"), photo("p1")], files)


@pytest.fixture
def packed(folder: Path, tmp_path: Path) -> Path:
    export_zip(folder, tmp_path / "pump.zip")
    return tmp_path / "pump.zip"


def told(shop: ShopFile, source: Path, limits: Limits | None = SMALL) -> str:
    """What is said against a bundle; nothing of it is in the shop file or beside it."""
    beside = set(shop.path.parent.rglob("*"))
    with pytest.raises(Problems) as caught:
        import_bundle(shop, pump_book(), source, "A", limits)
    with shop.reading() as connection:
        assert connection.exec_driver_sql("SELECT count(*) FROM file_bytes").scalar() == 0
    assert rack(shop, pump_book()) == ()
    assert set(shop.path.parent.rglob("*")) == beside
    return str(caught.value)


def test_a_folder_and_its_zip_are_the_same_core(shop: ShopFile, folder: Path, packed: Path) -> None:
    import_bundle(shop, pump_book(), folder, "A")
    held = load_core(shop, "pump-1")
    assert picture_of(shop, "pump-1", "p1") == PICTURE
    assert import_bundle(shop, pump_book(), packed, "A").added == 0
    assert load_core(shop, "pump-1") == held


def test_an_export_is_the_same_bundle(shop: ShopFile, folder: Path, tmp_path: Path) -> None:
    import_bundle(shop, pump_book(), folder, "A")
    export_core(shop, "pump-1", tmp_path / "out")
    before, after = read_core(folder), read_core(tmp_path / "out")
    assert after.core.model_copy(update={"files": before.core.files}) == before.core
    assert set(after.core.files) == set(before.core.files)
    for entry in before.core.files:
        assert (tmp_path / "out" / entry.path).read_bytes() == (folder / entry.path).read_bytes()
    export_core_zip(shop, "pump-1", tmp_path / "out.zip")
    with zipfile.ZipFile(tmp_path / "out.zip") as archive:
        assert set(archive.namelist()) == {CORE_FILE, *(entry.path for entry in before.core.files)}


def test_every_demo_core_goes_out_as_it_came_in(shop: ShopFile, tmp_path: Path) -> None:
    book = load_rulebook(shipped("rules"))
    sources = sorted(path.parent for path in shipped("demo_cores").glob(f"*/{CORE_FILE}"))
    assert sources
    for source in sources:
        name = import_bundle(shop, book, source, "A").core
        export_core(shop, name, tmp_path / name)
        before, after = read_core(source), read_core(tmp_path / name)
        assert after.core.model_copy(update={"files": before.core.files}) == before.core
        assert set(after.core.files) == set(before.core.files)
        assert after.sheet == before.sheet


def test_an_export_writes_over_nothing_and_leaves_no_half(shop: ShopFile, tmp_path: Path) -> None:
    begin(shop, photo("p1"))
    before = set(tmp_path.iterdir())
    (tmp_path / "there").mkdir()
    for write in (export_core, export_core_zip):
        with pytest.raises(Problems, match="something of this name is there already"):
            write(shop, "pump-1", tmp_path / "there")
        with pytest.raises(Problems, match="no core here has this id"):
            write(shop, "pump-9", tmp_path / "none")
    assert set(tmp_path.iterdir()) == {*before, tmp_path / "there"}


def test_a_core_that_the_rules_do_not_know_is_told_in_whole(shop: ShopFile, tmp_path: Path) -> None:
    items = [worn("r1", piece="valve"), worn("r2", value="wide")]
    words = told(shop, folder_of(tmp_path / "bad", items))
    assert 'evidence r1: "valve" is no piece of this core.' in words
    assert "evidence r2" in words


def test_a_file_that_was_changed_is_told(shop: ShopFile, folder: Path) -> None:
    (folder / "photos/p1.jpg").write_bytes(b"other")
    assert '"photos/p1.jpg" was changed: its SHA-256 is' in told(shop, folder)


def test_what_is_no_bundle_is_told(shop: ShopFile, tmp_path: Path) -> None:
    (tmp_path / "a.zip").write_text("a letter")
    advice = "Name a core's folder, or a zip that was exported."
    none = tmp_path / "none"
    assert told(shop, none) == f"{none}: there is no such file. {advice}"
    letter = tmp_path / "a.zip"
    assert told(shop, letter) == f"{letter}: this is neither the folder of a core nor a zip. {advice}"
    (tmp_path / "empty").mkdir()
    assert "there is no such file. Name the folder of a core." in told(shop, tmp_path / "empty")


def rezip(packed: Path, change: Callable[[zipfile.ZipFile], object], without: str = "") -> Path:
    """The zip with entries added by `change`, and one left out if named."""
    target = packed.with_name("changed.zip")
    with zipfile.ZipFile(packed) as old, zipfile.ZipFile(target, "w", zipfile.ZIP_DEFLATED) as new:
        for entry in old.infolist():
            if entry.filename != without:
                new.writestr(entry, old.read(entry))
        change(new)
    return target


@pytest.mark.parametrize(
    ("name", "words"),
    [
        ("../out.txt", "climbs out of the folder"),
        ("photos/../../out.txt", "climbs out of the folder"),
        ("/etc/out.txt", "names a drive, or a folder from the top of the disk"),
        ("C:\\out.txt", "names a drive, or a folder from the top of the disk"),
        ("C:out.txt", "names a drive, or a folder from the top of the disk"),
        ("photos\\out.txt", "names a drive, or a folder from the top of the disk"),
        ("./out.txt", "is not written plainly"),
        ("a//out.txt", "is not written plainly"),
        ("out\n.txt", "holds characters that cannot be printed"),
        ("out.txt\x00.jpg", "holds characters that cannot be printed"),
    ],
)
def test_a_name_that_leads_out_is_refused(shop: ShopFile, packed: Path, name: str, words: str) -> None:
    def add(archive: zipfile.ZipFile) -> None:
        entry = zipfile.ZipInfo("x")
        entry.filename = name
        archive.writestr(entry, b"out")

    source = rezip(packed, add)
    assert told(shop, source) == (
        f"changed.zip, {name!r}: this name {words}. Do not use this zip; ask for a new one."
    )
    assert not (packed.parent.parent / "out.txt").exists()


@pytest.mark.parametrize("kind", [stat.S_IFLNK, stat.S_IFIFO, stat.S_IFCHR])
def test_links_and_devices_are_refused(shop: ShopFile, packed: Path, kind: int) -> None:
    entry = zipfile.ZipInfo("photos/link.jpg")
    entry.external_attr = (kind | 0o777) << 16
    source = rezip(packed, lambda archive: archive.writestr(entry, "/etc/passwd"))
    assert "this is a link or a device, not a file. Put the file itself into the zip." in told(shop, source)


@pytest.mark.parametrize("name", ["photos/p1.jpg", "Photos/P1.JPG", "sheet.json"])
def test_a_file_that_is_in_it_twice_is_refused(shop: ShopFile, packed: Path, name: str) -> None:
    with pytest.warns(UserWarning, match="Duplicate") if name.islower() else io.StringIO():
        source = rezip(packed, lambda archive: archive.writestr(name, b"other"))
    assert f'"{name.lower()}" is in it 2 times. Keep one of them.' in told(shop, source)


def test_a_file_that_is_a_folder_too_is_refused(shop: ShopFile, packed: Path) -> None:
    source = rezip(packed, lambda archive: archive.writestr("photos/p1.jpg/more.txt", b"x"))
    assert '"photos/p1.jpg" is both a file and a folder in it.' in told(shop, source)


def test_a_core_in_a_folder_within_the_zip_is_told(shop: ShopFile, folder: Path, tmp_path: Path) -> None:
    with zipfile.ZipFile(tmp_path / "nested.zip", "w") as archive:
        for path in folder.rglob("*.json"):
            archive.write(path, f"pump/{path.relative_to(folder)}")
    assert told(shop, tmp_path / "nested.zip") == (
        "nested.zip: core.json lies in a folder in it (pump/core.json). "
        "Zip the content of the core's folder, so that core.json is at the top."
    )


def test_a_zip_without_a_core_is_told(shop: ShopFile, packed: Path) -> None:
    assert "it holds no core.json." in told(shop, rezip(packed, lambda _: None, without=CORE_FILE))


def test_a_zip_that_lacks_a_listed_file_is_told(shop: ShopFile, packed: Path) -> None:
    source = rezip(packed, lambda _: None, without="photos/p1.jpg")
    assert '"photos/p1.jpg" is not in the folder.' in told(shop, source)


def test_more_than_the_limits_is_refused_all_at_once(shop: ShopFile, packed: Path) -> None:
    def add(archive: zipfile.ZipFile) -> None:
        archive.writestr("bomb.bin", bytes(5 << 20))
        archive.writestr("bomb-2.bin", bytes(3 << 20))
        for number in range(8):
            archive.writestr(f"{number}.txt", b"x")

    words = told(shop, rezip(packed, add))
    assert "changed.zip: it holds 14 files, 10 at most. Leave some out." in words
    assert "changed.zip: unpacked it would be 8 MB, 6 MB at most. Leave some photos out." in words
    assert "changed.zip, 'bomb.bin': unpacked it would be 5 MB, 4 MB at most. Leave it out." in words
    assert words.count("times, 100 at most. Do not use this zip; ask for a new one.") == 2


@pytest.mark.parametrize(("files", "fits"), [(3, False), (4, True), (5, True)])
def test_the_number_of_files_is_counted_exactly(shop: ShopFile, packed: Path, files: int, fits: bool) -> None:
    limits = Limits(files=files)
    if fits:
        assert import_bundle(shop, pump_book(), packed, "A", limits).added == 2
    else:
        assert "it holds 4 files, 3 at most." in told(shop, packed, limits)


def test_a_zip_that_lies_about_its_sizes_is_refused(shop: ShopFile, packed: Path) -> None:
    """The list says 10 bytes; what is packed would be 3 MB."""
    source = rezip(packed, lambda archive: archive.writestr("lie.bin", bytes(3 << 20)))
    data = bytearray(source.read_bytes())
    true = struct.pack("<L", 3 << 20)
    crc = struct.pack("<L", zlib.crc32(bytes(3 << 20)))
    at = data.rindex(b"PK\x01\x02", 0, data.rindex(b"lie.bin"))
    assert data[at + 16 : at + 20] == crc
    assert data[at + 24 : at + 28] == true
    data[at + 24 : at + 28] = struct.pack("<L", 10)
    source.write_bytes(data)
    assert "changed.zip: this zip is broken: Bad CRC-32 for file 'lie.bin'" in told(shop, source)


@pytest.mark.parametrize("cut", [10, 200])
def test_a_zip_that_was_cut_off_is_told(shop: ShopFile, packed: Path, cut: int) -> None:
    packed.write_bytes(packed.read_bytes()[:-cut])
    assert "neither the folder of a core nor a zip" in told(shop, packed) or "broken" in told(shop, packed)


def test_a_zip_with_spoilt_content_is_told(shop: ShopFile, packed: Path) -> None:
    data = bytearray(packed.read_bytes())
    at = data.index(b"core.json") + 60
    data[at : at + 40] = b"\xff" * 40
    packed.write_bytes(data)
    words = told(shop, packed)
    assert words.startswith("pump.zip: this zip is broken: ")
    assert words.endswith("Copy it again, or export the core again.")


def test_a_zip_with_a_password_is_told(shop: ShopFile, packed: Path) -> None:
    data = bytearray(packed.read_bytes())
    for mark, at in ((b"PK\x01\x02", 8), (b"PK\x03\x04", 6)):
        begin_of = data.index(mark)
        data[begin_of + at] |= 1
    packed.write_bytes(data)
    assert "it needs a password. Make the zip without one." in told(shop, packed)


def test_a_zip_packed_in_a_rare_way_is_told(shop: ShopFile, folder: Path, tmp_path: Path) -> None:
    with zipfile.ZipFile(tmp_path / "rare.zip", "w", zipfile.ZIP_BZIP2) as archive:
        archive.write(folder / CORE_FILE, CORE_FILE)
    assert "it is packed in a way that is not read here. Make a plain zip." in told(
        shop, tmp_path / "rare.zip"
    )


def test_files_that_no_core_lists_are_passed_over(shop: ShopFile, packed: Path) -> None:
    source = rezip(packed, lambda archive: archive.writestr("__MACOSX/x", b"made by a file manager"))
    assert import_bundle(shop, pump_book(), source, "A").added == 2


def test_a_core_goes_round_through_two_shop_files(folder: Path, tmp_path: Path) -> None:
    with create_shop_file(tmp_path / "a.sqlite") as one, create_shop_file(tmp_path / "b.sqlite") as other:
        import_bundle(one, pump_book(), folder, "A")
        export_core_zip(one, "pump-1", tmp_path / "out.zip")
        import_bundle(other, pump_book(), tmp_path / "out.zip", "A")
        export_core(other, "pump-1", tmp_path / "out")
        assert import_bundle(one, pump_book(), tmp_path / "out", "A").record == "same"
        first, second = load_core(one, "pump-1"), load_core(other, "pump-1")
    assert (first.core, first.sheet) == (second.core, second.sheet)
    assert json.loads((tmp_path / "out" / CORE_FILE).read_text())["title"] == "Pump 1"
