"""The command that checks a rule pack: empty cells are told, and its matrices can be printed."""

from pathlib import Path

from inspect_app.rulebook.load import load_rulebook
from tests.support import PUMP, changed_pack

RUST = '[[damage]]\nid = "rust"\nplain = "x"\nsettled_by = ["eye"]\n'


def test_a_line_for_each_part_is_printed_and_no_table(run) -> None:
    done = run("check-rules", PUMP)
    assert (done.code, done.err) == (0, "")
    assert [line.partition(":")[0] for line in done.out.splitlines()[:5]] == [
        "Housing", "Gear", "Shaft", "Bushing", "Cover",
    ]  # fmt: skip
    assert "place x damage word" not in done.out


def test_the_tables_are_printed_when_asked_for(run) -> None:
    done = run("check-rules", PUMP, "--matrix")
    assert (done.code, done.err) == (0, "")
    assert "Housing: place x damage word" in done.out
    assert "Housing: quantity x way" in done.out


def test_empty_cells_are_exit_1_and_all_told_at_once(run, tmp_path: Path) -> None:
    pack = changed_pack(tmp_path, more=RUST)
    for arguments in ((), ("--matrix",)):
        done = run("check-rules", pack, *arguments)
        assert done.code == 1
        told = done.err.splitlines()
        assert len(told) == 5
        assert all("no rule asks for rust at *, and nothing says why." in line for line in told)
        assert "All" not in done.out


def test_an_example_that_fails_is_told_beside_the_empty_cells(run, tmp_path: Path) -> None:
    broken = {'value = "0.03 mm" }]\n  then = "met"': 'value = "0.01 mm" }]\n  then = "met"'}
    done = run("check-rules", changed_pack(tmp_path, broken, more=RUST))
    assert done.code == 1
    assert len(done.err.splitlines()) == 6
    assert "journal-out-of-round" in done.err


def test_a_pack_with_an_empty_cell_still_judges(tmp_path: Path) -> None:
    assert "rust" in load_rulebook(changed_pack(tmp_path, more=RUST)).damage
