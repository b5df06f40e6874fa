"""The two decision rules judged by the whole program: simple by the more probable side, guarded by 5 %.

Guarded: a limit is passed for sure from 95 % on and kept for sure down to 5 %, so the guard band on
either side is 1.64 u wide (JCGM 106:2012 and Eurachem's guide, seen quoted in secondary texts). The part is
the crankshaft of the inline-six: bend at most 0.05 mm, guarded; wear of a main journal at most 0.001 in,
simple.
"""

from pathlib import Path

import pytest

from inspect_app.metrology.risk import guard_factor, risk_at_acceptance_limit
from inspect_app.model.answer import PartAnswer
from inspect_app.model.evidence import Evidence, Reading
from tests.judge import six

from .support import Spot, closed_by, judge_written, part_at, resized, way_of

BEND, WEAR = 0.05 / 25.4, 0.0010
FACTOR = guard_factor(0.05)
EVERYTHING = [*six.looks_and_tests(), *six.readings()]


def bent(tmp_path: Path, bend: float) -> PartAnswer:
    """The crankshaft with a bend of so many inches: half of what the indicator shows."""
    evidence: list[Evidence] = [
        item.model_copy(update={"value": f"{2 * bend:.8f}", "gauge": "dial indicator"})
        if isinstance(item, Reading) and item.quantity == "runout"
        else item
        for item in EVERYTHING
    ]
    return part_at(judge_written(tmp_path, six.core(evidence), six.sheet()), "crankshaft")


def u_of_bend(tmp_path: Path) -> float:
    [closed] = closed_by(bent(tmp_path / "far", 2 * BEND), "crankshaft-bent")
    assert closed.measured is not None
    return closed.measured.u


@pytest.mark.parametrize(
    ("guards", "way", "standing"),
    [
        (-1.01, "as_is", "settled"),
        (-0.99, "as_is", "provisional"),
        (0.0, "as_is", "provisional"),
        (0.99, "as_is", "provisional"),
        (1.01, "straighten", "settled"),
    ],
)
def test_a_guarded_limit_is_open_within_its_guard_band(
    tmp_path: Path, guards: float, way: str, standing: str
) -> None:
    u = u_of_bend(tmp_path)
    crankshaft = bent(tmp_path / "near", BEND + guards * FACTOR * u)
    assert (way_of(crankshaft, "straightness").way, crankshaft.standing) == (way, standing)
    for closed in closed_by(crankshaft, "crankshaft-bent"):
        assert closed.p_beyond == pytest.approx(1 - risk_at_acceptance_limit(1.01, FACTOR), abs=1e-4)


def worn(tmp_path: Path, wear: float) -> PartAnswer:
    spots: dict[Spot, str] = {
        (f"main_journal {n}", end, way): f"{2.5 - wear:.8f}"
        for n in range(1, six.MAINS + 1)
        for end in ("front", "rear")
        for way in ("vertical", "horizontal")
    }
    evidence = resized(EVERYTHING, "main_journal", "0", spots)
    return part_at(judge_written(tmp_path, six.core(evidence), six.sheet()), "crankshaft")


def u_of_wear(tmp_path: Path) -> float:
    closed = closed_by(worn(tmp_path / "far", 2 * WEAR), "main-journal-wear-past-polish")[0]
    assert closed.measured is not None
    return closed.measured.u


@pytest.mark.parametrize(
    ("guards", "way", "close"),
    [
        (-1.02, "polish", False),
        (-0.98, "polish", True),
        (0.0, "polish", True),
        (0.05, "grind", True),
        (0.98, "grind", True),
        (1.02, "grind", False),
    ],
)
def test_a_simple_limit_takes_the_probable_side_and_shows_a_close_call(
    tmp_path: Path, guards: float, way: str, close: bool
) -> None:
    u = u_of_wear(tmp_path)
    crankshaft = worn(tmp_path / "near", WEAR + guards * FACTOR * u)
    assert (way_of(crankshaft, "mains").way, crankshaft.standing) == (way, "settled")
    calls = [call for call in crankshaft.close_calls if call.rule == "main-journal-wear-past-polish"]
    assert bool(calls) is close
    for call in calls:
        assert 0.05 < call.p_beyond < 0.95
