"""The benches run. How fast is measured by `make bench`, not here."""

import pytest

from inspect_app.model.evidence import Reading

from . import __main__ as command
from . import big_shop, measured_vee
from .benches import Bench, Result, benches, measured

IN_A_BROWSER = ("move a mark", "open a part", "type a reading")
BENCHES = [
    pytest.param(bench, marks=pytest.mark.long if bench.name.startswith(IN_A_BROWSER) else ())
    for bench in benches()
]


@pytest.fixture
def small_shop(monkeypatch) -> None:
    """A shop file of 5,000 cores takes half a minute and more than a gigabyte to make."""
    for name, value in {"MANY": 30, "FEW": 10, "PHOTOS_OF_ONE": 2, "FULL": 40_000}.items():
        monkeypatch.setattr(big_shop, name, value)


@pytest.mark.usefixtures("small_shop")
@pytest.mark.parametrize("bench", BENCHES, ids=lambda bench: bench.name)
def test_a_bench_runs_and_gives_times(bench: Bench) -> None:
    result = measured(bench, times=1)
    assert result.seconds > 0
    assert result.floor > 0


def test_three_hundred_readings_measure_the_vee_in_full() -> None:
    """All 64 of the bores, 32 of the walls and 52 of the journals, and what is worked out from them."""
    items = measured_vee.readings(300)
    read = {(i.quantity, i.place, i.slot) for i in items if (i.quantity, kind_of(i)) in measured_vee.FIRST}
    assert len(read) == 64 + 32 + 5 * 4 + 8 * 4
    kinds = {kind for _, kind in measured_vee.FIRST}
    for (_, quantity, place), figure in measured_vee.figures(items).items():
        if quantity in ("diameter", "wall", "taper", "out_of_round", "wear") and place.kind in kinds:
            assert not figure.missing, f"{quantity} of {place}"


def kind_of(item: Reading) -> str:
    return item.place.partition(" ")[0]


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
