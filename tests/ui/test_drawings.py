"""The drawings of the Verdict page: a place for each, and each in its place."""

import re
from pathlib import Path

import pytest
from playwright.sync_api import Browser, expect

from inspect_app.model import answer as a
from inspect_app.model.answer import PartAnswer
from inspect_app.model.answer_figures import ProfilePoint
from inspect_app.pictures.tokens import DARK, LIGHT
from inspect_app.ui import drawings, money_view, part_drawings, part_panel, shelf
from inspect_app.ui.markup import join
from tests.pictures.support import NASTY, outside, parsed, plan, texts
from tests.ui import made


def places(html: str) -> list[str]:
    return [name.replace("&#x27;", "'") for name in re.findall(r'data-drawing="([^"]*)"', html)]


@pytest.mark.parametrize("part", made.answer().parts, ids=lambda part: part.position)
def test_every_place_has_its_drawing_and_every_drawing_its_place(part: PartAnswer) -> None:
    answer = made.answer()
    html = join(drawings.map_place(plan("V6")), money_view.choices(answer), part_panel.panel(part, answer))
    drawn = drawings.core_drawings(answer, plan("V6"), LIGHT) | part_drawings.part_drawings(part, LIGHT)
    assert set(places(html)) == set(drawn)
    assert len(places(html)) == len(set(places(html)))
    assert all(outside(drawing) == [] for drawing in drawn.values())


def test_a_part_is_drawn_wide_and_narrow_and_no_wider_than_its_column() -> None:
    drawn = part_drawings.part_drawings(made.block(), LIGHT)
    kinds = {name.split("|")[1] for name in drawn}
    assert kinds == {"deck-flatness", "needs", "profile", "profiles", "figure"}
    for name, drawing in drawn.items():
        assert parsed(drawing).get("width") == name.rsplit("|", 1)[1]


def test_bars_of_a_part_are_titled_by_what_was_measured_and_say_at_least() -> None:
    half = a.Measured(value=0.0063, unit="in", u=0.0002, bound="at_least")
    part = made.part(
        closed=(made.closed(place="bore 2", measured=half),),
        figures=(made.figure(place="bore 2", measured=half),),
    )
    for drawing in part_drawings.part_drawings(part, LIGHT).values():
        assert {"Taper (two-point), bore 2", "read at least 0.0063"} <= set(texts(drawing))


def test_every_half_known_figure_has_a_bar_that_says_at_least_and_can_still_move() -> None:
    bounds = ("exact", "at_least", "at_most")
    measured = [
        a.Measured(value=0.0003 + at / 1e5, unit="in", u=0.0001, bound=b) for at, b in enumerate(bounds)
    ]
    part = made.part(
        figures=tuple(
            made.figure(place=f"bore {at}", measured=read, state="open") for at, read in enumerate(measured)
        )
    )
    assert [f.measured.bound for f in part_drawings.half_known(part)] == ["at_least", "at_most"]
    drawn = part_drawings.part_drawings(part, LIGHT)
    for place, said in (("bore 1", "read at least 0.0003"), ("bore 2", "read at most 0.0003")):
        for width in (440, 340):
            lines = texts(drawn[f"sump|figure|taper|{place}|{width}"])
            assert any(line.startswith(said) for line in lines)
            assert any(line.startswith("not all is read") for line in lines)


def test_the_figure_nearest_to_its_limit_is_drawn_where_none_closes_anything() -> None:
    near = made.figure(place="bore 2", measured=a.Measured(value=0.0004, unit="in", u=0), state="inside")
    far = made.figure(place="bore 1", measured=a.Measured(value=0.0001, unit="in", u=0), state="inside")
    wall = made.figure(quantity="wall", worse="below", measured=a.Measured(value=0.004, unit="in", u=0))
    assert part_drawings.nearest(made.part(figures=(far, near, wall))) == near
    thin = wall.model_copy(update={"measured": a.Measured(value=0.00051, unit="in", u=0)})
    assert part_drawings.nearest(made.part(figures=(far, near, thin))) == thin
    assert part_drawings.nearest(made.part(figures=(near,), closed=(made.closed(),))) is None
    assert part_drawings.nearest(made.part()) is None


def test_profile_that_decides_is_drawn_first_with_the_size_to_cut_to() -> None:
    first = part_drawings.first_profile(made.block())
    assert first is not None
    assert first.place == "bore 2"
    drawing = part_drawings.part_drawings(made.block(), LIGHT)["block|profile|diameter|bore 2|440"]
    drawn = texts(drawing)
    assert drawn.count("0.020 in") == 2
    assert drawn.count("not read") == 3
    assert {"+0.0067", "top", "middle", "bottom"} <= set(drawn)
    assert not any("mm" in said for said in drawn)


def test_directions_are_written_without_the_marks_of_their_ids() -> None:
    points = (ProfilePoint(station="front_end", direction="plus_45", value=50.0),)
    ring = made.profile("seat 1", stations=("front_end",), directions=("plus_45",), points=points)
    drawn = part_drawings.part_drawings(made.part(profiles=(ring,)), LIGHT)
    assert {"unworn, plus 45", "front end"} <= set(texts(drawn["sump|profile|diameter|seat 1|440"]))


def test_drawings_are_in_the_ink_of_the_theme() -> None:
    drawn = drawings.core_drawings(made.answer(), plan("V6"), DARK)
    assert DARK.ink in drawn["map"]
    assert LIGHT.ink not in drawn["map"]


def test_money_of_every_choice_is_drawn_on_one_scale() -> None:
    drawn = texts(drawings.core_drawings(made.answer(), None, LIGHT)["money|440"])
    assert "Built, less the bill, it leaves: $520" in drawn
    assert "In parts it brings: $310" in drawn
    assert "Let go, it brings: not known, a price is missing" in drawn


def test_without_a_plan_there_is_no_map_and_no_place_for_one() -> None:
    assert drawings.map_place(None) == ""
    assert not any(name.startswith("map") for name in drawings.core_drawings(made.answer(), None, LIGHT))


def test_what_a_person_typed_is_text_in_a_drawing() -> None:
    part = made.part(title=NASTY, closed=(made.closed(place="bore 2", rule=NASTY),))
    drawn = part_drawings.part_drawings(part, LIGHT) | drawings.core_drawings(
        made.answer(title=NASTY), plan("V6"), LIGHT
    )
    assert not any("<b>" in drawing for drawing in drawn.values())


@pytest.mark.parametrize(("width", "height"), [(1440, 1000), (390, 844)])
def test_map_is_drawn_and_a_click_or_a_key_shows_the_part(
    browser: Browser, address: str, width: int, height: int
) -> None:
    page = browser.new_page(viewport={"width": width, "height": height})
    page.goto(f"{address}/verdict?core=0417")
    crankshaft = page.locator('.ia-drawing:visible g[data-position="crankshaft"]')
    expect(crankshaft).to_have_count(1)
    expect(crankshaft).to_have_attribute("aria-label", "Crankshaft: Replace, settled")
    crankshaft.locator("rect").nth(1).click()
    expect(page.locator("[data-panel] h2")).to_have_text("Crankshaft")
    expect(page.locator("[data-panel] h2")).to_be_focused()
    expect(page.locator("[data-panel] h2")).to_be_in_viewport()
    expect(page.locator("[data-panel] .ia-drawing:visible .needle")).to_have_count(0)
    expect(crankshaft).to_have_class("ia-chosen")
    page.wait_for_url("**part=crankshaft**")
    page.locator('.ia-drawing:visible g[data-position="block"]').press("Enter")
    expect(page.locator("[data-panel] h2")).to_have_text("Block")
    expect(page.locator("[data-panel] .ia-drawing:visible .needle")).to_have_count(3)
    expect(page.locator("[data-panel] .ia-drawing:visible .reading")).to_have_count(3)
    assert page.evaluate("document.documentElement.scrollWidth") <= width
    page.close()


def test_another_core_brings_its_own_drawings_and_then_all_is_quiet(browser: Browser, address: str) -> None:
    page = browser.new_page(viewport={"width": 1440, "height": 1000})
    page.goto(f"{address}/verdict?core=0417")
    drawn = page.locator(".ia-drawing:visible svg").first
    expect(drawn).to_have_attribute("aria-label", re.compile("^Built, less the bill"))
    page.get_by_role("combobox").click()
    page.get_by_role("option", name="0431 Harrow Six").click()
    mapped = page.locator(".ia-at-map .ia-drawing:visible svg").first
    expect(mapped).to_have_attribute("aria-label", "Map of 0431 Harrow Six")
    page.wait_for_timeout(500)
    changes = page.evaluate(
        """() => new Promise(done => {
            let seen = 0;
            const watch = new MutationObserver(() => { seen += 1; });
            const all = {childList: true, subtree: true};
            document.querySelectorAll('.ia-page').forEach(page => watch.observe(page, all));
            setTimeout(() => done(seen), 400);
        })"""
    )
    assert changes == 0
    page.close()


def test_arrow_keys_walk_the_map_which_is_one_tab_stop(browser: Browser, address: str) -> None:
    page = browser.new_page(viewport={"width": 1440, "height": 1000})
    page.goto(f"{address}/verdict?core=0417")
    stops = page.locator('.ia-drawing:visible g[role="button"]')
    expect(stops).to_have_count(2)
    expect(page.locator('.ia-drawing:visible g[tabindex="0"]')).to_have_count(1)
    stops.first.press("ArrowRight")
    expect(stops.last).to_be_focused()
    expect(stops.first).to_have_attribute("tabindex", "-1")
    page.close()


def test_fonts_come_from_this_server_and_pass_its_policy(browser: Browser, address: str) -> None:
    page = browser.new_page()
    page.goto(f"{address}/verdict?core=0417")
    expect(page.locator(".ia-drawing:visible svg").first).to_be_visible()
    page.wait_for_function("document.fonts.status === 'loaded'")
    loaded = page.evaluate(
        "[...document.fonts].filter(f => f.status === 'loaded').map(f => `${f.family} ${f.weight}`)"
    )
    assert {"IBM Plex Sans 400", "IBM Plex Sans Condensed 400", "IBM Plex Sans Condensed 600"} <= {
        name.replace('"', "") for name in loaded
    }
    page.close()


def test_static_serving_shows_nothing_but_the_folder_of_fonts() -> None:
    static = Path(shelf.__file__).with_name("static")
    assert {path.name for path in static.iterdir()} == {"fonts"}
