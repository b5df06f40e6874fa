"""What is said against gauges, conditions, calculators and limits that cannot be used."""

from pathlib import Path

import pytest

from tests.support import changed_pack, problems_of

HEAD = '\n[[quantity]]\nid = "new"\ntitle = "new"\neach = ["pocket"]\nworse = "above"\n'
METAL = '[[material]]\nid = "steel"\ntitle = "steel"\nexpansion = [11e-6, 12e-6]\nbasis = "x"\n'


def told(tmp_path: Path, text: str) -> list[str]:
    """What the loader says against the pump with this file beside its own."""
    return [str(problem) for problem in problems_of(changed_pack(tmp_path, more=text))]


def calc(text: str, more: str = "") -> str:
    return f"{HEAD}{more}\ncalc = {{ {text} }}\n"


WALL = 'name = "press_stress", of = "rim"'
RING = 'ring = { wall = "2 mm", interference = "0.04 mm", material = "steel" }'
NEW = "more.toml, quantity pocket.new"
MISTAKES = {
    "minus without less": (
        calc('name = "minus", of = "rim"'),
        f'{NEW}: a minus needs less. Write less = "...", the quantity that is taken off.',
    ),
    "ring missing": (
        calc(WALL),
        f"{NEW}: a press-stress needs ring. Write ring = {{ wall, interference, material }}.",
    ),
    "ring of unknown metal": (
        calc(f"{WALL}, {RING}"),
        f'{NEW}: "steel" is no material of this rulebook. Use one of: .',
    ),
    "leaves without directions": (
        calc('name = "straightedge", of = "rim"'),
        f'{NEW}: "rim" is not read with leaves. Write directions = ["passes", "stops"] there.',
    ),
    "zone of a computed quantity": (
        calc('name = "flatness_zone", of = "wear"'),
        f'{NEW}: "wear" is computed itself. Compute from what is read.',
    ),
    "unknown source": (
        calc('name = "minus", of = "rim", less = "depth"'),
        f'{NEW}: "depth" is no quantity of pocket of this rulebook. '
        "Use one of: diameter, needed, new, rim, score_depth, wear.",
    ),
    "depth that is computed": (
        calc('name = "face_cut", of = "rim", depth = "wear"'),
        f'{NEW}: the depth "wear" is computed itself. Name a quantity that is read.',
    ),
    "unknown damage word": (
        calc('name = "face_cut", of = "rim", unless_absent = ["rust"]'),
        f'{NEW}: "rust" is no damage word of this rulebook. Use one of: crack, pitting, scoring.',
    ),
    "unknown condition": (
        f'{HEAD}conditions = ["bolted"]\n',
        f'{NEW}: "bolted" is no condition of this rulebook. Use one of: .',
    ),
    "condition that excludes an unknown one": (
        '[[condition]]\nid = "bolted"\ntitle = "bolted"\nexcludes = ["loose"]\n',
        'more.toml, condition bolted: "loose" is no condition of this rulebook. Use one of: bolted.',
    ),
    "gauge of unknown metal": (
        METAL
        + '[[gauge]]\nid = "g"\ntitle = "g"\nresolution = "1 mm"\nhalf_width = "1 mm"\nmaterial = "stone"\n',
        'more.toml, gauge g: "stone" is no material of this rulebook. Use one of: steel.',
    ),
    "unit of another dimension": (
        f'{HEAD}dimension = "pressure"\nshown_in = "mm"\n',
        f"{NEW}, shown_in: ",
    ),
}


@pytest.mark.parametrize("mistake", MISTAKES)
def test_each_mistake_is_told_in_its_words(tmp_path: Path, mistake: str) -> None:
    text, problem = MISTAKES[mistake]
    found = [one for one in told(tmp_path, text) if "unruled" not in one and "matrix" not in one]
    assert any(one == problem or (problem.endswith(": ") and one.startswith(problem)) for one in found), found


def test_a_figure_that_rests_on_itself_is_told(tmp_path: Path) -> None:
    one = calc('name = "times", of = "other", times = 2')
    other = calc('name = "times", of = "new", times = 0.5').replace('id = "new"', 'id = "other"')
    found = told(tmp_path, one + other)
    assert f"{NEW}: it is computed from itself. Break the circle." in found
    assert "more.toml, quantity pocket.other: it is computed from itself. Break the circle." in found


@pytest.mark.parametrize("field", ["resolution", "half_width", "repeatability", "division"])
def test_a_size_of_a_gauge_without_its_unit_is_told(tmp_path: Path, field: str) -> None:
    sizes = {"resolution": "0.01 mm", "half_width": "0.01 mm"} | {field: "0.01"}
    lines = "\n".join(f'{name} = "{size}"' for name, size in sizes.items())
    (problem,) = told(tmp_path, f'[[gauge]]\nid = "g"\ntitle = "g"\n{lines}\n')
    assert problem.startswith(f"more.toml, gauge g, {field}: ")


@pytest.mark.parametrize("field", ["wall", "interference"])
def test_a_size_of_a_ring_without_its_unit_is_told(tmp_path: Path, field: str) -> None:
    ring = RING.replace(f'{field} = "2 mm"', f'{field} = "2"').replace(
        f'{field} = "0.04 mm"', f'{field} = "2"'
    )
    found = told(tmp_path, METAL + calc(f"{WALL}, {ring}", 'dimension = "pressure"\nshown_in = "MPa"'))
    assert any(one.startswith(f"{NEW}, calc.ring.{field}: ") for one in found), found


@pytest.mark.parametrize("ends", ["[12e-6, 11e-6]", "[-1e-6, 1e-6]", "[11, 12]"])
def test_an_expansion_that_is_no_range_is_told(tmp_path: Path, ends: str) -> None:
    (problem,) = told(tmp_path, METAL.replace("[11e-6, 12e-6]", ends))
    assert "expansion is the smaller value, then the larger, per degree: [11e-6, 12e-6]" in problem


@pytest.mark.parametrize(
    ("given", "words"),
    [
        ("", 'a limit has either "max" or "min"'),
        ('max = "1 mm"\nmin = "1 mm"', 'a limit has either "max" or "min"'),
    ],
)
def test_a_limit_has_one_side(tmp_path: Path, given: str, words: str) -> None:
    text = f'[[limit]]\nquantity = "score_depth"\neach = ["pocket"]\n{given}\nbasis = "x"\n'
    (problem,) = told(tmp_path, text)
    assert words in problem


def test_only_a_shaft_is_made_larger_by_a_step(tmp_path: Path) -> None:
    text = '[[quantity]]\nid = "rim"\ntitle = "rim"\neach = ["pocket"]\nworse = "above"\nbody = "hole"\n'
    (problem,) = told(tmp_path, f"{text}step_adds = true\n")
    assert '"step_adds" is for a shaft that is made larger: write body = "shaft"' in problem
