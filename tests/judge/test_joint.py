"""The joint decision of a whole machine equals trying every joint assignment, each billed anew."""

from collections.abc import Iterator
from itertools import product
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from inspect_app.judge.choices import EMPTY, NO_SOURCE, OWN, Choices
from inspect_app.judge.costs import asked
from inspect_app.judge.joint import Joint, Outcome
from inspect_app.judge.present import states
from inspect_app.model.evidence import Evidence, standing
from inspect_app.prices.bill import bill_lines
from tests import support

WORDS = {
    "housing": ("crack", "pocket 1"),
    "gear driver": ("pitting", "flank"),
    "shaft driver": ("crack", "journal 1/fillet"),
    "shaft driven": ("crack", "journal 2/fillet"),
    "bushing 1": ("scoring", "running_face"),
    "cover": ("crack", "flange"),
}
EVIDENCE: list[Evidence] = [
    support.finding(word, place, piece=piece, id=f"f-{piece}") for piece, (word, place) in WORDS.items()
]


def joint_of(evidence: list[Evidence]) -> tuple[Joint, dict[str, Any]]:
    core, engine = support.make_core(*evidence), support.pump_engine()
    present, _ = states(core, engine, standing(core.evidence))
    return Joint(engine, Choices(engine, present), core.build_standard), present


def every_outcome(joint: Joint, closings: dict[str, Any]) -> Iterator[Outcome]:
    """All joint choices that nothing closes: sources, and for own pieces all ways."""
    choices = joint.choices
    groups = list(choices.groups.values())
    for options in product(*(range(len(g.options)) for g in groups)):
        picked = {g.variable: o for g, o in zip(groups, options, strict=True)}
        kept = {p for g in groups if g.options[picked[g.variable]].source == OWN for p in g.positions}
        variables = [
            [(n, w) for w in (range(c.idle) if c.position in kept else [c.idle])]
            for n, c in choices.concerns.items()
        ]
        for ways in product(*variables):
            outcome = Outcome(joint, closings, picked | dict(ways), 0.0)
            if not closed(outcome):
                yield outcome


def closed(outcome: Outcome) -> bool:
    joint = outcome.joint
    for group in joint.choices.groups.values():
        source = group.options[outcome.picked[group.variable]].source
        for position in group.positions:
            piece = outcome.closings[position]
            if source != EMPTY and (piece.own if source == OWN else piece.sources[source])[0]:
                return True
    for name, concern in joint.choices.concerns.items():
        way = outcome.picked[name]
        if way != concern.idle and outcome.closings[concern.position].ladders[concern.number].closed[way, 0]:
            return True
    return any(
        link.closed[outcome.picked[link.head], outcome.picked[link.target]] and not link.adds
        for link in joint.links
    )


def money(outcome: Outcome) -> float:
    """The bill less the lines of the whole core, and the penalty of positions left empty."""
    prices = outcome.joint.pricing.prices
    lines = bill_lines(asked(outcome), prices)
    always = bill_lines([((), need) for need in outcome.joint.always], prices)
    groups = outcome.joint.choices.groups.values()
    empty = sum(g.options[outcome.picked[g.variable]].source == EMPTY for g in groups)
    return sum(line.mean for line in lines) - sum(line.mean for line in always) + NO_SOURCE * empty


@given(st.lists(st.booleans(), min_size=len(EVIDENCE), max_size=len(EVIDENCE)))
@settings(max_examples=6, deadline=None)
def test_joint_cost_is_that_of_the_cheapest_assignment(kept: list[bool]) -> None:
    joint, present = joint_of([item for item, keep in zip(EVIDENCE, kept, strict=True) if keep])
    closings = {position: state.real for position, state in present.items()}
    best = min(money(outcome) for outcome in every_outcome(joint, closings))
    outcome = joint.outcome(closings)
    assert outcome.cost == pytest.approx(best, abs=0.05)
    assert money(outcome) == pytest.approx(best, abs=0.05)
