"""The child process that sets a paper: its bounds hold, and it sees nothing of the machine."""

import subprocess
import sys
import time
from pathlib import Path
from typing import Any

import pytest

from inspect_app.model.problems import Problems
from inspect_app.papers import typeset as module
from inspect_app.papers.typeset import template, typeset

from .made import DAY

RUNAWAY = b"#let grow(n) = { let a = range(0, 20000000); a + a + a + a }\n#repr(grow(1).len())"
ENDLESS = b"#{ let all = range(0, 100000); for a in all { for b in all { let c = a + b } } }"


def sound(source: bytes = b"Sound.", **bounds: Any) -> bytes:
    return typeset(source, {}, {}, DAY, **bounds).pdf


def test_a_runaway_is_stopped_by_its_bound_on_memory_and_the_next_paper_is_made() -> None:
    with pytest.raises(Problems) as told:
        sound(RUNAWAY, memory=300 * 2**20)
    said = str(told.value)
    assert said.startswith("The paper: setting it ended early, code ")
    assert "it may use 300 MB of memory and 20 s." in said
    assert said.endswith("Nothing was written. Use smaller or fewer photos.")
    assert sound(memory=300 * 2**20).startswith(b"%PDF")


def test_a_paper_without_an_end_is_stopped_by_its_bound_on_time() -> None:
    begun = time.monotonic()
    with pytest.raises(Problems, match=r"(not set within its bound of 2 s|ended early)"):
        sound(ENDLESS, seconds=2)
    assert time.monotonic() - begun < 15


def test_the_clock_of_the_parent_stops_a_child_that_waits(
    monkeypatch: pytest.MonkeyPatch, tmp_path: Path
) -> None:
    waiting = tmp_path / "waiting.py"
    waiting.write_text("import time; time.sleep(60)")
    monkeypatch.setattr(module, "_CHILD", waiting)
    with pytest.raises(Problems) as told:
        sound(seconds=1)
    assert str(told.value) == (
        "The paper: it was not set within its bound of 1 s, and was stopped. Nothing was written. "
        "Try again when the machine has less to do."
    )


@pytest.mark.parametrize("path", ["/etc/hostname", "../../../../etc/hostname", "sheet.json/../../x"])
def test_a_template_reads_nothing_outside_its_folder(path: str) -> None:
    with pytest.raises(Problems, match="its template is at fault"):
        sound(f'#read("{path}")'.encode())


def test_no_package_is_taken_from_the_machine() -> None:
    text = template("rejection.typ").decode("utf-8")
    assert "@preview" not in text
    assert "@local" not in text
    assert "#import" not in text
    with pytest.raises(Problems, match="its template is at fault"):
        sound(b'#import "@local/anything:1.0.0": *')


def test_the_template_holds_no_words_of_a_core() -> None:
    assert b'json("sheet.json")' in template("rejection.typ")
    assert b"eval(" not in template("rejection.typ")


def test_data_is_data_and_never_markup() -> None:
    data = {"text": '#read("/etc/hostname") *x*'}
    assert typeset(b'#json("sheet.json").text', data, {}, DAY).pdf.startswith(b"%PDF")


def test_only_the_fonts_of_the_program_are_used() -> None:
    source = b'#set text(font: ("IBM Plex Sans", "IBM Plex Sans Hebrew"), fallback: false)\nA \xd7\x90 *B*'
    pdf = sound(source)
    assert b"IBMPlexSans" in pdf
    assert b"Libertinus" not in pdf
    assert b"DejaVu" not in pdf


def test_a_page_is_drawn_only_where_it_is_asked_for() -> None:
    assert typeset(b"One. #pagebreak() Two.", {}, {}, DAY).pages == ()
    pages = typeset(b"One. #pagebreak() Two.", {}, {}, DAY, ppi=30).pages
    assert [page[:4] for page in pages] == [b"\x89PNG", b"\x89PNG"]


def test_the_date_of_the_file_is_the_day_given() -> None:
    assert b"20261125000000" in sound() or b"2026-11-25T00:00:00" in sound()
    assert sound() == sound()


def test_a_full_or_locked_temporary_folder_is_told(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> None:
    monkeypatch.setattr(module.tempfile, "tempdir", str(tmp_path / "gone"))
    with pytest.raises(Problems, match="the temporary folder cannot be written: No such file or directory"):
        sound()


def test_nothing_is_left_in_the_temporary_folder(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> None:
    monkeypatch.setattr(module.tempfile, "tempdir", str(tmp_path))
    sound()
    with pytest.raises(Problems):
        sound(b"#read(1)")
    assert list(tmp_path.iterdir()) == []


def test_the_child_needs_nothing_of_the_program() -> None:
    child = Path(module.__file__).with_name("child.py")
    code = f"import runpy, sys; runpy.run_path({str(child)!r}); print(sorted(sys.modules))"
    command = [sys.executable, "-I", "-c", code]
    loaded = subprocess.run(command, capture_output=True, text=True, check=True).stdout
    assert "'json'" in loaded
    assert "inspect_app" not in loaded
    assert "pydantic" not in loaded
