"""The fonts of papers: unpacked once, whole, with their licence."""

import subprocess
import sys
from collections.abc import Iterator
from pathlib import Path

import pytest

from inspect_app.papers import fonts
from inspect_app.shipped import fonts as shipped_fonts

FACES = {f"{face}.ttf" for family in fonts.FAMILIES for face in family}


@pytest.fixture(autouse=True)
def fresh() -> Iterator[None]:
    fonts.folder.cache_clear()
    yield
    fonts.folder.cache_clear()


def test_the_faces_are_unpacked_once_with_their_licence(
    monkeypatch: pytest.MonkeyPatch, tmp_path: Path
) -> None:
    monkeypatch.setenv("XDG_CACHE_HOME", str(tmp_path))
    made = fonts.folder()
    assert made.parent == tmp_path / "inspect-app"
    assert {path.name for path in made.iterdir()} == {*FACES, "LICENSE.txt"}
    assert (made / "IBMPlexSans-Regular.ttf").read_bytes()[:4] == b"\x00\x01\x00\x00"
    written = {path.name: path.stat().st_mtime_ns for path in made.iterdir()}
    fonts.folder.cache_clear()
    assert fonts.folder() == made
    assert {path.name: path.stat().st_mtime_ns for path in made.iterdir()} == written
    assert list((tmp_path / "inspect-app").iterdir()) == [made]


def test_a_cache_that_cannot_be_written_is_done_without(
    monkeypatch: pytest.MonkeyPatch, tmp_path: Path
) -> None:
    (tmp_path / "file").write_text("no folder")
    monkeypatch.setenv("XDG_CACHE_HOME", str(tmp_path / "file"))
    monkeypatch.setattr(fonts.tempfile, "tempdir", str(tmp_path))
    made = fonts.folder()
    assert made.parent == tmp_path
    assert {path.name for path in made.iterdir()} == {*FACES, "LICENSE.txt"}


def test_two_processes_may_begin_at_once(tmp_path: Path) -> None:
    code = "from inspect_app.papers.fonts import folder; print(folder())"
    env = {"XDG_CACHE_HOME": str(tmp_path), "PYTHONPATH": str(Path(fonts.__file__).parents[2])}
    both = [
        subprocess.Popen([sys.executable, "-c", code], env=env, stdout=subprocess.PIPE, text=True)
        for _ in range(2)
    ]
    told = {process.communicate()[0].strip() for process in both}
    assert [process.returncode for process in both] == [0, 0]
    (one,) = told
    assert {path.name for path in Path(one).iterdir()} == {*FACES, "LICENSE.txt"}
    assert [path.name for path in (tmp_path / "inspect-app").iterdir()] == [Path(one).name]


def test_every_face_is_one_that_is_shipped() -> None:
    shipped = {path.stem for path in shipped_fonts().glob("*.woff2")}
    assert {name.removesuffix(".ttf") for name in FACES} <= shipped
