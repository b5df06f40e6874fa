"""The answer for one position, put together from its state, the joint choice and its forks."""

from dataclasses import dataclass

from inspect_app.closing.left_out import left_out
from inspect_app.closing.piece_state import FLOOR, ROOF, PieceState
from inspect_app.closing.reasons import close_calls, closed_reasons
from inspect_app.closing.shown import figures_shown, profiles
from inspect_app.model.answer import Former, OldPiece, OpenPoint, Option, PartAnswer
from inspect_app.model.frozen import WayState

from .choices import EMPTY, OWN, Concern
from .costs import concern_needs, needs_cost, part_cost
from .doubts import Forks
from .forcing import forces, forcing
from .joint import Outcome
from .open_points import conflict_points, points, price_points, unlooked_point, vague_points
from .salvage import fate_of
from .size_plans import size_cuts, size_plans
from .standing import fork_of, turning
from .verdicts import Judged, judged
from .ways import way_taken, ways_taken


@dataclass(frozen=True)
class Context:
    """What every position's answer is made from."""

    outcome: Outcome
    forks: Forks
    former: dict[str, list[PieceState]]
    best_alternative: float | None


def part_answer(context: Context, position: str) -> PartAnswer:
    """Everything the answer says of one position."""
    outcome, state = context.outcome, context.outcome.joint.choices.states[position]
    verdict = verdict_at(context, position)
    known = verdict.verdict is not None
    turns = turning(context.forks, position) if known else None
    option = outcome.option(position)
    return PartAnswer(
        part=state.position.part,
        position=position,
        title=state.position.title,
        piece=state.piece.id,
        verdict=verdict.verdict,
        grounds=verdict.grounds,
        source=option.named if known and verdict.verdict != "scrap" else None,
        kind=option.kind if known else None,
        ways=ways_taken(outcome, position) if known else (),
        standing=None if turns is None else "provisional" if turns else "settled",
        fork=fork_of(context.forks, position, turns, context.best_alternative) if turns else None,
        old_piece=_old_piece(context, state, verdict),
        former=tuple(_former(old) for old in context.former.get(position, [])),
        options=tuple(_options(outcome, position)),
        closed=tuple(closed_reasons(state)),
        forced_by=tuple(forced for _, forced in forcing(outcome, position)) if known else (),
        close_calls=tuple(close_calls(state)),
        open_points=tuple(_open_points(context, state, known)),
        cost=part_cost(outcome, position) if known else None,
        figures=tuple(figures_shown(state)),
        profiles=tuple(profiles(state, size_cuts(outcome, position) if known else {})),
        size_plans=tuple(size_plans(outcome, position)) if known else (),
        left_out=tuple(left_out(state.scene.evidence)),
    )


def verdict_at(context: Context, position: str) -> Judged:
    """The verdict; none until the part's first looks are there, unless evidence already closed the piece."""
    state = context.outcome.joint.choices.states[position]
    if state.unlooked and not state.closed_by_evidence:
        return Judged(None, None)
    return judged(context.outcome, position, context.best_alternative)


def _old_piece(context: Context, state: PieceState, verdict: Judged) -> OldPiece | None:
    if verdict.verdict is None or not state.there:
        return None
    return fate_of(context.outcome, state, verdict.verdict)


def _former(old: PieceState) -> Former:
    closed = dict.fromkeys(reason.closes for reason in closed_reasons(old))
    return Former(piece=old.piece.id, closed=tuple(closed))


def _open_points(context: Context, state: PieceState, known: bool) -> list[OpenPoint]:
    if state.unlooked and not state.closed_by_evidence:
        return [unlooked_point(state), *conflict_points(state)]
    doubt = context.forks.doubts[state.position.id]
    found = points(state, doubt) if known else []
    return [
        *found,
        *vague_points(state),
        *conflict_points(state),
        *price_points(context.outcome, state.position.id),
    ]


def _options(outcome: Outcome, position: str) -> list[Option]:
    """The own piece with its best ways, with each other way in turn, and every replacement."""
    group = outcome.joint.choices.group_at[position]
    found = [_own_option(outcome, position, ways) for ways in _own_combinations(outcome, position)]
    for number, option in enumerate(group.options):
        if option.source == OWN or option.source == EMPTY:
            continue
        closed = outcome.closings[position].sources[option.source]
        share = [(need, 1 / len(group.positions)) for need in option.needs if not need.shared]
        found.append(
            Option(
                source=option.source,
                kind=option.kind,
                ways=(),
                state=_state(bool(closed[FLOOR]), bool(closed[ROOF])),
                cost=needs_cost(outcome.joint, share),
                forces=forces(outcome, group.variable, number),
            )
        )
    return found


def _own_combinations(outcome: Outcome, position: str) -> list[dict[str, int]]:
    """Way by concern: the chosen (else lowest not closed) ways, then each other way, the rest as there."""
    concerns = outcome.joint.choices.concerns_at[position]
    chosen = {c.variable: way for c, way in outcome.ways(position)}
    best = {c.variable: chosen.get(c.variable, _lowest(outcome, c)) for c in concerns}
    others = [
        best | {c.variable: way}
        for c in concerns
        for way in range(len(c.ladder.ways))
        if way != best[c.variable]
    ]
    return [best, *others]


def _lowest(outcome: Outcome, concern: Concern) -> int:
    ladder = outcome.closings[concern.position].ladders[concern.number]
    left = [way for way in range(len(ladder.ways)) if not ladder.closed[way, FLOOR]]
    return left[0] if left else 0


def _own_option(outcome: Outcome, position: str, ways: dict[str, int]) -> Option:
    choices, closings = outcome.joint.choices, outcome.closings[position]
    group, concerns = choices.group_at[position], choices.concerns_at[position]
    own = group.options[0]
    ladders = [(closings.ladders[c.number], ways[c.variable]) for c in concerns]
    must = bool(closings.own[FLOOR]) or any(bool(ladder.closed[way, FLOOR]) for ladder, way in ladders)
    may = bool(closings.own[ROOF]) or any(bool(ladder.closed[way, ROOF]) for ladder, way in ladders)
    needs = [(need, 1 / len(group.positions)) for need in own.needs]
    needs += [(need, 1.0) for c in concerns for need in concern_needs(outcome, c, ways[c.variable])]
    forced = [f for c in concerns for f in forces(outcome, c.variable, ways[c.variable])]
    return Option(
        source="own",
        kind=own.kind,
        ways=tuple(way_taken(closings, c, ways[c.variable]) for c in concerns),
        state=_state(must, may),
        cost=needs_cost(outcome.joint, [(need, share) for need, share in needs if not need.shared]),
        forces=tuple(dict.fromkeys([*forces(outcome, group.variable, 0), *forced])),
    )


def _state(must: bool, may: bool) -> WayState:
    return "closed" if must else "open" if may else "proven"
