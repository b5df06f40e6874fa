"""Rules run on a scene: one row per rule and kind of place, after decisions, with overlay for draws."""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace

import numpy as np

from inspect_app.model.evidence import Decision
from inspect_app.model.places import Place, parse_place
from inspect_app.rulebook.book import Rulebook
from inspect_app.rulebook.conditions import Scene
from inspect_app.rulebook.forms_conditions import FigureCondition
from inspect_app.rulebook.forms_rules import RuleForm
from inspect_app.rulebook.pair import Bools, Pair

from .scene import RealScene

WHOLE_PART = Place("")


@dataclass(frozen=True)
class Row:
    """What one rule says at the places of one kind (`kind` None: of the part as a whole)."""

    rule: RuleForm
    kind: str | None
    places: tuple[Place, ...]
    pair: Pair

    def holding(self) -> Iterator[tuple[int, Place]]:
        """Places where the rule is met."""
        return ((i, place) for i, place in enumerate(self.places) if self.pair.must[i])

    def open(self) -> Iterator[tuple[int, Place]]:
        """Places where it is open."""
        may_only = self.pair.may & ~self.pair.must
        return ((i, place) for i, place in enumerate(self.places) if may_only[i])


def bound(book: Rulebook, part: str) -> Iterator[tuple[RuleForm, str | None]]:
    """Every rule of a part with each kind of place it runs on."""
    for rule in book.rules_of[part]:
        for kind in rule.each or (None,):
            yield rule, kind


def real_rows(scene: RealScene) -> tuple[list[Row], list[str]]:
    """All rows of one piece after decisions by named persons, and notes on decisions without effect."""
    book, notes = scene.engine.book, list[str]()
    rows = []
    for rule, kind in bound(book, scene.part):
        places = scene.places(kind) if kind else (WHOLE_PART,)
        row = Row(rule, kind, places, book.compiled[rule.id].evaluate(scene, kind))
        rows.append(_decided(row, scene.evidence.decisions, notes))
        notes += _unlimited(scene, row)
    return rows, notes


def _unlimited(scene: RealScene, row: Row) -> Iterator[str]:
    """Figures that were read and that this rule would hold against a limit, if anybody gave one."""
    for leaf, _ in scene.engine.book.compiled[row.rule.id].leaves():
        form, kind = leaf.form, leaf.kind_asked(row.kind) or ""
        if not isinstance(form, FigureCondition) or not form.if_limited or scene.limited(form.figure, kind):
            continue
        quantity = scene.engine.book.quantities[(form.figure, kind)]
        told = quantity.calc is None and not scene.never_read(form.figure, kind).all()
        if told and not _held_otherwise(scene, form.figure, kind):
            title = f"{quantity.title[:1].upper()}{quantity.title[1:]}"
            yield (
                f"{title} was read ({scene.evidence.position.title}), and nobody limits it: "
                "nothing rests on it. "
                f"If the maker gives a limit, add {kind}.{form.figure} to the engine sheet."
            )


def _held_otherwise(scene: RealScene, quantity: str, kind: str) -> bool:
    """Whether a figure computed from it has a limit."""
    return any(
        at == kind and form.calc is not None and quantity in form.calc.sources and scene.limited(name, kind)
        for (name, at), form in scene.engine.book.quantities.items()
    )


def _decided(row: Row, decisions: Iterable[Decision], notes: list[str]) -> Row:
    """A waiver lifts what is open, an overruling what is met; neither touches a hard rule."""
    must, may = row.pair.must.copy(), row.pair.may.copy()
    for decision in decisions:
        if decision.rule != row.rule.id or decision.decision == "customer_answer":
            continue
        if row.rule.hard:
            notes.append(
                f"{decision.who} wants to {decision.decision} {row.rule.id}: it is a hard rule, so the "
                f"decision {decision.id} has no effect. Only stronger evidence lifts it."
            )
            continue
        here = np.array([_covers(decision, place) for place in row.places], dtype=bool)
        lifted = here & (must if decision.decision == "overrule" else may & ~must)
        must, may = must & ~lifted, may & ~lifted
    return replace(row, pair=Pair(must, may))


def _covers(decision: Decision, place: Place) -> bool:
    pattern = parse_place(decision.place)
    return place == WHOLE_PART or pattern.covers(place)


def real_columns(rows: Iterable[Row]) -> dict[tuple[str, str | None], Bools]:
    """Rows as [places, 2]: column 0 what must be closed (floor), column 1 what may be (roof)."""
    return {(r.rule.id, r.kind): np.stack([r.pair.must, r.pair.may], axis=1) for r in rows}


def drawn_columns(
    book: Rulebook, rows: Iterable[Row], drawn: Scene, draws: int
) -> dict[tuple[str, str | None], Bools]:
    """Rows as [places, draws], each decided place overwritten by the real decision.

    `drawn` answers with the truth of each draw, must and may being one array.
    """
    columns = {}
    for row in rows:
        truth = book.compiled[row.rule.id].evaluate(drawn, row.kind).must
        columns[(row.rule.id, row.kind)] = overlay(row.pair, np.broadcast_to(truth, (len(row.places), draws)))
    return columns


def overlay(real: Pair, drawn: Bools) -> Bools:
    """`drawn` [places, draws] where `real` [places] is open, else the real decision: decided once."""
    decided = real.must | ~real.may
    return np.where(decided[:, None], real.must[:, None], drawn)
