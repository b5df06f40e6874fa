"""A guarded limit that one reading has passed for certain stays passed, whatever a coarser gauge adds."""

import pytest

from inspect_app.closing.scene import past
from inspect_app.metrology.figures import worst
from inspect_app.metrology.readings import Value
from inspect_app.rulebook.conditions import Threshold

LIMIT = Threshold(3.0, "below", guarded=True)


def value(size: float, u: float) -> Value:
    return Value(size, u, 0.0, f"gauge {u}", (f"{size}",))


def wall(*values: Value) -> tuple[bool, bool]:
    return past(worst({("wall", "", str(i)): (v,) for i, v in enumerate(values)}, "below"), LIMIT)


FINE = value(2.9, 0.01)


def test_a_fine_gauge_past_the_limit_closes() -> None:
    assert wall(FINE) == (True, True)


def test_a_worse_reading_by_a_coarse_gauge_does_not_lift_it() -> None:
    assert wall(FINE, value(2.5, 1.0)) == (True, True)


@pytest.mark.parametrize(("u", "may"), [(0.01, False), (1.0, True)])
def test_a_good_reading_by_a_coarse_gauge_is_not_proof(u: float, may: bool) -> None:
    assert wall(value(3.5, 0.01), value(3.6, u)) == (False, may)
