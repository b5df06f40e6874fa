"""Whether a verdict is settled, and if not, what it turns on."""

from dataclasses import dataclass

from inspect_app.model.answer import Fork, ForkElse, ForkIf

from .costs import part_cost
from .doubts import Forks
from .forcing import forcing
from .verdicts import judged


@dataclass(frozen=True)
class Turning:
    """The positions whose open points a verdict turns on; none when it is settled."""

    positions: tuple[str, ...]

    def __bool__(self) -> bool:
        return bool(self.positions)


def turning(forks: Forks, position: str) -> Turning:
    """Own open points, those of whoever forces this position, and those that would change its choice."""
    wanted = _own_and_forcing(forks, position, set())
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
    choices = forks.joint.choices
    conditions = []
    for other in turns.positions:
        state = choices.states[other]
        head = "" if other == position else f"{state.position.title}: "
        conditions += [
            ForkIf(what=asked.what, place=f"{head}{asked.place}".removesuffix(": "), answer=asked.answer)
            for asked in forks.to_ask(other)
        ]
    otherwise = forks.without(turns.positions)
    verdict = judged(otherwise, position, best_alternative)
    return Fork.model_validate(
        {
            "if": tuple(dict.fromkeys(conditions)),
            "else": ForkElse(
                verdict=verdict.verdict,
                source=otherwise.option(position).named,
                cost=part_cost(otherwise, position),
            ),
        }
    )
