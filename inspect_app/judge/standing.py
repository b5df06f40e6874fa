"""Whether a verdict is settled, and if not, what it turns on."""

from dataclasses import dataclass

from inspect_app.closing.words import place_words
from inspect_app.model.answer import Fork, ForkElse, ForkIf
from inspect_app.model.places import runs
from inspect_app.rulebook.engine import Engine, Position

from .costs import part_cost
from .doubts import Asked, Forks
from .forcing import forcing
from .fork_links import why_it_matters
from .verdicts import judged
from .ways import ways_taken


@dataclass(frozen=True)
class Turning:
    """The positions whose open points a verdict turns on; none when it is settled."""

    positions: tuple[str, ...]

    def __bool__(self) -> bool:
        return bool(self.positions)


def turning(forks: Forks, position: str) -> Turning:
    """Own open points, those of whoever forces this position, and those that would change its choice."""
    wanted = _own_and_forcing(forks, position, set())
    wanted += [p for p in forks.doubts if p not in wanted and forks.contested(p, position) is not None]
    for other, doubt in forks.doubts.items():
        if doubt and other not in wanted and not forks.base.same_at(position, forks.without([other])):
            wanted.append(other)
    own_first = sorted(forks.doubts, key=lambda p: p != position)
    return Turning(tuple(p for p in own_first if p in wanted))


def _own_and_forcing(forks: Forks, position: str, seen: set[str]) -> list[str]:
    if position in seen:
        return []
    seen.add(position)
    found = [position] if forks.doubts[position] else []
    for head, _ in forcing(forks.base, position):
        found += _own_and_forcing(forks, head, seen)
    return found


def fork_of(forks: Forks, position: str, turns: Turning, best_alternative: float | None) -> Fork:
    """What must hold for the verdict, and the verdict, source and cost if it does not."""
    engine = forks.joint.engine
    found: dict[tuple[str, str, str], list[Position]] = {}
    for other in turns.positions:
        for asked in (*forks.to_ask(other), *_conflicts(forks, other, position)):
            key = (asked.what, asked.place, asked.answer)
            found.setdefault(key, []).append(engine.positions[other])
    why = {other: why_it_matters(forks, other, position, turns.positions) for other in turns.positions}
    conditions = [
        ForkIf(
            what=what,
            place=_where(engine, position, positions, place),
            answer=answer,
            positions=tuple(found_at.id for found_at in positions),
            because=next(filter(None, (why[found_at.id] for found_at in positions)), ""),
        )
        for (what, place, answer), positions in found.items()
    ]
    otherwise = forks.without(turns.positions)
    if otherwise is forks.base:
        contested = (forks.contested(p, position) for p in turns.positions)
        otherwise = next((outcome for outcome in contested if outcome is not None), otherwise)
    verdict = judged(otherwise, position, best_alternative)
    return Fork.model_validate(
        {
            "if": tuple(conditions),
            "else": ForkElse(
                verdict=verdict.verdict,
                source=otherwise.option(position).named,
                cost=part_cost(otherwise, position),
                ways=ways_taken(otherwise, position),
            ),
        }
    )


def _conflicts(forks: Forks, other: str, position: str) -> list[Asked]:
    """Contradictions at `other` that decide the choice at `position`, and findings that do not say where."""
    if forks.contested(other, position) is None:
        return []
    state = forks.joint.choices.states[other]
    settle = [
        Asked(f"settle {ids}: they contradict each other", about, "the worse one holds", ("own",))
        for about, ids in state.conflicts()
    ]
    engine, part = forks.joint.engine, state.position.part
    where = [
        Asked(f"say where the {damage} is", place_words(engine, part, place), "at the worst place", ("own",))
        for damage, place in state.vague()
    ]
    return [*settle, *where]


def _where(engine: Engine, own: str, positions: list[Position], place: str) -> str:
    """The place, after the positions it is on unless that is the one asked about alone."""
    if [position.id for position in positions] == [own]:
        return place
    order = list(engine.positions)
    by_part: dict[str, list[str]] = {}
    for position in sorted(positions, key=lambda p: order.index(p.id)):
        by_part.setdefault(engine.book.parts[position.part].title, []).append(position.index)
    head = ", ".join(f"{title} {runs(indices)}".strip() for title, indices in by_part.items())
    return f"{head}: {place}" if place else head
