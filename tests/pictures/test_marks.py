import itertools

import pytest

from inspect_app.model.frozen import Standing, Verdict
from inspect_app.pictures import words
from inspect_app.pictures.marks import fill, hatches, key, metal, outline, swatch
from inspect_app.pictures.tokens import GROUNDS, LIGHT, TWO_DOT, Ground
from tests.pictures.support import SPACE, outside, parsed, texts

VERDICTS: tuple[Verdict | None, ...] = (*words.VERDICTS, None)


def tiles(ground: Ground) -> dict[str, list[str]]:
    """What is in each tile, by its name without the ground's: kinds of shape after the wash."""
    root = parsed(f'<svg xmlns="{SPACE[1:-1]}">{hatches(ground)}</svg>')
    return {
        (tile.get("id") or "").removeprefix(f"{ground.name}-"): [n.tag.removeprefix(SPACE) for n in tile]
        for tile in root.iter(f"{SPACE}pattern")
    }


@pytest.mark.parametrize("ground", GROUNDS.values())
def test_each_verdict_has_its_own_hatch(ground: Ground) -> None:
    assert tiles(ground) == {
        "reuse": ["rect"],
        "recondition": ["rect", "line"],
        "replace": ["rect", "line", "line"],
        "scrap": ["rect", "line"],
        "unjudged": ["rect", "circle"],
        "metal": ["line"],
    }
    assert f'fill="{ground.ink}"' in hatches(ground), "scrap is solid ink"


@pytest.mark.parametrize("ground", GROUNDS.values())
def test_every_fill_that_a_drawing_asks_for_is_there(ground: Ground) -> None:
    asked = {fill(ground, verdict) for verdict in VERDICTS} | {metal(ground)}
    assert asked == {f"url(#{ground.name}-{name})" for name in tiles(ground)}


def test_standing_is_told_by_the_line_alone() -> None:
    assert outline(LIGHT, "reuse", "settled") == {"stroke": LIGHT.ink, "stroke_width": 1.8}
    assert outline(LIGHT, "reuse", "provisional")["stroke_dasharray"] == TWO_DOT
    assert outline(LIGHT, None, None)["stroke"] == LIGHT.soft
    assert outline(LIGHT, "reuse", "settled") == outline(LIGHT, "scrap", "settled")


def test_all_marks_differ_and_say_their_word() -> None:
    standings: tuple[Standing, ...] = ("settled", "provisional")
    drawn = {
        (verdict, standing): swatch(verdict, standing, LIGHT)
        for verdict, standing in itertools.product(words.VERDICTS, standings)
    } | {(None, None): swatch(None, None, LIGHT)}
    assert len(set(drawn.values())) == len(drawn) == 9
    for (verdict, standing), drawing in drawn.items():
        assert parsed(drawing).get("aria-label") == words.verdict_standing(verdict, standing)
        assert outside(drawing) == []


def test_the_key_names_every_mark_and_line() -> None:
    drawing = key(LIGHT)
    assert texts(drawing) == [*words.VERDICTS.values(), "Not judged", "settled", "provisional"]
    assert outside(drawing) == []
