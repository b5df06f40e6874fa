from collections.abc import Callable, Sequence

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from inspect_app.pictures import bore_profile as bores
from inspect_app.pictures import journal_profile as journals
from inspect_app.pictures.bore_profile import bore_profile
from inspect_app.pictures.journal_profile import journal_profile
from inspect_app.pictures.profile import Profile, along_per_mm, exaggeration, per_mm
from inspect_app.pictures.svg import Svg
from inspect_app.pictures.tokens import LIGHT
from tests.pictures.support import NASTY, SPACE, at, of_class, outside, parsed, texts

INCH = 25.4
BORE = Profile(
    "Bore 2",
    ("top", "middle", "bottom"),
    (8, 68, 120),
    ("across", "along"),
    (
        (3.3937, 3.3912),
        (3.3903, 3.3891),
        (3.3874, None),
    ),
    unworn=3.3860,
    listed=3.4060,
    listed_name="0.020 over",
)
JOURNAL = Profile(
    "Rod journal 2",
    ("front", "rear"),
    (4, 24),
    ("vertical", "horizontal"),
    ((49.98, 49.99), (49.97, None)),
    unworn=50.0,
    listed=49.75,
    listed_name="0.25 under",
    unit="mm",
)
DRAW: dict[str, Callable[..., Svg]] = {"bore": bore_profile, "journal": journal_profile}


def test_a_bore_says_each_deviation_and_what_was_not_read() -> None:
    drawn = texts(bore_profile([BORE], LIGHT))
    assert {"+0.0077", "+0.0052", "+0.0043", "+0.0031", "+0.0014", "not read"} <= set(drawn)
    assert {"Bore 2", "top, 8 mm", "bottom, 120 mm", "unworn, across", "unworn, along"} <= set(drawn)
    assert drawn.count("0.020 over") == 2
    assert drawn[-3:] == [
        "in, from the unworn size",
        "two-dot line: the size to cut to",
        "differences in size drawn about 81 times too large",
    ]


def test_readings_and_lines_of_a_bore_stand_to_scale() -> None:
    drawing = bore_profile([BORE], LIGHT)
    left, right = bores.walls(
        BORE, 0, 0, 0, per_mm([BORE]), along_per_mm([BORE], bores.LONG - 2 * bores.BEFORE)
    )
    assert (left.across(BORE.listed or 0) - left.base, right.across(BORE.listed or 0) - right.base) == (
        pytest.approx((-62, 62))
    )
    per_inch = 62 / 0.020
    wanted = [left.base - d * per_inch for d in (0.0077, 0.0043, 0.0014)]
    wanted += [right.base + d * per_inch for d in (0.0052, 0.0031)]
    assert [at(n, "cx")[0] for n in of_class(drawing, "reading")] == pytest.approx(wanted, abs=0.01)
    depths = [at(n, "cy")[0] for n in of_class(drawing, "reading")][:3]
    assert (depths[1] - depths[0]) / (depths[2] - depths[0]) == pytest.approx((68 - 8) / (120 - 8), abs=1e-3)
    assert [at(n, "x1")[0] for n in of_class(drawing, "unworn")] == [left.base, right.base]
    assert len(of_class(drawing, "listed")) == 2


def test_readings_of_a_journal_stand_to_scale_inward() -> None:
    drawing = journal_profile([JOURNAL], LIGHT)
    upper, lower = journals.walls(JOURNAL, 0, 0, 0, per_mm([JOURNAL]), 1)
    found = [at(n, "cy")[0] for n in of_class(drawing, "reading")]
    scale = 62 / 0.25
    assert found == pytest.approx(
        [upper.base + 0.02 * scale, upper.base + 0.03 * scale, lower.base - 0.01 * scale], abs=0.01
    )
    drawn = set(texts(drawing))
    assert {"\u22120.020", "\u22120.030", "\u22120.010", "not read", "0.25 under", "unworn"} <= drawn
    assert {"front, 4 mm", "vertical", "horizontal"} <= drawn


@pytest.mark.parametrize("name", DRAW)
def test_what_was_not_read_is_dotted_never_full(name: str) -> None:
    blank = Profile("Nothing", ("a", "b"), (0, 10), ("x", "y"), ((None, None), (None, None)), unworn=50)
    drawing = DRAW[name]([blank], LIGHT)
    lines = list(parsed(drawing).iter(f"{SPACE}polyline"))
    assert lines
    assert all(n.get("stroke-dasharray") for n in lines)
    assert texts(drawing).count("not read") == 4
    assert of_class(drawing, "reading") == []


def test_between_two_readings_the_dotted_line_runs_straight_and_at_an_end_to_the_unworn_size() -> None:
    sizes = ((51,), (None,), (52,), (None,))
    gap = Profile("G", ("a", "b", "c", "d"), (0, 10, 20, 30), ("x",), sizes, unworn=50, unit="mm")
    (wall,) = bores.walls(gap, 0, 0, 0, 10, 1)
    points = [point[0] for point, _ in wall.surface]
    assert points == [wall.base - 10, wall.base - 10, wall.base - 15, wall.base - 20, wall.base, wall.base]
    assert [known for _, known in wall.surface] == [True, True, False, False, False, False]


def test_without_an_unworn_size_full_sizes_are_written_and_no_chain_drawn() -> None:
    drawing = bore_profile([Profile("B", ("a",), (5,), ("x",), ((86.2,),), unit="mm")], LIGHT)
    assert "86.200" in texts(drawing)
    assert of_class(drawing, "unworn") == []
    assert "mm, in full where the unworn size is not known" in texts(drawing)


def test_bores_of_one_drawing_share_one_exaggeration() -> None:
    small = Profile("Bore 1", BORE.stations, BORE.at, ("across",), ((86.01,),) * 3, unworn=86.0, unit="mm")
    drawing = bore_profile([BORE, small], LIGHT, columns=2)
    assert sum("times too large" in said for said in texts(drawing)) == 1
    (wall,) = bores.walls(small, 0, 0, 0, per_mm([BORE, small]), 1)
    assert wall.base - wall.across(86.01) == pytest.approx(0.01 * 62 / (0.020 * INCH))


def test_exaggeration_is_said_to_two_figures() -> None:
    assert exaggeration(81.36) == "differences in size drawn about 81 times too large"
    assert exaggeration(1249.3) == "differences in size drawn about 1200 times too large"
    assert exaggeration(3) == "differences in size drawn about 3 times too large"
    assert exaggeration(0.5) == "drawn to scale or smaller"


@pytest.mark.parametrize(
    ("stations", "along", "sizes"),
    [((), (), ()), (("a",), (1, 2), ((1,),)), (("a",), (1,), ((1, 2),)), (("a", "b"), (2, 1), ((1,), (1,)))],
)
def test_sizes_that_do_not_fit_are_refused(
    stations: tuple[str, ...], along: tuple[float, ...], sizes: tuple[tuple[float, ...], ...]
) -> None:
    with pytest.raises(ValueError, match="B: "):
        Profile("B", stations, along, ("x",), sizes)


@pytest.mark.parametrize("name", DRAW)
def test_no_places_are_refused(name: str) -> None:
    with pytest.raises(ValueError, match="to draw"):
        DRAW[name]([], LIGHT)


size = st.none() | st.floats(49, 51)


@settings(deadline=None)
@given(
    sizes=st.lists(st.tuples(size, size, size), min_size=1, max_size=5),
    unworn=size,
    listed=size,
    columns=st.integers(1, 3),
)
def test_any_profile_is_drawn_inside(
    sizes: Sequence[tuple[float | None, ...]], unworn: float | None, listed: float | None, columns: int
) -> None:
    names = tuple(f"s{i}" for i in range(len(sizes)))
    along = tuple(7.0 * i for i in range(len(sizes)))
    profile = Profile(NASTY * 40, names, along, ("x" * 40, "y", "z"), tuple(sizes), unworn, listed, NASTY * 9)
    for draw in DRAW.values():
        drawing = draw([profile, BORE], LIGHT, columns=columns)
        assert outside(drawing) == []
        assert drawing == draw([profile, BORE], LIGHT, columns=columns)


def test_without_distances_stations_stand_evenly_and_no_depth_is_written() -> None:
    even = Profile("Bore 1", ("top", "middle", "bottom"), (), ("across",), ((86.1,), (86.0,), (85.9,)))
    assert even.along == (0, 1, 2)
    drawing = bore_profile([even], LIGHT)
    depths = [at(n, "cy")[0] for n in of_class(drawing, "reading")]
    assert depths[2] - depths[1] == pytest.approx(depths[1] - depths[0])
    assert not any("mm" in said for said in texts(drawing) if said[0] in "tmb")
    assert texts(drawing)[-1] == "stations drawn evenly, as no distance is given"


@pytest.mark.parametrize("name", DRAW)
@pytest.mark.parametrize("width", [340, 420, 560])
def test_profiles_fit_the_width_they_are_given(name: str, width: int) -> None:
    even = Profile(
        "P", ("front", "middle", "rear"), (), ("vertical", "horizontal"), ((50, 49.9),) * 3, 50, 49.75
    )
    drawing = DRAW[name]([even], LIGHT, width=width)
    assert parsed(drawing).get("width") == str(width)
    assert outside(drawing) == []
    signs = [n for n in parsed(drawing).iter(f"{SPACE}text") if n.text in even.stations]
    assert len(signs) == 3
