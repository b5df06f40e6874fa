"""The plan of a set of places that share one size, as the answer tells it, with what would change it."""

from collections.abc import Iterator, Mapping

from inspect_app.closing.ladders import Way
from inspect_app.closing.piece_state import FLOOR
from inspect_app.closing.shown import Cuts
from inspect_app.closing.size_needs import SizeSet, size_set
from inspect_app.metrology.estimate import Undetermined
from inspect_app.metrology.size_flips import what_would_flip
from inspect_app.metrology.size_plan import MOST_PLACES, Listed, Plan, Planned, SizeTask, plan_sizes
from inspect_app.metrology.size_rules import at_most
from inspect_app.model.answer_figures import SizeChange, SizePlan, WayTaken
from inspect_app.model.frozen import Spread
from inspect_app.prices.bill import CENTS, Need, mean, need_of, rounded, total, unpriced
from inspect_app.rulebook.engine import Engine
from inspect_app.rulebook.forms_parts import WayForm
from inspect_app.rulebook.forms_rules import PriceForm

from .joint import Outcome

Prices = Mapping[str, PriceForm]


def size_plans(outcome: Outcome, position: str) -> Iterator[SizePlan]:
    """The plan of each concern of a kept piece whose places are cut to a common size.

    None where a price is missing or more places share a size than a plan can try.
    """
    state = outcome.joint.choices.states[position]
    for concern, number in outcome.ways(position):
        found = size_set(state, concern.number)
        taken = concern.ladder.ways[number]
        if found is None or taken.size is None or len(found.ladder.places) > MOST_PLACES:
            continue
        task = size_task(found, outcome.joint.engine)
        planned = plan_sizes(task) if task else None
        if isinstance(planned, Planned):
            yield _told(found, planned, taken, outcome.joint.engine)


def size_cuts(outcome: Outcome, position: str) -> Cuts:
    """The size that each place of a kept piece is cut to: its name, and what it then measures in mm."""
    found = {}
    state = outcome.joint.choices.states[position]
    for concern, number in outcome.ways(position):
        taken, form = concern.ladder.ways[number], concern.ladder.concern
        if taken.size is None or taken.size_mm is None:
            continue
        for index, place in enumerate(concern.ladder.places):
            nominal = state.scene.engine.nominal(form.sizes or "", place.kind)
            if nominal is None or concern.ladder.exceptions[number, index, FLOOR]:
                continue
            body = state.scene.engine.book.quantities[(form.sizes or "", place.kind)].body
            cut = nominal + taken.size_mm if body == "hole" else nominal - taken.size_mm
            found[(form.sizes or "", place)] = (taken.size, cut)
    return found


def size_task(found: SizeSet, engine: Engine) -> SizeTask | None:
    """The set with its prices, as the readings so far prove it; None where a price is missing."""
    concern, prices = found.ladder.concern, engine.book.prices
    assert concern.size is not None
    places, once = _lines(engine, concern.size)
    lined = _lines(engine, concern.exception)[0] if concern.exception else []
    if unpriced([*places, *once, *lined], prices):
        return None
    each, start = _mean(places, prices), _mean(once, prices)
    listed = tuple(Listed(step, each, start) for _, _, step in found.sized)
    spots = tuple(found.spot(index) for index in range(len(found.ladder.places)))
    if concern.exception is None:
        return SizeTask(spots, listed, one_price=True)
    rule = at_most(concern.exception.at_most)
    return SizeTask(spots, listed, _mean(lined, prices), rule, one_price=True)


def _lines(engine: Engine, form: WayForm) -> tuple[list[Need], list[Need]]:
    """What a way needs for each place, and once."""
    bills = [bill for name in form.does for bill in engine.book.operations[name].bills]
    places = [need_of(bill) for bill in bills if bill.per == "place"]
    return places, [need_of(bill) for bill in bills if bill.per != "place"]


def _mean(needs: list[Need], prices: Prices) -> float:
    return sum(mean(prices[need.price]) * need.quantity for need in needs)


def _told(found: SizeSet, planned: Planned, taken: Way, engine: Engine) -> SizePlan:
    best, other = planned.best, planned.runner_up
    spots = planned.table.task.spots
    cut = [i for i in range(len(spots)) if i not in best.exceptions]
    worst = max(cut, key=lambda i: spots[i].need, default=None)
    runner = None if isinstance(other, Undetermined) else other
    return SizePlan(
        concern=found.ladder.concern.id,
        unit=found.form.shown_in,
        needs=tuple(found.need(index, taken) for index in range(len(spots))),
        best=_way(found, best),
        cost=rounded(_cost(found, best, engine)),
        decided_by=None if worst is None else str(found.ladder.places[worst]),
        left_over=found.left_over(taken, cut),
        runner_up=_way(found, runner) if runner else None,
        costs_more=round(runner.cost - best.cost, CENTS) if runner else None,
        why_not=None if runner else "no other listed size cleans every place",
        flips=tuple(_flips(found, planned)),
    )


def _cost(found: SizeSet, plan: Plan, engine: Engine) -> Spread:
    concern = found.ladder.concern
    assert concern.size is not None
    count = len(found.ladder.places) - len(plan.exceptions)
    places, once = _lines(engine, concern.size)
    lined = _lines(engine, concern.exception)[0] if concern.exception else []
    needs = [Need(n.price, n.quantity * count) for n in places] + (once if count else [])
    needs += [Need(n.price, n.quantity * len(plan.exceptions)) for n in lined]
    return total(needs, engine.book.prices)


def _way(found: SizeSet, plan: Plan) -> WayTaken:
    concern = found.ladder.concern
    size = next((way.size for _, way, step in found.sized if step == plan.step), None)
    apart = tuple(str(found.ladder.places[i]) for i in plan.exceptions)
    named = concern.size.id if concern.size and size else concern.exception.id if concern.exception else ""
    return WayTaken(
        concern=concern.id,
        way=named,
        size=size,
        except_at=apart,
        except_way=concern.exception.id if concern.exception and apart else None,
    )


def _flips(found: SizeSet, planned: Planned) -> Iterator[SizeChange]:
    flips = what_would_flip(planned)
    if not isinstance(flips.need, Undetermined):
        least = planned.table.task.spots[flips.need.place].need
        yield SizeChange(
            of="need",
            what=str(found.ladder.places[flips.need.place]),
            by=found.shown(flips.need.by),
            then=_way(found, flips.need.then) if flips.need.then else None,
            at=found.shown(least + flips.need.by),
        )
    if not isinstance(flips.price, Undetermined) and _needed_only(planned, flips.price.then):
        yield SizeChange(
            of="price",
            what=_named(found, flips.price.what),
            by=round(flips.price.by, CENTS),
            then=_way(found, flips.price.then),
        )


def _needed_only(planned: Planned, then: Plan) -> bool:
    """Whether a plan at another size does only those places otherwise that fail it, as a ladder does."""
    table = planned.table
    failing = table.failing([spot.need for spot in table.task.spots]).tolist()
    column = table.steps.tolist().index(then.step)
    return then.exceptions == table.places(failing[column])


def _named(found: SizeSet, what: str) -> str:
    """A price told by the way that it is paid for."""
    size, exception = found.ladder.concern.size, found.ladder.concern.exception
    assert size is not None
    if what == "one exception":
        return f"one place: {exception.title if exception else what}"
    return f"{'one place' if what == 'each cut' else 'once'}: {size.title}"
