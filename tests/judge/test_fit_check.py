"""Fits through the whole path: readings, windows of the sheet or usual ones, chance inside, what to change.

A practitioner's numbers (common practice): a factory window of 0.0002 to 0.0022 in whose middle is 0.0012,
end play of 0.002 to 0.007 with 0.005 well inside, a cold lash 0.004 less than the hot one by its own sheet.
"""

from functools import cache
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from inspect_app.bundle import Bundle, read_core
from inspect_app.judge import fit_check
from inspect_app.model.fit_answer import Fit
from inspect_app.model.pieces import Piece
from inspect_app.rulebook.engine import Engine
from inspect_app.shipped import shipped
from tests.judge.fit_engine import (
    BOLTED,
    MICROMETER,
    SHELLS,
    VEE,
    book,
    checked,
    fit_of,
    journal,
    read,
    seat,
)

FACTORY = {"main_web.oil_clearance": {"minimum": "0.0002 in", "maximum": "0.0022 in"}}
SHELL = {"main_web.shell_wall": {"minimum": "0.0990 in", "maximum": "0.0990 in"}}


def clearance(value: str, rows: dict[str, dict[str, Any]] | None = None, **more: Any) -> Fit:
    """The clearance of main bearing 2, read directly."""
    item = read("block", "oil_clearance", "main_web 2", value, conditions=SHELLS, gauge=MICROMETER)
    return fit_of(checked(item, rows=rows or FACTORY, **more), "main-oil-clearance", "main web 2")


# ---- measured directly, against the maker's window ----


def test_the_middle_of_the_factory_window_is_at_50_percent() -> None:
    fit = clearance("0.0012")
    assert (fit.state, fit.known_by) == ("inside", "measured")
    assert fit.position_percent == pytest.approx(50)
    assert fit.p_inside == pytest.approx(1, abs=1e-9)
    assert fit.window is not None
    assert (fit.window.low, fit.window.high, fit.window.whose) == (0.0002, 0.0022, "maker")
    assert fit.changes == ()


@pytest.mark.parametrize(
    ("value", "state", "percent"),
    [
        ("0.0000", "out", -10),
        ("0.0002", "close", 0),
        ("0.0012", "inside", 50),
        ("0.0022", "close", 100),
        ("0.0025", "out", 115),
    ],
)
def test_below_at_and_above_the_ends_of_a_window(value: str, state: str, percent: float) -> None:
    fit = clearance(value)
    assert (fit.state, fit.position_percent) == (state, pytest.approx(percent))


def test_a_fit_at_an_end_of_its_window_is_as_likely_in_as_out_and_says_nothing() -> None:
    fit = clearance("0.0022")
    assert fit.p_inside == pytest.approx(0.5, abs=1e-6)
    assert (fit.says, fit.changes) == ("", ())


def test_a_fit_not_measured_is_open_and_says_what_to_do() -> None:
    fit = fit_of(checked(rows=FACTORY), "main-oil-clearance", "main web 2")
    assert (fit.state, fit.measured, fit.p_inside) == ("open", None, None)
    assert [item.what for item in fit.missing] == ["measure it, or the sizes of its parts"]


def test_a_reading_in_the_wrong_condition_is_told() -> None:
    item = read("block", "oil_clearance", "main_web 2", "0.0012", conditions=["shells in"])
    fit = fit_of(checked(item, rows=FACTORY), "main-oil-clearance", "main web 2")
    assert fit.state == "open"
    assert [item.what for item in fit.missing] == ["measure it again with its caps torqued"]


@pytest.mark.parametrize(
    ("value", "state"),
    [("0.0018", "out"), ("0.0020", "close"), ("0.005", "inside"), ("0.0070", "close"), ("0.0075", "out")],
)
def test_end_play_of_the_practitioner(value: str, state: str) -> None:
    rows = {"thrust_face.end_play": {"minimum": "0.002 in", "maximum": "0.007 in"}}
    item = read("crankshaft", "end_play", "thrust_face", value, gauge=MICROMETER)
    assert fit_of(checked(item, rows=rows), "crank-end-play", "thrust face").state == state


# ---- which window ----


def test_without_a_row_the_usual_window_counts_and_says_so() -> None:
    fit = clearance("0.0012", {"main_web.shell_wall": {"nominal": "0.099 in"}})
    assert fit.window is not None
    assert (fit.window.low, fit.window.high, fit.window.whose) == (0.001, 0.0025, "pack")
    assert fit.window.basis.startswith("common practice")


@pytest.mark.parametrize(("standard", "high"), [("rebuild", 0.0022), ("freshen", 0.0034), ("run", 0.0038)])
def test_a_wear_limit_widens_the_window_for_what_only_runs(standard: Any, high: float) -> None:
    # 0.0038 less a quarter of 0.0038 - 0.0022.
    rows = {"main_web.oil_clearance": FACTORY["main_web.oil_clearance"] | {"wear_limit": "0.0038 in"}}
    fit = clearance("0.0012", rows, standard=standard)
    assert fit.window is not None
    assert (fit.window.low, fit.window.high) == (0.0002, pytest.approx(high))


def test_a_usual_window_never_reaches_past_the_makers_wear_limit() -> None:
    fit = clearance("0.0012", {"main_web.oil_clearance": {"wear_limit": "0.0020 in"}})
    assert fit.window is not None
    assert (fit.window.low, fit.window.high, fit.window.whose) == (0.001, 0.002, "pack")


@pytest.mark.parametrize(
    ("row", "standard", "low", "high"),
    [
        ({"wear_limit": "0.0060 in"}, "run", 0.001, 0.006),
        ({"maximum": "0.0030 in"}, "rebuild", 0.001, 0.003),
        ({"minimum": "0.0015 in", "wear_limit": "0.0060 in"}, "run", 0.0015, 0.006),
        ({"wear_limit": "0.0008 in"}, "run", None, 0.0008),
    ],
)
def test_a_wear_limit_alone_does_not_allow_no_clearance_at_all(
    row: dict[str, str], standard: Any, low: float | None, high: float
) -> None:
    fit = clearance("0.0002", {"main_web.oil_clearance": row}, standard=standard)
    assert fit.window is not None
    assert (fit.window.low, fit.window.high, fit.window.whose) == (low, high, "maker")
    assert fit.window.basis.startswith("its other end: common practice") == (low == 0.001)
    assert (fit.state == "out") == (low is not None)


def test_a_ring_gap_window_is_a_share_of_its_bore() -> None:
    # 0.004 and 0.008 of 3.5 in: 0.014 to 0.028 in.
    item = read("block", "ring_gap_top", "bore 1", "0.021", gauge="straightedge and feeler")
    fit = fit_of(checked(item), "top-ring-gap", "bore 1")
    assert fit.window is not None
    assert (fit.window.low, fit.window.high) == (pytest.approx(0.014), pytest.approx(0.028))
    assert (fit.state, fit.position_percent) == ("inside", pytest.approx(50))


def test_a_window_with_one_end_has_no_position_but_a_chance() -> None:
    items = [
        read("cylinder_head 1", "intake_valve_to_piston", f"chamber {n}", value, gauge=MICROMETER)
        for n, value in ((1, "0.0700"), (2, "0.0800"), (3, "0.0900"))
    ]
    found = [fit_of(checked(*items), "intake-valve-to-piston", f"chamber {n}") for n in (1, 2, 3, 4)]
    assert [fit.state for fit in found] == ["out", "close", "inside", "open"]
    assert {fit.position_percent for fit in found} == {None}
    assert found[0].changes[0].to_middle is None
    assert found[0].changes[0].least == pytest.approx(0.010)


# ---- from parts ----


def test_a_clearance_from_seat_shells_and_journal() -> None:
    # 2.6995 - 2 * 0.0990 - 2.5000 = 0.0015 in: 65 % of 0.0002 to 0.0022.
    items = [*seat("main_web 2", "2.6995"), *journal("main_journal 2", "2.5000")]
    fit = fit_of(checked(*items, rows=FACTORY | SHELL), "main-oil-clearance", "main web 2")
    assert (fit.state, fit.known_by, fit.spread) == ("inside", "parts", None)
    assert fit.measured is not None
    assert fit.measured.value == pytest.approx(0.0015)
    assert fit.position_percent == pytest.approx(65)


def test_shells_that_were_read_count_twice_and_their_doubt_too() -> None:
    wall = read("block", "shell_wall", "main_web 2", "0.0990", gauge=MICROMETER)
    items = [*seat("main_web 2", "2.6995"), *journal("main_journal 2", "2.5000")]
    by_sheet = fit_of(checked(*items, rows=FACTORY | SHELL), "main-oil-clearance", "main web 2")
    by_reading = fit_of(checked(*items, wall, rows=FACTORY), "main-oil-clearance", "main web 2")
    assert by_sheet.measured is not None
    assert by_reading.measured is not None
    assert by_reading.measured.value == by_sheet.measured.value
    assert by_reading.measured.u > by_sheet.measured.u


def test_a_new_shell_anywhere_in_its_range_adds_that_doubt() -> None:
    # Half of 0.0004 in, rectangular, twice over: 2 * 0.0002 / sqrt(3) = 0.00023 in.
    rows = FACTORY | {"main_web.shell_wall": {"minimum": "0.0988 in", "maximum": "0.0992 in"}}
    items = [*seat("main_web 2", "2.6995"), *journal("main_journal 2", "2.5000")]
    fit = fit_of(checked(*items, rows=rows), "main-oil-clearance", "main web 2")
    exact = fit_of(checked(*items, rows=FACTORY | SHELL), "main-oil-clearance", "main web 2")
    assert fit.measured is not None
    assert exact.measured is not None
    assert fit.measured.u**2 - exact.measured.u**2 == pytest.approx((0.0004 / 3**0.5) ** 2, rel=1e-6)


def test_parts_out_of_shape_are_told_from_closest_to_widest() -> None:
    """A tapered seat: 0.0010 at the front, 0.0020 at the rear; the end nearer to leaving decides."""
    items = [*seat("main_web 2", "2.6990", "2.7000"), *journal("main_journal 2", "2.5000")]
    fit = fit_of(checked(*items, rows=FACTORY | SHELL), "main-oil-clearance", "main web 2")
    assert fit.spread == (pytest.approx(0.0010), pytest.approx(0.0020))
    assert fit.measured is not None
    assert fit.measured.value == pytest.approx(0.0020)
    assert fit.position_percent == pytest.approx(90)


def test_parts_out_of_shape_by_more_than_the_window_have_no_single_cure() -> None:
    items = [*seat("main_web 2", "2.6980", "2.7010"), *journal("main_journal 2", "2.5000")]
    fit = fit_of(checked(*items, rows=FACTORY | SHELL), "main-oil-clearance", "main web 2")
    assert (fit.state, fit.changes) == ("out", ())
    assert "out of shape by more than the window is wide" in fit.says


def test_half_read_parts_leave_the_fit_open_and_name_what_is_missing() -> None:
    fit = fit_of(checked(*journal("main_journal 2", "2.5000"), rows=FACTORY), "main-oil-clearance", "web 2")
    assert fit.state == "open"
    assert [item.place for item in fit.missing] == ["main web 2", "main web 2"]
    assert "seat" in fit.missing[0].what
    assert "shell" in fit.missing[1].what


def test_a_direct_reading_goes_before_one_from_parts() -> None:
    items = [*seat("main_web 2", "2.7000"), *journal("main_journal 2", "2.5000")]
    direct = read("block", "oil_clearance", "main_web 2", "0.0012", conditions=SHELLS)
    fit = fit_of(checked(*items, direct, rows=FACTORY | SHELL), "main-oil-clearance", "main web 2")
    assert fit.known_by == "measured"
    assert fit.measured is not None
    assert fit.measured.value == pytest.approx(0.0012)


# ---- what to change ----


def test_a_fit_that_is_too_wide_says_what_to_change_which_way_and_how_much() -> None:
    # 0.0030 in: 0.0008 too wide, 0.0018 from the middle.
    items = [*seat("main_web 2", "2.7010"), *journal("main_journal 2", "2.5000")]
    fit = fit_of(checked(*items, rows=FACTORY | SHELL), "main-oil-clearance", "main web 2")
    assert (fit.state, fit.says[:8]) == ("out", "Too wide")
    (shell,) = [change for change in fit.changes if "shell" in change.what]
    assert (shell.way, shell.by_cutting) == ("larger", False)
    assert (shell.least, shell.to_middle) == (pytest.approx(0.0004), pytest.approx(0.0009))
    sizes = sorted((c.way, round(c.least, 6), round(c.to_middle or 0, 6)) for c in fit.changes)
    assert sizes == [("larger", 0.0004, 0.0009), ("larger", 0.0008, 0.0018), ("smaller", -0.0008, -0.0018)]


def test_a_fit_that_is_too_close_cuts_the_journal() -> None:
    items = [*seat("main_web 2", "2.6980"), *journal("main_journal 2", "2.5001")]
    fit = fit_of(checked(*items, rows=FACTORY | SHELL), "main-oil-clearance", "main web 2")
    (cut,) = [c for c in fit.changes if "journal" in c.how]
    assert (cut.way, cut.by_cutting, cut.least) == ("smaller", True, pytest.approx(-0.0003))
    assert cut.how.startswith("polish the journal")


@given(st.integers(-40, 120))
@settings(deadline=None, max_examples=12)
def test_the_change_told_brings_the_fit_just_inside(ten_thousandths: int) -> None:
    """Whatever the seat, changing it by what is told puts the fit on the end of its window, not past it."""

    def with_seat(size: float) -> Fit:
        items = [*seat("main_web 2", f"{size:.7f}"), *journal("main_journal 2", "2.5000")]
        return fit_of(checked(*items, rows=FACTORY | SHELL), "main-oil-clearance", "main web 2")

    size = 2.6980 + ten_thousandths / 10000
    fit = with_seat(size)
    for change in (c for c in fit.changes if "seat" in c.what):
        after = with_seat(size + change.least)
        assert after.position_percent is not None
        assert -1e-6 <= after.position_percent <= 100 + 1e-6
        assert after.changes == ()


@given(st.integers(0, 100), st.integers(0, 100))
@settings(deadline=None, max_examples=8)
def test_the_chance_is_highest_in_the_middle_and_falls_to_both_sides(one: int, other: int) -> None:
    nearer, further = sorted((abs(one - 50), abs(other - 50)))
    found = [clearance(f"{0.0002 + (50 + away) * 0.00002:.7f}") for away in (nearer, further)]
    assert found[0].p_inside is not None
    assert found[1].p_inside is not None
    assert found[0].p_inside >= found[1].p_inside
    mirrored = clearance(f"{0.0002 + (50 - further) * 0.00002:.7f}")
    assert mirrored.p_inside == pytest.approx(found[1].p_inside, abs=1e-6)


# ---- which place goes with which ----


def rod_fit(counts: dict[str, int], cylinder: int, journal_number: int, **more: Any) -> Fit:
    """The rod clearance from parts, of one cylinder, with the journal that it should run on read."""
    rows = {"big_end.shell_wall": {"minimum": "0.06 in", "maximum": "0.06 in"}}
    items = [
        *journal(f"rod_journal {journal_number}", "2.1000"),
        *(
            read(f"rod {cylinder}", "diameter", "big_end", "2.2215", station=s, direction="vertical",
                 conditions=["bolts torqued", "no shells"])
            for s in ("front", "rear")
        ),
    ]  # fmt: skip
    answer = checked(*items, rows=rows, counts=counts, **more)
    return fit_of(answer, "rod-oil-clearance", f"rod {cylinder}, big end")


def test_as_many_journals_as_cylinders_go_by_number() -> None:
    fit = rod_fit({"cylinders": 4, "mains": 5, "rod_journals": 4, "heads": 1}, 3, 3)
    assert fit.measured is not None
    assert fit.measured.value == pytest.approx(0.0015)


@pytest.mark.parametrize(("cylinder", "number"), [(1, 1), (2, 1), (3, 2), (4, 2), (6, 3)])
def test_two_rods_across_from_each_other_share_a_journal(cylinder: int, number: int) -> None:
    fit = rod_fit(VEE, cylinder, number, conventions={"cylinder_rows": "1 3 5 / 2 4 6"})
    assert (fit.known_by, fit.state) == ("parts", "inside")


def test_a_v_whose_sheet_does_not_list_its_banks_says_what_to_add() -> None:
    fit = rod_fit(VEE, 3, 2)
    assert fit.state == "open"
    assert fit.missing[0].what == (
        "the sheet does not say which cylinder stands in which bank: add the convention cylinder_rows, "
        'such as "1 3 5 / 2 4 6"'
    )


def test_a_crown_goes_with_the_gasket_of_its_bank() -> None:
    """Deck clearance and gasket make the gap above the crown; the right bank has the thicker gasket."""
    items = [
        read("cylinder_head left", "gasket_thickness", "head_face", "0.030", gauge=MICROMETER),
        read("cylinder_head right", "gasket_thickness", "head_face", "0.050", gauge=MICROMETER),
        *(read(f"piston {n}", "deck_clearance", "crown", "0.005", gauge=MICROMETER) for n in (1, 2)),
    ]
    names = {"heads": ("left", "right")}
    answer = checked(*items, counts=VEE, names=names, conventions={"cylinder_rows": "1 3 5 / 2 4 6"})
    left, right = (fit_of(answer, "squeeze-gap", f"Piston {n}, crown").measured for n in (1, 2))
    assert left is not None
    assert right is not None
    assert (left.value, right.value) == (pytest.approx(0.035), pytest.approx(0.055))


# ---- compared across the set ----


@pytest.mark.parametrize(("lowest", "state"), [("0.0130", "inside"), ("0.0150", "close"), ("0.0200", "out")])
def test_crowns_are_compared_and_the_odd_one_named(lowest: str, state: str) -> None:
    """Largest less smallest against 0.005 in: 0.003, 0.005, 0.010."""
    items = [
        read(f"piston {n}", "deck_clearance", "crown", lowest if n == 3 else "0.0100", gauge=MICROMETER)
        for n in (1, 2, 3, 4)
    ]
    fit = fit_of(checked(*items), "deck-clearance-alike", "all compared")
    assert fit.state == state
    assert ("Largest: piston 3, crown." in fit.says) == (state != "inside")


def test_comparing_waits_for_every_place() -> None:
    items = [read(f"piston {n}", "deck_clearance", "crown", "0.0100") for n in (1, 2, 3)]
    fit = fit_of(checked(*items), "deck-clearance-alike", "all compared")
    assert fit.state == "open"
    assert [item.place for item in fit.missing] == ["piston 4, crown"]


def test_weights_are_compared_in_grams() -> None:
    weights = {1: "612", 2: "613", 3: "611", 4: "622"}
    items = [read(f"rod {n}", "weight", "beam", value, unit="g") for n, value in weights.items()]
    fit = fit_of(checked(*items), "rod-weights-alike", "all compared")
    assert fit.measured is not None
    assert (fit.state, fit.measured.value, fit.measured.unit) == ("out", pytest.approx(11), "g")


# ---- lash ----


def lash(rows: dict[str, dict[str, Any]], valve: str, value: str | None = None) -> Fit:
    items = [read("cylinder_head 1", f"{valve}_lash", "chamber 1", value)] if value else []
    return fit_of(checked(*items, rows=rows), f"{valve}-lash", "chamber 1")


IRON = {
    "chamber.intake_lash_hot": {"nominal": "0.012 in"},
    "chamber.exhaust_lash_hot": {"nominal": "0.014 in"},
    "chamber.intake_lash_cold_less_hot": {"nominal": "-0.004 in"},
    "chamber.exhaust_lash_cold_less_hot": {"nominal": "-0.004 in"},
}


@pytest.mark.parametrize(("valve", "cold"), [("intake", 0.008), ("exhaust", 0.010)])
def test_the_cold_lash_follows_from_the_sheets_own_shift(valve: str, cold: float) -> None:
    fit = lash(IRON, valve)
    assert fit.set_to is not None
    assert (fit.set_to.value, fit.set_to.unit) == (pytest.approx(cold), "in")
    assert fit.window is not None
    assert (fit.window.low, fit.window.high) == (pytest.approx(cold - 0.001), pytest.approx(cold + 0.001))
    assert fit.window.whose == "maker"


@pytest.mark.parametrize("lacking", ["chamber.intake_lash_cold_less_hot", "chamber.intake_lash_hot"])
def test_without_the_sheets_shift_no_cold_lash_is_proposed(lacking: str) -> None:
    fit = lash({name: row for name, row in IRON.items() if name != lacking}, "intake", "0.008")
    assert (fit.state, fit.set_to, fit.window, fit.p_inside) == ("open", None, None, None)
    assert fit.missing[-1].what.startswith("none proposed: the sheet gives no cold setting and no shift")
    assert "Ask the maker" in fit.missing[-1].what


def test_a_cold_setting_of_the_sheet_needs_no_shift() -> None:
    fit = lash({"chamber.intake_lash_cold": {"nominal": "0.010 in"}}, "intake", "0.0100")
    assert fit.set_to is not None
    assert fit.set_to.value == pytest.approx(0.010)
    assert fit.position_percent == pytest.approx(50)


def test_a_cold_range_of_the_sheet_is_the_window() -> None:
    fit = lash(
        {"chamber.intake_lash_cold": {"minimum": "0.006 in", "maximum": "0.012 in"}}, "intake", "0.009"
    )
    assert fit.window is not None
    assert (fit.window.low, fit.window.high) == (0.006, 0.012)


def test_hydraulic_lifters_have_a_preload_instead_of_a_lash() -> None:
    answer = checked(rows={"chamber.lifter_preload": {"minimum": "0.020 in", "maximum": "0.040 in"}})
    told = {fit.fit for fit in answer.fits}
    assert "lifter-preload" in told
    assert not {"intake-lash", "exhaust-lash"} & told
    assert "lifter-preload" not in {fit.fit for fit in checked().fits}


# ---- of every machine only what it has ----


def test_a_fit_that_only_some_engines_have_is_told_where_the_sheet_or_a_reading_names_it() -> None:
    assert "liner-protrusion" not in {fit.fit for fit in checked().fits}
    by_row = checked(rows={"bore.liner_protrusion": {"minimum": "0.001 in", "maximum": "0.004 in"}})
    by_reading = checked(read("block", "liner_protrusion", "bore 1", "0.002"))
    for answer in (by_row, by_reading):
        assert {"liner-protrusion", "liners-alike"} <= {fit.fit for fit in answer.fits}


def test_rings_of_one_groove_are_told_apart() -> None:
    items = [
        read("piston 1", "side_clearance", "ring_lands", "0.0025", station="top", conditions=["new ring"]),
        read("piston 1", "side_clearance", "ring_lands", "0.0006", station="second", conditions=["new ring"]),
    ]
    answer = checked(*items)
    top, second = (fit_of(answer, f"{name}-ring-side", "Piston 1, ring lands") for name in ("top", "second"))
    assert (top.state, second.state) == ("inside", "out")


def test_a_pin_is_told_from_its_parts() -> None:
    items = [
        read("piston 1", quantity, "pin_boss", size, station=s, gauge=MICROMETER)
        for quantity, size in (("diameter", "0.9275"), ("pin_diameter", "0.9270"))
        for s in ("front", "rear")
    ]
    fit = fit_of(checked(*items), "pin-clearance", "Piston 1, pin boss")
    assert (fit.known_by, fit.position_percent) == ("parts", pytest.approx(50))


def test_side_clearance_of_a_rod_is_read_by_the_leaf() -> None:
    item = read("rod 2", "side_clearance", "big_end", "0.020", gauge=MICROMETER)
    fit = fit_of(checked(item), "rod-side-clearance", "rod 2, big end")
    assert (fit.state, fit.changes[0].way, fit.changes[0].least) == ("out", "larger", pytest.approx(0.006))


def test_two_rods_on_one_pin_have_a_wider_window() -> None:
    inline = fit_of(checked(), "rod-side-clearance", "rod 2, big end").window
    vee = fit_of(checked(counts=VEE), "rod-side-clearance", "rod 2, big end").window
    assert inline is not None
    assert vee is not None
    assert (inline.low, inline.high) == (0.006, 0.014)
    assert (vee.low, vee.high, vee.whose) == (0.010, 0.020, "pack")


def test_nothing_is_rounded_before_it_is_compared() -> None:
    """0.00220004 in shows as 0.0022 and lies past it: the position says so."""
    item = read("block", "oil_clearance", "main_web 2", "0.00220004", conditions=SHELLS)
    fit = fit_of(checked(item, rows=FACTORY), "main-oil-clearance", "main web 2")
    assert fit.position_percent is not None
    assert fit.position_percent > 100
    assert fit.changes != ()


def test_bolts_must_be_torqued_where_a_clearance_is_read() -> None:
    item = read("rod 1", "oil_clearance", "big_end", "0.0015", conditions=BOLTED, gauge=MICROMETER)
    loose = read("rod 2", "oil_clearance", "big_end", "0.0015", conditions=["shells in"], gauge=MICROMETER)
    answer = checked(item, loose)
    states = [fit_of(answer, "rod-oil-clearance", f"rod {n}, big end").state for n in (1, 2)]
    assert states == ["inside", "open"]


# ---- work that comes first ----


@cache
def demo(name: str) -> Bundle:
    return read_core(shipped("demo_cores") / name)


def demo_fit(fit: str, place: str, *pieces: Piece) -> Fit:
    """A fit of the demo four, with pieces put in."""
    bundle = demo("brackwater-four")
    core = bundle.core.model_copy(update={"pieces": (*bundle.core.pieces, *pieces)})
    return fit_of(fit_check(core, Engine(book(), bundle.sheet)), fit, place)


def test_a_fit_of_parts_that_work_will_change_waits_for_the_work() -> None:
    fit = demo_fit("piston-clearance", "bore 1")
    assert [item.what for item in fit.missing] == [
        "first the block is worked on: bore to size 0.020 in",
        "first the piston is replaced",
    ]
    assert (fit.state, fit.changes, fit.says) == ("open", (), "")
    assert fit.measured is not None, "what was read is told all the same"


def test_a_part_that_was_replaced_is_waited_for_no_longer() -> None:
    waits = demo_fit("crank-end-play", "thrust face")
    assert [item.what for item in waits.missing] == ["first the crankshaft is replaced", "measure it"]
    other = Piece(id="crankshaft-2", position="crankshaft", origin="exchange")
    assert [item.what for item in demo_fit("crank-end-play", "thrust face", other).missing] == ["measure it"]


def test_a_fit_waits_for_the_lowest_way_too_where_that_takes_metal_off() -> None:
    """Nobody bores the six yet, but its bores will be honed, and pistons are fitted to honed bores."""
    bundle = demo("brackwater-vee")
    fit = fit_of(fit_check(bundle.core, Engine(book(), bundle.sheet)), "piston-clearance", "bore 1")
    assert [item.what for item in fit.missing] == ["first the block is worked on: hone"]
    assert (fit.state, fit.changes) == ("open", ())
    assert fit.measured is not None


def test_a_fit_waits_for_work_on_what_it_rests_on() -> None:
    fit = demo_fit("squeeze-gap", "Piston 1, crown")
    assert "first the cylinder head is worked on: mill" in [item.what for item in fit.missing]


def test_work_that_changes_other_sizes_is_not_waited_for() -> None:
    """The crankshaft is exchanged and the bores are cut; neither is beside a ring's groove."""
    new = Piece(id="new", position="piston 1", origin="new")
    fit = demo_fit("top-ring-side", "Piston 1, ring lands", new)
    assert [item.what for item in fit.missing] == ["measure it"]
