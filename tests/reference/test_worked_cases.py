"""Three worked cases of the trade, by the functions alone (the rules' verdicts are tested elsewhere).

Common practice throughout, in inch as a shop writes them; k = 1.5 and the stock for finishing are a
shop's usual ones.
"""

import pytest

from inspect_app.metrology.estimate import Estimate, Undetermined
from inspect_app.metrology.figure import Figure, Slots
from inspect_app.metrology.figures import largest_minus_smallest, wear, worst
from inspect_app.metrology.gaps import wall_left
from inspect_app.metrology.readings import Value
from inspect_app.metrology.size_plan import Listed, Plan, Planned, SizeTask, Spot, plan_sizes
from inspect_app.metrology.sizes import needed_step, next_listed
from inspect_app.metrology.straightedge import Line, against_limit

K = (1.0, 1.5, 2.0)
NONE = Estimate(0.0)


def slots(readings: dict[tuple[str, str], float]) -> Slots:
    return {
        ("diameter", *spot): (Value(size, 0.00005, 0.0001, "one", (f"{spot}",)),)
        for spot, size in readings.items()
    }


BORE = slots(
    {
        ("top", "across"): 4.0080,
        ("top", "along"): 4.0052,
        ("middle", "across"): 4.0050,
        ("middle", "along"): 4.0038,
        ("bottom", "across"): 4.0020,
        ("bottom", "along"): 4.0015,
    }
)


def test_a_worn_bore() -> None:
    assert largest_minus_smallest(BORE, "station").lo == pytest.approx(0.0060)
    assert largest_minus_smallest(BORE, "direction").lo == pytest.approx(0.0028)
    worn = wear(worst(BORE, "above"), Figure(4.0, 4.0), "hole")
    assert worn.lo == pytest.approx(0.0080)
    step = needed_step(NONE, Estimate(worn.lo, worn.u), NONE, 0.003, K)
    assert (step.low, step.usual, step.high) == pytest.approx((0.011, 0.015, 0.019))
    assert step.shown == "0 + 1.5 x 0.008 + 2 x 0 + 0.003 = 0.015"
    listed = [0.010, 0.020, 0.030, 0.040, 0.060]
    assert next_listed(step.usual, listed) == 0.020
    assert next_listed(step.high, listed) == 0.020, "the factor does not matter here"
    assert wall_left(Estimate(0.180, 0.003), Estimate(4.0), 4.020).value == pytest.approx(0.170)


def test_a_worn_bore_forces_the_set() -> None:
    """All bores to the size of the worst: pistons for 0.020 exist."""
    needs = (0.015, 0.004, 0.006, 0.005)
    listed = (Listed(0.010, 90.0), Listed(0.020, 95.0), Listed(0.030, 95.0))
    planned = plan_sizes(SizeTask(tuple(Spot(need) for need in needs), listed))
    assert isinstance(planned, Planned)
    assert planned.best == Plan(0.020, (), 380.0)


PIN = slots(
    {
        ("front", "vertical"): 2.0993,
        ("front", "horizontal"): 2.0989,
        ("rear", "vertical"): 2.0991,
        ("rear", "horizontal"): 2.0988,
    }
)


def test_a_scored_pin() -> None:
    assert largest_minus_smallest(PIN, "station").lo == pytest.approx(0.0002)
    assert largest_minus_smallest(PIN, "direction").lo == pytest.approx(0.0004)
    worn = wear(worst(PIN, "below"), Figure(2.1, 2.1), "shaft")
    assert worn.lo == pytest.approx(0.0012)
    step = needed_step(NONE, Estimate(worn.lo), Estimate(0.002), 0.001, K)
    assert step.usual == pytest.approx(0.0068)
    assert next_listed(step.high, [0.010, 0.020, 0.030]) == 0.010


def test_a_warped_face() -> None:
    """Warp 0.007 in: beyond the 0.003 in from which a face is straightened before it is milled."""
    line = Line("diagonal", 0.007, 0.008)
    assert against_limit(line, 0.003) == "beyond"
    assert against_limit(line, 0.008) == "inside", "the stock that may be milled covers it"
    assert isinstance(against_limit(line, 0.0075), Undetermined)
