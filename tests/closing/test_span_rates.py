"""Spans through the whole path, from what is typed to the decision: false calls held to the stated rate."""

from math import sqrt

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from numpy.typing import NDArray

from inspect_app.closing.scene import past
from inspect_app.metrology.figure import Figure
from inspect_app.metrology.spread import Layout, Part, true_places
from inspect_app.model.evidence import Evidence, Reading
from inspect_app.model.places import Place
from inspect_app.rulebook.conditions import Threshold
from tests.support import reading, state_of

PARTS = 800
ROOM = 4.5 * sqrt(0.05 * 0.95 / PARTS)
"""Four and a half standard deviations of a binomial share of simulated parts."""
LIMIT, DIGIT = 0.02, 0.001
REPEATABILITY, CALIBRATION = 0.001, 0.002 / sqrt(3)
"""Of both gauges of the pump."""
PLACE = Place("journal", "1")
SLOTS = [(station, direction) for station in ("front", "rear") for direction in ("across", "along")]


def taken(slot: tuple[str, str], value: str, session: str, gauge: str = "outside-micrometer") -> Reading:
    return reading(
        "diameter", str(PLACE), value, " ".join(slot), gauge=gauge, session=session, piece="shaft driver"
    )


def figure_of(items: list[Evidence], quantity: str = "out_of_round") -> Figure:
    return state_of("shaft driver", *items).scene.figures.figure(quantity, PLACE)


def read(
    sizes: NDArray[np.float64], generator: np.random.Generator, sessions: int, digits: int
) -> list[Evidence]:
    """A journal of these true sizes [stations, directions], as a shop reads it in so many sessions.

    Typed to the gauge's digit (3), or finer (6) with an error of half a digit either way instead.
    """
    shared = generator.normal(0, CALIBRATION, sessions)
    lies = generator.uniform(0, DIGIT)
    items: list[Evidence] = []
    for number, (slot, size) in enumerate(zip(SLOTS, sizes.ravel(), strict=True)):
        shown = 18.0 + lies + size + shared[number % sessions] + generator.normal(0, REPEATABILITY)
        shown += generator.uniform(-DIGIT / 2, DIGIT / 2) if digits > 3 else 0.0
        items.append(taken(slot, f"{shown:.{digits}f}", f"s{number % sessions}"))
    return items


def called(part: Part, sessions: int, guarded: bool, digits: int = 6) -> tuple[float, float]:
    """Shares of journals exactly at their limit that must, and that cannot, lie past it."""
    generator = np.random.default_rng(5)
    found = []
    for _ in range(PARTS):
        # Typed to the digit, it matters where between two digits the limit lies: anywhere.
        limit = LIMIT + (generator.uniform(0, DIGIT) if digits == 3 else 0.0)
        items = read(true_places(part, Layout(2, 2), limit), generator, sessions, digits)
        found.append(past(figure_of(items), Threshold(limit, "above", guarded=guarded)))
    return float(np.mean([must for must, _ in found])), float(np.mean([not may for _, may in found]))


@pytest.mark.parametrize(("sessions", "digits"), [(1, 6), (1, 3), (2, 6), (4, 6)])
def test_journals_exactly_at_the_limit_are_called_beyond_at_most_at_the_stated_rate(
    sessions: int, digits: int
) -> None:
    assert called("reads widest", sessions, guarded=True, digits=digits)[0] <= 0.05 + ROOM
    simple, inside = called("reads widest", sessions, guarded=False, digits=digits)
    assert simple <= 0.50 + 3 * ROOM
    # All four slots are read, so a simple decision always falls on one side.
    assert simple + inside == pytest.approx(1.0)


@pytest.mark.parametrize(("sessions", "digits"), [(1, 6), (1, 3), (2, 6), (4, 6)])
def test_journals_exactly_at_the_limit_are_called_inside_at_most_at_the_stated_rate(
    sessions: int, digits: int
) -> None:
    assert called("reads narrowest", sessions, guarded=True, digits=digits)[1] <= 0.05 + ROOM


def test_the_rate_is_reached_in_one_session_and_not_only_kept() -> None:
    """A bar so high that nothing is ever called would keep any rate."""
    assert called("reads widest", 1, guarded=True)[0] >= 0.05 - ROOM
    assert called("reads widest", 1, guarded=False)[0] >= 0.50 - 3 * ROOM


def test_a_shared_calibration_error_of_one_session_calls_nothing() -> None:
    """The gauge is wrong by four times its calibration half-width, the same in every slot."""
    items: list[Evidence] = [taken(slot, "18.008", "s") for slot in SLOTS]
    figure = figure_of(items)
    assert past(figure, Threshold(LIMIT, "above", guarded=True)) == (False, False)
    assert figure.lo == 0.0


# ---- more readings ----

GAUGES = st.sampled_from(["outside-micrometer", "bore-gauge", None])
READS = st.tuples(st.integers(0, 60), GAUGES, st.sampled_from(["s", "t", "u"]))


def item_of(slot: tuple[str, str], drawn: tuple[int, str | None, str]) -> Reading:
    microns, gauge, session = drawn
    usual = taken(slot, f"{18.0 - microns / 1000:.3f}", session)
    return usual.model_copy(update={"gauge": gauge})


@given(st.lists(READS, min_size=4, max_size=4), st.sets(st.integers(0, 3)))
@settings(max_examples=150, deadline=None)
def test_reading_more_slots_never_lifts_what_is_shown_nor_opens_what_is_proven(
    drawn: list[tuple[int, str | None, str]], kept: set[int]
) -> None:
    items = [item_of(slot, one) for slot, one in zip(SLOTS, drawn, strict=True)]
    few: list[Evidence] = [item for number, item in enumerate(items) if number in kept]
    for quantity, limit, worse in (("out_of_round", LIMIT, "above"), ("diameter", 17.97, "below")):
        for guarded in (False, True):
            against = Threshold(limit, "above" if worse == "above" else "below", guarded=guarded)
            must, may = past(figure_of(few, quantity), against)
            more_must, more_may = past(figure_of([*items], quantity), against)
            assert more_must or not must
            assert may or not more_may


@given(st.lists(READS, min_size=4, max_size=4), READS, st.integers(0, 3))
@settings(max_examples=100, deadline=None)
def test_a_conflict_never_lifts_what_was_shown(
    drawn: list[tuple[int, str | None, str]], again: tuple[int, str | None, str], number: int
) -> None:
    items: list[Evidence] = [item_of(slot, one) for slot, one in zip(SLOTS, drawn, strict=True)]
    contrary = item_of(SLOTS[number], again)
    state = state_of("shaft driver", *items, contrary)
    if not state.conflicts():
        return
    for guarded in (False, True):
        against = Threshold(LIMIT, "above", guarded=guarded)
        must, _ = past(figure_of(items), against)
        assert past(state.scene.figures.figure("out_of_round", PLACE), against)[0] or not must
