"""Readings from CSV: all of them or none, each bad row named with its line."""

import json
import os
import stat

import pytest

from inspect_app.bundle import CORE_FILE
from inspect_app.model.evidence import Reading
from tests.bundle.folders import data_of, edit, six_folder
from tests.judge import six as sound

HEAD = "piece,quantity,place,station,direction,value,unit,gauge,session,who,when,state"
GAUGE = "dial bore gauge"


def row(bore: int = 1, station: str = "top", direction: str = "across", value: str = "3.5004") -> str:
    return f"block,diameter,bore {bore},{station},{direction},{value},in,{GAUGE},s1,A.T.,2026-11-20,washed"


def in_the_file(item) -> bool:
    return isinstance(item, Reading) and item.quantity == "diameter" and not item.conditions


def all_readings() -> str:
    """The diameters of the sound six as CSV, but for those read in a condition."""
    rows = [
        f"{r.piece},{r.quantity},{r.place},{r.station},{r.direction},{r.value},{r.unit},{r.gauge},{r.session},"
        f"{r.who},{r.when},{r.state}"
        for r in sound.readings()
        if in_the_file(r)
    ]
    return "\n".join([HEAD, *rows]) + "\n"


@pytest.fixture
def bare(tmp_path):
    """The six with everything but the diameters."""
    left = [item for item in sound.looks_and_tests() + sound.readings() if not in_the_file(item)]
    return six_folder(tmp_path, left)


@pytest.fixture
def add(run, bare, tmp_path):
    """Import a text (or bytes) as CSV into the bare six."""

    def added(content: str | bytes):
        source = tmp_path / "readings.csv"
        source.write_bytes(content if isinstance(content, bytes) else content.encode())
        return run("import", bare, "--readings", source)

    return added


@pytest.fixture
def not_added(add, bare):
    """The lines of a refusal, after which core.json is as it was."""

    def lines(content: str | bytes) -> list[str]:
        before = (bare / CORE_FILE).read_bytes()
        done = add(content)
        assert (done.code, done.out) == (1, ""), done
        assert (bare / CORE_FILE).read_bytes() == before
        assert {path.name for path in bare.iterdir()} == {CORE_FILE, "sheet.json"}
        return done.err.splitlines()

    return lines


def test_imported_readings_are_seen_by_the_judge(run, add, bare) -> None:
    assert run("judge", bare).out.startswith("Six (six): Build it, provisional\n")
    done = add(all_readings())
    count = all_readings().count("\n") - 1
    assert done == (0, f"Added {count} readings to {bare}.\n", "")
    assert run("judge", bare).out.startswith("Six (six): Build it, settled\n")


def test_an_import_keeps_everything_else_of_the_core(add, bare) -> None:
    before = data_of(bare)
    add(f"{HEAD}\n{row()}\n")
    after = data_of(bare)
    assert after["evidence"][:-1] == before["evidence"]
    assert {k: v for k, v in after.items() if k != "evidence"} == (
        {k: v for k, v in before.items() if k != "evidence"}
    )
    new = after["evidence"][-1]
    assert new.pop("id").startswith("reading-")
    assert new == {
        "kind": "reading", "who": "A.T.", "when": "2026-11-20", "stage": "bench", "piece": "block",
        "state": "washed", "quantity": "diameter", "place": "bore 1", "station": "top",
        "direction": "across", "value": "3.5004", "unit": "in", "gauge": GAUGE, "session": "s1",
    }  # fmt: skip


def test_an_import_keeps_who_may_read_the_core(add, bare) -> None:
    (bare / CORE_FILE).chmod(0o664)
    assert add(f"{HEAD}\n{row()}\n").code == 0
    assert stat.S_IMODE(os.stat(bare / CORE_FILE).st_mode) == 0o664


def test_the_same_file_twice_is_refused_line_by_line(add, not_added) -> None:
    text = f"{HEAD}\n{row(1)}\n{row(2)}\n"
    assert add(text).code == 0
    advice = "the core holds this reading already. Take the row out."
    assert not_added(text) == [f"readings.csv, line {line}: {advice}" for line in (2, 3)]


def test_the_same_reading_twice_in_one_file_is_refused(not_added) -> None:
    assert not_added(f"{HEAD}\n{row(1)}\n{row(2)}\n{row(1)}\n") == [
        "readings.csv, line 4: it has the same id or content as line 2. "
        "Take one out, or give each its own id."
    ]


def test_a_repeat_with_an_id_of_its_own_is_added(add, bare) -> None:
    assert add(f"id,{HEAD}\na,{row(1)}\nb,{row(1)}\n").code == 0
    assert [item["id"] for item in data_of(bare)["evidence"][-2:]] == ["a", "b"]


def test_a_row_may_correct_an_earlier_reading(run, add, bare) -> None:
    def block() -> str:
        return json.loads(run("judge", bare, "--json").out)["parts"][0]["verdict"]

    add(all_readings().replace(row(1), row(1, value="3.6")))
    assert block() == "recondition"
    old = next(i["id"] for i in data_of(bare)["evidence"] if i.get("value") == "3.6")
    assert add(f"supersedes,{HEAD}\n{old},{row(1)}\n").code == 0
    assert block() == "reuse"


def test_one_bad_row_keeps_all_others_out_and_every_bad_row_is_named(not_added) -> None:
    rows = [
        row(1),
        row(9),
        row(2, station="roof"),
        row(3, value="1e3"),
        row(4).replace(",in,", ",cubit,"),
        row(5).replace(GAUGE, "rule"),
        row(6).replace("block", "gearbox"),
        row(6, value="88.91"),
        row(6, direction="along", value="-3.5"),
        row(2).replace("diameter", "colour"),
    ]
    heads = [line.partition(". ")[0] for line in not_added("\n".join([HEAD, *rows]))]
    assert heads == [
        'readings.csv, line 3: there is no "bore 9"',
        'readings.csv, line 4: "roof" is no station of diameter',
        'readings.csv, line 5: "1e3" is not a number',
        'readings.csv, line 6: "cubit" is not a unit of length',
        'readings.csv, line 7: "rule" is no gauge of this rulebook',
        'readings.csv, line 8: "gearbox" is no piece of this core',
        "readings.csv, line 9: 88.91 in is 25.4 times off the nominal 88.9 mm",
        'readings.csv, line 10: "-3.5" is negative, and diameter cannot be',
        'readings.csv, line 11: "colour" is not read at bore',
    ]


def test_a_row_that_is_no_reading_hides_no_other_fault_and_lines_stay_in_order(add, not_added) -> None:
    assert add(f"{HEAD}\n{row(6)}\n").code == 0
    rows = [row(9), row(1).replace("2026-11-20", "yesterday"), row(6), row(2, station="roof")]
    heads = [line.partition(". ")[0] for line in not_added("\n".join([HEAD, *rows]))]
    assert heads == [
        'readings.csv, line 2: there is no "bore 9"',
        "readings.csv, line 3, when: not a date",
        "readings.csv, line 4: the core holds this reading already",
        'readings.csv, line 5: "roof" is no station of diameter',
    ]


def test_rows_that_are_no_readings_at_all_are_named_together(not_added) -> None:
    rows = [
        row(1).replace("2026-11-20", "yesterday"),
        row(2).replace("washed", "clean"),
        row(3) + ",more",
        row(4).removesuffix(",washed"),
        row(5).replace("3.5004", ""),
        row(6).replace("3.5004", "3,5004"),
    ]
    lines = not_added("\n".join([HEAD, *rows]))
    comma = "Put a value with a comma in quotes, or use semicolons."
    assert lines == [
        "readings.csv, line 2, when: not a date. Write it as 2026-11-22 or 2026-11-22T14:05. "
        "It says 'yesterday'.",
        'readings.csv, line 3, state: "clean" is not a state. Use as_found, washed or "after 1" '
        "(after operation 1). It says 'clean'.",
        f"readings.csv, line 4: 13 cells under 12 columns. {comma}",
        f"readings.csv, line 5: 11 cells under 12 columns. {comma}",
        "readings.csv, line 6, value: this key is missing. Add it.",
        f"readings.csv, line 7: 13 cells under 12 columns. {comma}",
    ]


@pytest.mark.parametrize(
    ("word", "code"), [("yes", 0), ("YES", 0), ("true", 0), ("no", 1), ("", 1), ("perhaps", 1)]
)
def test_a_size_far_off_is_taken_only_when_it_is_meant(add, word, code) -> None:
    assert add(f"as_meant,{HEAD}\n{word},{row(1, value='88.91')}\n").code == code


def test_a_word_that_is_neither_yes_nor_no_is_told(not_added) -> None:
    (line,) = not_added(f"as_meant,{HEAD}\nperhaps,{row(1)}\n")
    assert line.startswith("readings.csv, line 2, as_meant: Input should be a valid boolean")
    assert line.endswith("It says 'perhaps'.")


@pytest.mark.parametrize(
    ("head", "lines"),
    [
        (HEAD.replace("value,", ""), ['the column "value" is missing. Add it.']),
        (HEAD.replace("unit", "colour"), ['the column "unit" is missing. Add it.', '"colour" is no column']),
        (HEAD.replace("session", "who"), ['the column "who" stands twice. Keep one.']),
        (HEAD.replace("state", ""), ['"" is no column of readings. Use: piece, quantity, place, value, ']),
        (HEAD.replace(",", "\t"), ['the column "piece" is missing. Add it.'] + ["the column"] * 6 + ['"pie']),
    ],
    ids=["missing", "unknown", "twice", "without a name", "tabs"],
)
def test_wrong_columns_are_told_before_any_row(not_added, head, lines) -> None:
    told = not_added(f"{head}\n{row(9)}\n")
    assert len(told) == len(lines)
    for line, words in zip(told, lines, strict=True):
        assert line.startswith(f"readings.csv, line 1: {words}")


def test_an_empty_file_and_a_head_without_rows_are_told(not_added) -> None:
    assert not_added("")[0] == 'readings.csv, line 1: the column "piece" is missing. Add it.'
    nothing = ["readings.csv: there are no readings below the first line. Add a row."]
    assert not_added(f"{HEAD}\n") == nothing
    assert not_added(f"{HEAD}\n\n,,,,,,,,,,,\n") == nothing


def test_bytes_that_are_no_text_a_missing_file_and_a_folder_are_told(run, not_added, bare, tmp_path) -> None:
    source = tmp_path / "readings.csv"
    assert not_added(b"\xff\xfepiece") == [
        f"{source}: it cannot be read: it is not text in UTF-8. Save it in UTF-8."
    ]
    gone = run("import", bare, "--readings", tmp_path / "none.csv")
    assert gone == (1, "", f"{tmp_path}/none.csv: there is no such file. Name a CSV file of readings.\n")
    folder = run("import", bare, "--readings", bare)
    assert folder.code == 1
    assert folder.err == f"{bare}: it cannot be read: Is a directory. Name a CSV file of readings.\n"


def test_a_quote_that_never_closes_is_told(not_added) -> None:
    (line,) = not_added(f'{HEAD}\n"{row(1)}\n{row(2)}\n')
    assert line == (
        "readings.csv, line 3: 1 cells under 12 columns. "
        "Put a value with a comma in quotes, or use semicolons."
    )


def answer_after(run, add, bare, content: str | bytes) -> dict:
    assert add(content).code == 0
    return json.loads(run("judge", bare, "--json").out)["parts"]


@pytest.mark.parametrize(
    "change",
    [
        lambda text: text.replace(",", ";").replace("3.5", "3,5").replace(".9", ",9"),
        lambda text: b"\xef\xbb\xbf" + text.encode(),
        lambda text: text.replace("\n", "\r\n"),
        lambda text: text.replace("\n", "\n\n").replace("\n\n", "\n,,,,,,,,,,,\n", 1),
        lambda text: text.replace(",", " , "),
        lambda text: "".join(reorder(line) for line in text.splitlines()),
    ],
    ids=[
        "semicolons and decimal commas",
        "a mark at the head",
        "line ends",
        "blank lines",
        "blanks",
        "order",
    ],
)
def test_other_ways_to_write_the_same_file_give_the_same_answer(run, add, bare, tmp_path, change) -> None:
    written = answer_after(run, add, bare, change(all_readings()))
    (tmp_path / "again").mkdir()
    other = six_folder(tmp_path / "again")
    plain = json.loads(run("judge", other, "--json").out)["parts"]
    assert [(p["verdict"], p["standing"], p["ways"], p["cost"]) for p in written] == (
        [(p["verdict"], p["standing"], p["ways"], p["cost"]) for p in plain]
    )


def reorder(line: str) -> str:
    """The columns of a line from last to first."""
    return ",".join(reversed(line.split(","))) + "\n"


def test_a_core_that_was_broken_before_is_told_and_kept(not_added, bare) -> None:
    edit(bare, lambda d: d["evidence"][0].update(piece="gearbox"))
    (line,) = not_added(f"{HEAD}\n{row(1)}\n")
    assert line.startswith('evidence look-block: "gearbox" is no piece of this core.')


@pytest.mark.parametrize("value", [".0005", "+.0005", "-.5", '",5"'])
def test_a_reading_may_lack_its_leading_nought(add, bare, value) -> None:
    assert add(f"{HEAD},setting\n{row(1, value=value)},3.5 in\n").code == 0
    typed = [item.get("value") for item in data_of(bare)["evidence"]]
    assert value.strip('"') in typed
