"""Every figure and damage of the head below, at and above its limit and unread, on the sound inline-six.

Limits are common practice or judgement, as the pack says beside each; the least thickness is the sheet's.
"""

from typing import Any

import pytest

from inspect_app.model.answer import PartAnswer
from inspect_app.model.evidence import Evidence
from tests.judge import six
from tests.reference.support import closed_by, way_of

from .measured_six import EVERYTHING, asked, judged, read, seen, told

HEAD, FACE = "cylinder_head 1", "head_face"
IN_BLOCK, IN_ALUMINIUM, IN_IRON = (
    told(HEAD, "where-camshaft-turns", f"in {where}")
    for where in ("the block", "an aluminium head", "an iron head")
)
THIN = {
    "head_face.thickness": {"wear_limit": "3.500 in"},
    "head_face.thickness_left": {"wear_limit": "3.500 in"},
}
CAMSHAFT = six.book().signs["where-camshaft-turns"].question


def warped(passes: str, stops: str) -> list[Evidence]:
    """The evidence with one line of the face between two leaves."""
    items = read(EVERYTHING, HEAD, "edge_gap", stops, station="front")
    leaf = {"station": "front", "direction": "passes", "gauge": "straightedge and feeler"}
    return [*items, six.reading("warp", HEAD, "edge_gap", FACE, passes, **leaf)]


def thick(inches: str) -> list[Evidence]:
    return [
        six.reading(f"thick {end}", HEAD, "thickness", FACE, inches, station=end, gauge="depth gauge")
        for end in ("front", "rear")
    ]


def hard(brinell: str) -> list[Evidence]:
    return [
        six.reading(
            f"hard {spot}", HEAD, "hardness", FACE, brinell, station=spot, unit="HB", gauge="hardness tester"
        )
        for spot in ("front", "middle", "rear")
    ]


def aluminium(items: list[Evidence], rows: dict[str, Any] | None = None) -> PartAnswer:
    """The head judged as one of aluminium, tested with penetrant."""
    materials = six.sheet().materials | {"cylinder_head": "aluminium"}
    tested = [*items, six.clean_test("penetrant", HEAD, "dye penetrant")]
    return judged(HEAD, tested, rows, materials=materials)


def face(part: PartAnswer) -> tuple[str, str]:
    return way_of(part, "face").way, part.standing or ""


# ---- warp, and how much may come off ----


def test_a_light_cut_asks_for_no_thickness() -> None:
    assert face(judged(HEAD, [*warped("0.005", "0.006"), IN_BLOCK], THIN)) == ("mill", "settled")


def test_a_deep_cut_asks_how_thick_the_head_is() -> None:
    part = judged(HEAD, [*warped("0.009", "0.010"), IN_BLOCK], THIN)
    assert face(part) == ("mill", "provisional")
    assert asked(part) == {("least thickness of the head", "gasket face")}


def test_a_deep_cut_asks_the_sheet_for_the_least_thickness() -> None:
    part = judged(HEAD, [*warped("0.009", "0.010"), IN_BLOCK, *thick("3.5200")])
    assert ("a limit for thickness left after the cut on the engine sheet", "gasket face") in asked(part)


@pytest.mark.parametrize(
    ("inches", "closed", "standing"),
    # A gap of 0.009 to 0.010 and a stock of 0.001: with 3.5110 in, from nothing to a thousandth is left over.
    [("3.5120", False, "settled"), ("3.5110", False, "settled"), ("3.5090", True, "settled")],
)
def test_what_a_deep_cut_leaves(inches: str, closed: bool, standing: str) -> None:
    part = judged(HEAD, [*warped("0.009", "0.010"), IN_BLOCK, *thick(inches)], THIN)
    assert bool(closed_by(part, "head-cut-leaves-too-little", FACE)) == closed
    assert part.standing == standing


def test_a_thickness_that_may_or_may_not_do_is_open() -> None:
    part = judged(HEAD, [*warped("0.009", "0.010"), IN_BLOCK, *thick("3.5105")], THIN)
    assert face(part) == ("mill", "provisional")


@pytest.mark.parametrize(
    ("inches", "closed", "standing"),
    # A gap of 0.005 to 0.006 and a stock of 0.001, so 3.5070 in is just enough.
    [("3.5080", False, "settled"), ("3.5070", False, "settled"), ("3.5050", True, "settled")],
)
def test_what_a_light_cut_leaves_where_the_thickness_was_read(
    inches: str, closed: bool, standing: str
) -> None:
    part = judged(HEAD, [*warped("0.005", "0.006"), IN_BLOCK, *thick(inches)], THIN)
    assert bool(closed_by(part, "head-cut-leaves-too-little", FACE)) == closed
    assert part.standing == standing


@pytest.mark.parametrize(("inches", "gone"), [("3.5010", False), ("3.5000", False), ("3.4990", True)])
def test_a_head_below_its_least_thickness_goes_even_if_it_is_flat(inches: str, gone: bool) -> None:
    part = judged(HEAD, [*EVERYTHING, *thick(inches)], THIN)
    assert (part.verdict, part.standing) == ("replace" if gone else "reuse", "settled")
    assert bool(closed_by(part, "head-too-thin", FACE)) == gone


# ---- a second way to read the face ----


def grid(middle: str) -> list[Evidence]:
    """Heights in mm, level but for the very middle."""
    raised = {("middle", "centre"): middle}
    return [
        six.reading(
            f"{station} {side}", HEAD, "height", FACE, raised.get((station, side), "0.00"),
            station=station, direction=side, unit="mm", gauge="dial indicator",
        )
        for station in ("front", "front_middle", "middle", "rear_middle", "rear")
        for side in ("left", "centre", "right")
    ]  # fmt: skip


@pytest.mark.parametrize(("middle", "closed"), [("0.08", False), ("0.10", False), ("0.13", True)])
def test_flatness_from_a_grid(middle: str, closed: bool) -> None:
    part = judged(HEAD, [*EVERYTHING, IN_BLOCK, *grid(middle)])
    assert bool(closed_by(part, "head-grid-not-flat", FACE)) == closed
    assert face(part) == ("mill" if closed else "as_is", "settled")


def test_a_grid_begun_must_be_finished() -> None:
    assert judged(HEAD, [*EVERYTHING, *grid("0.00")[:-1]]).standing == "provisional"


@pytest.mark.parametrize(("roughness", "taken"), [("95", "as_is"), ("100", "as_is"), ("140", "mill")])
def test_a_rough_face_is_milled(roughness: str, taken: str) -> None:
    rough = six.reading("rough", HEAD, "roughness", FACE, roughness, unit="microinch")
    assert face(judged(HEAD, [*EVERYTHING, IN_BLOCK, rough])) == (taken, "settled")


# ---- hollows ----


@pytest.mark.parametrize(
    ("depth", "closed", "standing"),
    [
        ("0.0090", False, "settled"),
        ("0.0100", False, "settled"),
        ("0.0110", True, "settled"),
        (None, False, "provisional"),
    ],
)
@pytest.mark.parametrize(
    ("damage", "zone"), [("burnt", "fire_ring"), ("erosion", "water_hole"), ("pit", "elsewhere")]
)
def test_a_hollow_too_deep_to_mill(
    damage: str, zone: str, depth: str | None, closed: bool, standing: str
) -> None:
    deep = (
        [] if depth is None else [six.reading("deep", HEAD, "hollow_depth", FACE, depth, gauge="depth gauge")]
    )
    found = seen(HEAD, damage, f"{FACE}/{zone}")
    part = judged(HEAD, [*EVERYTHING, found, IN_BLOCK, *deep, *thick("3.6000")], THIN)
    assert bool(closed_by(part, "head-hollow-too-deep-to-mill", FACE)) == closed
    assert part.standing == standing
    if depth is None:
        assert ("depth of the deepest hollow or groove in the face", "gasket face") in asked(part)


def test_a_face_eaten_to_the_fire_ring_must_be_welded_however_shallow() -> None:
    shallow = six.reading("deep", HEAD, "hollow_depth", FACE, "0.0020", gauge="depth gauge")
    part = judged(HEAD, [*EVERYTHING, seen(HEAD, "erosion", f"{FACE}/fire_ring"), IN_BLOCK, shallow])
    assert {c.closes for c in closed_by(part, "head-eaten-to-the-fire-ring", FACE)} == {
        "face.mill",
        "face.straighten",
    }


# ---- the camshaft in the head ----


@pytest.mark.parametrize(
    ("leaves", "sign", "way"),
    [
        (("0.005", "0.006"), IN_BLOCK, "mill"),
        (("0.005", "0.006"), IN_IRON, "mill"),
        (("0.005", "0.006"), IN_ALUMINIUM, "straighten"),
    ],
)
def test_a_head_warped_with_its_camshaft_is_straightened_before_it_is_milled(
    leaves: tuple[str, str], sign: Evidence, way: str
) -> None:
    assert face(aluminium([*warped(*leaves), sign, *hard("100")])) == (way, "settled")


@pytest.mark.parametrize(("passes", "stops", "asks"), [("0.002", "0.003", False), ("0.004", "0.005", True)])
def test_where_the_camshaft_turns_is_asked_above_three_thousandths_only(
    passes: str, stops: str, asks: bool
) -> None:
    part = judged(HEAD, warped(passes, stops), {"head_face.flatness": {"maximum": "0.001 in"}})
    assert face(part) == ("mill", "provisional" if asks else "settled")
    assert [what for what, _ in asked(part)] == ([CAMSHAFT] if asks else [])


@pytest.mark.parametrize(
    ("brinell", "way"), [("72", "straighten"), ("70", "straighten"), ("68", None), (None, "straighten")]
)
def test_a_soft_head_is_not_straightened(brinell: str | None, way: str | None) -> None:
    tested = [] if brinell is None else hard(brinell)
    part = aluminium([*warped("0.005", "0.006"), IN_ALUMINIUM, *tested])
    assert bool(closed_by(part, "head-too-soft-to-straighten", FACE)) == (way is None)
    if way:
        assert face(part) == (way, "settled" if brinell else "provisional")


@pytest.mark.parametrize(("brinell", "gone"), [("66", False), ("65", False), ("64", True)])
def test_an_annealed_head_goes(brinell: str, gone: bool) -> None:
    part = aluminium([*EVERYTHING, *hard(brinell)])
    assert (part.verdict, part.standing) == ("replace" if gone else "reuse", "settled")


def test_a_flat_head_is_asked_for_neither_camshaft_nor_hardness_nor_thickness() -> None:
    for part in (judged(HEAD, EVERYTHING), aluminium(EVERYTHING)):
        assert (part.standing, part.open_points) == ("settled", ())


# ---- sunk seats ----


@pytest.mark.parametrize(
    ("depth", "way"), [("0.0420", "service"), ("0.0430", "service"), ("0.0440", "inserts")]
)
def test_sunk_seats_get_inserts(depth: str, way: str) -> None:
    read_ = [
        six.reading(
            f"sunk {valve}", HEAD, "recession", "chamber 3", depth, station=valve, gauge="depth gauge"
        )
        for valve in ("intake", "exhaust")
    ]
    part = judged(HEAD, [*EVERYTHING, *read_], {"chamber.recession": {"wear_limit": "0.043 in"}})
    assert (way_of(part, "valves").way, part.standing) == (way, "settled")
    unlimited = judged(HEAD, [*EVERYTHING, *read_])
    assert (way_of(unlimited, "valves").way, unlimited.standing) == ("service", "settled")


def test_a_thickness_that_nobody_limits_leaves_a_settled_head_settled_and_is_told() -> None:
    part = judged(HEAD, [*EVERYTHING, *thick("3.4000")])
    assert (part.verdict, part.standing) == ("reuse", "settled")
    assert six.answer([*EVERYTHING, *thick("3.4000")]).core.notes == (
        "Least thickness of the head was read (Cylinder head 1), and nobody limits it: nothing rests on it. "
        "If the maker gives a limit, add head_face.thickness to the engine sheet.",
    )


# ---- cracks by zone ----

CURABLE = [
    f"{FACE}/water_hole",
    f"{FACE}/bolt_hole",
    "chamber 2/bridge",
    "chamber 2/plug_boss",
    "chamber 2/seat",
    "port 1/exhaust",
    "guide_boss 1/intake",
    "top_deck/spring_seat",
    "coolant_side",
]


@pytest.mark.parametrize("place", CURABLE)
def test_a_crack_away_from_the_fire_ring_is_pinned_or_welded(place: str) -> None:
    part = judged(HEAD, [*untested(), seen(HEAD, "crack", place)])
    assert {c.closes for c in part.closed} >= {"casting.as_is"}
    assert "own" not in {c.closes for c in part.closed}


@pytest.mark.parametrize("place", [f"{FACE}/fire_ring", "bolt_boss"])
def test_a_crack_at_the_fire_ring_or_a_bolt_ends_the_head(place: str) -> None:
    part = judged(HEAD, [*untested(), seen(HEAD, "crack", place)])
    assert (part.verdict, part.grounds) == ("replace", "evidence")
    assert "own" in {c.closes for c in part.closed}


def untested() -> list[Evidence]:
    """Without the crack test, which is stronger than the eye."""
    return [item for item in EVERYTHING if item.id != f"crack-{HEAD}"]


@pytest.mark.parametrize("place", CURABLE[2:])
def test_each_place_of_the_head_waits_for_its_crack_test(place: str) -> None:
    part = judged(HEAD, untested())
    assert (part.verdict, part.standing) == ("reuse", "provisional")
    named = next(words for _, words in asked(part))
    title = next(
        p.title for p in six.book().parts["cylinder_head"].places if p.kind == place.split("/")[0].split()[0]
    )
    assert title in named
