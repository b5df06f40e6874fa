"""One piece judged by the rules alone: what closes it, its sources and its ways, in every column."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from functools import cached_property

import numpy as np

from inspect_app.model.evidence import Evidence
from inspect_app.model.frozen import BuildStandard
from inspect_app.model.pieces import Piece
from inspect_app.model.places import Place, zone_path
from inspect_app.rulebook.conditions import Scene
from inspect_app.rulebook.engine import Engine, Position
from inspect_app.rulebook.forms_conditions import FindingCondition
from inspect_app.rulebook.pair import Bools

from .ladders import Columns, Ladder, SizesDrawn, closed_target, ladders
from .piece_evidence import SUSPECTED, Found, PieceEvidence
from .rows import Row, drawn_columns, real_columns, real_rows
from .scene import RealScene
from .words import place_words

FLOOR, ROOF = 0, 1


@dataclass(frozen=True)
class Closings:
    """Own piece, sources and ladders as boolean columns: [2] = (must, may) or [draws]."""

    own: Bools
    sources: dict[str, Bools]
    ladders: tuple[Ladder, ...]


@dataclass(frozen=True)
class PieceState:
    """A piece in its position, its scene and what the rules say of it. `there`: the piece exists."""

    position: Position
    piece: Piece
    scene: RealScene
    rows: tuple[Row, ...]
    notes: tuple[str, ...]
    there: bool = True

    @cached_property
    def real(self) -> Closings:
        """Columns floor (0: what must be closed) and roof (1: what may be)."""
        return self._closings(real_columns(self.rows), 2, None)

    def drawn(self, scene: Scene, sizes: SizesDrawn, draws: int) -> Closings:
        """The same for drawn truths, overwritten wherever the real judgement is decided."""
        columns = drawn_columns(self.scene.engine.book, self.rows, scene, draws)
        return self._closings(columns, draws, sizes)

    def _closings(self, columns: Columns, width: int, sizes: SizesDrawn | None) -> Closings:
        part = self.scene.engine.book.parts[self.position.part]
        rows = list(self.rows)
        own = closed_target(rows, columns, {"own"}, width)
        if not self.there:
            own = np.ones(width, dtype=bool)
        sources: dict[str, Bools] = {
            s.source: closed_target(rows, columns, {s.source}, width) for s in part.source
        }
        return Closings(own, sources, tuple(ladders(self.scene, rows, columns, width, sizes)))

    @property
    def came_with_core(self) -> bool:
        """Whether this is the piece that the core came with, not one put in since."""
        return self.piece.id == self.piece.position

    @property
    def unlooked(self) -> tuple[Place, ...]:
        """Places among the part's first looks that nobody has looked at or tested, in any state."""
        part = self.scene.engine.book.parts[self.position.part]
        wanted = [p for kind in part.first_looks for p in self.scene.places(kind)]
        return tuple(place for place in wanted if not self.scene.evidence.looked_at(place))

    @property
    def closed_by_evidence(self) -> bool:
        """Whether the own piece must go, so that nothing more needs to be seen of it."""
        if not self.there or bool(self.real.own[FLOOR]):
            return True
        return any(bool(ladder.closed[:, FLOOR].all()) for ladder in self.real.ladders)

    def conflicts(self) -> list[tuple[str, str]]:
        """Contradictions to settle, as (what about, evidence ids)."""
        findings = [(about, f"{one} and {other}") for (one, other), about in self._contradicted().items()]
        return [*sorted(findings), *((about, " and ".join(ids)) for about, ids in self._readings_apart())]

    def without(self, ids: frozenset[str]) -> "PieceState":
        """The same piece without some items of evidence."""
        evidence = self.scene.evidence
        left = (item for item in evidence.items if item.id not in ids)
        standard, sitting = self.scene.standard, evidence.sitting
        return piece_state(evidence.engine, self.position, self.piece, left, standard, self.there, sitting)

    def other_sides(self) -> list[frozenset[str]]:
        """Items to leave out to see the other side of every contradiction, one way or the other.

        A finding that does not say where counts at the worst place; its other side is that it is not there.
        """
        confirmed = {found for found, _ in self._contradicted()}
        readings = [ids for _, ids in self._readings_apart()]
        sides = [
            frozenset(confirmed.union(*(set(ids) - {ids[kept]} for ids in readings))) for kept in (0, -1)
        ]
        sides.append(frozenset(found.id for found in self._vague()))
        return [side for side in dict.fromkeys(sides) if side]

    def vague(self) -> list[tuple[str, Place]]:
        """Findings (damage word, place) that do not say in which of several zones, where a rule asks."""
        return list(dict.fromkeys((found.damage, found.place) for found in self._vague()))

    def _vague(self) -> list[Found]:
        zones = {
            (leaf.form.finding, leaf.kind_asked(row.kind), zone_path(leaf.form.zone))
            for row in self.rows
            for leaf, _ in self.scene.engine.book.compiled[row.rule.id].leaves()
            if isinstance(leaf.form, FindingCondition)
        }
        found = [f for f in self.scene.evidence.found if f.strength > SUSPECTED and self._holds(f)]
        return [f for f in found if any(_narrower(f, *asked) for asked in zones)]

    def _holds(self, found: Found) -> bool:
        """Whether nothing stronger lifts a finding."""
        place = Place(found.place.kind, found.place.index)
        return found.id in self.scene.damage(found.damage, place, found.place.zone).shown_by

    def _contradicted(self) -> dict[tuple[str, str], str]:
        """Findings and the equally strong tests against them, with what they are about."""
        engine, part = self.scene.engine, self.position.part
        return {
            pair: f"{item.damage} at {place_words(engine, part, item.place)}"
            for item in self.scene.evidence.found
            for pair in self.scene.damage(
                item.damage, Place(item.place.kind, item.place.index), item.place.zone
            ).conflicts
        }

    def _readings_apart(self) -> list[tuple[str, tuple[str, ...]]]:
        """Readings of one slot that do not agree, smallest first, with what they are about."""
        engine, part = self.scene.engine, self.position.part
        return [
            (f"{form.title}, {place_words(engine, part, place)}", ids)
            for (quantity, kind), form in engine.book.quantities.items()
            if form.calc is None
            for place in engine.places(part, kind)
            for ids in self.scene.figures.read.conflicts(quantity, place)
        ]


def _narrower(found: Found, damage: str, kind: str | None, zone: tuple[str, ...]) -> bool:
    """Whether a rule asks about a zone inside the one that a finding names."""
    given = found.place.zone
    same = found.damage == damage and kind in (None, found.place.kind)
    return same and len(zone) > len(given) and zone[: len(given)] == given


def piece_state(
    engine: Engine,
    position: Position,
    piece: Piece,
    items: Iterable[Evidence],
    standard: BuildStandard,
    there: bool = True,
    sitting: Mapping[str, Piece] | None = None,
) -> PieceState:
    """Run every rule of the part on the evidence of one piece. `sitting`: the pieces by position."""
    seen_by = engine.for_kind(position.part, piece.kind)
    scene = RealScene(PieceEvidence(seen_by, position, piece, items, sitting), standard)
    rows, notes = real_rows(scene)
    return PieceState(position, piece, scene, tuple(rows), tuple(dict.fromkeys(notes)), there)
