"""`inspect-app sheet`: checks a sheet, prints it to read against the manual, writes its other form."""

import json
from pathlib import Path

import pytest

from inspect_app.bundle import CORE_FILE, read_core
from inspect_app.bundle.sheet_file import read_sheet
from tests.bundle.folders import edit, sha256

HOME = Path(__file__).parents[2]


def test_a_sheet_goes_to_csv_and_back_to_json_without_loss(run, six, tmp_path) -> None:
    table, data = tmp_path / "six.csv", tmp_path / "again.json"
    done = run("sheet", six / "sheet.json", "--to", table)
    assert (done.code, done.err) == (0, "")
    assert done.out.endswith(f"\n\nWrote {table}.\n")
    assert run("sheet", table, "--to", data).code == 0
    assert read_sheet(table) == read_sheet(data) == read_sheet(six / "sheet.json")


@pytest.mark.parametrize("core", ["brackwater-four", "brackwater-vee"])
def test_the_demo_sheets_read_as_they_were_typed(run, core, tmp_path) -> None:
    source = HOME / "demo_cores" / core / "sheet.json"
    assert run("sheet", source, "--to", tmp_path / "demo.csv").code == 0
    assert read_sheet(tmp_path / "demo.csv") == read_sheet(source)


def test_a_sheet_is_printed_with_both_units_and_its_limits(run) -> None:
    done = run("sheet", HOME / "demo_cores" / "brackwater-vee" / "sheet.json")
    assert done.out.startswith(
        "Brackwater Vee, 3.4 litre V6 at 90 degrees, petrol (brackwater-vee)\n"
        "Typed from: invented for the demonstration\n"
        "Counts: 6 cylinders; 4 main bearings; 6 rod journals; 2 cylinder heads; "
        "heads are called left, right\n"
    )
    assert (
        "\nmain_journal.diameter: diameter; smaller is worse\n"
        "  nominal     2.6490 in     67.285 mm\n"
        "  minimum     2.6485 in     67.272 mm     limit to rebuild\n"
        "  maximum     2.6495 in     67.297 mm\n"
        "  listed size 0.010 in      0.254 mm\n"
    ) in done.out


def test_a_typed_sheet_is_printed_with_its_kinds_and_lines(run, six, tmp_path) -> None:
    table = tmp_path / "six.csv"
    run("sheet", six / "sheet.json", "--to", table)
    rows = (
        "kinds,crankshaft,cast / forged\n"
        "kinds,crankshaft / forged / main_journal.diameter,,,10,,,,thou,,mind\n"
        "quantities,bore.wall,,6 mm,,,,,,,\n"
    )
    table.write_text(table.read_text("utf-8-sig") + rows, "utf-8")
    done = run("sheet", table)
    count = len(table.read_text("utf-8").splitlines())
    assert "Kind of Crankshaft: cast is fitted; there are also forged\n" in done.out
    assert (
        f"\nbore.wall: wall thickness; smaller is worse (line {count})\n"
        "  nominal     6 mm          0.2362 in\n"
        "  no limit in this sheet: the shop's counts, else the rule pack's\n"
    ) in done.out
    assert done.out.endswith(
        "\nmain_journal.diameter of the kind forged of Crankshaft: diameter; smaller is worse "
        f"(line {count - 1})\n"
        "  minimum     10 thou       0.0100 in 0.254 mm limit to rebuild\n"
        "  note        mind\n"
    )


def test_a_sheet_at_fault_is_neither_printed_nor_written(refused, six, tmp_path) -> None:
    sheet = json.loads((six / "sheet.json").read_text("utf-8"))
    sheet["quantities"] = {
        "bore.diameter": {"nominal": "3.5 in"},
        "bore.ring_gap_top": {"maximum": "0.4 in"},
        "bore.wear": {"wear_limit": "0.01"},
    }
    source = tmp_path / "sheet.json"
    source.write_text(json.dumps(sheet), "utf-8")
    lines = refused("sheet", source, "--to", tmp_path / "six.csv")
    assert [line.partition(": ")[0] for line in lines] == [
        "sheet.json, quantities.bore.ring_gap_top",
        "sheet.json, quantities.bore.wear.wear_limit",
    ]
    assert not (tmp_path / "six.csv").exists()


def test_a_file_that_is_there_is_not_written_over(refused, six, tmp_path) -> None:
    target = tmp_path / "six.csv"
    target.write_text("mine")
    assert refused("sheet", six / "sheet.json", "--to", target) == [
        f"{target}: this file is there already. Name a new one."
    ]
    assert target.read_text() == "mine"


def test_a_sheet_that_is_not_there_or_of_no_known_form_is_refused(refused, six, tmp_path) -> None:
    none = tmp_path / "none.csv"
    assert refused("sheet", none) == [f"{none}: there is no such file. Name the CSV file of an engine sheet."]
    assert refused("sheet", six / "sheet.json", "--to", tmp_path / "six.ods") == [
        f"{tmp_path}/six.ods: an engine sheet is a .csv or a .json file. Give the file one of these ends."
    ]
    assert refused("sheet", six / "sheet.json", "--to", tmp_path / "no" / "six.csv") == [
        f"{tmp_path}/no/six.csv: No such file or directory."
    ]


def test_half_a_letter_in_a_sheet_is_refused_and_a_whole_one_is_taken(run, refused, six) -> None:
    sheet = json.loads((six / "sheet.json").read_text("utf-8"))
    source = six / "sheet.json"
    source.write_text(json.dumps(sheet | {"source": "p. 1 \ud83d"}), "utf-8")
    assert refused("sheet", source) == [
        "sheet.json: a text holds half a letter, '\\ud83d'. Type the text again."
    ]
    source.write_text(json.dumps(sheet | {"source": "p. 1 \ud83d\udd27"}), "utf-8")
    assert "Typed from: p. 1 \U0001f527\n" in run("sheet", source).out


# ---- a core whose sheet is CSV ----


@pytest.fixture
def six_csv(run, six: Path) -> Path:
    """The sound six with its sheet as CSV in place of JSON."""
    run("sheet", six / "sheet.json", "--to", six / "sheet.csv")
    (six / "sheet.json").unlink()
    digest = sha256((six / "sheet.csv").read_bytes())
    return edit(six, lambda data: data["files"][0].update(path="sheet.csv", sha256=digest))


def test_a_core_with_its_sheet_as_csv_is_judged_alike(run, six, six_csv) -> None:
    done = run("judge", six_csv)
    assert (done.code, done.err) == (0, "")
    assert done.out.startswith("Six (six): Build it, settled\n")
    assert read_core(six_csv).sheet.id == "six"


def test_a_sheet_as_csv_that_was_changed_is_refused(refused, six_csv) -> None:
    (six_csv / "sheet.csv").write_text("section,key,value\n")
    (line,) = refused("judge", six_csv)
    assert line.startswith('core.json, files: "sheet.csv" was changed: its SHA-256 is ')


def test_a_sheet_as_csv_at_fault_is_told_by_line(refused, six_csv) -> None:
    text = (six_csv / "sheet.csv").read_text("utf-8-sig") + "counts,heads,1\n"
    (six_csv / "sheet.csv").write_text(text, "utf-8")
    digest = sha256((six_csv / "sheet.csv").read_bytes())
    edit(six_csv, lambda data: data["files"][0].update(sha256=digest))
    (line,) = refused("judge", six_csv)
    assert line.startswith(f"sheet.csv, line {len(text.splitlines())}, column key: this entry stands already")


def test_a_core_with_two_sheets_is_refused(refused, run, six) -> None:
    run("sheet", six / "sheet.json", "--to", six / "sheet.csv")
    digest = sha256((six / "sheet.csv").read_bytes())
    edit(six, lambda data: data["files"].append({"path": "sheet.csv", "sha256": digest}))
    assert refused("judge", six) == [
        f"{CORE_FILE}, files: sheet.json and sheet.csv are both listed. Keep one of them."
    ]
