"""Folders that are no core: each is refused in words, with exit 1, and nothing is written."""

import json
import os
from collections.abc import Callable
from pathlib import Path

import pytest

from inspect_app.bundle import CORE_FILE
from tests.bundle.folders import add_item, edit, sha256, six_folder

Breaking = Callable[[Path], object]


def test_a_folder_without_a_core_is_refused(refused, tmp_path) -> None:
    assert refused("judge", tmp_path) == [
        f"{tmp_path}/core.json: there is no such file. Name the folder of a core."
    ]


def test_a_file_in_place_of_the_folder_is_refused(refused, six) -> None:
    assert refused("judge", six / "sheet.json") == [
        f"{six}/sheet.json/core.json: there is no such file. Name the folder of a core."
    ]


def test_a_core_file_that_is_a_folder_is_refused(refused, tmp_path) -> None:
    (tmp_path / CORE_FILE).mkdir()
    assert refused("judge", tmp_path) == [
        f"{tmp_path}/core.json: it cannot be read: Is a directory. Name the folder of a core."
    ]


@pytest.mark.skipif(os.geteuid() == 0, reason="everything may be read by the superuser")
def test_a_core_file_that_may_not_be_read_is_refused(refused, six) -> None:
    (six / CORE_FILE).chmod(0)
    assert refused("judge", six) == [
        f"{six}/core.json: it cannot be read: Permission denied. Name the folder of a core."
    ]


@pytest.mark.parametrize(
    ("content", "words"),
    [
        (b"", "core.json: this is not JSON: Expecting value: line 1 column 1 (char 0). Mend the line named."),
        (b"{", "core.json: this is not JSON: Expecting property name"),
        (b"core", "core.json: this is not JSON: Expecting value: line 1"),
        (b'{"id": NaN}', "core.json: this is not JSON: NaN is no number. Mend the line named."),
        (b'{"id": -Infinity}', "core.json: this is not JSON: -Infinity is no number."),
        (b"[" * 100_000, "core.json: this is not JSON: "),
        (b'{"id": ' + b"9" * 5000 + b"}", "core.json: this is not JSON: "),
        (b"[]", "core.json: Input should be a valid dictionary or instance of Core."),
        (b"7", "core.json: Input should be a valid dictionary or instance of Core. It says 7."),
        (b"null", "core.json: Input should be a valid dictionary or instance of Core."),
    ],
    ids=["empty", "cut off", "a word", "NaN", "infinity", "deep", "endless", "a list", "a number", "null"],
)
def test_a_core_file_that_holds_no_core_is_refused(refused, six, content, words) -> None:
    (six / CORE_FILE).write_bytes(content)
    (line,) = refused("judge", six)
    assert line.startswith(words)


@pytest.mark.parametrize("content", [b"\xff\xfe{}", "Pläne".encode("latin-1")])
def test_a_core_file_that_is_not_utf_8_is_refused(refused, six, content) -> None:
    (six / CORE_FILE).write_bytes(content)
    assert refused("judge", six) == [
        f"{six}/core.json: it cannot be read: it is not text in UTF-8. Save it in UTF-8."
    ]


def test_a_mark_for_utf_8_at_the_head_does_no_harm(run, six) -> None:
    before = run("judge", six)
    (six / CORE_FILE).write_bytes(b"\xef\xbb\xbf" + (six / CORE_FILE).read_bytes())
    assert run("judge", six) == before


def test_half_a_letter_in_a_text_is_refused(refused, six) -> None:
    edit(six, lambda d: d.update(title="six \ud800"))
    (line,) = refused("judge", six)
    assert line.startswith("core.json, title: Input should be a valid string")


@pytest.mark.parametrize(
    ("change", "words"),
    [
        (lambda d: d.pop("title"), "core.json, title: this key is missing. Add it."),
        (
            lambda d: d.update(colour="blue"),
            "core.json, colour: Extra inputs are not permitted. It says 'blue'. "
            "No such key is known here: check its spelling or remove it.",
        ),
        (
            lambda d: d.update(stage="wash"),
            "core.json, stage: Input should be 'yard_look', 'teardown', 'bench', 'machine_shop', "
            "'fit_check' or 'closed'. It says 'wash'.",
        ),
        (
            lambda d: d.update(id="../six"),
            "core.json, id: String should match pattern '^[a-z0-9][a-z0-9\\-]*$'. It says '../six'.",
        ),
        (
            lambda d: d["record"].update(value_built=-5),
            "core.json, record.value_built.low: Input should be greater than or equal to 0. It says -5.",
        ),
        (
            lambda d: d["record"].update(value_built={"low": 3, "likely": 2, "high": 4}),
            "core.json, record.value_built: low 3, likely 2, high 4 are out of order.",
        ),
        (
            lambda d: d["record"].update(parts={"gearbox": "missing"}),
            'record.parts: "gearbox" (missing) is no position of this engine. Use one of: ',
        ),
        (
            lambda d: d["pieces"].append({"id": "spare", "position": "gearbox"}),
            'piece spare: "gearbox" is no position of this engine. Use one of: ',
        ),
        (
            lambda d: d["pieces"].append(d["pieces"][0]),
            "piece crankshaft: this id is used twice. Give each piece its own.",
        ),
        (
            lambda d: d["pieces"].append(
                {"id": "spare", "position": "block", "operations": [{"operation": "polish the chrome"}]}
            ),
            'piece spare: "polish the chrome" is no operation of this rulebook. Use one of: ',
        ),
        (
            lambda d: d["pieces"][0]["marks"][0].update(size="0.010"),
            'piece crankshaft, mark "no stamp: standard", size: "0.010" has no unit. '
            'Write it after the number, as in "3.3868 in".',
        ),
        (
            lambda d: d["pieces"][0].update(kind="diesel"),
            'piece crankshaft: "diesel" is no kind of crankshaft on the engine sheet. ',
        ),
    ],
)
def test_a_broken_key_is_told_by_its_path(refused, six, change, words) -> None:
    lines = refused("judge", edit(six, change))
    assert lines[0].startswith(words), lines


LEAVES = "the path leaves the core's folder. Name a file inside it, with forward slashes."


@pytest.mark.parametrize(
    "path", ["../sheet.json", "/etc/passwd", "photos\\a.jpg", "", ".", "./a.jpg", "a//b"]
)
def test_a_path_that_leaves_the_folder_or_is_not_plain_is_refused(refused, six, path) -> None:
    edit(six, lambda d: d["files"].append({"path": path, "sha256": "0" * 64}))
    assert refused("judge", six) == [f"core.json, files.1.path: {LEAVES} It says {path!r}."]


def test_a_link_out_of_the_folder_is_refused(refused, six, tmp_path) -> None:
    (tmp_path / "secret").write_bytes(b"mine")
    (six / "photo.jpg").symlink_to(tmp_path / "secret")
    edit(six, lambda d: d["files"].append({"path": "photo.jpg", "sha256": sha256(b"mine")}))
    assert refused("judge", six) == ['core.json, files: "photo.jpg" is not in the folder. Put the file back.']


def test_files_that_are_gone_changed_twice_or_the_core_itself_are_all_told_at_once(refused, tmp_path) -> None:
    six = six_folder(tmp_path, files={"a.jpg": b"one", "b.jpg": b"two"})
    (six / "a.jpg").unlink()
    (six / "b.jpg").write_bytes(b"other")
    edit(six, lambda d: d["files"].extend([d["files"][0], {"path": CORE_FILE, "sha256": "0" * 64}]))
    lines = refused("judge", six)
    assert lines[:4] == [
        'core.json, files: "sheet.json" is listed twice. List it once.',
        'core.json, files: "core.json" lists itself. Take it out of the list.',
        'core.json, files: "a.jpg" is not in the folder. Put the file back.',
        f'core.json, files: "b.jpg" was changed: its SHA-256 is {sha256(b"other")[:12]}..., '
        f"the core says {sha256(b'two')[:12]}.... Bring back the file that the core was made with.",
    ]


def test_a_hash_that_is_none_is_refused(refused, six) -> None:
    edit(six, lambda d: d["files"][0].update(sha256="abc"))
    assert refused("judge", six) == [
        "core.json, files.0.sha256: String should match pattern '^[0-9a-f]{64}$'. It says 'abc'."
    ]


def test_a_core_that_does_not_list_its_engine_sheet_is_refused(refused, six) -> None:
    edit(six, lambda d: d.update(files=[]))
    assert refused("judge", six) == [
        "core.json, files: no engine sheet, sheet.json or sheet.csv, is among the files. "
        "List the engine sheet with its SHA-256."
    ]


def test_a_photo_that_is_not_listed_is_refused(refused, six) -> None:
    add_item(six, "photo", path="deck.jpg", sha256="0" * 64)
    assert refused("judge", six) == ['evidence x1: the photo "deck.jpg" is not among the files. List it.']


def with_sheet(six: Path, **changes: object) -> Path:
    """The six with another engine sheet, listed by its right hash."""
    sheet = json.loads((six / "sheet.json").read_text(encoding="utf-8")) | changes
    data = json.dumps(sheet).encode()
    (six / "sheet.json").write_bytes(data)
    return edit(six, lambda d: d["files"][0].update(sha256=sha256(data)))


def test_everything_wrong_with_the_engine_sheet_is_told_at_once(refused, six) -> None:
    with_sheet(
        six,
        counts={"cylinders": 6, "mains": 7, "heads": 1, "valves": 12},
        materials={"block": "cheese"},
        quantities={"bore.diameter": {"nominal": "3.5"}, "bore.colour": {"nominal": "1 in"}},
    )
    lines = refused("judge", six)
    for words in (
        'engine sheet six, counts: "valves" is no count of this pack. Use one of: ',
        'engine sheet six, counts: "rod_journals" is missing. Add the number of rod journals.',
        'engine sheet six, materials.block: "cheese" is no material that a test of this pack suits. ',
        'engine sheet six, quantities.bore.diameter.nominal: "3.5" has no unit. ',
        "engine sheet six, quantities.bore.colour: this pack has no such quantity. ",
    ):
        assert any(line.startswith(words) for line in lines), (words, lines)


def test_an_engine_sheet_with_nothing_to_count_is_refused(refused, six) -> None:
    assert refused("judge", with_sheet(six, counts={"cylinders": 0, "mains": 7})) == [
        "sheet.json, counts.cylinders: Input should be greater than 0. It says 0."
    ]


@pytest.mark.parametrize("command", ["judge", "export", "import"])
def test_every_command_refuses_a_broken_core_in_the_same_words(refused, six, tmp_path, command) -> None:
    (six / CORE_FILE).write_text("{")
    more = {"judge": [], "export": [tmp_path / "o.zip"], "import": ["--readings", tmp_path / "r.csv"]}
    lines = refused(command, six, *more[command])
    assert [line[:30] for line in lines] == ["core.json: this is not JSON: E"]
    assert not (tmp_path / "o.zip").exists()
