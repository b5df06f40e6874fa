"""The plan of a set of sizes in words: what to cut, what decides, what is left, what would change it."""

from collections.abc import Iterator

from inspect_app.model.answer_figures import SizeChange, SizeNeed, SizePlan, WayTaken
from inspect_app.model.units import size
from inspect_app.pictures.words import HARD_SPACE, MINUS, rounded
from inspect_app.ui import figures, words

_COUNTS = ("no", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten")


def heading(plan: SizePlan) -> str:
    """Say what the plan is: "Bore to 0.020 in, all four", or with places that are done otherwise."""
    return words.sentence(cut(plan, plan.best))[:-1]


def cut(plan: SizePlan, way: WayTaken) -> str:
    """Say one plan of the set: the way and its size, at how many places, and what is done at the others."""
    to = f" to {way.size}" if way.size else ""
    kept = [need.place for need in plan.needs if need.place not in way.except_at]
    said = (
        f"{words.plain(way.way)}{to}, {all_of(len(plan.needs))}"
        if plan.needs
        else f"{words.plain(way.way)}{to}"
    )
    if not way.except_at:
        return said
    apart = f"{words.plain(way.except_way) if way.except_way else 'otherwise'} {words.places(way.except_at)}"
    return f"{words.plain(way.way)}{to}, {words.places(kept)}; {apart}" if kept else apart


def all_of(count: int) -> str:
    """Say that a whole set is meant: "all four", "both", "the only one"."""
    if count < 3:
        return "both" if count == 2 else "the only one"
    return f"all {_COUNTS[count] if count < len(_COUNTS) else count}"


def told(plan: SizePlan, currency: str) -> list[str]:
    """Say all of a plan below its heading, a sentence or two for each line; nothing that is not known."""
    return [line for line in _lines(plan, currency) if line]


def _lines(plan: SizePlan, currency: str) -> Iterator[str]:
    need = decider(plan)
    yield _decides(need, plan.unit) if need else ""
    yield arithmetic(need) if need else ""
    if plan.left_over:
        yield f"Left for the next time: {', '.join(plan.left_over)}."
    else:
        yield "No listed size is left for the next time."
    yield _next_best(plan, currency)
    for flip in plan.flips:
        yield words.sentence(f"what would change it: {_flip(plan, flip, currency)}")


def decider(plan: SizePlan) -> SizeNeed | None:
    """Return what the deciding place needs; None where no place is cut."""
    return next((need for need in plan.needs if need.place == plan.decided_by), None)


def _decides(need: SizeNeed, unit: str) -> str:
    at = words.place(need.place)
    if need.usual is None:
        return words.sentence(f"{at} decides, but what it needs is not known: not all of it is read")
    said = f"{at} decides: it needs {step(need.usual, unit)}{_between(need, unit)}"
    wall = f" It leaves {figures.measured(need.left)}." if need.left else ""
    return f"{words.sentence(said)}{wall}"


def _between(need: SizeNeed, unit: str) -> str:
    if need.low is None or need.high is None or need.low == need.high:
        return ""
    low, high = step(need.low, unit, named=False), step(need.high, unit)
    return f", between {low} and {high} because the wear may sit on one side"


def arithmetic(need: SizeNeed) -> str:
    """Say the sum behind a need, with true signs: "0.0001 + 1.5 × 0.0067 = 0.0102 in."; "" where not read."""
    if need.usual is None:
        return ""
    return words.sentence(
        need.shown.replace(" x ", f"{HARD_SPACE}×{HARD_SPACE}").replace(" - ", f" {MINUS} ")
    )


def step(value: float, unit: str, *, named: bool = True) -> str:
    """Write a step from standard with the places of a gauge, halves up: 0.01515 -> "0.0152 in"."""
    said = figures.number(rounded(value, unit), _places(unit))
    return f"{said}{HARD_SPACE}{unit}" if named else said


def _places(unit: str) -> int:
    return figures.decimals(unit, 0.0) or 2


def _next_best(plan: SizePlan, currency: str) -> str:
    if plan.runner_up is None:
        return words.sentence(f"next best: none, as {plan.why_not}") if plan.why_not else ""
    more = figures.money(plan.costs_more, currency) if plan.costs_more else ""
    price = f"{more} more" if more else f"at the same price{_why_not_larger(plan.best, plan.runner_up)}"
    return words.sentence(f"next best: {cut(plan, plan.runner_up)}, {price}")


def _why_not_larger(best: WayTaken, other: WayTaken) -> str:
    """Why the smaller of two sizes at one price is taken; "" where they do not differ in size alone."""
    one, two = _step(best.size), _step(other.size)
    larger = one is not None and two is not None and one < two and best.except_at == other.except_at
    return f"; {best.size} leaves more for the next time" if larger else ""


def _step(text: str | None) -> float | None:
    return None if text is None else size(text)


def _flip(plan: SizePlan, flip: SizeChange, currency: str) -> str:
    then = f"then {cut(plan, flip.then) if flip.then else 'no plan on this list of sizes'}"
    more = "more" if flip.by >= 0 else "less"
    if flip.of == "price":
        return f'{figures.money(abs(flip.by), currency)} {more} for "{flip.what}"; {then}'
    need = next((need for need in plan.needs if need.place == flip.what), None)
    by = f"{step(abs(flip.by), plan.unit)} {more}"
    if need is None or need.low is None or need.high is None or flip.at is None:
        return f"{by} than the least that {words.place(flip.what)} needs; {then}"
    if need.low == need.high:
        return f"{by} than the {step(need.low, plan.unit)} that {words.place(flip.what)} needs; {then}"
    return _passed(need, need.low, need.high, flip.at, plan.unit, then)


def _passed(need: SizeNeed, low: float, high: float, at: float, unit: str, then: str) -> str:
    """Say from which need on a trial cut tells whether a size serves, and from which on it is certain."""
    place, listed, least, most = words.place(need.place), *(step(size, unit) for size in (at, low, high))
    to_least, to_most = (step(abs(at - size), unit) for size in (low, high))
    if at < low:
        return (
            f"a trial cut at {listed} tells once the least that {place} needs, {least}, is no more than that "
            f"({to_least} less), {then}; it is certain once the most, {most}, is no more "
            f"either ({to_most} less)"
        )
    asked = (
        f"a trial cut is asked for as it is, for {place} may need up to {most}"
        if high > at
        else f"a trial cut is asked for once the most that {place} may need, {most}, is past {listed} "
        f"({to_most} more)"
    )
    certain = f"{listed} certainly does not serve only once the least, {least}, is past it ({to_least} more)"
    return f"{asked}; {certain}; {then}"
