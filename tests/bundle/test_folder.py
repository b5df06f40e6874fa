"""A core's folder: read, written in one step, and exported without loss."""

import os
import stat
import zipfile
from pathlib import Path

import pytest

from inspect_app.bundle import CORE_FILE, add_readings, export_zip, read_core, write_core
from inspect_app.bundle.readings_csv import read_rows
from inspect_app.model.core import Core
from inspect_app.model.problems import Problems
from tests.bundle.folders import data_of, six_folder
from tests.judge import six


def rights(path: Path) -> int:
    return stat.S_IMODE(path.stat().st_mode)


@pytest.fixture
def folder(tmp_path):
    return six_folder(tmp_path)


def test_a_core_written_and_read_again_is_the_same(folder) -> None:
    core = read_core(folder).core
    assert core.evidence == six.core().evidence
    write_core(folder, core)
    assert read_core(folder).core == core


def test_writing_a_core_as_it_is_changes_no_byte(folder) -> None:
    before = (folder / CORE_FILE).read_bytes()
    write_core(folder, read_core(folder).core)
    assert (folder / CORE_FILE).read_bytes() == before


def test_a_core_is_written_short_and_to_be_read_by_people(folder) -> None:
    data = data_of(folder)
    assert data["core_version"] == 1
    look = next(item for item in data["evidence"] if item["kind"] == "look")
    assert look == {
        "id": "look-block", "kind": "look", "who": "A.T.", "when": "2026-11-20", "stage": "bench",
        "piece": "block", "state": "washed", "places": ["*"],
    }  # fmt: skip


def test_a_write_that_fails_leaves_the_old_core_and_nothing_else(folder, monkeypatch) -> None:
    before = (folder / CORE_FILE).read_bytes()

    def full(*_: object) -> None:
        raise OSError(28, "No space left on device")

    monkeypatch.setattr(os, "fsync", full)
    with pytest.raises(OSError, match="No space left"):
        write_core(folder, Core.model_validate(data_of(folder) | {"title": "Other"}))
    assert (folder / CORE_FILE).read_bytes() == before
    assert {path.name for path in folder.iterdir()} == {CORE_FILE, "sheet.json"}


def test_an_export_that_fails_leaves_nothing_behind(folder, tmp_path, monkeypatch) -> None:
    def full(*_: object) -> None:
        raise OSError(28, "No space left on device")

    monkeypatch.setattr(zipfile.ZipFile, "writestr", full)
    with pytest.raises(OSError, match="No space left"):
        export_zip(folder, tmp_path / "six.zip")
    assert {path.name for path in tmp_path.iterdir()} == {"six"}


@pytest.mark.parametrize("mask", [0o022, 0o077])
def test_new_files_have_the_rights_that_this_user_gives(folder, tmp_path, mask) -> None:
    old = os.umask(mask)
    try:
        export_zip(folder, tmp_path / "six.zip")
        core = read_core(folder).core
        (folder / CORE_FILE).unlink()
        write_core(folder, core)
    finally:
        os.umask(old)
    assert rights(tmp_path / "six.zip") == 0o666 & ~mask
    assert rights(folder / CORE_FILE) == 0o666 & ~mask


def test_a_core_that_is_written_again_keeps_its_rights(folder) -> None:
    (folder / CORE_FILE).chmod(0o640)
    write_core(folder, read_core(folder).core)
    assert rights(folder / CORE_FILE) == 0o640


def test_reading_writes_nothing(folder) -> None:
    before = {path: (path.stat().st_mtime_ns, path.read_bytes()) for path in folder.iterdir()}
    read_core(folder)
    assert {path: (path.stat().st_mtime_ns, path.read_bytes()) for path in folder.iterdir()} == before


HEAD = "piece,quantity,place,station,direction,value,unit,who,when"
ROW = "block,diameter,bore 1,top,across,3.5004,in,A.T.,2026-11-20"


def ids(tmp_path: Path, text: str) -> list[str]:
    source = tmp_path / "r.csv"
    source.write_text(text)
    return [reading.id for _, reading in read_rows(source, six.core())]


def test_the_id_of_a_row_comes_from_its_content_alone(tmp_path) -> None:
    (one,) = ids(tmp_path, f"{HEAD}\n{ROW}\n")
    turned = ["\n".join([",".join(reversed(line.split(","))) for line in (HEAD, ROW)])]
    assert ids(tmp_path, turned[0]) == [one]
    assert ids(tmp_path, f"{HEAD},note\n{ROW},\n") == [one]
    assert ids(tmp_path, f"{HEAD}\n{ROW.replace('3.5004', '3.5005')}\n") != [one]


def test_rows_are_numbered_as_in_the_file_whatever_lies_between(tmp_path) -> None:
    source = tmp_path / "r.csv"
    source.write_text(f'{HEAD},note\n\n{ROW},"two\nlines"\n,,,,,,,,,\n{ROW.replace("top", "middle")},x\n')
    rows = read_rows(source, six.core())
    assert [(number, reading.station) for number, reading in rows] == [(4, "top"), (6, "middle")]


def test_an_import_of_readings_that_the_engine_does_not_know_raises_and_writes_nothing(folder) -> None:
    before = (folder / CORE_FILE).read_bytes()
    source = folder.parent / "r.csv"
    source.write_text(f"{HEAD}\n{ROW.replace('bore 1', 'bore 9')}\n")
    with pytest.raises(Problems, match=r'r\.csv, line 2: .*there is no "bore'):
        add_readings(folder, source, six.book())
    assert (folder / CORE_FILE).read_bytes() == before
