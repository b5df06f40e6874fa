"""A three-lobed bore is round to a two-point gauge, and so to the program. The form is exact (derived).

r = R + e cos 3 angle has one diameter in every direction, 2 R, while its roundness is 2 e.
"""

from pathlib import Path

import numpy as np
import pytest

from inspect_app.metrology.circle import even_angles, lobed, two_point_out_of_round
from inspect_app.metrology.form_figures import roundness
from inspect_app.metrology.readings import Value
from inspect_app.model.answer import PartAnswer
from tests.judge import six

from .support import Spot, closed_by, judge_written, part_at, resized, shipped_book

RADIUS, AMPLITUDE, DIRECTIONS = 44.45, 0.05, 12
"""3.5000 in and 0.05 mm: twice what closes honing on a rebuild; as an oval it shows four times as much."""


def diameters(lobes: int) -> dict[str, float]:
    """Across and along a bore of this form, mm."""
    turn = np.deg2rad([0.0, 90.0])
    radii = [RADIUS + AMPLITUDE * np.cos(lobes * (turn + side)) for side in (0.0, np.pi)]
    return dict(zip(("across", "along"), (float(d) for d in radii[0] + radii[1]), strict=True))


def judged(tmp_path: Path, lobes: int) -> PartAnswer:
    spots: dict[Spot, str] = {
        ("bore 1", station, way): f"{diameter / 25.4:.6f}"
        for station in ("top", "middle", "bottom")
        for way, diameter in diameters(lobes).items()
    }
    evidence = resized([*six.looks_and_tests(), *six.readings()], "bore", "0", spots)
    return part_at(judge_written(tmp_path, six.core(evidence), six.sheet()), "block")


def test_the_program_is_as_blind_to_three_lobes_as_its_gauge(tmp_path: Path) -> None:
    block = judged(tmp_path, 3)
    assert (block.verdict, block.closed) == ("reuse", ())


def test_and_sees_an_oval_of_the_same_height_four_times(tmp_path: Path) -> None:
    [closed] = closed_by(judged(tmp_path, 2), "bore-out-of-round-past-hone", "bore 1")
    assert closed.measured is not None
    assert closed.measured.value == pytest.approx(4 * AMPLITUDE / 25.4, abs=2e-6)


def test_so_it_calls_the_figure_two_point() -> None:
    for kind in ("bore", "main_journal", "rod_journal"):
        assert "two-point" in shipped_book().quantities["out_of_round", kind].title


@pytest.mark.parametrize(("lobes", "two_point"), [(2, 4 * AMPLITUDE), (3, 0.0)])
def test_an_indicator_swept_round_sees_both(lobes: int, two_point: float) -> None:
    radii = lobed(RADIUS, lobes, AMPLITUDE, DIRECTIONS)
    assert two_point_out_of_round(radii) == pytest.approx(two_point, abs=1e-9)
    names = [f"{angle:g}" for angle in even_angles(DIRECTIONS)]
    slots = {
        ("sweep", "middle", name): (Value(float(radius - RADIUS), 0.001, 0.002, "one", (name,)),)
        for name, radius in zip(names, radii, strict=True)
    }
    figure = roundness(slots, names, 2 * RADIUS)
    assert (figure.lo, figure.hi) == (pytest.approx(2 * AMPLITUDE, abs=1e-6),) * 2
