"""All rules on 1,000 draws at once: floor <= every draw <= roof, and draws collapse when all is settled."""

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from numpy.typing import NDArray

from inspect_app.closing.drawn import DrawnScene
from inspect_app.closing.ladders import SizesDrawn
from inspect_app.closing.piece_state import FLOOR, ROOF, Closings, PieceState
from inspect_app.judge.choices import Choices
from inspect_app.judge.joint import Joint
from inspect_app.judge.present import states
from inspect_app.model.evidence import Evidence, standing

from . import six

DRAWS = 1000
MONEY = 1e-3


def joint_of(evidence: list[Evidence]) -> tuple[Joint, dict[str, PieceState]]:
    core, engine = six.core(evidence), six.engine()
    present, _ = states(core, engine, standing(core.evidence))
    return Joint(engine, Choices(engine, present), "rebuild"), present


class Truths:
    """Drawn truths of one piece, from anywhere: consistent with nothing but their own shape."""

    def __init__(self, state: PieceState, seed: int) -> None:
        self.state = state
        self.rng = np.random.default_rng(seed)
        self.share = self.rng.random() ** 6

    def places(self, kind: str | None) -> int:
        scene = self.state.scene
        return 1 if kind is None else len(scene.engine.places(scene.part, kind))

    def finding(self, damage: str, kind: str, zone: tuple[str, ...]) -> NDArray[np.bool_]:
        return self.rng.random((self.places(kind), DRAWS)) < self.share

    def event(self, name: str, kind: str | None) -> NDArray[np.bool_]:
        return self.rng.random((self.places(kind), DRAWS)) < self.share

    def figure(self, quantity: str, kind: str) -> NDArray[np.float64]:
        return np.asarray(self.rng.exponential(0.02, (self.places(kind), DRAWS)))

    def sizes(self) -> SizesDrawn:
        book = self.state.scene.engine.book
        part = book.parts[self.state.position.part]
        names = [
            (name, c.each)
            for c in part.concern
            if c.each
            for name in (c.need, c.keep and c.keep.figure)
            if name
        ]
        return SizesDrawn({(name, kind): self.figure(name, kind) for name, kind in names})

    def closings(self) -> Closings:
        scene = DrawnScene(self.state.scene, self.finding, self.figure, self.event)
        return self.state.drawn(scene, self.sizes(), DRAWS)


def drawn(present: dict[str, PieceState], seed: int) -> dict[str, Closings]:
    return {p: Truths(state, seed + i).closings() for i, (p, state) in enumerate(present.items())}


EVERYTHING = six.looks_and_tests() + six.readings()


@given(st.data())
@settings(max_examples=25, deadline=None)
def test_every_draw_costs_between_floor_and_roof(data: st.DataObject) -> None:
    kept = data.draw(st.lists(st.booleans(), min_size=len(EVERYTHING), max_size=len(EVERYTHING)))
    evidence = [item for item, keep in zip(EVERYTHING, kept, strict=True) if keep]
    joint, present = joint_of(evidence)
    real = joint.solve({p: state.real for p, state in present.items()}).cost
    costs = joint.solve(drawn(present, data.draw(st.integers(0, 10_000)))).cost
    assert costs.shape == (DRAWS,)
    assert (costs >= real[FLOOR] - MONEY).all()
    assert (costs <= real[ROOF] + MONEY).all()


def test_with_everything_settled_all_draws_are_one() -> None:
    joint, present = joint_of(EVERYTHING)
    real = joint.solve({p: state.real for p, state in present.items()}).cost
    costs = joint.solve(drawn(present, seed=7)).cost
    assert real[FLOOR] == real[ROOF]
    assert np.ptp(costs) == 0
    assert costs[0] == real[FLOOR]


def test_with_nothing_known_draws_differ_and_floor_and_roof_part() -> None:
    joint, present = joint_of([])
    real = joint.solve({p: state.real for p, state in present.items()}).cost
    costs = joint.solve(drawn(present, seed=7)).cost
    assert real[FLOOR] < real[ROOF]
    assert len(np.unique(costs.round(2))) > 10


def test_the_overlay_matters_a_settled_rule_is_not_drawn_again() -> None:
    _, present = joint_of(EVERYTHING)
    closings = drawn(present, seed=3)
    assert not any(c.own.any() for c in closings.values())
    undecided = drawn(joint_of([])[1], seed=3)
    assert any(c.own.any() for c in undecided.values())


@pytest.mark.long
def test_the_law_holds_on_many_random_cores() -> None:
    for seed in range(250):
        rng = np.random.default_rng(seed)
        evidence = [item for item in EVERYTHING if rng.random() < rng.random()]
        joint, present = joint_of(evidence)
        real = joint.solve({p: state.real for p, state in present.items()}).cost
        costs = joint.solve(drawn(present, seed)).cost
        assert real[FLOOR] - MONEY <= costs.min()
        assert costs.max() <= real[ROOF] + MONEY
