"""Misprints that published limit tables really hold are told when a sheet is checked."""

import pytest

from inspect_app.rulebook.check_sheet import sheet_problems
from tests.support import pump_book, pump_sheet


def problems(**row: str) -> list[str]:
    sheet = pump_sheet(quantities={"pocket.diameter": {"nominal": "40.00 mm"} | row})
    return [str(problem) for problem in sheet_problems(pump_book(), sheet)]


def test_a_new_range_upside_down_is_told() -> None:
    """As in TM 9-6115-604-34, which prints a bore as 74.915 to 7.4935 in."""
    assert problems(minimum="74.915 in", maximum="7.4935 in") == [
        "engine sheet pump-40, quantities.pocket.diameter: the minimum 74.915 in is above the maximum "
        "7.4935 in. One of them is misprinted: look at the manual again."
    ]


@pytest.mark.parametrize(("limit", "told"), [("40.02 mm", True), ("40.03 mm", False), ("40.05 mm", False)])
def test_a_wear_limit_below_at_and_above_the_end_of_the_new_range(limit: str, told: bool) -> None:
    """As in TM 10-3930-653-14&P, whose limit of 0.03 mm lies under a new maximum of 0.066 mm."""
    found = problems(minimum="40.00 mm", maximum="40.03 mm", wear_limit=limit)
    words = (
        f"engine sheet pump-40, quantities.pocket.diameter: the wear limit {limit} lies inside the new range "
        "40.00 mm to 40.03 mm. One of them is misprinted: leave out the one you cannot trust."
    )
    assert found == ([words] if told else [])


def test_a_limit_without_a_range_is_taken_as_it_is() -> None:
    assert problems(wear_limit="40.02 mm") == []


@pytest.mark.parametrize("name", ["left/right", "*", " ", "a, b"])
def test_a_name_that_would_read_as_a_place_is_told(name: str) -> None:
    sheet = pump_sheet(names={"gears": (name, "driven")})
    assert [str(problem) for problem in sheet_problems(pump_book(), sheet)] == [
        f'engine sheet pump-40, names: "{name}" is no name for one of the gears. '
        "Write a word without / * or a comma."
    ]


def test_a_machine_of_absurd_size_is_refused() -> None:
    with pytest.raises(ValueError, match="less than or equal to 64"):
        pump_sheet(counts={"gears": 65, "bushings": 4, "journals": 2})
