import json
import logging
import os
from pathlib import Path

import pytest

from inspect_app.model.answer import Answer
from inspect_app.ui import shelf
from inspect_app.ui.shelf import Shelf
from tests.ui.made import judge_made, put_core, put_usual


def test_broken_cores_are_listed_with_their_words(tmp_path: Path) -> None:
    slots = {slot.id: slot for slot in Shelf(put_usual(tmp_path), judge_made).list()}
    assert list(slots) == ["0417", "0420", "0431", "0500-broken", "0501-fault"]
    assert slots["0500-broken"].problem == "core.json, title: this key is missing. Add it.\nphotos: gone."
    assert "fault of the program" in (slots["0501-fault"].problem or "")
    assert all(slots[core_id].answer for core_id in ("0417", "0420", "0431"))


def test_fault_is_logged_in_one_line_with_its_place(tmp_path: Path, caplog: pytest.LogCaptureFixture) -> None:
    put_core(tmp_path, "x", fault="bore 9")
    with caplog.at_level(logging.ERROR):
        Shelf(tmp_path, judge_made).list()
    assert caplog.messages[0].startswith("x: KeyError('bore 9') in made.py, line ")
    assert "\n" not in caplog.messages[0]


def test_folder_without_core_is_a_problem_not_a_fault(tmp_path: Path) -> None:
    (tmp_path / "empty").mkdir()
    assert (
        Shelf(tmp_path, judge_made).list()[0].problem == "empty: cannot be read (No such file or directory)."
    )


def test_files_and_hidden_folders_are_no_cores(tmp_path: Path) -> None:
    (tmp_path / "notes.txt").write_text("")
    (tmp_path / ".git").mkdir()
    assert Shelf(tmp_path, judge_made).list() == ()


class Counting:
    def __init__(self) -> None:
        self.judged: list[str] = []

    def __call__(self, folder: Path) -> Answer:
        self.judged.append(folder.name)
        return judge_made(folder)


def test_only_a_changed_core_is_judged_again(tmp_path: Path) -> None:
    one, other = put_core(tmp_path, "one"), put_core(tmp_path, "other")
    counting = Counting()
    cores = Shelf(tmp_path, counting)
    cores.list()
    cores.list()
    assert counting.judged == ["one", "other"]
    (other / "core.json").write_text(json.dumps({"core_id": "other", "title": "Changed"}))
    assert [slot.answer.core.title for slot in cores.list() if slot.answer][1] == "Changed"
    (one / "photo.jpg").write_bytes(b"x")
    cores.list()
    assert counting.judged == ["one", "other", "other", "one"]


def test_same_length_change_is_seen_by_its_time(tmp_path: Path) -> None:
    record = put_core(tmp_path, "one", title="AAAA") / "core.json"
    cores = Shelf(tmp_path, judge_made)
    cores.list()
    record.write_text(record.read_text().replace("AAAA", "BBBB"))
    os.utime(record, ns=(1, 1))
    assert cores.list()[0].answer.core.title == "BBBB"  # type: ignore[union-attr]


def test_removed_core_leaves_the_shelf(tmp_path: Path) -> None:
    folder = put_core(tmp_path, "one")
    cores = Shelf(tmp_path, judge_made)
    cores.list()
    (folder / "core.json").unlink()
    folder.rmdir()
    assert cores.list() == ()


def test_second_core_of_one_id_is_said_and_the_first_kept(tmp_path: Path) -> None:
    put_core(tmp_path, "a", core_id="same")
    put_core(tmp_path, "b", core_id="same")
    cores = Shelf(tmp_path, judge_made)
    assert [slot.id for slot in cores.list()] == ["same", "b"]
    assert cores.list()[1].problem == 'Core "same" is in the folder a already. Give one of them another id.'
    assert cores.get("same").answer is not None  # type: ignore[union-attr]


def test_get_prefers_the_judged_core_to_a_broken_folder_of_that_name(tmp_path: Path) -> None:
    put_core(tmp_path, "0417", problem="this key is missing.")
    put_core(tmp_path, "z", core_id="0417")
    assert Shelf(tmp_path, judge_made).get("0417").answer is not None  # type: ignore[union-attr]
    assert Shelf(tmp_path, judge_made).get("nobody") is None


def test_page_without_shelf_says_how_to_start() -> None:
    with pytest.raises(RuntimeError, match="inspect-app serve"):
        shelf.current()
