"""`inspect-app papers`: what it writes, what it names, and that it writes over nothing."""

import io
import shutil
from pathlib import Path

import pypdf
import pytest

from inspect_app.shipped import shipped

from .conftest import Run

FOUR = shipped("demo_cores") / "brackwater-four"


def lines_of(run: Run, *arguments: object) -> list[str]:
    done = run("papers", *arguments)
    assert (done.code, done.err) == (0, "")
    return done.out.splitlines()


def test_it_writes_what_is_offered_and_names_what_is_not_and_why(run: Run, tmp_path: Path) -> None:
    out = tmp_path / "deep" / "papers"
    told = lines_of(run, FOUR, "--out", out)
    assert f"Wrote {out / 'rejection--crankshaft.pdf'}." in told
    assert "Not offered: rejection sheet, Connecting rod 1. Reuse: nothing is rejected." in told
    written = {line.removeprefix("Wrote ").removesuffix(".") for line in told if line.startswith("Wrote ")}
    assert written == {str(path) for path in out.iterdir()}
    pdf = (out / "rejection--crankshaft.pdf").read_bytes()
    (page,) = pypdf.PdfReader(io.BytesIO(pdf)).pages
    assert "The crankshaft cannot be used again" in page.extract_text()


def test_a_core_in_a_shop_file_gives_the_same_papers(run: Run, tmp_path: Path) -> None:
    shop = tmp_path / "shop.sqlite"
    assert run("import", FOUR, "--shop", shop).code == 0
    inside, outside = tmp_path / "in", tmp_path / "out"
    lines_of(run, "brackwater-four", "--shop", shop, "--out", inside)
    lines_of(run, FOUR, "--out", outside)
    assert {path.name: path.read_bytes() for path in inside.iterdir()} == {
        path.name: path.read_bytes() for path in outside.iterdir()
    }


def test_a_file_that_is_there_is_not_written_over_and_nothing_else_is_written(
    run: Run, tmp_path: Path
) -> None:
    there = tmp_path / "rejection--crankshaft.pdf"
    there.write_text("mine")
    done = run("papers", FOUR, "--out", tmp_path)
    assert (done.code, done.out) == (1, "")
    assert done.err == (
        f"{there}: this file is there already. Nothing was written over. "
        "Name another folder, or move it away.\n"
    )
    assert [path.name for path in tmp_path.iterdir()] == [there.name]
    assert there.read_text() == "mine"


def test_a_core_with_nothing_to_hand_out_is_exit_0_and_makes_no_folder(
    run: Run, six: Path, tmp_path: Path
) -> None:
    told = lines_of(run, six, "--out", tmp_path / "none")
    assert told
    assert all(line.startswith("Not offered: ") for line in told)
    assert not (tmp_path / "none").exists()


def test_the_folder_must_be_named(run: Run) -> None:
    done = run("papers", FOUR)
    assert done.code == 2
    assert "--out" in done.err


@pytest.mark.parametrize("core", ["nowhere", "torn"])
def test_a_core_that_cannot_be_read_is_told_and_nothing_is_written(
    run: Run, tmp_path: Path, core: str
) -> None:
    if core == "torn":
        shutil.copytree(FOUR, tmp_path / core)
        (tmp_path / core / "core.json").write_text("{")
    done = run("papers", tmp_path / core, "--out", tmp_path / "out")
    assert (done.code, done.out) == (1, "")
    assert done.err
    assert not (tmp_path / "out").exists()
