"""Marks over a photo: round the damage, inside the picture, of one size on the glass."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from inspect_app.pictures.photo_marks import RADIUS, Marked, balloon, letter, photo_marks
from inspect_app.pictures.tokens import BALLOON, DARK, LIGHT, MARKED, PAPER, UNDER_MARK
from tests.pictures.support import NASTY, SPACE, parsed, texts

WIDE, HIGH = 4000, 3000
MARKS = (
    Marked("A", "rectangle", ((400, 300), (900, 700)), dashed=True),
    Marked("B", "ellipse", ((1400, 300), (1900, 700))),
    Marked("C", "polygon", ((2400, 300), (2900, 700), (2500, 900))),
    Marked("D", "crack_line", ((400, 1500), (600, 1600), (700, 1580))),
    Marked("E", "scale_line", ((1400, 1500), (2000, 1500))),
    Marked("F", "point", ((2500, 1600),)),
)


def luminance(colour: str) -> float:
    parts = [int(colour[at : at + 2], 16) / 255 for at in (1, 3, 5)]
    linear = [part / 12.92 if part <= 0.04045 else ((part + 0.055) / 1.055) ** 2.4 for part in parts]
    return sum(weight * part for weight, part in zip((0.2126, 0.7152, 0.0722), linear, strict=True))


def contrast(one: str, other: str) -> float:
    high, low = sorted((luminance(one), luminance(other)), reverse=True)
    return (high + 0.05) / (low + 0.05)


def test_yellow_and_the_letter_stand_out_from_the_ink_on_any_photo() -> None:
    assert contrast(MARKED, UNDER_MARK) > 7
    assert contrast(BALLOON, UNDER_MARK) > 7


@pytest.mark.parametrize("ground", [LIGHT, DARK, PAPER], ids=lambda ground: ground.name)
def test_every_shape_is_drawn_ink_under_yellow_with_its_letter(ground) -> None:
    drawing = photo_marks(WIDE, HIGH, MARKS, ground)
    tree = parsed(drawing)
    assert [line for line in texts(drawing) if len(line) == 1] == list("ABCDEF")
    strokes = [e.get("stroke") for e in tree.iter() if e.get("stroke") in (UNDER_MARK, MARKED)]
    assert strokes.count(MARKED) == 5
    outlines = [e for e in tree if e.tag != f"{SPACE}g" and e.tag != f"{SPACE}title"]
    for ink, yellow in zip(outlines[:-1:2], outlines[1::2], strict=True):
        assert (ink.get("stroke"), yellow.get("stroke")) == (UNDER_MARK, MARKED)
        assert float(ink.get("stroke-width")) > float(yellow.get("stroke-width"))


def test_only_the_suspected_are_dashed() -> None:
    dashed = [e for e in parsed(photo_marks(WIDE, HIGH, MARKS, LIGHT)).iter() if e.get("stroke-dasharray")]
    assert len(dashed) == 2, "the line of A and the rim of its balloon"


def test_the_drawing_lies_on_the_pixels_of_the_photo() -> None:
    tree = parsed(photo_marks(WIDE, HIGH, MARKS, LIGHT, shown=800))
    assert (tree.get("viewBox"), tree.get("width"), tree.get("height")) == ("0 0 4000 3000", "800", "600")
    assert tree.find(f"{SPACE}polygon").get("points") == "400,300 900,300 900,700 400,700"


@pytest.mark.parametrize("shown", [358, 720, 1400])
def test_a_balloon_is_28_pixels_wide_on_the_glass(shown: float) -> None:
    tree = parsed(photo_marks(WIDE, HIGH, MARKS, LIGHT, shown=shown))
    discs = [e for e in tree.iter(f"{SPACE}circle") if e.get("fill") == BALLOON]
    assert [float(disc.get("r")) * shown / WIDE * 2 for disc in discs] == pytest.approx([28] * 6, abs=0.05)


def test_a_letter_from_elsewhere_is_escaped() -> None:
    drawing = photo_marks(WIDE, HIGH, [Marked(NASTY, "point", ((5, 5),))], LIGHT)
    parsed(drawing)
    assert "<b>" not in drawing


def test_no_marks_say_so() -> None:
    assert 'aria-label="No marks on the photo"' in photo_marks(WIDE, HIGH, [], LIGHT)


@pytest.mark.parametrize("size", [(0, 10, 10), (10, 0, 10), (10, 10, 0)])
def test_a_picture_without_size_is_refused(size: tuple[float, float, float]) -> None:
    with pytest.raises(ValueError, match="has no size"):
        photo_marks(size[0], size[1], MARKS, LIGHT, shown=size[2])


def test_an_unknown_shape_is_refused() -> None:
    with pytest.raises(ValueError, match='"star" is no shape of a mark'):
        photo_marks(WIDE, HIGH, [Marked("A", "star", ((1, 1),))], LIGHT)


def test_letters_run_on_after_z() -> None:
    assert [letter(at) for at in (0, 1, 25, 26, 27, 51, 52, 701, 702)] == [
        "A", "B", "Z", "AA", "AB", "AZ", "BA", "ZZ", "AAA",
    ]  # fmt: skip
    with pytest.raises(ValueError, match="the first is 0"):
        letter(-1)


spot = st.tuples(st.floats(0, WIDE), st.floats(0, HIGH))


@given(st.lists(spot, min_size=3, max_size=9), st.sampled_from(["rectangle", "ellipse", "polygon", "point"]))
def test_a_balloon_is_always_inside_and_its_leader_ends_within_the_box_of_the_mark(points, shape) -> None:
    mark = Marked("A", shape, tuple(points[:2] if shape in ("rectangle", "ellipse") else points))
    unit = 5.0
    (x, y), foot = balloon(mark, [], WIDE, HIGH, unit)
    assert RADIUS * unit <= x <= WIDE - RADIUS * unit
    assert RADIUS * unit <= y <= HIGH - RADIUS * unit
    for axis in (0, 1):
        values = [point[axis] for point in mark.points]
        assert min(values) - 1e-6 <= foot[axis] <= max(values) + 1e-6


def test_two_marks_on_one_spot_have_balloons_that_do_not_touch() -> None:
    centres: list[tuple[float, float]] = []
    for _ in range(4):
        centre, _foot = balloon(Marked("A", "point", ((2000, 1500),)), centres, WIDE, HIGH, 5.0)
        centres.append(centre)
    apart = [math.dist(one, other) for at, one in enumerate(centres) for other in centres[:at]]
    assert min(apart) >= 2 * RADIUS * 5
