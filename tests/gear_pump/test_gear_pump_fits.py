"""The pump's own fit, worked out by hand with no Python for it: a journal in its bushing, 0.02 to 0.06 mm."""

import pytest

from inspect_app.judge import fit_check
from inspect_app.model.fit_answer import Fit
from tests.support import journal, make_core, pump_engine, reading


def fit(bushing: str | None, size: str = "18.000", along: str = "") -> Fit:
    """The second journal of the driven shaft, which runs in the fourth bushing."""
    items = journal("journal 2", size, along or size, piece="shaft driven")
    bore = [reading("diameter", "running_face", bushing, piece="bushing 4")] if bushing else []
    answer = fit_check(make_core(*items, *bore), pump_engine())
    return next(found for found in answer.fits if found.place == "Shaft driven, journal 2")


@pytest.mark.parametrize(
    ("bushing", "state", "percent"),
    [("18.010", "out", -25), ("18.020", "close", 0), ("18.040", "inside", 50), ("18.070", "out", 125)],
)
def test_a_journal_goes_with_the_bushing_of_its_number(bushing: str, state: str, percent: float) -> None:
    found = fit(bushing)
    assert (found.fit, found.known_by) == ("journal-in-bushing", "parts")
    assert (found.state, found.position_percent) == (state, pytest.approx(percent))


def test_what_brings_a_tight_journal_in_is_told() -> None:
    changes = {change.how: change for change in fit("18.010").changes}
    assert changes["ream the bushing"].least == pytest.approx(0.010)
    assert changes["grind the journal"].least == pytest.approx(-0.010)
    assert all(change.by_cutting for change in changes.values())


def test_an_oval_journal_is_told_from_closest_to_widest() -> None:
    assert fit("18.040", along="17.990").spread == (pytest.approx(0.040), pytest.approx(0.050))


def test_a_bushing_that_nobody_read_leaves_it_open() -> None:
    found = fit(None)
    assert found.state == "open"
    assert [item.place for item in found.missing] == ["bushing 4, running face"]
