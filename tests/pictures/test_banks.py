"""How the bays stand: the sheet's own word first, and a guess only where it says nothing, owned up to."""

import pytest

from inspect_app.pictures.banks import angle_said, layout_said
from inspect_app.pictures.engine_map import map_notes
from inspect_app.pictures.plan import Plan, plan_of
from inspect_app.rulebook.engine import Engine
from tests.judge import six
from tests.pictures.support import sheet

ROWS = "1 2 3 / 4 5 6"


def laid_out(cylinders: int, mains: int, heads: int, **conventions: str) -> Plan:
    return plan_of(Engine(six.book(), sheet(cylinders, mains, heads, conventions=conventions)))


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("inline-four, overhead valves, camshaft in the block", "line"),
        ("Straight six", "line"),
        ("in-line", "line"),
        ("V6 at 90 degrees, overhead valves", "vee"),
        ("60° vee", "vee"),
        ("V", "vee"),
        ("flat four", "vee"),
        ("inline six, V-belt drive", "line"),
        ("V8, single camshaft", "vee"),
        ("overhead valves, single camshaft", None),
        ("", None),
    ],
)
def test_the_word_of_the_layout_is_read(text: str, said: str | None) -> None:
    assert layout_said(text) == said


@pytest.mark.parametrize(
    ("text", "angle"),
    [
        ("V6 at 90 degrees", 90),
        ("60° vee", 60),
        ("V8, 72.5 deg", 72.5),
        ("flat four", 180),
        ("V6", None),
        ("V6, 270 degrees", None),
    ],
)
def test_the_angle_is_read(text: str, angle: float | None) -> None:
    assert angle_said(text) == angle


def test_an_inline_engine_with_two_heads_and_few_mains_is_never_drawn_as_a_vee() -> None:
    drawn = laid_out(6, 4, 2, layout="inline-six, two heads")
    assert not drawn.is_vee
    assert map_notes(drawn) == []
    assert laid_out(6, 4, 2).is_vee


def test_a_vee_that_the_sheet_names_needs_no_guess_whatever_its_mains() -> None:
    drawn = laid_out(6, 7, 2, layout="V6 at 60 degrees", cylinder_rows=ROWS)
    assert (drawn.rows, drawn.vee) == ((("1", "2", "3"), ("4", "5", "6")), 60)
    assert drawn.notes == ()


def test_a_guess_is_owned_up_to() -> None:
    vee = laid_out(6, 4, 2, cylinder_rows=ROWS)
    said = "drawn as a V, inferred from its heads and mains: the sheet does not say the layout"
    assert (vee.notes, vee.vee) == ((said,), 90)
    said = "drawn in one line, inferred from its mains: the sheet does not say the layout"
    assert laid_out(6, 7, 2).notes == (said,)
    assert laid_out(4, 5, 1).notes == ()


def test_a_vee_without_two_heads_is_drawn_in_line_and_says_why() -> None:
    drawn = laid_out(6, 4, 1, layout="V6 at 15 degrees")
    assert not drawn.is_vee
    said = "drawn in one line: the sheet says a V, but its count of heads is 1, not 2"
    assert drawn.notes == (said,)
