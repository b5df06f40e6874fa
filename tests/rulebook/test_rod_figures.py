"""Every figure and damage of the rod below, at and above its limit and unread, on the sound inline-six.

Limits are common practice or judgement, as the pack says beside each; the sizes of the eyes are the sheet's.
"""

import pytest

from inspect_app.model.answer import PartAnswer
from inspect_app.model.evidence import Evidence, Reading
from tests.judge import six
from tests.reference.support import closed_by, way_of

from .measured_six import EVERYTHING, asked, judged, read, seen, told, unread

ROD = "rod 2"
ROUGH = told(ROD, "rod-cap-joint", "broken apart, rough")
FLAT = told(ROD, "rod-cap-joint", "machined flat")


def way(part: PartAnswer, concern: str) -> tuple[str, str]:
    return way_of(part, concern).way, part.standing or ""


def big_end(value: str, **at: str) -> list[Evidence]:
    return read(EVERYTHING, ROD, "diameter", value, place="big_end", **at)


# The sheet gives 2.2245 to 2.2255 in.
@pytest.mark.parametrize(
    ("value", "taken"),
    [
        ("2.2244", "resize"),
        ("2.2245", "as_is"),
        ("2.2246", "as_is"),
        ("2.2254", "as_is"),
        ("2.2255", "as_is"),
        ("2.2256", "resize"),
    ],
)
def test_a_big_end_outside_its_range_is_resized(value: str, taken: str) -> None:
    part = judged(ROD, [*big_end(value), FLAT])
    assert way(part, "big_end") == (taken, "settled")
    closed = closed_by(part, "rod-big-end-out-of-size", "big_end")
    assert [c.limit_from for c in closed] == (["maker"] if taken == "resize" else [])


@pytest.mark.parametrize(
    ("value", "verdict"), [("2.2314", "recondition"), ("2.2315", "recondition"), ("2.2316", "replace")]
)
def test_a_round_big_end_is_resized_only_while_rod_and_cap_can_give_the_metal(
    value: str, verdict: str
) -> None:
    """Its range ends at 2.2255; rod and cap together give six thousandths."""
    part = judged(ROD, [*big_end(value), FLAT])
    assert (part.verdict, part.standing) == (verdict, "settled")
    assert bool(closed_by(part, "rod-big-end-too-large-to-resize")) == (verdict == "replace")


# A span of noisy readings is held against a part exactly at its limit, so it must pass it by the noise.
@pytest.mark.parametrize(
    ("upright", "taken"), [("2.2250", "as_is"), ("2.2251", "as_is"), ("2.2254", "resize")]
)
def test_out_of_round_of_a_big_end(upright: str, taken: str) -> None:
    """Half a thousandth: 2.2246 in both slanted directions, and upright below, at and above 2.2251."""
    items = read(big_end("2.2246"), ROD, "diameter", upright, place="big_end", direction="vertical")
    part = judged(ROD, [*items, FLAT])
    assert way(part, "big_end") == (taken, "settled")
    assert {c.measured.value for c in part.closed if c.measured} <= {0.0008}


@pytest.mark.parametrize(("front", "taken"), [("2.2250", "as_is"), ("2.2251", "as_is"), ("2.2254", "resize")])
def test_taper_of_a_big_end(front: str, taken: str) -> None:
    """Three tenths of a thousandth: 2.2248 at the rear."""
    items = read(big_end("2.2248"), ROD, "diameter", front, place="big_end", station="front")
    part = judged(ROD, [*items, FLAT])
    assert way(part, "big_end") == (taken, "settled")
    assert {c.measured.value for c in part.closed if c.measured} <= {0.0006}


def test_a_big_end_that_nobody_read_is_open() -> None:
    part = judged(ROD, unread(EVERYTHING, ROD, "diameter", place="big_end"))
    assert way(part, "big_end") == ("as_is", "provisional")
    assert asked(part) == {("diameter of the big end, without shells", "big end")}


@pytest.mark.parametrize("conditions", [(), ("bolts torqued",), ("no shells",)])
def test_a_big_end_read_with_loose_bolts_or_shells_in_does_not_count(conditions: tuple[str, ...]) -> None:
    items = [
        item.model_copy(update={"conditions": conditions})
        if isinstance(item, Reading) and (item.piece, item.place) == (ROD, "big_end")
        else item
        for item in EVERYTHING
    ]
    assert judged(ROD, items).standing == "provisional"


def test_without_the_makers_range_nobody_can_judge_a_big_end() -> None:
    rows = {"big_end.diameter": {}}
    assert asked(judged(ROD, EVERYTHING, rows)) == {
        ("a limit for largest diameter on the engine sheet", "big end"),
        ("a limit for smallest diameter on the engine sheet", "big end"),
    }


def test_a_rule_of_several_figures_tells_the_one_that_met_it() -> None:
    [large] = closed_by(judged(ROD, big_end("2.2258")), "rod-big-end-out-of-size", "big_end")
    [small] = closed_by(judged(ROD, big_end("2.2240")), "rod-big-end-out-of-size", "big_end")
    assert [(c.limit and c.limit.value, c.measured and c.measured.value) for c in (large, small)] == [
        (2.2255, 2.2258),
        (2.2245, 2.2240),
    ]


def test_each_figure_of_a_rule_can_be_a_close_call_and_is_told_once() -> None:
    part = judged(ROD, big_end("2.2244"))
    assert [(c.rule, c.limit.value) for c in part.close_calls] == [("rod-big-end-out-of-size", 2.2245)]


@pytest.mark.parametrize("reason", ["size", "spun bearing", "fretting"])
def test_a_rod_whose_cap_was_broken_off_cannot_be_resized(reason: str) -> None:
    items = big_end("2.2260") if reason == "size" else [*EVERYTHING, seen(ROD, reason, "big_end")]
    rough, flat = judged(ROD, [*items, ROUGH]), judged(ROD, [*items, FLAT])
    assert (rough.verdict, rough.grounds, rough.standing) == ("replace", "evidence", "settled")
    assert (flat.verdict, *way(flat, "big_end")) == ("recondition", "resize", "settled")
    unknown = judged(ROD, items)
    assert way(unknown, "big_end") == ("resize", "provisional")
    assert [what for what, _ in asked(unknown)] == [six.book().signs["rod-cap-joint"].question]


def test_a_sound_rod_is_never_asked_how_its_cap_was_parted() -> None:
    assert judged(ROD, EVERYTHING).open_points == ()


@pytest.mark.parametrize("quantity", ["bend", "twist"])
@pytest.mark.parametrize(
    ("value", "taken"),
    [("0.0009", "as_is"), ("0.0010", "as_is"), ("0.0011", "straighten"), ("0.0050", "straighten")],
)
def test_a_crooked_rod_is_straightened(quantity: str, value: str, taken: str) -> None:
    part = judged(ROD, [*read(EVERYTHING, ROD, quantity, value), FLAT])
    assert way(part, "straightness") == (taken, "settled")


@pytest.mark.parametrize("quantity", ["bend", "twist"])
def test_a_rod_bent_too_far_is_replaced(quantity: str) -> None:
    part = judged(ROD, [*read(EVERYTHING, ROD, quantity, "0.0051"), FLAT])
    assert (part.verdict, part.grounds) == ("replace", "evidence")
    assert closed_by(part, "rod-too-crooked-to-straighten", "beam")


def test_a_rod_whose_cap_was_broken_off_is_not_straightened() -> None:
    part = judged(ROD, [*read(EVERYTHING, ROD, "bend", "0.0020"), ROUGH])
    assert (part.verdict, part.standing) == ("replace", "settled")


@pytest.mark.parametrize("quantity", ["bend", "twist"])
def test_a_rod_that_was_not_on_the_fixture_is_open(quantity: str) -> None:
    part = judged(ROD, unread(EVERYTHING, ROD, quantity))
    assert way(part, "straightness") == ("as_is", "provisional")
    assert asked(part) == {(f"{quantity} over six inches", "beam")}


# The sheet gives 0.9270 to 0.9280 in.
@pytest.mark.parametrize(("value", "taken"), [("0.9279", "as_is"), ("0.9280", "as_is"), ("0.9281", "bush")])
def test_a_worn_small_end_is_bushed(value: str, taken: str) -> None:
    items = read(EVERYTHING, ROD, "diameter", value, place="small_end", station="rear")
    assert way(judged(ROD, items), "small_end") == (taken, "settled")


def test_a_small_end_that_nobody_read_is_open() -> None:
    part = judged(ROD, unread(EVERYTHING, ROD, "diameter", place="small_end"))
    assert asked(part) == {("diameter of the small end, in its bush if it has one", "small end")}


@pytest.mark.parametrize("damage", ["spun bearing", "score", "scuff", "pit"])
def test_a_bush_that_turned_or_ran_dry_is_renewed(damage: str) -> None:
    part = judged(ROD, [*EVERYTHING, seen(ROD, damage, "small_end")])
    assert way(part, "small_end") == ("bush", "settled")


@pytest.mark.parametrize("damage", ["dent", "pit", "score"])
@pytest.mark.parametrize(
    ("depth", "verdict", "standing"),
    [
        ("0.0090", "recondition", "settled"),
        ("0.0100", "recondition", "settled"),
        ("0.0110", "replace", "settled"),
        (None, "recondition", "provisional"),
    ],
)
def test_a_nick_is_dressed_unless_it_is_deep(
    damage: str, depth: str | None, verdict: str, standing: str
) -> None:
    deep = [] if depth is None else [six.reading("deep", ROD, "mark_depth", "beam", depth)]
    part = judged(ROD, [*EVERYTHING, seen(ROD, damage, "beam"), FLAT, *deep])
    assert (part.verdict, part.standing) == (verdict, standing)
    if depth is None:
        assert asked(part) == {("depth of the deepest nick or pit", "beam")}


def test_a_nicked_rod_whose_cap_was_broken_off_is_replaced() -> None:
    deep = six.reading("deep", ROD, "mark_depth", "beam", "0.0010")
    part = judged(ROD, [*EVERYTHING, seen(ROD, "dent", "beam"), ROUGH, deep])
    assert (part.verdict, part.standing) == ("replace", "settled")
    assert closed_by(part, "rod-of-powder-metal-nicked", "beam")


@pytest.mark.parametrize("place", ["big_end/seat", "big_end/split_line", "beam", "small_end"])
def test_a_cracked_or_broken_rod_is_replaced(place: str) -> None:
    for damage in ("crack", "broken"):
        part = judged(ROD, [*EVERYTHING, seen(ROD, damage, place)])
        if damage == "broken":
            assert (part.verdict, part.grounds) == ("replace", "evidence")
        else:  # the crack test of the whole rod found nothing, and is stronger than the eye
            assert part.verdict == "reuse"
    untested = [item for item in EVERYTHING if item.id != f"crack-{ROD}"]
    assert judged(ROD, [*untested, seen(ROD, "crack", place)]).verdict == "replace"


@pytest.mark.parametrize("place", ["big_end", "small_end"])
def test_a_rod_blue_at_one_end_is_replaced(place: str) -> None:
    assert judged(ROD, [*EVERYTHING, seen(ROD, "heat colour", place)]).verdict == "replace"


def test_length_and_weight_of_one_rod_decide_nothing() -> None:
    more = [
        six.reading("length", ROD, "centre_length", "beam", "5.0000"),
        six.reading("weight", ROD, "weight", "beam", "900", unit="g"),
    ]
    part = judged(ROD, [*EVERYTHING, *more])
    assert (part.verdict, part.standing, part.closed) == ("reuse", "settled", ())
