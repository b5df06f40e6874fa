"""A leaf that must not pass: a gap that reaches it is past the limit, one that stops it is not."""

import pytest

from inspect_app.closing.scene import past
from inspect_app.metrology.figure import Figure
from inspect_app.rulebook.conditions import Threshold


@pytest.mark.parametrize(
    ("lo", "hi", "usual", "itself"),
    [
        (0.00, 0.03, (False, False), (False, False)),
        (0.03, 0.03, (False, False), (True, True)),
        (0.03, 0.05, (False, True), (True, True)),
        (0.02, 0.05, (False, True), (False, True)),
        (0.04, 0.05, (True, True), (True, True)),
    ],
    ids=["stopped at it", "exactly", "passes at it", "between", "passes above it"],
)
def test_a_limit_is_passed_by_itself_only_where_it_says_so(
    lo: float, hi: float, usual: tuple[bool, bool], itself: tuple[bool, bool]
) -> None:
    assert past(Figure(lo, hi), Threshold(0.03, "above")) == usual
    assert past(Figure(lo, hi), Threshold(0.03, "above", itself_past=True)) == itself


def test_the_same_holds_for_a_limit_from_below() -> None:
    assert past(Figure(0.03, 0.03), Threshold(0.03, "below", itself_past=True)) == (True, True)
    assert past(Figure(0.031, 0.031), Threshold(0.03, "below", itself_past=True)) == (False, False)
