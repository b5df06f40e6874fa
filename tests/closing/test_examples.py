"""The rules' own examples: each is run, and one that does not hold is told with what the rule says."""

from pathlib import Path

import pytest

from inspect_app.closing.examples import run_examples
from inspect_app.rulebook.load import load_rulebook
from tests.support import changed_pack, pump_book

EXAMPLE = 'given = [{ finding = "pitting", place = "flank" }]'
HERE = "rules.toml, rule gear-pitted, example 1: "


def told(tmp_path: Path, old: str, new: str) -> list[str]:
    return [str(problem) for problem in run_examples(load_rulebook(changed_pack(tmp_path, {old: new})))]


def test_the_examples_of_the_pump_hold() -> None:
    assert run_examples(pump_book()) == []


@pytest.mark.parametrize(
    ("given", "says"),
    [
        ('given = [{ finding = "pitting", place = "flank", strength = "suspected" }]', "open"),
        ("given = []", "open"),
        ('given = [{ look = "eye" }]', "not met"),
        ('given = [{ look = "eye", state = "as_found" }]', "open"),
        ('given = [{ look = "eye", lit = false }]', "open"),
    ],
)
def test_an_example_that_does_not_hold_is_told_with_what_the_rule_says(
    tmp_path: Path, given: str, says: str
) -> None:
    problem = f'{HERE}the rule is "{says}", the example says "met". Correct the rule or the example.'
    assert told(tmp_path, EXAMPLE, given) == [problem]


def test_evidence_that_is_none_is_told(tmp_path: Path) -> None:
    (problem,) = told(tmp_path, EXAMPLE, 'given = [{ smell = "burnt" }]')
    assert problem == (
        f"{HERE}it cannot be run: {{'smell': 'burnt'}} is no evidence: use finding, look, test, figure, "
        "report, sign or material. Correct the rule or the example."
    )


def test_an_example_at_a_place_where_the_rule_does_not_run_is_told(tmp_path: Path) -> None:
    (problem,) = told(tmp_path, EXAMPLE, 'given = [{ finding = "pitting", place = "tooth" }]')
    assert (
        problem
        == f"{HERE}it cannot be run: place: the rule does not run there. Correct the rule or the example."
    )


def test_an_example_can_name_its_build_standard(tmp_path: Path) -> None:
    worn = 'given = [{ figure = "wear", place = "pocket 1", value = "0.06 mm" }]'
    # 0.06 mm is past the 0.05 of a rebuild, and inside the 0.10 to run.
    (problem,) = told(tmp_path, worn, f'standard = "run"\n  {worn}')
    assert 'the rule is "not met"' in problem


def test_an_example_can_name_the_metal(tmp_path: Path) -> None:
    given = (
        'given = [{ finding = "crack", place = "journal 1/fillet", strength = "confirmed" }]\n  then = "met"'
    )
    clean = 'given = [{ test = "magnetic-particle", outcome = "nothing_found" }, { material = "aluminium" }]'
    assert told(tmp_path, given, f'{clean}\n  then = "open"') == []
