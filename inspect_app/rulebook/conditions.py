"""Conditions compiled to small trees that run on a scene, real or drawn, by one code path.

A leaf asks the scene and returns a :class:`Pair` over the places of the bound kind; a leaf that
names another kind of place (`place = ...`) asks there and holds for all bound places alike.
"""

from collections.abc import Iterator
from dataclasses import dataclass
from functools import reduce
from typing import Protocol

import numpy as np
from numpy.typing import NDArray

from inspect_app.model.places import zone_path
from inspect_app.model.units import size

from .forms_conditions import (
    AllCondition,
    AnyCondition,
    Condition,
    FigureCondition,
    FindingCondition,
    LookCondition,
    MadeOfCondition,
    NotCondition,
    ReportCondition,
    SignCondition,
    TestCondition,
)
from .forms_quantities import Worse
from .pair import Pair

Floats = NDArray[np.float64]


@dataclass(frozen=True)
class Threshold:
    """What a figure is compared with, in its canonical unit, and whether the limit is a guarded one.

    `itself_past`: a figure equal to it is past it too.
    """

    value: float
    worse: Worse
    guarded: bool = False
    itself_past: bool = False


class Scene(Protocol):
    """What conditions ask. Arrays are [places] or [places, draws]; `kind` is a kind of place."""

    def finding(self, damage: str, kind: str, zone: tuple[str, ...]) -> Pair: ...

    def beyond(self, quantity: str, kind: str, threshold: Threshold | None, if_read: bool) -> Pair:
        """Whether the figure lies past `threshold`, or past its own limit for None.

        With `if_read` it does not while nothing was ever read of it.
        """
        ...

    def limited(self, quantity: str, kind: str) -> bool:
        """Whether anybody limits the figure at this kind of place."""
        ...

    def test(self, method: str, kind: str | None, zone: tuple[str, ...]) -> Pair: ...

    def look(self, method: str, kind: str | None, zone: tuple[str, ...]) -> Pair: ...

    def report(self, says: str) -> Pair: ...

    def sign(self, sign: str, answer: str) -> Pair: ...

    def made_of(self, materials: tuple[str, ...], kind: str | None) -> Pair:
        """Whether the piece is of one of these materials or of this kind; it may be while none is told."""
        ...

    def kinds(self) -> tuple[str, ...]:
        """Every kind of place of the part."""
        ...


class Node(Protocol):
    """A compiled condition."""

    def evaluate(self, scene: Scene, kind: str | None) -> Pair: ...

    def leaves(self, turned: bool = False) -> Iterator[tuple["Leaf", bool]]:
        """Every leaf, and whether a `not` turns it."""
        ...


@dataclass(frozen=True)
class Leaf:
    """One question to the scene. `form` is the TOML form it was compiled from."""

    form: (
        FindingCondition
        | FigureCondition
        | SignCondition
        | TestCondition
        | LookCondition
        | ReportCondition
        | MadeOfCondition
    )

    def leaves(self, turned: bool = False) -> Iterator[tuple["Leaf", bool]]:
        yield self, turned

    def kind_asked(self, kind: str | None) -> str | None:
        """The kind of place this leaf looks at when the rule is bound to `kind`."""
        return getattr(self.form, "place", None) or kind

    def evaluate(self, scene: Scene, kind: str | None) -> Pair:
        asked = self.kind_asked(kind)
        pair = self._ask(scene, asked)
        return pair if asked is not None and asked == kind else pair.any_place()

    def _ask(self, scene: Scene, kind: str | None) -> Pair:
        form = self.form
        match form:
            case FindingCondition():
                kinds = scene.kinds() if kind is None else (kind,)
                found = [scene.finding(form.finding, k, zone_path(form.zone)).any_place() for k in kinds[1:]]
                first = scene.finding(form.finding, kinds[0], zone_path(form.zone))
                return reduce(Pair.__or__, found, first if len(kinds) == 1 else first.any_place())
            case FigureCondition():
                past = scene.beyond(form.figure, kind or "", threshold_of(form), form.if_read)
                if form.if_limited and not scene.limited(form.figure, kind or ""):
                    return Pair.known(np.zeros_like(past.may))
                return past
            case TestCondition():
                return scene.test(form.test, kind, zone_path(form.zone))
            case LookCondition():
                return scene.look(form.look, kind, zone_path(form.zone))
            case ReportCondition():
                return scene.report(form.report)
            case SignCondition():
                return scene.sign(form.sign, form.answer)
            case MadeOfCondition():
                return scene.made_of(form.made_of, form.or_kind)


@dataclass(frozen=True)
class Joined:
    """All (`every`) or any of several conditions."""

    parts: tuple[Node, ...]
    every: bool

    def leaves(self, turned: bool = False) -> Iterator[tuple[Leaf, bool]]:
        for part in self.parts:
            yield from part.leaves(turned)

    def evaluate(self, scene: Scene, kind: str | None) -> Pair:
        pairs = [part.evaluate(scene, kind) for part in self.parts]
        return reduce(Pair.__and__ if self.every else Pair.__or__, pairs)


@dataclass(frozen=True)
class Turned:
    """The contrary of a condition."""

    part: Node

    def leaves(self, turned: bool = False) -> Iterator[tuple[Leaf, bool]]:
        yield from self.part.leaves(not turned)

    def evaluate(self, scene: Scene, kind: str | None) -> Pair:
        return ~self.part.evaluate(scene, kind)


def open_leaves(node: Node, scene: Scene, kind: str | None, index: int) -> Iterator[Leaf]:
    """The leaves to settle next at one place of an open condition.

    Of an `all` only the first open one: once it is not met, the rest is not asked.
    """
    pair = node.evaluate(scene, kind)
    at = index if len(pair.may) > 1 else 0
    if pair.must[at] or not pair.may[at]:
        return
    match node:
        case Leaf():
            yield node
        case Turned():
            yield from open_leaves(node.part, scene, kind, index)
        case Joined():
            wanted = [list(open_leaves(part, scene, kind, index)) for part in node.parts]
            asked = [leaves for leaves in wanted if leaves]
            for leaves in asked[:1] if node.every else asked:
                yield from leaves


def threshold_of(form: FigureCondition) -> Threshold | None:
    """The size written in a figure condition, or None for "past limit"."""
    if form.above is not None:
        return Threshold(size(form.above), "above")
    if form.below is not None:
        return Threshold(size(form.below), "below")
    return None


def compile_all(conditions: tuple[Condition, ...]) -> Node:
    """A list of conditions as one tree: all of them."""
    nodes = tuple(compile_one(condition) for condition in conditions)
    return nodes[0] if len(nodes) == 1 else Joined(nodes, every=True)


def compile_one(condition: Condition) -> Node:
    """One TOML condition as a tree."""
    match condition:
        case AllCondition():
            return Joined(tuple(map(compile_one, condition.all)), every=True)
        case AnyCondition():
            return Joined(tuple(map(compile_one, condition.any)), every=False)
        case NotCondition():
            return Turned(compile_one(condition.not_))
        case _:
            return Leaf(condition)
