"""What practitioners say, each statement once: common practice unless another source is named.

The engine is the sound inline-six of the tests of the judge, fully evidenced, with one thing changed.
"""

from pathlib import Path
from typing import Any

import pytest

from inspect_app.judge import judge
from inspect_app.model.answer import Answer
from inspect_app.model.evidence import Decision, Evidence, Finding, OutsideReport
from inspect_app.model.pieces import Mark, Piece
from inspect_app.rulebook.engine import Engine
from inspect_app.rulebook.load import load_rulebook
from inspect_app.shipped import shipped
from tests.judge import six

from .support import closed_by, part_at, way_of, worn_out

EVERYTHING = six.looks_and_tests() + six.readings()
RODS = [f"rod {number}" for number in range(1, six.CYLINDERS + 1)]
KINDS = {part: {"fitted": "wide pin", "others": ["narrow pin"]} for part in ("crankshaft", "rod")}
FILLET = "rod_journal 3/fillet/rear"
JOURNALS = ("main_journal", "rod_journal")


def without(*ids: str) -> list[Evidence]:
    return [item for item in EVERYTHING if item.id not in ids]


def cracked_in_the_fillet() -> list[Evidence]:
    return [*without("crack-crankshaft"), *six.confirmed_crack(FILLET, "crack-crankshaft")]


def report(grounds: str) -> OutsideReport:
    return OutsideReport(id="shop", piece="block", says="unusable", grounds=grounds, **six.COMMON)


# ---- (a) a crack in the fillet of a rod journal is grounds for replacing the crankshaft ----


def test_a_crack_in_a_fillet_replaces_the_crankshaft_whatever_it_measures() -> None:
    crankshaft = part_at(six.answer(cracked_in_the_fillet()), "crankshaft")
    assert (crankshaft.verdict, crankshaft.grounds, crankshaft.standing) == (
        "replace",
        "evidence",
        "settled",
    )
    [closed] = crankshaft.closed
    assert (closed.rule, closed.closes, closed.hard) == ("crack-in-journal-fillet", "own", True)
    assert closed.basis == "common practice"
    assert {option.state for option in crankshaft.options if option.source == "own"} == {"closed"}


def test_nobody_can_wave_a_fillet_crack_through() -> None:
    waved = Decision(
        id="wave",
        piece="crankshaft",
        decision="overrule",
        rule="crack-in-journal-fillet",
        reason="it ran like that for years",
        **six.COMMON,
    )
    crankshaft = part_at(six.answer([*cracked_in_the_fillet(), waved]), "crankshaft")
    assert crankshaft.verdict == "replace"


def test_a_suspected_fillet_crack_closes_nothing_and_asks_for_its_test() -> None:
    suspected = Finding(
        id="line",
        piece="crankshaft",
        damage="crack",
        place=FILLET,
        strength="suspected",
        **six.COMMON,
    )
    crankshaft = part_at(six.answer([*without("crack-crankshaft"), suspected]), "crankshaft")
    assert (crankshaft.verdict, crankshaft.standing, crankshaft.closed) == ("reuse", "provisional", ())
    assert crankshaft.fork is not None
    assert {asked.what for asked in crankshaft.fork.if_} == {"magnetic-particle test"}
    assert crankshaft.fork.else_.verdict == "replace"


# ---- (b) a crankshaft of another kind closes the old rods and pays for its matching ones ----


def two_kinds(overlay: Path | None = None) -> Engine:
    book = load_rulebook(shipped("rules"), [overlay] if overlay else [])
    return Engine(book, six.sheet(kinds=KINDS))


def of_other_kind(**changes: Any) -> Piece:
    data = {
        "id": "crankshaft-b",
        "position": "crankshaft",
        "origin": "another_core",
        "kind": "narrow pin",
        "marks": [
            {"text": "010 M", "quantity": "diameter", "place": "main_journal *", "size": "0.010 in"},
            {"text": "STD R", "quantity": "diameter", "place": "rod_journal *", "size": "0 in"},
        ],
    }
    return Piece.model_validate(data | changes)


def seen_on(piece: str, mains: str) -> list[Evidence]:
    """Look, crack test and readings of a crankshaft that came from elsewhere, its mains at one size."""
    found: list[Evidence] = [
        six.look(f"look-{piece}", piece),
        six.clean_test(f"crack-{piece}", piece, "magnetic particle"),
        six.reading(f"runout-{piece}", piece, "runout", "centre_line", "0.0004"),
    ]
    for kind, total, value in (("main_journal", six.MAINS, mains), ("rod_journal", six.CYLINDERS, "1.9999")):
        for index in range(1, total + 1):
            for station in ("front", "rear"):
                for direction in ("vertical", "horizontal"):
                    found.append(
                        six.reading(
                            f"{piece} {kind} {index} {station} {direction}",
                            piece,
                            "diameter",
                            f"{kind} {index}",
                            value,
                            station=station,
                            direction=direction,
                            gauge="outside micrometer",
                        )
                    )
    return found


def with_other_crankshaft(engine: Engine) -> Answer:
    core = six.core(
        cracked_in_the_fillet() + seen_on("crankshaft-b", "2.4899"),
        pieces=(*six.pieces(), of_other_kind()),
    )
    return judge(core, engine)


def test_a_fitted_crankshaft_of_another_kind_closes_the_old_rods(tmp_path: Path) -> None:
    answer = with_other_crankshaft(priced(tmp_path / "dear", 5000))
    crankshaft = part_at(answer, "crankshaft")
    assert (crankshaft.verdict, crankshaft.kind) == ("reuse", "narrow pin")
    for name in RODS:
        rod = part_at(answer, name)
        assert (rod.verdict, rod.grounds, rod.standing) == ("replace", "coupling", "settled")
        assert rod.kind == "narrow pin"
        assert [forced.position for forced in rod.forced_by] == ["crankshaft"]
        assert rod.cost is not None
        assert rod.cost.mean > 0


def test_at_the_shipped_prices_six_rods_cost_more_than_a_crankshaft_of_the_old_kind() -> None:
    """Money chooses even over a sound piece that somebody fitted: an exchange one keeps all old rods."""
    answer = with_other_crankshaft(two_kinds())
    crankshaft = part_at(answer, "crankshaft")
    assert (crankshaft.verdict, crankshaft.grounds, crankshaft.kind) == ("replace", "money", "wide pin")
    assert {part_at(answer, name).verdict for name in RODS} == {"reuse"}


def priced(tmp_path: Path, fitted: float) -> Engine:
    """Every crankshaft of the fitted kind at one price; used ones of the other kind as shipped."""
    tmp_path.mkdir(exist_ok=True)
    names = ("used-crankshaft", "exchange-crankshaft", "new-crankshaft")
    entries = [
        f'[[price]]\nid = "{name}"\ntitle = "{name}"\nlow = {fitted}\nlikely = {fitted}\nhigh = {fitted}\n'
        for name in names
    ]
    (tmp_path / "prices.toml").write_text("\n".join(entries))
    return two_kinds(tmp_path)


def test_another_kind_is_chosen_when_it_is_cheapest_with_the_rods_it_asks_for(tmp_path: Path) -> None:
    core = six.core(cracked_in_the_fillet())
    dear = judge(core, priced(tmp_path / "dear", 5000))
    crankshaft = part_at(dear, "crankshaft")
    assert (crankshaft.verdict, crankshaft.source, crankshaft.kind) == ("replace", "used", "narrow pin")
    for name in RODS:
        rod = part_at(dear, name)
        assert (rod.verdict, rod.grounds, rod.kind) == ("replace", "coupling", "narrow pin")


@pytest.mark.parametrize(("less", "kind"), [(10.0, "wide pin"), (-10.0, "narrow pin")])
def test_the_rods_count_in_the_choice_of_the_crankshaft(tmp_path: Path, less: float, kind: str) -> None:
    """The fitted kind wins as long as it costs less than the other kind and its rods together."""
    core = six.core(cracked_in_the_fillet())
    dear = judge(core, priced(tmp_path / "dear", 5000))
    costs = [part_at(dear, name).cost for name in ("crankshaft", *RODS)]
    together = sum(cost.mean for cost in costs if cost is not None)
    near = judge(core, priced(tmp_path / "near", together - less))
    assert part_at(near, "crankshaft").kind == kind


# ---- (c) "unusable" without grounds closes nothing; with grounds it does ----


def test_unusable_without_grounds_asks_the_shop_what_it_found() -> None:
    block = part_at(six.answer([*EVERYTHING, report("")]), "block")
    assert (block.verdict, block.standing, block.closed) == ("reuse", "provisional", ())
    [point] = block.open_points
    for asked in ("what was found", "where", "test or reading", "what size would it clean up at"):
        assert asked in point.what
    assert block.fork is not None
    assert block.fork.else_.verdict == "replace"


def test_unusable_with_grounds_closes_the_block() -> None:
    grounds = "crack from bore 2 into the web, found by magnetic-particle test"
    block = part_at(six.answer([*EVERYTHING, report(grounds)]), "block")
    assert (block.verdict, block.grounds, block.standing) == ("replace", "evidence", "settled")
    [closed] = block.closed
    assert (closed.rule, closed.closes, closed.evidence) == (
        "shop-calls-block-unusable",
        "own",
        ("shop",),
    )


# ---- (d) wear beyond the largest listed size: sleeve, or give the block up ----


@pytest.mark.parametrize("count", [1, 2])
def test_one_or_two_bores_beyond_the_largest_size_are_sleeved(count: int) -> None:
    block = part_at(six.answer(worn_out(range(1, count + 1))), "block")
    assert (block.verdict, block.grounds, block.standing) == ("recondition", "evidence", "settled")
    assert way_of(block, "bores").except_at == tuple(f"bore {n}" for n in range(1, count + 1))


def test_three_bores_beyond_the_largest_size_give_the_block_up() -> None:
    """How many sleeves one block is worth is the pack's own judgement: two."""
    block = part_at(six.answer(worn_out(range(1, 4))), "block")
    assert (block.verdict, block.grounds, block.standing) == ("replace", "evidence", "settled")
    closes = {one.closes for one in block.closed}
    assert {"bores.hone", "bores.0.020 in", "bores.0.030 in", "bores.0.040 in"} <= closes


def test_a_bore_beyond_the_largest_size_that_cannot_hold_a_sleeve_gives_the_block_up() -> None:
    crack = Finding(
        id="runs-out",
        piece="block",
        damage="crack",
        place="bore 1/deck_edge",
        strength="confirmed",
        test="crack-block",
        **six.COMMON,
    )
    tested = six.clean_test("crack-block", "block", "magnetic particle").model_copy(
        update={"outcome": "found"}
    )
    evidence = [item for item in worn_out(range(1, 2)) if item.id != "crack-block"]
    block = part_at(six.answer([*evidence, tested, crack]), "block")
    assert (block.verdict, block.grounds) == ("replace", "evidence")
    assert closed_by(block, "bore-crack-runs-out", "bore 1")


# ---- (e) "replaced by one from another core, mains 0.010 in under" ----


def test_a_crankshaft_put_in_is_judged_on_its_own_evidence_alone() -> None:
    evidence = cracked_in_the_fillet() + seen_on("crankshaft-b", "2.4899")
    core = six.core(evidence, pieces=(*six.pieces(), of_other_kind(kind=None)))
    crankshaft = part_at(judge(core, six.engine()), "crankshaft")
    assert (crankshaft.piece, crankshaft.source) == ("crankshaft-b", "own")
    assert (crankshaft.verdict, crankshaft.standing, crankshaft.closed) == ("reuse", "settled", ())
    [former] = crankshaft.former
    assert (former.piece, former.closed) == ("crankshaft", ("own",))


def test_without_evidence_of_its_own_a_piece_put_in_is_not_judged() -> None:
    core = six.core(cracked_in_the_fillet(), pieces=(*six.pieces(), of_other_kind(kind=None)))
    crankshaft = part_at(judge(core, six.engine()), "crankshaft")
    assert (crankshaft.piece, crankshaft.verdict) == ("crankshaft-b", None)


def test_mains_stamped_under_are_not_taken_for_worn() -> None:
    """Read at 2.4899 against a standard of 2.5000: worn by 0.0101 without the stamp, by 0.0001 with it."""
    evidence = cracked_in_the_fillet() + seen_on("crankshaft-b", "2.4899")
    stamped = six.core(evidence, pieces=(*six.pieces(), of_other_kind(kind=None)))
    assert part_at(judge(stamped, six.engine()), "crankshaft").verdict == "reuse"
    marks = tuple(Mark(text="STD", quantity="diameter", place=f"{k} *", size="0 in") for k in JOURNALS)
    plain = six.core(evidence, pieces=(*six.pieces(), of_other_kind(kind=None, marks=marks)))
    crankshaft = part_at(judge(plain, six.engine()), "crankshaft")
    assert closed_by(crankshaft, "main-journal-wear-past-polish", "main_journal 1")
