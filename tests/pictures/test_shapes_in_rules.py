"""Shapes and the map as rule files hold them: what is wrong is said, and Python knows no part."""

import re
from pathlib import Path

import pytest

import inspect_app
from inspect_app.rulebook.load import load_rulebook
from inspect_app.shipped import shipped
from tests.judge import six
from tests.support import changed_pack, problems_of

SLAB = '[part.shape]\nkind = "slab"\nstart = 10\nend = 20\n'
COVER = 'first_looks = ["seal_face"]\n'
PLACES = '[[part.concern]]\n  id = "face"'
MAP = '[pack.map]\nbays = "gears"\nbanks = "{banks}"\nstations = "journals"\n'


def test_every_shipped_part_has_a_shape() -> None:
    assert {part.id for part in six.book().parts.values() if part.shape is None} == set()


def test_a_shape_without_a_map_is_told(tmp_path: Path) -> None:
    folder = changed_pack(tmp_path, {PLACES: f"{SLAB}\n{PLACES}"})
    (problem,) = problems_of(folder)
    assert "part cover" in str(problem)
    assert "the pack has no map to draw it on" in str(problem)


def test_a_map_names_counts_of_the_pack(tmp_path: Path) -> None:
    folder = changed_pack(
        tmp_path, {'core_title = "pump"\n': 'core_title = "pump"\n' + MAP.format(banks="rows")}
    )
    (problem,) = problems_of(folder)
    assert '"rows" is no count of this rulebook.' in str(problem)


def test_a_pack_for_another_machine_can_have_a_map_too(tmp_path: Path) -> None:
    changes = {
        'core_title = "pump"\n': 'core_title = "pump"\n' + MAP.format(banks="gears"),
        PLACES: f"{SLAB}\n{PLACES}",
    }
    book = load_rulebook(changed_pack(tmp_path, changes))
    assert book.parts["cover"].shape is not None


@pytest.mark.parametrize(
    ("shape", "said"),
    [
        ('kind = "blob"\n', "blob"),
        ('kind = "slab"\nstart = 10\n', "end"),
        ('kind = "slab"\nstart = 10\nend = 20\nradius = 3\n', "radius"),
        ('kind = "shaft"\nradius = -1\npin = 1\ncheek = 1\n', "radius"),
    ],
)
def test_a_shape_that_is_wrong_is_told(tmp_path: Path, shape: str, said: str) -> None:
    folder = changed_pack(tmp_path, {PLACES: f"[part.shape]\n{shape}\n{PLACES}"})
    assert any(said in str(problem) for problem in problems_of(folder))


def test_no_part_is_named_in_the_drawings() -> None:
    """Python knows kinds of geometry; the rules know parts."""
    names = {part.id for part in load_rulebook(shipped("rules")).parts.values()}
    assert {"block", "rod"} <= names
    allowed = {"block"}
    for path in sorted((Path(inspect_app.__file__).parent / "pictures").glob("*.py")):
        words = set(re.findall(r"[a-z]+(?:_[a-z]+)*", path.read_text(encoding="utf-8").lower()))
        assert words & (names - allowed) == set(), path.name
