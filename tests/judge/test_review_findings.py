"""What a hostile reading of the judge found, each with the case that showed it."""

from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest

from inspect_app.judge import judge
from inspect_app.model.answer import Answer, PartAnswer
from inspect_app.model.evidence import Evidence, Finding, Reading, Test
from inspect_app.model.pieces import Mark, OperationDone, Piece
from inspect_app.model.problems import Problems
from inspect_app.rulebook.engine import Engine
from inspect_app.rulebook.load import load_rulebook
from inspect_app.shipped import shipped

from . import six

EVERYTHING = six.looks_and_tests() + six.readings()


def without(*ids: str) -> list[Evidence]:
    return [item for item in EVERYTHING if item.id not in ids]


def part(answer: Answer, position: str) -> PartAnswer:
    return next(part for part in answer.parts if part.position == position)


def finding(damage: str, piece: str, place: str, strength: str = "seen", **more: Any) -> Finding:
    data = {"id": f"{damage} at {place}", "damage": damage, "place": place, "strength": strength}
    return Finding.model_validate({**six.COMMON, "piece": piece, **data, **more})


def found(id_: str, piece: str, method: str, *places: str, **more: Any) -> Test:
    data = {"id": id_, "method": method, "places": places or ("*",), "outcome": "found"}
    return Test.model_validate({**six.COMMON, "piece": piece, **data, **more})


def engine_with(tmp_path: Path, text: str) -> Engine:
    """The shipped rules with a shop's own beside them."""
    (tmp_path / "shop.toml").write_text(text)
    return Engine(load_rulebook(shipped("rules"), [tmp_path]), six.sheet())


def refused(*pieces: Piece) -> str:
    with pytest.raises(Problems) as problems:
        six.answer(pieces=(*six.pieces(), *pieces))
    return str(problems.value)


# ---- pieces ----


def test_a_piece_with_the_id_of_another_position_is_refused() -> None:
    assert "piece rod 2: this is the id of the piece" in refused(Piece(id="rod 2", position="rod 1"))


def test_a_piece_of_an_unknown_material_is_refused() -> None:
    said = refused(Piece(id="rod 1", position="rod 1", material="Forged Steel"))
    assert '"Forged Steel" is no material' in said


def test_a_negative_step_from_standard_is_refused() -> None:
    mark = Mark(text="-10", quantity="diameter", place="bore *", size="-0.010 in")
    cut = OperationDone(operation="bore", size="-0.020 in")
    said = refused(Piece(id="block", position="block", marks=(mark,), operations=(cut,)))
    assert 'mark "-10", size: "-0.010 in" is negative' in said
    assert 'operation bore, size: "-0.020 in" is negative' in said


# ---- couplings ----

ALIKE = """
[[coupling]]
id = "alike"
{}
why = "They must match."
basis = "judgement"
"""


@pytest.mark.parametrize(
    "form",
    [
        'sum = { of = ["cylinder_head.face", "cylinder_head.face"], at_most = "deck.stack_removed" }',
        'same_kind = ["cylinder_head", "cylinder_head"]',
    ],
)
def test_a_coupling_of_a_part_with_itself_ties_no_piece_to_itself(tmp_path: Path, form: str) -> None:
    coupled = judge(six.core(), engine_with(tmp_path, ALIKE.format(form)))
    assert coupled.parts == six.answer().parts


def bored_block(*new_pistons: int) -> Answer:
    """The six after boring to 0.020 in, with so many of its pistons replaced already."""
    cut = OperationDone(operation="bore", size="0.020 in", places=("bore *",))
    block = Piece(id="block", position="block", operations=(cut,))
    pistons = [Piece(id=f"new piston {i}", position=f"piston {i}", origin="new") for i in new_pistons]
    after = {"state": "after 1", "session": "s2"}
    kept = [i for i in EVERYTHING if not (isinstance(i, Reading) and i.place.startswith("bore"))]
    sizes = [
        i.model_copy(update=after | {"value": "3.5200"})
        for i in EVERYTHING
        if isinstance(i, Reading) and i.place.startswith("bore")
    ]
    test = six.clean_test("after boring", "block", "magnetic particle")
    seen = [six.look(f"look {p.id}", p.id) for p in pistons]
    tried = [six.clean_test(f"crack {p.id}", p.id, "dye penetrant") for p in pistons]
    evidence = [*kept, *sizes, test.model_copy(update={"state": "after 1"}), *seen, *tried]
    return six.answer(evidence, pieces=(*six.pieces(), block, *pistons))


def test_one_new_piston_does_not_save_the_old_ones_of_a_bored_block() -> None:
    old = part(bored_block(1), "piston 2")
    assert (old.verdict, old.grounds) == ("replace", "coupling")


def test_a_full_set_of_new_pistons_stays_in_a_bored_block() -> None:
    assert part(bored_block(1, 2, 3, 4, 5, 6), "piston 2").verdict == "reuse"


# ---- tests that found something ----


def test_what_a_test_found_and_nobody_named_stays_open_beside_a_clean_test() -> None:
    unnamed = found("second test", "crankshaft", "magnetic particle", "rod_journal 2")
    shaft = part(six.answer([*EVERYTHING, unnamed]), "crankshaft")
    assert (shaft.verdict, shaft.standing) == ("reuse", "provisional")
    (point,) = shaft.open_points
    assert point.what == "write down what second test found, and where"
    assert point.place == "rod journal 2"


def test_naming_what_a_test_found_settles_it() -> None:
    test = found("second test", "crankshaft", "magnetic particle", "rod_journal 2")
    named = finding("crack", "crankshaft", "rod_journal 2/fillet/front", "confirmed", test="second test")
    evidence = [*without("crack-crankshaft"), test, named]
    shaft = part(six.answer(evidence), "crankshaft")
    assert (shaft.verdict, shaft.standing, shaft.open_points) == ("replace", "settled", ())


# ---- what is open, and what it is open for ----


def scored(bore: int) -> list[Evidence]:
    """A score of known depth, which honing does not cure."""
    mark = finding("score", "block", f"bore {bore}/ring_travel")
    depth = six.reading(f"depth {bore}", "block", "score_depth", f"bore {bore}", "0.002", gauge="depth gauge")
    return [mark, depth]


def wall(bore: int, value: str) -> list[Evidence]:
    directions = ("thrust", "anti_thrust", "front", "rear")
    more = {"gauge": "ultrasonic thickness gauge"}
    return [
        six.reading(f"wall {bore} {d}", "block", "wall", f"bore {bore}", value, direction=d, **more)
        for d in directions
    ]


def test_a_wall_measured_too_thin_counts_at_the_first_size_as_well() -> None:
    scores = [item for bore in (1, 2, 3) for item in scored(bore)]
    sound = part(six.answer([*EVERYTHING, *scores]), "block")
    assert sound.ways[0].size == "0.020 in"
    block = part(six.answer([*EVERYTHING, *scores, *wall(5, "0.130")]), "block")
    bores = block.ways[0]
    assert (bores.size, bores.except_at) == ("0.020 in", ("bore 5",))


def test_grinding_to_a_size_nobody_wrote_down_leaves_the_size_open() -> None:
    ground = OperationDone(operation="grind", places=("main_journal *",))
    shaft = six.pieces()[0].model_copy(update={"operations": (ground,)})
    sizes = [
        i.model_copy(update={"state": "after 1", "value": "2.4900"})
        for i in EVERYTHING
        if isinstance(i, Reading) and i.place.startswith("main_journal")
    ]
    kept = [i for i in EVERYTHING if not (isinstance(i, Reading) and i.place.startswith("main_journal"))]
    judged = part(six.answer([*kept, *sizes], pieces=(shaft,)), "crankshaft")
    assert judged.closed == ()
    assert "stamped size: diameter" in {point.what for point in judged.open_points}


def test_a_finding_that_a_stronger_test_lifted_need_not_say_where_it_was() -> None:
    seen = finding("crack", "crankshaft", "rod_journal 2")
    shaft = part(six.answer([*EVERYTHING, seen]), "crankshaft")
    assert (shaft.verdict, shaft.standing, shaft.open_points) == ("reuse", "settled", ())


def test_a_bore_that_is_sleeved_anyway_need_not_be_read() -> None:
    read = [i for i in EVERYTHING if not (isinstance(i, Reading) and i.place == "bore 3")]
    broken = [finding("broken", "block", "bore 3/ring_travel"), *wall(3, "0.200")]
    block = part(six.answer([*read, *broken]), "block")
    bores = block.ways[0]
    assert (bores.way, bores.except_at) == ("hone", ("bore 3",))
    assert (block.standing, block.open_points) == ("settled", ())


# ---- money, and what it waits for ----

MPI = "Crack test of the crankshaft"


def billed(answer: Answer) -> set[str]:
    return {line.line for line in answer.bill}


def test_a_crack_test_done_by_another_method_is_not_billed_again() -> None:
    dye = six.clean_test("dye", "crankshaft", "dye penetrant")
    answer = six.answer([*without("crack-crankshaft"), dye])
    assert part(answer, "crankshaft").standing == "settled"
    assert MPI not in billed(answer)


def test_a_crack_test_that_told_nothing_is_billed_again() -> None:
    told = {"outcome": "cannot_tell"}
    nothing = six.clean_test("mute", "crankshaft", "magnetic particle").model_copy(update=told)
    assert MPI in billed(six.answer([*without("crack-crankshaft"), nothing]))


def test_a_foreign_piece_is_no_piece_to_reuse() -> None:
    answer = six.answer(record={"value_built": 4000, "parts": {"crankshaft": "foreign"}})
    assert part(answer, "crankshaft").verdict == "replace"
    assert answer.core.notes == ("Crankshaft does not belong to this engine.",)


def unpriced(*names: str) -> Engine:
    prices = {name: form for name, form in six.book().prices.items() if name not in names}
    return Engine(replace(six.book(), prices=prices), six.sheet())


def test_a_core_without_a_price_waits_for_the_price_and_not_for_a_look() -> None:
    work = ("polish-journal", "grind-journal")
    shaft = (*work, "used-crankshaft", "exchange-crankshaft", "new-crankshaft")
    core = judge(six.core(), unpriced(*shaft)).core
    assert core.verdict is None
    assert core.waits_for is not None
    assert core.waits_for.startswith("price of ")


def test_a_way_passed_over_for_want_of_a_price_asks_for_the_price() -> None:
    shaft = part(judge(six.core(), unpriced("polish-journal")), "crankshaft")
    assert (shaft.verdict, shaft.grounds) == ("replace", "money")
    assert [point.what for point in shaft.open_points] == ["price of polish-journal"]


def test_an_unpriced_way_is_never_chosen_in_a_currency_of_large_numbers() -> None:
    large = {
        name: form.model_copy(update={end: getattr(form, end) * 1e5 for end in ("low", "likely", "high")})
        for name, form in six.book().prices.items()
        if name != "polish-journal"
    }
    bound = Engine(replace(six.book(), prices=large), six.sheet())
    assert part(judge(six.core(), bound), "crankshaft").source == "exchange"


NOTHING_LEFT = """
[[rule]]
id = "chamber-burnt"
part = "cylinder_head"
each = ["chamber"]
when = [{ finding = "burnt" }]
closes = ["own", "used", "new"]
why = "Burnt out at {place}."
plain = "It is burnt out."
basis = "judgement"
  [[rule.example]]
  given = [{ finding = "burnt", place = "chamber 1" }]
  then = "met"
"""


def test_an_engine_that_lacks_a_part_is_not_built(tmp_path: Path) -> None:
    burnt = finding("burnt", "cylinder_head 1", "chamber 1")
    answer = judge(six.core([*EVERYTHING, burnt]), engine_with(tmp_path, NOTHING_LEFT))
    assert answer.core.verdict != "build"
    assert answer.core.why.startswith("Nothing is left for the cylinder head 1. ")


def test_a_part_too_dear_is_not_said_to_have_nothing_left() -> None:
    crack = finding("crack", "crankshaft", "rod_journal 2/fillet/front")
    record = {"value_built": 4000, "alternatives": [{"name": "another engine", "price": 300}]}
    core = six.answer([*without("crack-crankshaft"), crack], record=record).core
    assert core.why.startswith("The crankshaft would cost more than the best alternative. ")
