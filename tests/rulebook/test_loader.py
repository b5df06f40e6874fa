"""Reading rule files: every mistake at once, with file, entry, field and what to write instead."""

from pathlib import Path

import pytest

from inspect_app.rulebook.book import TABLES
from tests.support import changed_pack, problems_of

WEAR = '{ figure = "wear", is = "past limit" }'
UNKNOWN_KEY = "No such key is known here: check its spelling or remove it."


def told(tmp_path: Path, old: str, new: str) -> list[str]:
    """What the loader says of the pump's pack with one piece of text replaced."""
    return [str(problem) for problem in problems_of(changed_pack(tmp_path, {old: new}))]


def test_the_pump_has_no_problem(tmp_path: Path) -> None:
    assert problems_of(changed_pack(tmp_path)) == []


def test_a_file_that_is_no_toml_is_named_with_the_line(tmp_path: Path) -> None:
    (problem,) = problems_of(changed_pack(tmp_path, more='[[rule]]\nid = "x\n'))
    assert problem.where == "more.toml"
    assert problem.what.startswith("this is not TOML: ")
    assert "line 2" in problem.what
    assert problem.advice == "Mend the line named."


def test_a_file_that_is_no_text_is_named(tmp_path: Path) -> None:
    folder = changed_pack(tmp_path)
    (folder / "more.toml").write_bytes(b"\xff\xfe\x00")
    (problem,) = problems_of(folder)
    assert (problem.where, problem.advice) == ("more.toml", "Mend the line named.")


def test_an_unknown_table_is_told_with_those_that_are_known(tmp_path: Path) -> None:
    (problem,) = problems_of(changed_pack(tmp_path, more='[[rul]]\nid = "x"\n'))
    assert str(problem) == f'more.toml: "rul" is no table of a rule file. Use one of {", ".join(TABLES)}.'


def test_a_folder_without_rule_files_is_told(tmp_path: Path) -> None:
    (problem,) = problems_of(tmp_path)
    assert str(problem) == f"{tmp_path}: there are no .toml files here. Name a folder of rules."


@pytest.mark.parametrize("table", ["pack", "price_book"])
def test_a_pack_needs_its_head_and_its_price_book(tmp_path: Path, table: str) -> None:
    folder = changed_pack(tmp_path)
    for path in folder.glob("*.toml"):
        kept = [
            block
            for block in path.read_text().split("\n\n")
            if not block.lstrip("# ").startswith(f"[{table}]")
        ]
        path.write_text("\n\n".join(kept))
    own = " or name a folder of your own rules with --overlay beside a whole pack."
    advice = f"Add one,{own}" if table == "pack" else "Add one."
    assert [str(p) for p in problems_of(folder)] == [f"{folder}: no file has a [{table}] table. {advice}"]


@pytest.mark.parametrize(
    ("old", "new", "problem"),
    [
        (
            "decides_core = true",
            "decides_cor = true",
            "parts.toml, part housing, decides_cor: Extra inputs are not permitted. It says True. "
            + UNKNOWN_KEY,
        ),
        (
            WEAR,
            '{ wear = "past limit" }',
            "rules.toml, rule pocket-worn, when.0: a condition starts with one of: "
            "finding, figure, sign, test, look, report, made_of, all, any, not.",
        ),
        (
            WEAR,
            '{ figure = "wear", is = "past" }',
            "rules.toml, rule pocket-worn, when.0.figure.is: Input should be 'past limit'. It says 'past'.",
        ),
        (
            WEAR,
            '{ figure = "wear", is = "past limit", above = "1 mm" }',
            "rules.toml, rule pocket-worn, when.0.figure: a figure is either "
            'is = "past limit", above = "..." or below = "...".',
        ),
        (
            WEAR,
            '{ figure = "wear", finding = "crack" }',
            "rules.toml, rule pocket-worn, when.0.finding.figure: Extra inputs are not permitted. "
            f"It says 'wear'. {UNKNOWN_KEY}",
        ),
        (
            'max = "0.02 mm"',
            'max = "0.02 mm"\nmin = "0.01 mm"',
            'sizes.toml, limit out_of_round: a limit has either "max" or "min".',
        ),
        (
            "low = 70\n",
            "low = 700\n",
            "prices.toml, price gear-new: low 700, likely 75, high 80 are out of order.",
        ),
        (
            'currency = "EUR"',
            'currency = "euro"',
            "prices.toml, price_book number 1, currency: String should match pattern '^[A-Z]{3}$'. "
            "It says 'euro'.",
        ),
        (
            'closes = { part = "gear", source = "own" }',
            'closes = { part = "gear" }',
            'rules.toml, coupling bored-housing-needs-gears, closes: closes names either "source" or "way".',
        ),
        (
            'closes = { part = "gear", source = "own" }',
            "",
            "rules.toml, coupling bored-housing-needs-gears: "
            '"closes" goes with if_way or if_source, and only with them.',
        ),
        (
            'title = "Sealing face"',
            'title = "Sealing face"\n  ladder = "common_size"',
            'parts.toml, part cover, concern.0: a ladder "common_size" needs each, first, size, sizes, need.',
        ),
    ],
)
def test_a_mistake_is_told_with_its_place_and_nothing_beside_it(
    tmp_path: Path, old: str, new: str, problem: str
) -> None:
    assert told(tmp_path, old, new) == [problem]


def test_a_list_whose_only_entry_is_wrong_is_not_called_too_short(tmp_path: Path) -> None:
    assert len(told(tmp_path, WEAR, '{ wear = "past limit" }')) == 1


def test_a_key_that_is_missing_is_told(tmp_path: Path) -> None:
    assert told(tmp_path, 'plain = "The bushing is scored."\n', "") == [
        "rules.toml, rule bushing-scored, plain: this key is missing. Add it."
    ]


def test_one_id_twice_is_told_with_the_file_of_the_first(tmp_path: Path) -> None:
    again = '[[price]]\nid = "boring"\ntitle = "x"\nlow = 1\nlikely = 1\nhigh = 1\n'
    (problem,) = problems_of(changed_pack(tmp_path, second=again))
    assert str(problem) == (
        "second.toml, price boring: this id stands already in prices.toml. Give each entry its own id."
    )


def test_the_mistakes_of_all_files_are_told_at_once(tmp_path: Path) -> None:
    changes = {
        "decides_core": "decides_cor",
        'currency = "EUR"': 'currency = "euro"',
        'max = "0.02 mm"': "max = 3",
    }
    files = {problem.where.partition(",")[0] for problem in problems_of(changed_pack(tmp_path, changes))}
    assert files == {"parts.toml", "prices.toml", "sizes.toml"}
