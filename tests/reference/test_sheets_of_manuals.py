"""Tables of US Army technical manuals (public domain) typed as CSV: what is sound passes, misprints do not.

The manuals and pages stand in each file's `source`. Rows that the rule pack does not know come from the
small pack of rows beside the files.
"""

from pathlib import Path

import pytest

from inspect_app.bundle.sheet_file import read_sheet
from inspect_app.cli import main
from inspect_app.model.units import size

from .support import MANUAL

SHEETS = Path(__file__).parent / "sheets"
FOUR, SIX, MISPRINTS = (
    SHEETS / f"{name}.csv" for name in ("tm_10_3930_653_14p", "tm_9_2815_225_34p", "misprints")
)
TRUST = "One of them is misprinted: leave out the one you cannot trust."


def checked(source: Path, capsys: pytest.CaptureFixture[str]) -> tuple[int, str, list[str]]:
    code = main(["sheet", str(source), "--overlay", str(SHEETS / "rows")])
    out, err = capsys.readouterr()
    return code, out, err.splitlines()


def changed(tmp_path: Path, source: Path, old: str, new: str) -> Path:
    text = source.read_text(encoding="utf-8")
    assert text.count(old) == 1
    path = tmp_path / source.name
    path.write_text(text.replace(old, new), encoding="utf-8")
    return path


def line_of(source: Path, words: str) -> int:
    lines = source.read_text(encoding="utf-8").splitlines()
    return next(number for number, line in enumerate(lines, 1) if words in line)


def test_the_one_misprint_of_the_four_is_told(capsys: pytest.CaptureFixture[str]) -> None:
    """TM 10-3930-653-14&P: a rod clearance of 0.01 to 0.066 with a wear limit of 0.03."""
    line = line_of(FOUR, "rod_journal.printed_clearance")
    assert checked(FOUR, capsys) == (
        1,
        "",
        [
            f"{FOUR.name}, line {line}, column wear_limit: the wear limit 0.03 mm lies inside the new range "
            f"0.01 mm to 0.066 mm. {TRUST}"
        ],
    )


def test_the_rest_of_the_four_is_sound_and_read_back_in_both_units(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """The inch numbers are those printed beside the metric ones."""
    code, out, err = checked(changed(tmp_path, FOUR, "0.066,0.03,", "0.066,,"), capsys)
    assert (code, err) == (0, [])
    for line in (
        "  minimum     87.20 mm      3.4331 in",
        "  maximum     87.25 mm      3.4350 in     limit to rebuild",
        "  minimum     62.942 mm     2.4780 in     limit to rebuild",
        "  wear limit  1.0 mm        0.0394 in     limit to run",
    ):
        assert line in out.splitlines()


def test_the_four_typed_as_csv_agrees_with_the_sheet_that_is_judged(tmp_path: Path) -> None:
    typed, judged = read_sheet(FOUR), read_sheet(MANUAL / "sheet.json")
    shared = set(typed.quantities) & set(judged.quantities)
    assert len(shared) >= 7
    for key in shared:
        one, other = typed.quantities[key].texts(), judged.quantities[key].texts()
        assert {name: size(text) for name, text in one.items()} == {
            name: size(text) for name, text in other.items()
        }


def test_the_six_is_sound_between_semicolons_with_its_limits_first(
    capsys: pytest.CaptureFixture[str],
) -> None:
    """TM 9-2815-225-34&P, App. F."""
    code, out, err = checked(SIX, capsys)
    assert (code, err) == (0, [])
    assert "  wear limit  5,505 in      139.827 mm    limit to run" in out.splitlines()


def test_the_six_read_in_the_order_of_another_manual_is_refused(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """Who takes its columns for new minimum, new maximum, wear limit is stopped at every row of three."""
    source = changed(tmp_path, SIX, "wear_limit;minimum;maximum", "minimum;maximum;wear_limit")
    code, out, err = checked(source, capsys)
    lines = SIX.read_text(encoding="utf-8").splitlines()
    rows = [
        number
        for number, line in enumerate(lines, 1)
        if line.startswith("quantities") and ";;" not in line.replace(";;", ";", 1)
    ]
    assert (code, out) == (1, "")
    assert len(rows) == 7
    assert {int(text.split("line ")[1].split(",")[0].split(":")[0]) for text in err} >= set(rows)


def test_misprints_of_three_manuals_are_told_all_at_once(capsys: pytest.CaptureFixture[str]) -> None:
    code, out, err = checked(MISPRINTS, capsys)
    assert (code, out) == (1, "")
    assert err == [
        f"misprints.csv, line 10, column maximum_mm: 0.003 in is 0.0762 mm, not 0.76 mm. {TRUST}",
        f"misprints.csv, line 11, column maximum_mm: 0.00015 in is 0.00381 mm, not 0.038 mm. {TRUST}",
        "misprints.csv, line 9, column minimum: the minimum 74.915 in is above the maximum 7.4935 in. "
        "One of them is misprinted: look at the manual again.",
        "misprints.csv, line 12, column wear_limit: the wear limit 0.0003 in lies on the wrong side of the "
        f"new range 0.0005 in to 0.0025 in. {TRUST}",
        "misprints.csv, line 13, column wear_limit: the wear limit 0.002 in looks like an allowance beside "
        "the new range 1.0460 in to 1.0465 in. Some manuals mix sizes and allowances in one column: type "
        "the size that is meant, or leave it out.",
    ]


@pytest.mark.parametrize("gap", ["0.25,0.40,1.0", "0.15,0.30,1.0"])
def test_a_ring_gap_of_the_four_with_its_points_slipped_is_told(
    gap: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """Printed: 0.25 to 0.40 and 0.15 to 0.30, limit 1.0, for a bore of 87.20 to 87.25."""
    slipped = ",".join(f"{float(number) * 10:.2f}" for number in gap.split(","))
    code, _, err = checked(changed(tmp_path, FOUR, gap, slipped), capsys)
    found = [
        text for text in err if "ring_gap" not in text and "more than 0.02 of bore.diameter, 87.25 mm" in text
    ]
    columns = {text.split("column ")[1].split(":")[0] for text in found}
    assert code == 1
    assert columns == (
        {"minimum", "maximum", "wear_limit"} if gap[:4] == "0.25" else {"maximum", "wear_limit"}
    )
