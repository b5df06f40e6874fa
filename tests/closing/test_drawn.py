"""Drawn truths run through the same rules: what is decided stays decided, the rest lies in between."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from numpy.typing import NDArray

from inspect_app.closing.drawn import DrawnScene
from inspect_app.closing.ladders import SizesDrawn
from inspect_app.closing.piece_state import FLOOR, ROOF, Closings, PieceState
from inspect_app.closing.rows import drawn_columns, overlay
from inspect_app.model.evidence import Evidence
from inspect_app.rulebook.conditions import Threshold
from inspect_app.rulebook.pair import Pair
from tests.support import decision, finding, look, pocket, reading, report, state_of, trial

DRAWS = 16
ITEMS: tuple[Evidence, ...] = (
    look(id="look"),
    look("pocket driver", id="one"),
    trial("dye-penetrant", id="test"),
    finding("crack", "outside", "suspected", id="suspected"),
    finding("crack", "outside", id="crack"),
    finding("scoring", "pocket driver/wall", id="score"),
    *pocket("pocket driver", "40.080"),
    *pocket("pocket driven", "40.030"),
    reading("rim", "pocket driver", "6.10", id="rim"),
    reading("score_depth", "pocket driver", "0.02", id="depth"),
    report("not worth boring", id="said"),
    report("not worth boring", "rim 4 mm", id="grounds"),
    decision("waive", "pocket-scored", id="waived"),
)
evidence = st.lists(st.sampled_from(ITEMS), unique_by=lambda item: item.id)


def drawn(state: PieceState, seed: int) -> Closings:
    """Closings for random truths, whatever the evidence says."""
    random = np.random.default_rng(seed)
    truths: dict[tuple[str, ...], NDArray[np.float64]] = {}

    def truth(*name: str) -> NDArray[np.float64]:
        places = len(state.scene.places(name[-1])) if name[-1] else 1
        return truths.setdefault(name, random.random((places, DRAWS)))

    scene = DrawnScene(
        state.scene,
        lambda damage, kind, zone: truth(damage, *zone, kind) > 0.5,
        lambda quantity, kind: truth(quantity, kind) * 0.2,
        lambda event, kind: truth(event, kind or "") > 0.5,
    )
    sizes = SizesDrawn(
        {("needed", "pocket"): truth("needed", "pocket"), ("rim", "pocket"): 5 + 2 * truth("rim", "pocket")}
    )
    return state.drawn(scene, sizes, DRAWS)


@given(evidence, st.integers(0, 99))
def test_every_draw_lies_between_what_must_and_what_may_be_closed(items: list[Evidence], seed: int) -> None:
    state = state_of("housing", *items)
    real, draws = state.real, drawn(state, seed)
    pairs = [(real.own, draws.own)]
    pairs += [(real.sources[name], draws.sources[name]) for name in real.sources]
    for ladder, other in zip(real.ladders, draws.ladders, strict=True):
        pairs += list(zip(ladder.closed, other.closed, strict=True))
    for sure, tried in pairs:
        assert (tried >= sure[FLOOR]).all()
        assert (tried <= sure[ROOF]).all()


def test_where_all_is_decided_every_draw_says_the_same() -> None:
    sizes = [*pocket("pocket driver", "40.080"), *pocket("pocket driven", "40.090")]
    rims = [reading("rim", f"pocket {name}", "9.00") for name in ("driver", "driven")]
    state = state_of("housing", look(), trial("dye-penetrant"), *sizes, *rims)
    draws = drawn(state, 1)
    assert not draws.own.any()
    (ladder,), (real,) = draws.ladders, state.real.ladders
    assert (ladder.closed == real.closed[:, [FLOOR]]).all()
    assert (real.closed[:, FLOOR] == real.closed[:, ROOF]).all()


def test_the_real_decision_overwrites_a_draw_and_an_open_one_does_not() -> None:
    real = Pair(np.array([True, False, False]), np.array([True, True, False]))
    truth = np.array([[False, True]] * 3)
    assert overlay(real, truth).tolist() == [[True, True], [False, True], [False, False]]


def test_a_waived_rule_is_waived_in_every_draw() -> None:
    state = state_of("housing", decision("waive", "pocket-scored"))
    scene = DrawnScene(
        state.scene,
        lambda damage, kind, zone: np.ones((len(state.scene.places(kind)), DRAWS), dtype=bool),
        lambda quantity, kind: np.zeros((len(state.scene.places(kind)), DRAWS)),
        lambda event, kind: np.zeros((1, DRAWS), dtype=bool),
    )
    columns = drawn_columns(state.scene.engine.book, state.rows, scene, DRAWS)
    assert not columns[("pocket-scored", "pocket")].any()
    assert columns[("housing-cracked", "outside")].all()


@pytest.mark.parametrize(("wear", "closed"), [(0.049, False), (0.05, False), (0.051, True)])
def test_a_draw_is_compared_with_the_bare_limit(wear: float, closed: bool) -> None:
    state = state_of("housing")
    scene = DrawnScene(
        state.scene,
        lambda damage, kind, zone: np.zeros((2, 1), dtype=bool),
        lambda quantity, kind: np.full((2, 1), wear),
        lambda event, kind: np.zeros((1, 1), dtype=bool),
    )
    assert scene.beyond("wear", "pocket", None, if_read=False).must.tolist() == [[closed], [closed]]


def test_a_guarded_limit_has_no_guard_in_a_draw() -> None:
    state = state_of("housing")
    scene = DrawnScene(
        state.scene,
        lambda damage, kind, zone: np.zeros((2, 2), dtype=bool),
        lambda quantity, kind: np.array([[5.9999, 6.0]] * 2),
        lambda event, kind: np.zeros((1, 2), dtype=bool),
    )
    answer = scene.beyond("rim", "pocket", None, if_read=False)
    assert answer.must.tolist() == [[True, False]] * 2
    guarded = Threshold(5.99999, "above", guarded=True)
    assert scene.beyond("rim", "pocket", guarded, if_read=False).must.tolist() == [[False, True]] * 2
    assert answer.sure
