"""The core's record: money as triangles, files that stay inside, problems told all at once."""

import pytest
from pydantic import ValidationError

from inspect_app.model.core import Amount, Core, FileEntry
from inspect_app.model.problems import Problem, Problems, from_validation, raise_if_any

HASH = "0" * 64


def test_one_number_stands_for_low_likely_and_high() -> None:
    amount = Amount.model_validate(120)
    assert (amount.low, amount.likely, amount.high, amount.mean) == (120, 120, 120, 120)


def test_the_mean_of_an_amount_is_that_of_its_triangle() -> None:
    # (40 + 50 + 90) / 3 = 60, above the likely 50.
    assert Amount(low=40, likely=50, high=90).mean == 60


@pytest.mark.parametrize(
    "ends", [(2, 1, 3), (1, 3, 2), (-1, 0, 1), (0, 0, float("inf")), (0, float("nan"), 1)]
)
def test_an_amount_out_of_order_negative_or_endless_is_refused(ends: tuple[float, float, float]) -> None:
    with pytest.raises(ValidationError):
        Amount(low=ends[0], likely=ends[1], high=ends[2])


@pytest.mark.parametrize("path", ["/etc/hosts", "../other.jpg", "a/../../b.jpg", "a\\b.jpg", ""])
def test_a_file_outside_the_folder_is_refused(path: str) -> None:
    with pytest.raises(ValidationError, match="the path leaves the core's folder"):
        FileEntry(path=path, sha256=HASH)


def test_a_file_inside_the_folder_is_taken() -> None:
    assert FileEntry(path="photos/1.jpg", sha256=HASH).path == "photos/1.jpg"


def test_every_problem_of_a_core_is_told_at_once_with_its_field() -> None:
    with pytest.raises(ValidationError) as error:
        Core.model_validate({"id": "Pump 1", "title": "", "stage": "bench", "colour": "red"})
    told = {str(problem) for problem in from_validation(error.value, "core.json")}
    assert "core.json, build_standard: this key is missing. Add it." in told
    assert any(
        line.startswith("core.json, colour: ") and "check its spelling or remove it" in line for line in told
    )
    assert any(line.startswith("core.json, id: ") and "'Pump 1'" in line for line in told)
    assert len(told) == 4


def test_problems_keep_their_order_and_say_each_once() -> None:
    one, two = Problem("a", "wrong.", "Mend it."), Problem("b", "worse.", "")
    with pytest.raises(Problems) as error:
        raise_if_any([two, one, two])
    assert str(error.value) == "b: worse.\na: wrong. Mend it."


def test_no_problem_raises_nothing() -> None:
    raise_if_any([])
