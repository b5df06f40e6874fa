"""Another machine, judged with TOML alone: an external gear pump, worked out by hand.

Means of the price book: strip 60, bore a pocket 45, set up 30, sleeve 160, penetrant test 25, used
housing 340, new housing 600, gear 75, grind a journal 20, shaft 110, set of bushings 48, lap 18, cover 85.
"""

import re
from pathlib import Path

import pytest

import inspect_app
from inspect_app.closing.examples import run_examples
from inspect_app.judge import judge
from inspect_app.model.answer import Answer
from inspect_app.model.evidence import Evidence
from inspect_app.model.pieces import Mark, Piece
from tests.support import (
    PUMP,
    finding,
    journal,
    look,
    make_core,
    part_of,
    pocket,
    pump_book,
    pump_engine,
    reading,
    report,
    trial,
)

STANDARD = tuple(
    Piece(
        id=f"shaft {name}", position=f"shaft {name}", marks=(Mark(text="STD", quantity="diameter", size="0"),)
    )
    for name in ("driver", "driven")
)
POSITIONS = tuple(pump_engine().positions)


def pockets(driver: str = "40.020", driven: str = "40.020") -> list[Evidence]:
    return [*pocket("pocket driver", driver), *pocket("pocket driven", driven)]


def journals(driver: str = "18.000", driven: str = "18.000") -> list[Evidence]:
    """Both journals of both shafts 18.000 across; along as given."""
    worn = {"shaft driver": driver, "shaft driven": driven}
    return [
        r
        for piece, along in worn.items()
        for n in (1, 2)
        for r in journal(f"journal {n}", "18.000", along, piece=piece)
    ]


def seen_and_tested() -> list[Evidence]:
    """Every part looked at after washing, housing, shafts and cover tested for cracks."""
    looks: list[Evidence] = [look(piece=position) for position in POSITIONS]
    tests: list[Evidence] = [trial("dye-penetrant", piece=piece) for piece in ("housing", "cover")]
    return looks + tests + [trial("magnetic-particle", piece=piece.id) for piece in STANDARD]


def answer(*more: Evidence, measured: list[Evidence] | None = None) -> Answer:
    """The pump all seen and tested, measured as new unless said otherwise, with more evidence."""
    sizes = [*pockets(), *journals()] if measured is None else measured
    return judge(make_core(*seen_and_tested(), *sizes, *more, pieces=STANDARD), pump_engine())


def verdicts(given: Answer) -> dict[str, str | None]:
    return {part.position: part.verdict for part in given.parts if part.verdict != "reuse"}


def bill(given: Answer) -> dict[str, float]:
    return {line.line: line.mean for line in given.bill}


def standing(given: Answer) -> set[str]:
    """Positions whose verdict is not settled."""
    return {part.position for part in given.parts if part.standing != "settled"}


def test_the_rules_of_the_pump_say_what_their_examples_claim() -> None:
    assert run_examples(pump_book()) == []


def test_a_pump_that_nobody_looked_at_is_not_judged() -> None:
    given = judge(make_core(), pump_engine())
    assert {part.verdict for part in given.parts} == {None}
    assert given.core.verdict is None
    assert given.core.not_judged == POSITIONS


def test_a_sound_pump_is_reused_for_the_price_of_stripping_it() -> None:
    given = answer()
    assert verdicts(given) == {}
    assert standing(given) == set()
    # Strip and wash once: (40 + 50 + 90) / 3 = 60.
    assert bill(given) == {"Strip and wash": 60}
    assert given.core.cost.mean == 60
    assert (given.core.cost.low, given.core.cost.high) == (40, 90)


def test_worn_pockets_are_bored_to_the_next_size_and_take_new_gears() -> None:
    given = answer(measured=[*pockets("40.080", "40.070"), *journals()])
    # Wear 0.08 and 0.07 pass 0.05. Needed: 0.08 * (1 to 2) + 0.02 = 0.10 to 0.18: the 0.20 mm size.
    assert verdicts(given) == {"housing": "recondition", "gear driver": "replace", "gear driven": "replace"}
    (way,) = part_of(given, "housing").ways
    assert (way.concern, way.size, way.except_at) == ("pockets", "0.20 mm", ())
    # Boring 2 * 45 + setting up 30 = 120, gears 2 * 75 = 150: 270 with the gears, a used housing is 340.
    assert bill(given) == {"Strip and wash": 60, "Bore a pocket": 90, "Set up the housing": 30, "Gear": 150}
    assert given.core.cost.mean == 330
    # All low: 40 + 2 * 40 + 30 + 2 * 70 = 290. All high: 90 + 2 * 50 + 30 + 2 * 80 = 380.
    assert (given.core.cost.low, given.core.cost.high) == (290, 380)
    assert part_of(given, "gear driver").grounds == "coupling"
    (forced,) = part_of(given, "gear driver").forced_by
    assert forced.position == "housing"
    assert forced.why == "Bored pockets need gears of the new size."
    assert standing(given) == set()


def test_one_worn_pocket_is_sleeved_since_that_spares_the_gears() -> None:
    given = answer(measured=[*pockets("40.080"), *journals()])
    # A sleeve 160 against 120 for boring with 150 for gears.
    (way,) = part_of(given, "housing").ways
    assert (way.way, way.except_at) == ("as_is", ("pocket driver",))
    assert verdicts(given) == {"housing": "recondition"}
    assert bill(given) == {"Strip and wash": 60, "Sleeve a pocket": 160}
    assert given.core.cost.mean == 220


def test_pockets_worn_past_every_size_need_another_housing() -> None:
    given = answer(measured=[*pockets("40.450", "40.460"), *journals()])
    # Needed at least 0.45 + 0.02 = 0.47: above the largest size 0.40. A used housing keeps the gears.
    housing = part_of(given, "housing")
    assert (housing.verdict, housing.source, housing.grounds) == ("replace", "used", "evidence")
    assert verdicts(given) == {"housing": "replace"}
    assert bill(given) == {"Strip and wash": 60, "Used housing": 340}
    assert {closed.closes for closed in housing.closed} >= {
        "pockets.as_is",
        "pockets.0.20 mm",
        "pockets.0.40 mm",
    }


def test_a_cover_that_only_looked_cracked_is_reused_after_a_clean_test() -> None:
    given = answer(finding("crack", "flange", piece="cover"))
    assert (part_of(given, "cover").verdict, part_of(given, "cover").standing) == ("reuse", "settled")


def test_a_cracked_cover_is_replaced() -> None:
    confirmed = answer(
        trial("dye-penetrant", "flange", outcome="found", piece="cover", id="t1"),
        finding("crack", "flange", "confirmed", test="t1", piece="cover", id="c1"),
    )
    cover = part_of(confirmed, "cover")
    assert (cover.verdict, cover.source, cover.grounds) == ("replace", "new", "evidence")
    (closed,) = cover.closed
    assert (closed.rule, closed.hard, closed.evidence) == ("cover-cracked", True, ("c1",))
    assert bill(confirmed) == {"Strip and wash": 60, "Cover": 85}
    assert confirmed.core.cost.mean == 145


def test_a_scored_cover_is_lapped_and_a_deeply_scored_one_replaced() -> None:
    scored = finding("scoring", "seal_face", piece="cover")
    shallow = answer(scored, reading("score_depth", "seal_face", "0.08", piece="cover"))
    deep = answer(scored, reading("score_depth", "seal_face", "0.13", piece="cover"))
    assert (verdicts(shallow), bill(shallow)["Lap the sealing face"]) == ({"cover": "recondition"}, 18)
    assert (verdicts(deep), bill(deep)["Cover"]) == ({"cover": "replace"}, 85)


def test_a_report_without_grounds_closes_nothing_and_says_what_to_ask() -> None:
    worn = [*pockets("40.080", "40.070"), *journals()]
    given = answer(report("not worth boring"), measured=worn)
    housing = part_of(given, "housing")
    assert (housing.verdict, housing.standing) == ("recondition", "provisional")
    asks = "Ask which pocket they mean, what they measured there and with what."
    assert asks in [point.what for point in housing.open_points]
    assert housing.fork is not None
    # If it holds good, boring is closed: a used housing for 340, and the gears stay.
    assert (housing.fork.else_.verdict, housing.fork.else_.source) == ("replace", "used")
    assert housing.fork.else_.cost is not None
    assert housing.fork.else_.cost.mean == 340
    # The gears hang on the same question.
    assert standing(given) == {"housing", "gear driver", "gear driven"}


def test_a_report_with_grounds_closes_boring() -> None:
    worn = [*pockets("40.080", "40.070"), *journals()]
    given = answer(report("not worth boring", "rim 4 mm at the driver", id="r1"), measured=worn)
    housing = part_of(given, "housing")
    assert (housing.verdict, housing.source, housing.standing) == ("replace", "used", "settled")
    assert ("boring-not-worth-it", ("r1",)) in [(closed.rule, closed.evidence) for closed in housing.closed]
    assert verdicts(given) == {"housing": "replace"}
    assert given.core.cost.mean == 400


def test_of_two_shafts_only_the_worn_one_is_ground_and_all_bushings_go_with_it() -> None:
    given = answer(measured=[*pockets(), *journals(driver="17.970")])
    # Out-of-round 0.03 passes 0.02. Needed: 0.03 * (1 to 2) + 0.02 = 0.05 to 0.08: 0.25 mm undersize.
    bushings = {f"bushing {n}": "replace" for n in (1, 2, 3, 4)}
    assert verdicts(given) == {"shaft driver": "recondition"} | bushings
    assert part_of(given, "shaft driver").ways[0].size == "0.25 mm"
    assert part_of(given, "shaft driven").standing == "settled"
    # Both journals of the one shaft 2 * 20 = 40, one set of bushings 48: 88, a new shaft is 110.
    assert bill(given) == {"Strip and wash": 60, "Grind a journal": 40, "Set of bushings": 48}
    assert given.core.cost.mean == 148


def test_two_worn_shafts_share_one_set_of_bushings() -> None:
    given = answer(measured=[*pockets(), *journals("17.970", "17.960")])
    assert bill(given) == {"Strip and wash": 60, "Grind a journal": 80, "Set of bushings": 48}
    assert given.core.cost.mean == 188


def test_one_scored_bushing_buys_the_set() -> None:
    given = answer(finding("scoring", "running_face", piece="bushing 2"))
    assert set(verdicts(given)) == {"bushing 1", "bushing 2", "bushing 3", "bushing 4"}
    assert given.core.cost.mean == 108


@pytest.mark.parametrize(
    ("along", "verdict"), [("17.981", "reuse"), ("17.980", "reuse"), ("17.979", "recondition")]
)
def test_a_journal_at_its_limit_still_runs(along: str, verdict: str) -> None:
    given = answer(measured=[*pockets(), *journals(driver=along)])
    assert part_of(given, "shaft driver").verdict == verdict


def test_a_journal_that_nobody_measured_leaves_its_shaft_provisional() -> None:
    given = answer(measured=[*pockets(), *journals()[:8]])
    shaft = part_of(given, "shaft driven")
    assert (shaft.verdict, shaft.standing) == ("reuse", "provisional")
    assert "journal diameter" in [point.what for point in shaft.open_points]


def test_the_order_of_evidence_changes_nothing() -> None:
    items = [*seen_and_tested(), *pockets("40.080", "40.070"), *journals(driver="17.970")]
    one = judge(make_core(*items, pieces=STANDARD), pump_engine())
    other = judge(make_core(*reversed(items), pieces=STANDARD), pump_engine())
    assert one == other


LIBRARY = ("model", "metrology", "rulebook", "closing", "prices", "judge")
# Words that any program may use: of geometry (a hole or a shaft wears, a face is flat), and to cover.
ANY_PROGRAM = {"shaft", "cover", "face", "journal", "journals", "outside", "housing"}
"""Words of geometry and of programs at large; a housing is also what a bearing sits in."""


def test_no_word_of_the_pump_stands_in_python() -> None:
    book = pump_book()
    words = {*book.parts, *book.counts, *(c.id for part in book.parts.values() for c in part.concern)}
    words |= {place.kind for part in book.parts.values() for place in part.places}
    wanted = re.compile(rf"\b(?:{'|'.join(sorted(words - ANY_PROGRAM))})s?\b", re.IGNORECASE)
    package = Path(inspect_app.__file__).parent
    python = [path for name in LIBRARY for path in sorted((package / name).rglob("*.py"))]
    assert len(python) > len(LIBRARY)
    assert {path.name: hits for path in python if (hits := wanted.findall(path.read_text()))} == {}


def test_the_pack_of_the_pump_has_no_python_of_its_own() -> None:
    assert {path.suffix for path in PUMP.iterdir()} == {".toml"}
