"""The unworn size, read twice: the smaller one counts as unworn, the larger one as metal that is gone."""

from inspect_app.judge.present import states
from inspect_app.metrology.figure import Figure
from inspect_app.model.evidence import Reading
from inspect_app.model.places import parse_place
from inspect_app.model.units import size
from tests.judge import six


def needed(*values: str) -> Figure:
    """Clean-up size of bore 1 from unworn readings alone, along first."""
    readings: list[Reading] = [
        six.reading(f"r{i}", "block", "diameter", "bore 1", value, station="below", direction=direction)
        for i, (value, direction) in enumerate(zip(values, ("along", "across"), strict=False))
    ]
    core = six.core([*six.looks_and_tests(), *readings])
    present, _ = states(core, six.engine(), core.evidence)
    return present["block"].scene.figures.figure("clean_up", parse_place("bore 1"))


def test_a_second_unworn_reading_never_lowers_what_a_bore_needs_at_least() -> None:
    # Worked by hand: the bore is 3.5300 in somewhere, 0.0300 over standard; with 0.0030 to finish, 0.0330.
    assert needed("3.5300").lo == size("0.0330 in")
    assert needed("3.5300", "3.5000").lo == size("0.0330 in")
