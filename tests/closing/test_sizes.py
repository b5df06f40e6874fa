"""Ladders: plain ways, one size common to a set with and without exceptions, metal that must remain."""

from pathlib import Path

import pytest

from inspect_app.closing.ladders import remaining, size_ways
from inspect_app.closing.piece_state import FLOOR
from inspect_app.closing.reasons import closed_reasons
from inspect_app.model.evidence import Evidence
from inspect_app.model.pieces import Mark, OperationDone, Piece
from inspect_app.model.places import Place
from inspect_app.rulebook.engine import Engine
from tests.support import (
    engine_with,
    finding,
    journal,
    look,
    pocket,
    pump_book,
    pump_sheet,
    reading,
    report,
    state_of,
    ways_of,
)

STANDARD = Piece(
    id="shaft driver", position="shaft driver", marks=(Mark(text="STD", quantity="diameter", size="0"),)
)
NO_SLEEVE = """
[[rule]]
id = "pocket-too-pitted-for-a-sleeve"
part = "housing"
each = ["pocket"]
when = [{ finding = "pitting", zone = "floor" }]
closes = ["pockets.sleeve"]
why = "x"
plain = "x"
basis = "x"
  [[rule.example]]
  then = "open"
"""


def housing(
    driver: str = "40.020", driven: str = "40.020", *more: Evidence, rim: str | None = "9.000"
) -> dict[str, str]:
    """Ways of a housing seen all over, with these pockets and this rim at both."""
    return ways_of(state_of("housing", *bores(driver, driven, rim), *more))


def bores(driver: str, driven: str, rim: str | None = "9.000") -> list[Evidence]:
    rims = [thickness(f"pocket {name}", rim) for name in ("driver", "driven") if rim is not None]
    return [look(), *pocket("pocket driver", driver), *pocket("pocket driven", driven), *rims]


def thickness(place: str, value: str, **more: str) -> Evidence:
    return reading("rim", place, value, gauge="outside-micrometer", **more)


def test_a_sound_set_leaves_every_way_proven() -> None:
    assert housing() == {"as_is": "proven", "0.20 mm": "proven", "0.40 mm": "proven"}


def test_one_place_that_fails_takes_the_exception() -> None:
    state = state_of("housing", *bores("40.080", "40.020"))
    assert ways_of(state)["as_is"] == "proven"
    (ladder,) = state.real.ladders
    failing = [str(place) for i, place in enumerate(ladder.places) if ladder.exceptions[0, i, FLOOR]]
    assert failing == ["pocket driver"]


def test_more_places_than_may_be_excepted_close_the_way() -> None:
    assert housing("40.080", "40.080")["as_is"] == "closed"


def test_a_place_that_may_fail_beside_one_that_does_leaves_the_way_open() -> None:
    half = [look(), *pocket("pocket driver", "40.080"), *pocket("pocket driven", "40.020")[1:]]
    assert ways_of(state_of("housing", *half))["as_is"] == "open"


def test_a_failing_place_that_cannot_take_the_exception_closes_the_way(tmp_path: Path) -> None:
    engine = engine_with(tmp_path, more=NO_SLEEVE)
    pitted = finding("pitting", "pocket driver/floor")
    assert (
        ways_of(state_of("housing", *bores("40.080", "40.020"), pitted, engine=engine))["as_is"] == "closed"
    )
    assert (
        ways_of(state_of("housing", *bores("40.020", "40.080"), pitted, engine=engine))["as_is"] == "proven"
    )


# Needed: wear * (1 to 2) + 0.02, one place worn, the other excepted at most; both are worn here alike.
@pytest.mark.parametrize(
    ("worn", "first", "second"),
    [
        ("40.090", "proven", "proven"),  # 0.11 to 0.20: exactly the first size
        ("40.091", "open", "proven"),  # 0.111 to 0.202
        ("40.180", "open", "proven"),  # 0.20 to 0.38
        ("40.181", "closed", "proven"),  # 0.201 to 0.382
        ("40.380", "closed", "open"),  # 0.40 to 0.78
        ("40.381", "closed", "closed"),  # 0.401
    ],
)
def test_a_size_is_proven_from_twice_the_wear_and_closed_from_once(
    worn: str, first: str, second: str
) -> None:
    ways = housing(worn, worn)
    assert (ways["0.20 mm"], ways["0.40 mm"]) == (first, second)


def test_unknown_scores_leave_a_size_open_and_read_ones_decide() -> None:
    unseen = [*pocket("pocket driver", "40.080"), *pocket("pocket driven", "40.080")]
    assert ways_of(state_of("housing", *unseen))["0.20 mm"] == "open"
    scored = [finding("scoring", f"pocket {name}/wall") for name in ("driver", "driven")]
    deep = [reading("score_depth", f"pocket {name}", "0.080") for name in ("driver", "driven")]
    # 0.08 * (1 to 2) + 2 * 0.08 + 0.02 = 0.26 to 0.34.
    assert housing("40.080", "40.080", *scored, *deep)["0.20 mm"] == "closed"
    assert housing("40.080", "40.080", *scored)["0.20 mm"] == "open"


def test_a_rule_on_any_size_closes_every_size_and_not_the_first_rung() -> None:
    told = report("not worth boring", "rim 4 mm")
    assert housing("40.020", "40.020", told) == {"as_is": "proven", "0.20 mm": "closed", "0.40 mm": "closed"}


def test_a_size_closed_by_a_rule_is_not_said_to_keep_too_little_metal() -> None:
    state = state_of("housing", *bores("40.020", "40.020"), report("not worth boring", "rim 4 mm"))
    assert {closed.rule for closed in closed_reasons(state)} == {"boring-not-worth-it"}


def test_without_an_exception_one_failing_place_closes_the_way_for_all() -> None:
    round_ones = [*journal("journal 1", "18.000", "17.990"), *journal("journal 2", "18.000", "17.970")]
    state = state_of("shaft driver", *round_ones, piece=STANDARD)
    # Out-of-round 0.01 and 0.03 against 0.02; needed at most 0.03 * 2 + 0.02 = 0.08.
    assert ways_of(state) == {"as_is": "closed", "0.25 mm": "proven", "0.50 mm": "proven"}


def test_without_the_stamped_size_no_size_is_proven() -> None:
    worn = [*journal("journal 1", "18.000", "17.990"), *journal("journal 2", "18.000", "17.970")]
    assert ways_of(state_of("shaft driver", *worn)) == {
        "as_is": "closed",
        "0.25 mm": "open",
        "0.50 mm": "open",
    }


def test_a_size_already_cut_counts_from_there() -> None:
    stamped = STANDARD.model_copy(update={"marks": (Mark(text="025", quantity="diameter", size="0.25 mm"),)})
    worn = [r for n in (1, 2) for r in journal(f"journal {n}", "17.750", "17.720")]
    # Step 0.25 and wear 0.03: 0.25 + 0.03 * (1 to 2) + 0.02 = 0.30 to 0.33.
    assert ways_of(state_of("shaft driver", *worn, piece=stamped)) == {
        "as_is": "closed",
        "0.25 mm": "closed",
        "0.50 mm": "proven",
    }


# At 0.40 mm the rim loses 0.5 * 0.40 = 0.20 of its thickness and must keep 6 mm, guarded: the
# micrometer's u is sqrt((0.001 / sqrt 12)^2 + 0.001^2 + (0.002 / sqrt 3)^2) = 0.00155, 1.645 u = 0.0026.
@pytest.mark.parametrize(
    ("rim", "state"),
    [
        ("6.203", "proven"),
        ("6.202", "open"),
        ("6.200", "open"),
        ("6.198", "open"),
        ("6.197", "closed"),
        (None, "open"),
    ],
)
def test_metal_that_must_remain_is_proven_and_closed_only_past_the_guard(rim: str | None, state: str) -> None:
    ways = housing(rim=rim)
    assert ways["0.40 mm"] == state
    # The pack asks only after the first size.
    assert ways["0.20 mm"] == "proven"


def test_a_thin_rim_at_one_pocket_is_excepted_and_said_at_the_thinnest_of_two() -> None:
    one = [
        *bores("40.020", "40.020", None),
        thickness("pocket driver", "6.150"),
        thickness("pocket driven", "9.000"),
    ]
    assert ways_of(state_of("housing", *one))["0.40 mm"] == "proven"
    two = [
        *bores("40.020", "40.020", None),
        thickness("pocket driver", "6.150"),
        thickness("pocket driven", "6.110"),
    ]
    (closed,) = closed_reasons(state_of("housing", *two))
    assert (closed.closes, closed.place) == ("pockets.0.40 mm", "pocket driven")
    assert closed.why == "Pocket driven would keep too little metal at 0.40 mm."
    assert closed.measured is not None
    assert closed.measured.value == 5.91


def test_a_rim_measured_too_thin_counts_at_the_size_that_asks_for_no_reading() -> None:
    ways = housing(rim="6.050")
    assert ways["0.20 mm"] == "closed"


def test_metal_already_taken_is_not_taken_again() -> None:
    bored = Piece(
        id="housing", position="housing", operations=(OperationDone(operation="bore-pocket", size="0.20 mm"),)
    )
    state = state_of("housing", thickness("pocket driver", "6.000", state="after 1"), piece=bored)
    concern = state.real.ladders[0].concern
    last = size_ways(state.scene, concern)[-1]
    # From 0.20 to 0.40 the rim loses 0.5 * 0.20 = 0.10.
    assert remaining(state.scene, concern, last, Place("pocket", "driver")).lo == pytest.approx(5.9)


def test_a_wall_in_inches_worked_by_hand() -> None:
    # Wall 0.180 in unworn, bored 0.020 over: 0.180 - 0.020 / 2 = 0.170 in.
    engine = Engine(
        pump_book(),
        pump_sheet(quantities={"pocket.diameter": {"nominal": "4.000 in", "sizes": ["0.020 in"]}}),
    )
    unworn = reading("diameter", "pocket driver", "4.000", "unworn", unit="in")
    wall = reading("rim", "pocket driver", "0.180", unit="in")
    state = state_of("housing", unworn, wall, engine=engine)
    concern = state.real.ladders[0].concern
    left = remaining(state.scene, concern, size_ways(state.scene, concern)[1], Place("pocket", "driver"))
    assert left.lo / 25.4 == pytest.approx(0.170, abs=1e-9)


SCORED = finding("scoring", "seal_face", piece="cover")


def _depth(value: str) -> Evidence:
    return reading("score_depth", "seal_face", value, piece="cover")


@pytest.mark.parametrize(
    ("items", "as_is", "lap"),
    [
        ([], "open", "open"),
        ([look(piece="cover")], "proven", "proven"),
        ([SCORED], "closed", "open"),
        ([SCORED, _depth("0.099")], "closed", "proven"),
        ([SCORED, _depth("0.100")], "closed", "proven"),
        ([SCORED, _depth("0.101")], "closed", "closed"),
        ([_depth("0.101")], "open", "open"),
        ([look(piece="cover"), _depth("0.101")], "proven", "proven"),
    ],
)
def test_each_rung_of_a_plain_ladder_is_closed_by_its_own_rules(
    items: list[Evidence], as_is: str, lap: str
) -> None:
    assert ways_of(state_of("cover", *items)) == {"as_is": as_is, "lap": lap}
