"""What the commands give when all is well: answers, schemas, archives, and the word on the rules."""

import json
import tomllib
import zipfile
from pathlib import Path

import pytest
from jsonschema import Draft202012Validator

from inspect_app.bundle import CORE_FILE
from inspect_app.model.answer import Answer
from inspect_app.shipped import shipped
from tests.bundle.folders import add_item, data_of, edit, six_folder

SHIPPED_RULES = sorted(shipped("rules").glob("*.toml"))
DEMOS = sorted(path.parent for path in shipped("demo_cores").glob("*/core.json"))


@pytest.fixture
def validator(run):
    def of(name: str) -> Draft202012Validator:
        done = run("schema", name)
        assert (done.code, done.err) == (0, "")
        schema = json.loads(done.out)
        assert schema["$schema"] == Draft202012Validator.META_SCHEMA["$id"]
        Draft202012Validator.check_schema(schema)
        return Draft202012Validator(schema)

    return of


def told(validator: Draft202012Validator, data: object) -> list[str]:
    return [f"{list(error.path)}: {error.message}" for error in validator.iter_errors(data)]


def test_the_table_names_every_position_its_verdict_and_the_bill(run, six) -> None:
    done = run("judge", six)
    assert (done.code, done.err) == (0, "")
    lines = done.out.splitlines()
    assert lines[0] == "Six (six): Build it, settled"
    count = len(data_of(six)["evidence"])
    assert f"Built to: rebuild. Stage: bench. Evidence: {count} items, last 2026-11-20." in lines
    for position in ("block", "crankshaft", "cylinder_head 1", "piston 6", "rod 6"):
        assert any(line.startswith(position) and "Reuse, settled" in line for line in lines)
    assert any(line.strip().startswith("320.00  1 x Strip the engine") for line in lines)
    assert "in all, on average" in lines[-1]


def test_the_table_says_once_what_a_part_not_judged_lacks_and_what_the_core_waits_for(run) -> None:
    done = run("judge", shipped("demo_cores") / "brackwater-vee")
    lines = done.out.splitlines()
    assert lines[2].startswith("Waits for: ")
    assert done.out.count("First look, big end, beam") + done.out.count("First look, big end,\n") == 6
    assert any(line.endswith("cylinder head right, piston 2, 4 to 6, rod 1 to 6.") for line in lines)


def test_the_json_answer_keeps_to_its_schema_and_reads_back(run, six, validator) -> None:
    done = run("judge", six, "--json")
    assert (done.code, done.err) == (0, "")
    assert told(validator("answer"), json.loads(done.out)) == []
    answer = Answer.model_validate_json(done.out)
    assert answer.model_dump_json(indent=1) + "\n" == done.out


def test_a_provisional_answer_with_forks_keeps_to_its_schema_too(run, six, validator) -> None:
    gone = ("crack-block", "crack-crankshaft")
    edit(six, lambda d: d.update(evidence=[i for i in d["evidence"] if i["id"] not in gone]))
    add_item(six, "finding", damage="score", place="bore 2/ring_travel", strength="seen")
    data = json.loads(run("judge", six, "--json").out)
    forks = [part["fork"] for part in data["parts"] if part["fork"]]
    assert forks
    assert all(set(fork) == {"if", "else"} for fork in forks)
    assert told(validator("answer"), data) == []


def test_the_schema_of_answers_refuses_what_is_none(run, six, validator) -> None:
    data = json.loads(run("judge", six, "--json").out)
    data["core"]["verdict"] = "polish it"
    assert told(validator("answer"), data) != []


@pytest.mark.parametrize("name", ["core", "sheet", "rules", "answer"])
def test_each_schema_is_valid_and_refuses_an_unknown_key(validator, name) -> None:
    assert told(validator(name), {"colour": "blue"}) != []


@pytest.mark.parametrize("path", SHIPPED_RULES, ids=lambda path: path.name)
def test_every_shipped_rule_file_keeps_to_the_schema_of_rules(validator, path) -> None:
    assert told(validator("rules"), tomllib.loads(path.read_text(encoding="utf-8"))) == []


def test_the_schema_of_rules_refuses_a_condition_with_two_heads(validator) -> None:
    data = tomllib.loads((shipped("rules") / "pistons.toml").read_text(encoding="utf-8"))
    data["rule"][0]["when"] = [{"finding": "crack", "figure": "wear"}]
    assert told(validator("rules"), data) != []


def test_a_look_that_does_not_count_is_told_with_the_reason(run) -> None:
    (four,) = (folder for folder in DEMOS if folder.name == "brackwater-four")
    lines = run("judge", four).out.splitlines()
    at = lines.index("Does not count:")
    assert lines[at + 1] == "  Connecting rod 2: Look by K.O., 5 Nov 2026 (the whole piece): not washed."


@pytest.mark.parametrize("folder", DEMOS, ids=lambda path: path.name)
def test_every_demo_core_keeps_to_the_schemas_and_is_judged(run, validator, folder) -> None:
    assert told(validator("core"), data_of(folder)) == []
    assert told(validator("sheet"), json.loads((folder / "sheet.json").read_text(encoding="utf-8"))) == []
    assert run("judge", folder).code == 0


def test_the_written_core_keeps_to_the_schema_of_cores(six, validator) -> None:
    assert told(validator("core"), data_of(six)) == []
    edit(six, lambda d: d["evidence"].append({"kind": "reading", "id": "x"}))
    assert told(validator("core"), data_of(six)) != []


def test_the_shipped_rules_are_checked_and_counted(run) -> None:
    done = run("check-rules")
    assert (done.code, done.err) == (0, "")
    rules = sum(len(tomllib.loads(path.read_text()).get("rule", ())) for path in SHIPPED_RULES)
    assert f"5 parts, {rules} rules," in done.out
    assert "examples hold. Largest joint table:" in done.out


def test_the_archive_holds_exactly_the_folder(run, tmp_path) -> None:
    files = {"photos/deck.jpg": b"not really a picture", "a.txt": b"\0\1"}
    folder = six_folder(tmp_path, files=files)
    done = run("export", folder, tmp_path / "six.zip")
    assert done == (0, f"Wrote {tmp_path}/six.zip.\n", "")
    with zipfile.ZipFile(tmp_path / "six.zip") as archive:
        assert sorted(archive.namelist()) == ["a.txt", CORE_FILE, "photos/deck.jpg", "sheet.json"]
        for name in archive.namelist():
            assert archive.read(name) == (folder / name).read_bytes()
        archive.extractall(tmp_path / "unpacked")
    assert run("judge", tmp_path / "unpacked").out == run("judge", folder).out


def test_the_same_folder_gives_the_same_archive(run, six, tmp_path) -> None:
    run("export", six, tmp_path / "one.zip")
    (six / CORE_FILE).touch()
    run("export", six, tmp_path / "two.zip")
    assert (tmp_path / "one.zip").read_bytes() == (tmp_path / "two.zip").read_bytes()


def test_an_archive_that_is_there_is_never_written_over(refused, six, tmp_path) -> None:
    target = tmp_path / "six.zip"
    target.write_bytes(b"precious")
    assert refused("export", six, target) == [f"{target}: this file is there already. Name a new one."]
    assert target.read_bytes() == b"precious"


def test_a_broken_core_is_not_exported(refused, six, tmp_path) -> None:
    (six / "sheet.json").write_text("{}")
    assert "was changed" in refused("export", six, tmp_path / "six.zip")[0]
    assert {path.name for path in tmp_path.iterdir()} == {"six"}


def test_an_archive_into_a_folder_that_is_not_there_is_refused(refused, six, tmp_path) -> None:
    (told,) = refused("export", six, tmp_path / "none" / "six.zip")
    assert told.endswith("No such file or directory.")


def test_a_broken_pack_tells_all_its_errors_at_once(refused, tmp_path) -> None:
    pack = broken_pack(tmp_path)
    lines = refused("check-rules", pack)
    for words in (
        'colours.toml: "colour" is no table of a rule file.',
        "methods.toml, method eye, kind: Input should be 'look', 'gauge' or 'test'. It says 'glance'.",
        "pistons.toml, rule piston-cracked, why: this key is missing. Add it.",
        "No such key is known here",
    ):
        assert any(words in line for line in lines), (words, lines)
    assert all("Traceback" not in line for line in lines)


def broken_pack(tmp_path: Path) -> Path:
    pack = tmp_path / "pack"
    pack.mkdir()
    for path in SHIPPED_RULES:
        (pack / path.name).write_text(path.read_text(encoding="utf-8"), encoding="utf-8")
    (pack / "colours.toml").write_text('[[colour]]\nid = "blue"\n')
    methods = (pack / "methods.toml").read_text()
    (pack / "methods.toml").write_text(methods.replace('kind = "look"', 'kind = "glance"', 1))
    pistons = (pack / "pistons.toml").read_text()
    start = pistons.index("why = ", pistons.index('id = "piston-cracked"'))
    end = pistons.index("\n", start)
    (pack / "pistons.toml").write_text(pistons[:start] + "wherefore = 1" + pistons[end:])
    return pack
