"""Whether a damage word holds at a place: seen, proven absent, or open, by the strength of evidence.

A test whose method suits the material > measured > seen > suspected; the stronger wins. A look
yields to a finding of its own rank (it says "nothing else"); two tests that contradict each other
are a conflict, and until it is settled the worse counts. A finding that does not say where on a place
it is counts at every zone of it, for the same reason.
"""

from dataclasses import dataclass

from inspect_app.model.places import Place, overlap

from .piece_evidence import SEEN, SUSPECTED, TESTED, Coverage, Found, PieceEvidence

Zone = tuple[str, ...]


@dataclass(frozen=True)
class DamageState:
    """`must` and `may` as in Pair, and what they rest on.

    `shown_by`: the findings that hold; `unsettled`: the leaves that nobody proved clean;
    `conflicts`: pairs of evidence ids that contradict each other; `unexplained`: tests that found
    something here while no finding says what.
    """

    must: bool
    may: bool
    shown_by: tuple[str, ...]
    unsettled: tuple[Place, ...]
    conflicts: tuple[tuple[str, str], ...]
    unexplained: tuple[str, ...] = ()


CLEAN = DamageState(must=False, may=False, shown_by=(), unsettled=(), conflicts=())


def damage_state(evidence: PieceEvidence, damage: str, place: Place, zone: Zone) -> DamageState:
    """The state of `damage` at `place` (kind and index), at or below `zone`."""
    here = [
        found
        for found in evidence.found
        if found.damage == damage
        and (found.place.kind, found.place.index) == (place.kind, place.index)
        and overlap(found.place.zone, zone)
    ]
    if not here and evidence.clean_all_over(damage):
        return CLEAN
    part = evidence.position.part
    leaves = [Place(place.kind, place.index, leaf) for leaf in evidence.engine.leaves(part, place.kind, zone)]
    standing = [found for found in here if not _beaten(evidence, found, zone)]
    shown = [found for found in standing if found.strength >= SEEN]
    unnamed = {leaf: ids for leaf in leaves if (ids := unexplained_at(evidence, damage, leaf))}
    unsettled = tuple(
        leaf
        for leaf in leaves
        if leaf in unnamed or not _settling(evidence, damage, leaf) or _suspected(standing, leaf)
    )
    return DamageState(
        must=bool(shown),
        may=bool(standing or unsettled),
        shown_by=tuple(found.id for found in shown),
        unsettled=unsettled,
        conflicts=tuple(pair for found in standing for pair in _conflicts(evidence, found)),
        unexplained=tuple(dict.fromkeys(id_ for ids in unnamed.values() for id_ in ids)),
    )


def unexplained_at(evidence: PieceEvidence, damage: str, leaf: Place) -> tuple[str, ...]:
    """Tests that found something at a leaf, perhaps this, unless work since may have removed it."""
    methods = evidence.engine.book.damage[damage].settled_by
    return tuple(
        test.id
        for test in evidence.unexplained
        if test.method in methods
        and test.covers(leaf)
        and not evidence.history.cleared(damage, leaf, test.state)
    )


def _suspected(standing: list[Found], leaf: Place) -> bool:
    return any(f.strength == SUSPECTED and overlap(f.place.zone, leaf.zone) for f in standing)


def _settling(evidence: PieceEvidence, damage: str, leaf: Place) -> list[Coverage]:
    return [
        coverage
        for coverage in evidence.able_to_show(damage)
        if coverage.covers(leaf) and not evidence.history.retest(damage, leaf, coverage.state)
    ]


def _leaves_of(evidence: PieceEvidence, found: Found) -> list[Place]:
    zones = evidence.engine.leaves(evidence.position.part, found.place.kind, found.place.zone)
    return [Place(found.place.kind, found.place.index, zone) for zone in zones]


def _against(evidence: PieceEvidence, found: Found, leaf: Place) -> list[Coverage]:
    settling = _settling(evidence, found.damage, leaf)
    return [c for c in settling if c.id != found.test and c.state >= found.since]


def _beaten(evidence: PieceEvidence, found: Found, zone: Zone) -> bool:
    """Whether stronger evidence shows every leaf of the finding clean that lies in `zone`."""
    return all(
        any(c.rank > found.strength for c in _against(evidence, found, leaf))
        for leaf in _leaves_of(evidence, found)
        if overlap(leaf.zone, zone)
    )


def _conflicts(evidence: PieceEvidence, found: Found) -> list[tuple[str, str]]:
    if found.strength < TESTED:
        return []
    return [
        (found.id, coverage.id)
        for leaf in _leaves_of(evidence, found)
        for coverage in _against(evidence, found, leaf)
        if coverage.rank == found.strength
    ]
