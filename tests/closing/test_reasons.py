"""Why a way is closed, what is missing where it is open, and which decisions were close."""

from dataclasses import replace
from pathlib import Path

import pytest
from scipy.stats import norm

from inspect_app.closing.missing import Missing, of_row, of_way
from inspect_app.closing.piece_state import PieceState
from inspect_app.closing.reasons import NOT_THERE, close_calls, closed_reasons
from inspect_app.model.evidence import Evidence
from inspect_app.model.pieces import Piece
from inspect_app.model.places import Place, parse_place
from inspect_app.rulebook.engine import Engine
from inspect_app.rulebook.load import load_rulebook
from tests.support import (
    PUMP,
    finding,
    journal,
    look,
    pocket,
    pump_book,
    pump_engine,
    pump_sheet,
    reading,
    report,
    state_of,
    trial,
)

# One reading: sqrt(0.001^2 / 12 + 0.001^2); wear is a difference of two of one session, whose calibration
# (0.002 / sqrt 3) they share.
U_WEAR = 0.0010408330 * 2**0.5


def sized(size: str) -> list[Evidence]:
    names = {"inlet": "i", "outlet": "o", "unworn": "u"}
    return [r.model_copy(update={"id": names[r.station]}) for r in pocket("pocket driver", size)]


def test_a_closed_way_names_rule_place_evidence_limit_and_margin() -> None:
    (closed,) = closed_reasons(state_of("housing", *sized("40.055")))
    assert (closed.closes, closed.rule, closed.place) == ("pockets.as_is", "pocket-worn", "pocket driver")
    assert closed.why == "Pocket driver is worn past its limit: oil slips back past the tips."
    assert closed.plain == "The housing is worn where the gears run, so the pump loses pressure."
    assert closed.measured is not None
    assert closed.limit is not None
    assert (closed.measured.value, closed.measured.unit) == (0.055, "mm")
    assert (closed.limit.value, closed.limit_from, closed.basis) == (0.05, "pack", "judgement")
    assert closed.limit_basis == "judgement"
    assert closed.margin == 0.005
    assert set(closed.evidence) == {"i", "u"}


def test_the_probability_beyond_the_limit_stands_beside_the_margin() -> None:
    (closed,) = closed_reasons(state_of("housing", *sized("40.055")))
    assert closed.measured is not None
    assert closed.measured.u == pytest.approx(U_WEAR, abs=1e-8)
    # scipy.stats.norm: 0.005 past the limit.
    assert closed.p_beyond == pytest.approx(norm.cdf(0.005 / U_WEAR), abs=1e-6)


def test_the_limit_of_the_maker_is_named_as_such() -> None:
    sheet = pump_sheet(
        quantities={"pocket.diameter": {"nominal": "40.00 mm"}, "pocket.wear": {"maximum": "0.03 mm"}}
    )
    (closed,) = closed_reasons(state_of("housing", *sized("40.040"), engine=Engine(pump_book(), sheet)))
    assert closed.limit is not None
    assert (closed.limit.value, closed.limit_from, closed.limit_basis) == (0.03, "maker", "invented")


def test_the_limit_of_the_shop_is_named_with_what_the_shop_wrote(tmp_path: Path) -> None:
    shop = tmp_path / "shop"
    shop.mkdir()
    own = '[[limit]]\nquantity = "wear"\neach = ["pocket"]\nmax = "0.02 mm"\nbasis = "ten that came back"\n'
    (shop / "own.toml").write_text(own)
    engine = Engine(load_rulebook(PUMP, [shop]), pump_sheet())
    (closed,) = closed_reasons(state_of("housing", *sized("40.040"), engine=engine))
    assert (closed.limit_from, closed.limit_basis) == ("shop", "ten that came back")


def test_a_finding_closes_without_numbers() -> None:
    (closed,) = closed_reasons(state_of("cover", finding("crack", "flange", piece="cover", id="f")))
    assert (closed.closes, closed.hard, closed.evidence, closed.measured) == ("own", True, ("f",), None)


def test_what_closes_the_piece_comes_first_then_hard_rules_then_the_larger_margin() -> None:
    cracked = finding("crack", "outside")
    both = [*pocket("pocket driver", "40.060"), *pocket("pocket driven", "40.090")]
    reasons = closed_reasons(state_of("housing", *both, cracked))
    assert [(reason.closes, reason.place) for reason in reasons] == [
        ("own", "outside"),
        ("pockets.as_is", "pocket driven"),
        ("pockets.as_is", "pocket driver"),
    ]


def test_a_size_that_does_not_clean_up_names_the_worst_place() -> None:
    both = [look(), *pocket("pocket driver", "40.250"), *pocket("pocket driven", "40.300")]
    reasons = {r.closes: r for r in closed_reasons(state_of("housing", *both))}
    small = reasons["pockets.0.20 mm"]
    assert (small.place, small.why) == ("pocket driven", "Pocket driven does not clean up at 0.20 mm.")
    assert small.measured is not None
    # At least 0.30 + 0.02 = 0.32 is needed.
    assert (small.measured.value, small.margin) == (0.32, 0.12)


def test_a_part_that_is_not_there_is_closed_and_says_so() -> None:
    state = state_of("cover")
    gone = PieceState(state.position, state.piece, state.scene, state.rows, state.notes, there=False)
    (closed,) = closed_reasons(gone)
    assert (closed.closes, closed.rule, closed.hard) == ("own", NOT_THERE, True)
    assert gone.closed_by_evidence
    assert gone.real.own.all()


def test_an_open_rule_closes_nothing() -> None:
    assert closed_reasons(state_of("housing", report("not worth boring"))) == []


@pytest.mark.parametrize(
    ("size", "closes", "close"),
    [
        ("40.047", 0, False),
        ("40.048", 0, True),
        ("40.050", 0, True),
        ("40.052", 1, True),
        ("40.053", 1, False),
    ],
)
def test_a_decision_within_1_645_u_of_the_limit_is_a_close_call(size: str, closes: int, close: bool) -> None:
    # 1.645 * 0.00147 = 0.0024: from 0.0476 to 0.0524.
    state = state_of("housing", *sized(size))
    assert len(closed_reasons(state)) == closes
    assert [call.place for call in close_calls(state)] == (["pocket driver"] if close else [])


def test_a_figure_that_is_only_half_known_is_no_close_call() -> None:
    assert list(close_calls(state_of("housing", *sized("40.051")[1:]))) == []


def missing(state: PieceState, rule: str) -> list[Missing]:
    return [item for row in state.rows if row.rule.id == rule for item in of_row(state, row)]


def at(text: str) -> Place:
    return parse_place(text)


def test_a_crack_test_is_asked_for_that_suits_the_metal() -> None:
    on_steel = missing(state_of("shaft driver"), "journal-cracked")
    assert on_steel == [
        Missing(
            "magnetic particle test", at(f"journal {n}/fillet"), "nothing found", "test", "magnetic-particle"
        )
        for n in (1, 2)
    ]
    on_aluminium = missing(state_of("housing"), "housing-cracked")
    assert {item.what for item in on_aluminium} == {"dye penetrant test"}


def test_where_the_metal_is_unknown_that_is_asked_first() -> None:
    engine = Engine(pump_book(), pump_sheet(materials={}))
    asked = missing(state_of("cover", engine=engine), "cover-cracked")
    assert {item.what for item in asked} == {"material on the engine sheet"}


def test_a_look_that_shows_it_is_asked_for() -> None:
    asked = missing(state_of("cover"), "cover-scored")
    what = "a look at the washed part in good light"
    assert asked == [Missing(what, at("seal_face"), "nothing found", "look", "eye")]


def test_an_unread_figure_is_asked_for_as_a_whole_and_a_half_read_one_by_its_gaps() -> None:
    empty = missing(state_of("shaft driver"), "journal-out-of-round")
    assert empty[0] == Missing("journal diameter", at("journal 1"), "inside the limit", "reading", "diameter")
    half = missing(
        state_of("shaft driver", *journal("journal 1", "18.000", "18.000")[:3]), "journal-out-of-round"
    )
    assert half[0] == Missing(
        "journal diameter, rear, along", at("journal 1"), "inside the limit", "reading", "diameter"
    )


def test_a_report_without_grounds_asks_what_the_pack_says() -> None:
    (asked,) = missing(state_of("housing", report("not worth boring")), "boring-not-worth-it")
    assert asked.what == "Ask which pocket they mean, what they measured there and with what."


def test_a_quantity_without_a_limit_asks_for_one() -> None:
    book = replace(pump_book(), limits={})
    state = state_of("housing", *sized("40.055"), engine=Engine(book, pump_sheet()))
    asked = missing(state, "pocket-worn")
    assert asked[0] == Missing(
        "a limit for pocket wear on the engine sheet",
        at("pocket driver"),
        "inside the limit",
        "sheet",
        "wear",
    )


def _of_size(state: PieceState, number: int) -> list[Missing]:
    (ladder,) = state.real.ladders
    return list(of_way(state, ladder.concern, ladder.ways[number], number, ladder.places))


def test_a_size_inside_the_interval_of_k_asks_for_a_trial_cut() -> None:
    # Needed 0.15 + 0.02 = 0.17 to 0.32, the first size is 0.20.
    both = [look(), *pocket("pocket driver", "40.150"), *pocket("pocket driven", "40.000")]
    assert _of_size(state_of("housing", *both), 1) == [
        Missing(
            "trial cut: does it clean up at 0.20 mm",
            at("pocket driver"),
            "it does",
            "decision",
            "pockets: size",
        )
    ]


def test_metal_that_must_remain_asks_for_its_reading_or_a_finer_gauge() -> None:
    both = [look(), *pocket("pocket driver", "40.020"), *pocket("pocket driven", "40.020")]
    rims = [reading("rim", f"pocket {n}", "6.200", gauge="outside-micrometer") for n in ("driver", "driven")]
    unread = _of_size(state_of("housing", *both), 2)
    assert unread[0] == Missing("rim thickness", at("pocket driver"), "enough is left", "reading", "rim")
    near = _of_size(state_of("housing", *both, *rims), 2)
    assert near[0] == Missing(
        "rim thickness with a finer gauge", at("pocket driver"), "enough is left", "reading", "rim"
    )


def test_a_first_look_counts_in_any_state_and_by_any_method() -> None:
    assert [str(p) for p in state_of("housing").unlooked] == ["outside", "pocket driver", "pocket driven"]
    seen = (
        look("outside", state="as_found", lit=False),
        trial("dye-penetrant", "pocket *", outcome="cannot_tell"),
    )
    assert state_of("housing", *seen).unlooked == ()


def test_a_piece_is_closed_by_evidence_when_all_ways_of_a_concern_are() -> None:
    deep = [
        finding("scoring", "seal_face", piece="cover"),
        reading("score_depth", "seal_face", "0.2", piece="cover"),
    ]
    assert state_of("cover", *deep).closed_by_evidence
    assert not state_of("cover", deep[0]).closed_by_evidence


def test_a_piece_keeps_its_evidence_whatever_sits_there_now() -> None:
    other = Piece(id="cover-2", position="cover", origin="used")
    cracked = finding("crack", "flange", piece="cover")
    assert closed_reasons(state_of("cover", cracked, piece=other)) == []
    assert closed_reasons(state_of("cover", cracked, engine=pump_engine())) != []
