"""Laws of the whole judge, on evidence drawn over the rulebook's own words.

Each holds for pieces in one state, with each slot read at most once and one gauge for each quantity:
a correction, a repeat and a finer gauge may well change a verdict for the better.
"""

from collections.abc import Callable, Sequence
from decimal import Decimal
from functools import cache
from pathlib import Path
from typing import Any

import numpy as np
import pytest
from hypothesis import HealthCheck, assume, given, settings
from hypothesis import strategies as st

from inspect_app.closing.piece_state import FLOOR, ROOF, Closings
from inspect_app.judge import judge
from inspect_app.judge.present import states
from inspect_app.model.answer import Answer, PartAnswer
from inspect_app.model.evidence import Evidence, Look, Reading, Test, standing
from inspect_app.model.places import parse_place
from inspect_app.rulebook.engine import Engine
from inspect_app.rulebook.forms_conditions import FigureCondition
from inspect_app.rulebook.load import load_rulebook
from inspect_app.shipped import shipped

from . import drawn, six

UNHURRIED = {"deadline": None, "suppress_health_check": list(HealthCheck)}
LONG = settings(max_examples=400, **UNHURRIED)
THREE, SIX = 3, 6


def closings(bound: Engine, items: Sequence[Evidence]) -> dict[str, Closings]:
    core = drawn.core(bound, items)
    present, _ = states(core, bound, standing(core.evidence))
    return {position: state.real for position, state in present.items()}


def flat(found: Closings, column: int) -> dict[str, np.ndarray]:
    """Own piece, sources, ways and exceptions of one piece in one column, by name."""
    ladders = {
        f"{ladder.concern.id} {name}": getattr(ladder, name)[..., column]
        for ladder in found.ladders
        for name in ("closed", "exceptions")
    }
    return {"own": found.own[column], **{s: b[column] for s, b in found.sources.items()}, **ladders}


def never_less(before: dict[str, Closings], after: dict[str, Closings], column: int) -> None:
    """What was closed (column FLOOR) or might be (ROOF) before still is, at every position."""
    for position, was in before.items():
        now = flat(after[position], column)
        for name, closed in flat(was, column).items():
            assert (now[name] >= closed).all(), f"{name} of {position}"


def answer(bound: Engine, items: Sequence[Evidence]) -> Answer:
    return judge(drawn.core(bound, items), bound)


def part(found: Answer, position: str) -> PartAnswer:
    return next(part for part in found.parts if part.position == position)


def some_evidence(data: st.DataObject, bound: Engine, most: int = 6) -> list[Evidence]:
    return data.draw(drawn.evidence(bound, data.draw(drawn.focuses(bound)), most))


def with_one_to_drop(
    data: st.DataObject, bound: Engine, droppable: Callable[[Evidence], bool]
) -> tuple[list[Evidence], Evidence]:
    """Evidence, and one item of it to be taken away, at the focus if there is one."""
    focus = data.draw(drawn.focuses(bound))
    items = data.draw(drawn.evidence(bound, focus))
    found = [item for item in items if droppable(item)]
    near = [i for i in found if drawn.at(focus, i) or (i.kind != "reading" and i.piece == focus.position.id)]
    assume(found)
    return items, data.draw(st.sampled_from(near or found))


def is_clean(item: Evidence) -> bool:
    """Whether it is a look, or a test that found nothing or could not tell."""
    return isinstance(item, Look) or (isinstance(item, Test) and item.outcome != "found")


def is_needed(item: Evidence) -> bool:
    """Whether it is a reading that is asked for.

    One direction of an unworn size is enough; before the first size nobody asks for a wall, and a second
    way to measure one thing (`if_read`) is never asked for. What such a reading shows closes all the same,
    so taking it away opens what it had closed.
    """
    if not isinstance(item, Reading) or item.station == "below" or item.quantity == "wall":
        return False
    return (item.quantity, parse_place(item.place).kind) not in only_if_read()


@cache
def only_if_read() -> frozenset[tuple[str, str]]:
    """Quantities (with their kind of place) whose figures some rule takes up only once they are read."""
    book = six.book()
    asked = [
        (leaf.form.figure, kind)
        for rule in book.rules.values()
        for leaf, _ in book.compiled[rule.id].leaves()
        if isinstance(leaf.form, FigureCondition) and leaf.form.if_read
        for kind in ([leaf.form.place] if leaf.form.place else rule.each)
    ]
    return frozenset(read for figure, kind in asked for read in rests_on(figure, kind))


def rests_on(figure: str, kind: str) -> list[tuple[str, str]]:
    """What must be read before a figure counts as read."""
    calc = six.book().quantities[(figure, kind)].calc
    if calc is None:
        return [(figure, kind)]
    return [read for name in (calc.of, calc.depth) if name for read in rests_on(name, kind)]


def test_the_laws_know_what_is_taken_up_only_once_it_is_read() -> None:
    assert {("recession", "chamber"), ("height", "deck")} <= only_if_read()
    assert ("diameter", "bore") not in only_if_read()


def law_a_finding_never_reopens_a_way(data: st.DataObject, bound: Engine) -> None:
    focus = data.draw(drawn.focuses(bound))
    items = data.draw(drawn.evidence(bound, focus))
    against = data.draw(drawn.findings(bound, focus, "against"))
    never_less(closings(bound, items), closings(bound, [*items, *against]), FLOOR)


def law_a_reading_where_nothing_was_read_never_reopens_a_way(data: st.DataObject, bound: Engine) -> None:
    focus = data.draw(drawn.focuses(bound, measured=True))
    items = data.draw(drawn.evidence(bound, focus, most=2))
    against = data.draw(drawn.readings(bound, focus, "against", drawn.slots_taken(items)))
    never_less(closings(bound, items), closings(bound, [*items, *against]), FLOOR)


def law_a_report_or_a_sign_that_shows_damage_never_reopens_a_way(data: st.DataObject, bound: Engine) -> None:
    focus = data.draw(drawn.focuses(bound))
    items = data.draw(drawn.evidence(bound, focus, most=2))
    items += data.draw(drawn.reports(bound, focus, "before"))
    report = data.draw(drawn.reports(bound, focus, "against"))
    against = report if data.draw(st.booleans()) else data.draw(drawn.shown_by_signs(bound, "against"))
    never_less(closings(bound, items), closings(bound, [*items, *against]), FLOOR)


def law_a_clean_look_or_test_taken_away_leaves_nothing_more_open(data: st.DataObject, bound: Engine) -> None:
    items, gone = with_one_to_drop(data, bound, is_clean)
    before, after = closings(bound, items), closings(bound, without(items, gone))
    never_less(before, after, FLOOR)
    never_less(before, after, ROOF)


def law_a_reading_taken_away_proves_nothing_more(data: st.DataObject, bound: Engine) -> None:
    items, gone = with_one_to_drop(data, bound, is_needed)
    never_less(closings(bound, items), closings(bound, without(items, gone)), ROOF)


def law_what_is_settled_reuse_without_an_item_is_settled_reuse_with_it(
    data: st.DataObject, bound: Engine
) -> None:
    items, gone = with_one_to_drop(data, bound, lambda item: is_clean(item) or is_needed(item))
    unknown = part(answer(bound, without(items, gone)), gone.piece)
    if (unknown.verdict, unknown.standing) == ("reuse", "settled"):
        known = part(answer(bound, items), gone.piece)
        assert (known.verdict, known.standing) == ("reuse", "settled")


def law_a_clean_look_or_test_taken_away_never_makes_the_build_cheaper(
    data: st.DataObject, bound: Engine
) -> None:
    items, gone = with_one_to_drop(data, bound, is_clean)
    known, unknown = answer(bound, items), answer(bound, without(items, gone))
    assume(all(p.verdict != "scrap" for p in (*known.parts, *unknown.parts)))
    assert unknown.core.cost.mean >= known.core.cost.mean - cents(unknown)


def law_prices_close_nothing(data: st.DataObject, bound: Engine) -> None:
    items = some_evidence(data, bound)
    prices = {
        name: drawn.scaled(form, data.draw(st.sampled_from([0, 0.1, 1, 5, 100])))
        for name, form in bound.book.prices.items()
    }
    before, after = answer(bound, items), answer(drawn.with_prices(bound, prices), items)
    for one, other in zip(before.parts, after.parts, strict=True):
        assert one.closed == other.closed
        assert one.close_calls == other.close_calls
        assert (one.verdict is None) == (other.verdict is None)


def law_a_dearer_price_never_makes_the_build_cheaper(data: st.DataObject, bound: Engine) -> None:
    items = some_evidence(data, bound)
    before = answer(bound, items)
    used = {line.line for line in before.bill}
    names = [name for name, form in bound.book.prices.items() if form.title in used]
    name = data.draw(st.sampled_from(names))
    times = data.draw(st.sampled_from([1.001, 1.5, 10]))
    dearer = dict(bound.book.prices) | {name: drawn.scaled(bound.book.prices[name], times)}
    after = answer(drawn.with_prices(bound, dearer), items)
    assert after.core.cost.mean >= before.core.cost.mean - cents(after)


def law_the_bill_is_the_sum_of_its_lines_and_each_stands_once(data: st.DataObject, bound: Engine) -> None:
    found = answer(bound, some_evidence(data, bound))
    for end in ("low", "likely", "high", "mean"):
        total = sum(Decimal(str(getattr(line, end))) for line in found.bill)
        assert Decimal(str(getattr(found.core.cost, end))) == total
    titles = [line.line for line in found.bill]
    assert len(set(titles)) == len(titles)
    assert all(line.quantity > 0 and line.low <= line.mean <= line.high for line in found.bill)


def law_the_order_of_evidence_does_not_matter(data: st.DataObject, bound: Engine) -> None:
    items = some_evidence(data, bound)
    turned = data.draw(st.permutations(items))
    assert answer(bound, turned) == answer(bound, items)


def law_the_unit_that_was_typed_does_not_matter(data: st.DataObject, bound: Engine) -> None:
    items = some_evidence(data, bound)
    unit = data.draw(st.sampled_from(["mm", "thou", "cm"]))
    sheet = {"mm": "25.4", "thou": "1000", "cm": "2.54"}[unit]
    assert answer(bound, [typed_in(item, unit, Decimal(sheet)) for item in items]) == answer(bound, items)


def law_every_answer_reads_back_from_json(data: st.DataObject, bound: Engine) -> None:
    found = answer(bound, some_evidence(data, bound, most=10))
    assert Answer.model_validate_json(found.model_dump_json()) == found


OF_CLOSINGS = (
    "a_finding_never_reopens_a_way",
    "a_reading_where_nothing_was_read_never_reopens_a_way",
    "a_report_or_a_sign_that_shows_damage_never_reopens_a_way",
    "a_clean_look_or_test_taken_away_leaves_nothing_more_open",
    "a_reading_taken_away_proves_nothing_more",
)
"""Laws that need no prices, and so are quick."""
LAWS = {name[4:]: law for name, law in globals().items() if name.startswith("law_")}


@pytest.mark.parametrize("law", LAWS)
def test_the_law_holds(law: str) -> None:
    examples = 100 if law in OF_CLOSINGS else 20
    settings(max_examples=examples, **UNHURRIED)(
        given(st.data())(lambda data: LAWS[law](data, drawn.engine(THREE)))
    )()


@pytest.mark.long
@pytest.mark.parametrize("law", LAWS)
def test_the_law_holds_on_many_sixes(law: str) -> None:
    LONG(given(st.data())(lambda data: LAWS[law](data, drawn.engine(SIX))))()


def without(items: Sequence[Evidence], gone: Evidence) -> list[Evidence]:
    return [item for item in items if item is not gone]


def cents(found: Answer) -> float:
    """What rounding every line of a bill to the cent can come to."""
    return 0.01 * len(found.bill) + 1e-6


def typed_in(item: Evidence, unit: str, times: Decimal) -> Evidence:
    if not isinstance(item, Reading):
        return item
    return item.model_copy(update={"value": f"{Decimal(item.value) * times:f}", "unit": unit})


def worn(value: str, **more: Any) -> list[Evidence]:
    """The sound six with one reading at the top of bore 1 as given."""
    items = [i for i in drawn.sound(SIX) if i.id != "r1"]
    fields = {"station": "top", "direction": "across", "gauge": "dial bore gauge"} | more
    return [*items, six.reading("worn", "block", "diameter", "bore 1", value, **fields)]


def test_a_correction_may_reopen_what_a_wrong_reading_closed() -> None:
    bound, right = drawn.engine(SIX), worn("3.5004")[-1]
    wrong = worn("3.5100")
    assert part(answer(bound, wrong), "block").verdict == "recondition"
    corrected = right.model_copy(update={"id": "right", "supersedes": "worn"})
    found = part(answer(bound, [*wrong, corrected]), "block")
    assert (found.verdict, found.standing, found.closed) == ("reuse", "settled", ())


def test_a_makers_limit_on_the_sheet_may_reopen_what_the_packs_limit_closed() -> None:
    quantities = six.sheet().quantities | {
        "bore.wear": {"maximum": "0.020 in"},
        "bore.taper": {"maximum": "0.020 in"},
        "bore.out_of_round": {"maximum": "0.020 in"},
    }
    typed = Engine(six.book(), six.sheet(quantities=quantities))
    assert part(answer(drawn.engine(SIX), worn("3.5100")), "block").verdict == "recondition"
    assert part(answer(typed, worn("3.5100")), "block").verdict == "reuse"


SHARED = """
[[operation]]
id = "hone"
title = "hone the bores"
bills = [{ price = "hone-bore", per = "place" }, { price = "minimum-charge", per = "core" }]
voids = ["diameter"]

[[operation]]
id = "polish"
title = "polish the journals"
bills = [{ price = "polish-journal", per = "place" }, { price = "minimum-charge", per = "core" }]
voids = ["diameter"]

[[price]]
id = "minimum-charge"
title = "Minimum charge of the shop"
low = 30
likely = 40
high = 50
"""


def test_a_line_that_several_parts_need_is_paid_once(tmp_path: Path) -> None:
    (tmp_path / "shared.toml").write_text(SHARED)
    bound = Engine(load_rulebook(shipped("rules"), [tmp_path]), six.sheet())
    before, after = answer(drawn.engine(SIX), drawn.sound(SIX)), answer(bound, drawn.sound(SIX))
    (line,) = [line for line in after.bill if line.line == "Minimum charge of the shop"]
    assert (line.quantity, line.mean) == (1, 40)
    assert line.needed_by == ("block", "crankshaft")
    assert after.core.cost.mean == pytest.approx(before.core.cost.mean + 40)
