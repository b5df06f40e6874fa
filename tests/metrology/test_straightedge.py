"""Straightedge and leaves: each limit just below, at and above the leaves, and not tried at all."""

from math import inf

import pytest

from inspect_app.metrology.estimate import Undetermined
from inspect_app.metrology.straightedge import Line, against_limit, worst_gap

TRIED = Line("left diagonal", 0.05, 0.10)


@pytest.mark.parametrize(("limit", "found"), [(0.04, "beyond"), (0.10, "inside"), (0.11, "inside")])
def test_a_limit_outside_the_leaves_is_told(limit: float, found: str) -> None:
    assert against_limit(TRIED, limit) == found


@pytest.mark.parametrize("limit", [0.05, 0.08, 0.0999])
def test_a_limit_between_the_leaves_asks_for_a_leaf(limit: float) -> None:
    """At the passing leaf too: it proves a gap of at least the limit, which may be the limit itself."""
    found = against_limit(TRIED, limit)
    assert isinstance(found, Undetermined)
    assert found.reason == (
        f"left diagonal: 0.05 mm passes and 0.1 mm does not, so the limit of {limit:g} mm lies between. "
        f"Try a leaf of {limit:g} mm, then the next thicker one."
    )


def test_where_no_leaf_was_stopped_the_gap_has_no_upper_end() -> None:
    found = against_limit(Line("edge", 0.05), 0.10)
    assert isinstance(found, Undetermined)
    assert "none was stopped" in found.reason
    assert worst_gap([Line("edge", 0.05), TRIED]) == (0.05, inf)


def test_where_none_passed_the_gap_may_be_nothing() -> None:
    assert against_limit(Line("edge", 0.0, 0.03), 0.03) == "inside"


def test_the_two_ends_of_the_worst_gap_may_come_from_two_lines() -> None:
    assert worst_gap([Line("a", 0.06, 0.07), Line("b", 0.02, 0.15)]) == (0.06, 0.15)


def test_no_line_tried_is_no_flat_face() -> None:
    assert isinstance(worst_gap([]), Undetermined)


@pytest.mark.parametrize("leaves", [(0.1, 0.1), (0.2, 0.1), (-0.1, 0.1)])
def test_leaves_the_wrong_way_round_are_refused(leaves: tuple[float, float]) -> None:
    with pytest.raises(ValueError, match="edge: the leaf that passes"):
        Line("edge", *leaves)
