from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from inspect_app.model.answer import CloseCall
from inspect_app.model.answer_figures import LimitShown, Measured
from inspect_app.pictures.limit_bar import MARGIN, NARROW, WIDTH, Bar, bar_of, bar_scale, limit_bar, spoken
from inspect_app.pictures.tokens import DARK, LIGHT
from tests.pictures.support import NASTY, SPACE, at, of_class, outside, parsed, texts
from tests.ui import made

LEFT, RIGHT = MARGIN, WIDTH - MARGIN
WEAR = Bar("Wear, bore 2", "in", 0.0077, 0.0002, upper=0.006, note="the shop's limit")
WINDOW = Bar("Clearance, main 3", "in", 0.0019, 0.0002, lower=0.0002, upper=0.0022)


def test_needle_limit_and_hatch_stand_where_the_scale_says() -> None:
    drawing = limit_bar(WEAR, LIGHT)
    step = (RIGHT - LEFT) / 0.010
    (needle,), (limit,), (beyond,) = (of_class(drawing, name) for name in ("needle", "limit", "beyond"))
    assert at(needle, "x1", "x2") == pytest.approx([LEFT + 0.0077 * step] * 2, abs=0.01)
    assert at(limit, "x1", "x2") == pytest.approx([LEFT + 0.006 * step] * 2, abs=0.01)
    x, width = at(beyond, "x", "width")
    assert (x, x + width) == pytest.approx((LEFT + 0.006 * step, RIGHT), abs=0.02)


def test_words_say_title_limit_reading_unit_and_whose() -> None:
    drawn = texts(limit_bar(WEAR, LIGHT))
    assert {"Wear, bore 2", "limit 0.0060", "read 0.0077", "0.000", "0.010"} <= set(drawn)
    assert drawn[-1] == "in; the shop's limit; capped line: standard uncertainty"
    assert spoken(WEAR) == "0.0077 ± 0.0002 in, limit 0.0060 in"


def test_a_window_is_hatched_at_both_ends() -> None:
    drawing = limit_bar(WINDOW, DARK)
    low, high = of_class(drawing, "beyond")
    on = bar_scale(WINDOW)
    assert at(low, "x", "width") == pytest.approx((LEFT, on.at(0.0002) - LEFT), abs=0.01)
    assert at(high, "x", "width") == pytest.approx((on.at(0.0022), RIGHT - on.at(0.0022)), abs=0.01)
    assert {"limit 0.0002", "limit 0.0022", "read 0.0019"} <= set(texts(drawing))
    assert spoken(WINDOW) == "0.0019 ± 0.0002 in, limit 0.0002 and 0.0022 in"


def test_a_limit_below_is_hatched_below() -> None:
    (beyond,) = of_class(limit_bar(Bar("Wall", "in", 0.121, 0, lower=0.13), LIGHT), "beyond")
    assert at(beyond, "x") == (LEFT,)


def test_half_known_figures_say_which_way_they_can_still_go() -> None:
    for known, said in (("at_least", "read at least 0.0025"), ("at_most", "read at most 0.0025")):
        bar = Bar("Out-of-round", "in", 0.0025, upper=0.002, known=known)  # type: ignore[arg-type]
        assert said in texts(limit_bar(bar, LIGHT))
    assert limit_bar(Bar("X", "in", 0.0025, upper=0.002, known="at_least"), LIGHT).count("<polygon") == 2


def test_nothing_read_has_no_needle_and_says_so() -> None:
    drawing = limit_bar(Bar("End play", "mm", None, lower=0.05, upper=0.18), LIGHT)
    assert "not read" in texts(drawing)
    assert of_class(drawing, "needle") == []
    assert (
        spoken(Bar("End play", "mm", None, lower=0.05, upper=0.18)) == "not read mm, limit 0.050 and 0.180 mm"
    )


def test_a_reason_past_its_limit_becomes_a_bar_with_the_right_side_hatched() -> None:
    bar = bar_of(made.closed(), "Taper")
    assert bar == Bar("Taper", "in", 0.0007, 0.0001, upper=0.0005, note="the rule pack's limit")
    thin = made.closed(
        measured=Measured(value=0.12, unit="in", u=0.002), limit=LimitShown(value=0.13, unit="in")
    )
    below = bar_of(thin.model_copy(update={"margin": 0.01}), "Wall")
    assert below is not None
    assert (below.lower, below.upper) == (0.13, None)


@pytest.mark.parametrize(
    ("value", "chance", "side"),
    [
        (0.0041, 0.6, "upper"),
        (0.0039, 0.4, "upper"),
        (0.0039, 0.6, "lower"),
        (0.0041, 0.4, "lower"),
        (0.0040, 0.5, "plain_limit"),
    ],
)
def test_the_side_of_a_close_call_is_told_by_its_odds(value: float, chance: float, side: str) -> None:
    call = CloseCall(
        rule="flatness",
        place="deck",
        measured=Measured(value=value, unit="in", u=0.0004),
        limit=LimitShown(value=0.004, unit="in"),
        p_beyond=chance,
    )
    bar = bar_of(call, "Flatness")
    assert bar is not None
    assert {name: getattr(bar, name) for name in ("lower", "upper", "plain_limit")} == {
        "lower": None, "upper": None, "plain_limit": None, side: 0.004
    }  # fmt: skip
    assert len(of_class(limit_bar(bar, LIGHT), "beyond")) == (side != "plain_limit")
    told = bar_of(call, "Flatness", worse="above")
    assert told is not None
    assert told.upper == 0.004


@pytest.mark.parametrize(
    "changes", [{"measured": None}, {"limit": None}, {"limit": LimitShown(value=1, unit="mm")}]
)
def test_a_reason_without_comparable_figures_has_no_bar(changes: dict[str, Any]) -> None:
    assert bar_of(made.closed(**changes), "X") is None


sizes = st.floats(-1e4, 1e4, allow_nan=False).map(lambda v: round(v, 4))


@settings(deadline=None)
@given(
    value=st.none() | sizes,
    u=st.floats(0, 100),
    lower=st.none() | sizes,
    upper=st.none() | sizes,
    width=st.sampled_from([WIDTH, NARROW]),
)
def test_any_figures_are_drawn_inside_and_in_order(
    value: float | None, u: float, lower: float | None, upper: float | None, width: int
) -> None:
    bar = Bar(NASTY * 30, "in", value, u, lower=lower, upper=upper)
    assert outside(limit_bar(bar, LIGHT, width)) == []
    on = bar_scale(bar, width)
    shown = sorted(bar.limits + ([] if value is None else [value - u, value + u]))
    assert all(MARGIN <= on.at(v) <= width - MARGIN for v in shown)
    assert all(on.lo <= v <= on.hi for v in shown)
    assert 2 <= len(on.ticks) <= 14


def test_a_narrow_bar_has_fewer_ticks_and_its_note_in_two_lines() -> None:
    drawn = texts(limit_bar(WEAR, LIGHT, NARROW))
    assert drawn[-2:] == ["in; the shop's limit", "capped line: standard uncertainty"]
    assert len(bar_scale(WEAR, NARROW).ticks) < len(bar_scale(WEAR).ticks)


def test_every_half_known_reason_says_at_least_and_can_still_move() -> None:
    half = made.closed(measured=Measured(value=0.0063, unit="in", u=0.0002, bound="at_least"))
    bar = bar_of(half, "Taper")
    assert bar is not None
    for width in (WIDTH, 440, NARROW):
        drawn = texts(limit_bar(bar, LIGHT, width))
        assert "read at least 0.0063" in drawn
        assert any("not all is read: it can only be larger" in said for said in drawn)
    assert spoken(bar).startswith("at least 0.0063")


@pytest.mark.parametrize(
    ("against", "limit", "value"),
    [("limit", "limit 0.0005", "read 0.0007"), ("size", "size 0.0005", "needs 0.0007"),
     ("metal left", "least wall 0.0005", "leaves 0.0007")],
)  # fmt: skip
def test_what_a_figure_stands_against_is_called_by_its_name(against: Any, limit: str, value: str) -> None:
    bar = bar_of(made.closed(against=against), "X")
    assert bar is not None
    assert {limit, value} <= set(texts(limit_bar(bar, LIGHT)))


def test_any_width_shares_one_scale_rule() -> None:
    for width in (NARROW, 440, WIDTH):
        on = bar_scale(WEAR, width)
        (needle,) = of_class(limit_bar(WEAR, LIGHT, width), "needle")
        assert at(needle, "x1")[0] == pytest.approx(on.at(0.0077), abs=0.01)
        assert outside(limit_bar(WEAR, LIGHT, width)) == []


@pytest.mark.parametrize("width", [NARROW, 440, WIDTH])
@pytest.mark.parametrize("known", ["exact", "at_least"])
@pytest.mark.parametrize(
    ("value", "limit"), [(0.007, 0.0035), (0.0035, 0.007), (0.0051, 0.0005), (0.004, 0.0038)]
)
def test_the_reading_is_never_written_over_a_limit_line(
    width: int, known: Any, value: float, limit: float
) -> None:
    bar = Bar("Gap", "in", value, 0.0004, upper=limit, known=known)
    drawing = limit_bar(bar, LIGHT, width)
    (at_x,) = at(of_class(drawing, "limit")[0], "x1")
    (said,) = (n for n in parsed(drawing).iter(f"{SPACE}text") if (n.text or "").startswith("read "))
    (x,), wide = at(said, "x"), len(said.text or "") * 13 * 0.5
    left = x - wide * {"start": 0.0, "middle": 0.5, "end": 1.0}[said.get("text-anchor", "start")]
    assert not left < at_x < left + wide
