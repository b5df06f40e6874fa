"""The benches run. How fast is measured by `make bench`, not here."""

import pytest

from . import __main__ as command
from . import measured_vee
from .benches import Bench, Result, benches, measured

BENCHES = benches()


@pytest.mark.parametrize("bench", BENCHES, ids=lambda bench: bench.name)
def test_a_bench_runs_and_gives_times(bench: Bench) -> None:
    result = measured(bench, times=1)
    assert result.seconds > 0
    assert result.floor > 0


def test_three_hundred_readings_measure_every_slot_of_the_vee() -> None:
    """A pack that learns to read more than that needs more readings in the bench."""
    items = measured_vee.readings(300)
    read = {(item.piece, item.quantity, item.place, item.slot) for item in items}
    assert len(read) == len(measured_vee.slots()) <= 300
    assert not [spot for spot, figure in measured_vee.figures(items).items() if figure.missing]


def test_half_as_many_readings_leave_figures_open() -> None:
    assert any(figure.missing for figure in measured_vee.figures(measured_vee.readings(75)).values())


def test_a_ratio_above_its_bound_is_told_and_ends_in_exit_1(monkeypatch, capsys) -> None:
    slow = Bench("slow", lambda: 3.0, "floor", lambda: 1.0, at_most=2, guide=0.5)
    monkeypatch.setattr(command, "benches", lambda: [slow])
    assert command.main() == 1
    told = capsys.readouterr().out.splitlines()
    assert told[0].startswith("Load average ")
    assert told[1] == (
        "slow: 3000.0 ms, guide 500 ms; floor: 1000.00 ms; ratio 3.0, at most 2  ABOVE ITS BOUND"
    )


def test_a_ratio_at_its_bound_holds(monkeypatch, capsys) -> None:
    fair = Bench("fair", lambda: 2.0, "floor", lambda: 1.0, at_most=2)
    assert Result(fair, 2.0, 1.0).holds
    monkeypatch.setattr(command, "benches", lambda: [fair])
    assert command.main() == 0
    assert "ABOVE" not in capsys.readouterr().out
