"""The drawings of the Verdict page: a place for each, and each in its place."""

import re
from pathlib import Path

import pytest
from playwright.sync_api import Browser, expect

from inspect_app.pictures.tokens import DARK, LIGHT
from inspect_app.ui import drawings, parts_view, shelf
from inspect_app.ui.markup import join
from inspect_app.ui.shelf import Shelf
from tests.pictures.support import NASTY, outside, plan
from tests.ui import made
from tests.ui.made import judge_made, put_core


def places(html: str) -> list[str]:
    return [name.replace("&#x27;", "'") for name in re.findall(r'data-drawing="([^"]*)"', html)]


def test_every_place_has_its_drawing_and_every_drawing_its_place() -> None:
    answer = made.answer()
    html = join(drawings.map_place(plan("V6")), parts_view.parts(answer))
    drawn = drawings.drawings(answer, plan("V6"), LIGHT)
    assert set(places(html)) == set(drawn)
    assert len(places(html)) == len(set(places(html)))
    assert {name for name in drawn if "taper" in name} == {
        f"crankshaft|taper-past-polish|mains.polish|main_journal 2|{width}" for width in (560, 340)
    }
    assert all(outside(drawing) == [] for drawing in drawn.values())


def test_drawings_are_in_the_ink_of_the_theme() -> None:
    answer = made.answer()
    assert DARK.ink in drawings.drawings(answer, plan("V6"), DARK)["map"]
    assert LIGHT.ink not in drawings.drawings(answer, plan("V6"), DARK)["map"]


def test_without_a_plan_there_is_no_map_and_no_place_for_one() -> None:
    assert drawings.map_place(None) == ""
    assert not any(name.startswith("map") for name in drawings.drawings(made.answer(), None, LIGHT))


def test_what_a_person_typed_is_text_in_a_drawing() -> None:
    answer = made.answer(title=NASTY)
    assert "<b>" not in drawings.drawings(answer, plan("V6"), LIGHT)["map"]


def test_the_shelf_lays_out_each_core_and_tells_a_fault_of_it(tmp_path: Path) -> None:
    put_core(tmp_path, "one")
    (slot,) = Shelf(tmp_path, judge_made, lambda folder: plan("V6")).list()
    assert slot.plan == plan("V6")
    (slot,) = Shelf(tmp_path, judge_made).list()
    assert slot.plan is None
    (slot,) = Shelf(tmp_path, judge_made, lambda folder: {}[folder]).list()  # type: ignore[arg-type]
    assert slot.problem is not None
    assert "fault of the program" in slot.problem


@pytest.mark.parametrize(("width", "height"), [(1440, 1000), (390, 844)])
def test_map_is_drawn_and_a_click_or_a_key_opens_the_part(
    browser: Browser, address: str, width: int, height: int
) -> None:
    page = browser.new_page(viewport={"width": width, "height": height})
    page.goto(f"{address}/verdict?core=0417")
    crankshaft = page.locator('.ia-drawing:visible g[data-position="crankshaft"]')
    expect(crankshaft).to_have_count(1)
    expect(crankshaft).to_have_attribute("aria-label", "Crankshaft: Replace, settled")
    crankshaft.locator("rect").nth(1).click()
    details = page.locator('details[data-part="crankshaft"]')
    expect(details).to_have_attribute("open", "")
    expect(details.locator(".ia-drawing:visible .needle")).to_have_count(1)
    page.locator('.ia-drawing:visible g[data-position="block"]').press("Enter")
    expect(page.locator('details[data-part="block"]')).to_have_attribute("open", "")
    assert page.evaluate("document.documentElement.scrollWidth") <= width
    page.close()


def test_another_core_brings_its_own_drawings_and_then_all_is_quiet(browser: Browser, address: str) -> None:
    page = browser.new_page(viewport={"width": 1440, "height": 1000})
    page.goto(f"{address}/verdict?core=0417")
    drawn = page.locator(".ia-drawing:visible svg").first
    expect(drawn).to_have_attribute("aria-label", "Map of 0417 Brackwater Four")
    page.get_by_role("combobox").click()
    page.get_by_role("option", name="0431 Harrow Six").click()
    expect(drawn).to_have_attribute("aria-label", "Map of 0431 Harrow Six")
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
