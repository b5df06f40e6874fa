"""The pages as Debian's Chromium shows them, on a desk and on a phone."""

import signal
from collections.abc import Iterator
from pathlib import Path

import pytest
from playwright.sync_api import Browser, Page, expect

from tests.ui import made
from tests.ui.conftest import start_server
from tests.ui.made import put_core

WIDTHS = {"desk": (1440, 1000), "phone": (390, 844)}


@pytest.fixture(params=WIDTHS)
def page(browser: Browser, request: pytest.FixtureRequest) -> Iterator[Page]:
    """A page of each width; anything loaded from elsewhere, and any script error, fails the test."""
    width, height = WIDTHS[request.param]
    opened = browser.new_page(viewport={"width": width, "height": height})
    complaints: list[str] = []
    opened.on(
        "console", lambda said: complaints.append(said.text) if "Content Security" in said.text else None
    )
    opened.on("pageerror", lambda error: complaints.append(str(error)))
    opened.on("request", lambda sent: complaints.append(sent.url) if _is_foreign(sent.url) else None)
    yield opened
    opened.close()
    assert complaints == []


def _is_foreign(url: str) -> bool:
    return not url.startswith(("http://localhost:", "ws://localhost:", "data:", "blob:"))


def _no_sideways_scroll(page: Page) -> None:
    wide = page.evaluate(
        """() => [document.documentElement, ...document.querySelectorAll('body *')]
        .filter(e => e.scrollWidth > e.clientWidth + 1 && e.clientWidth > 0
                && ['auto', 'scroll'].includes(getComputedStyle(e).overflowX)).map(e => e.className)"""
    )
    assert wide == []
    assert page.evaluate("document.documentElement.scrollWidth") <= page.viewport_size["width"]  # type: ignore[index]


def test_rack_leads_to_a_verdict(page: Page, address: str) -> None:
    page.goto(address)
    expect(page.locator("h1")).to_have_text("5 cores, 4 wait for something")
    expect(page.locator(".ia-rack")).to_contain_text("core.json, title: this key is missing.")
    _no_sideways_scroll(page)
    page.get_by_role("link", name="0417 Brackwater Four").click()
    expect(page.locator("h1")).to_have_text("Build it, provisional")
    assert page.url == f"{address}/verdict?core=0417"


def test_a_line_of_the_list_shows_the_part_without_loading_the_page_again(page: Page, address: str) -> None:
    page.goto(f"{address}/verdict?core=0417")
    expect(page.get_by_text("It can break in service")).not_to_be_visible()
    page.evaluate("window.here = true")
    page.locator("a.ia-part", has_text="Crankshaft").click()
    expect(page.get_by_text("It can break in service")).to_be_visible()
    expect(page.locator("[data-panel] h2")).to_be_in_viewport()
    assert page.evaluate("window.here") is True
    page.wait_for_url("**part=crankshaft**")
    page.reload()
    expect(page.locator("[data-panel] h2")).to_have_text("Crankshaft")


@pytest.mark.parametrize("part", [part.position for part in made.answer().parts])
def test_no_panel_scrolls_sideways_with_all_of_it_open(page: Page, address: str, part: str) -> None:
    page.goto(f"{address}/verdict?core=0417&part={part}")
    expect(page.locator(f'[data-panel="{part}"]')).to_be_visible()
    page.evaluate("document.querySelectorAll('details').forEach(line => { line.open = true; })")
    _no_sideways_scroll(page)
    right = page.locator("[data-panel]").bounding_box()
    assert right is not None
    wide = page.evaluate(
        """() => { const end = document.querySelector('[data-panel]').getBoundingClientRect().right;
        return [...document.querySelectorAll('[data-panel] *')]
            .filter(e => e.getBoundingClientRect().right > end + 1).map(e => e.outerHTML.slice(0, 60)); }"""
    )
    assert wide == []


def test_links_and_lines_are_large_enough_for_a_thumb(browser: Browser, address: str) -> None:
    page = browser.new_page(viewport={"width": 390, "height": 844})
    for path, links in (("/", ".ia-core"), ("/verdict?core=0417", ".ia-part, .ia-panel summary")):
        page.goto(address + path)
        expect(page.locator(links).first).to_be_visible()
        expect(page.locator(".st-key-pages a", has_text="Verdict")).to_be_visible()
        pages = page.locator(".st-key-pages a").all()
        assert len(pages) >= 2
        for target in [*pages, *page.locator(links).all()]:
            box = target.bounding_box()
            assert box is not None
            assert box["height"] >= 48
    page.close()


def test_pages_are_in_sight_and_lead_to_each_other_and_no_menu_is_shown(page: Page, address: str) -> None:
    page.goto(address)
    expect(page.locator(".st-key-pages a").first).to_be_in_viewport()
    page.locator(".st-key-pages a", has_text="Verdict").click()
    expect(page.locator("h1")).to_have_text("Build it, provisional")
    expect(page.get_by_test_id("stMainMenu")).to_have_count(0)


def test_typed_markup_is_shown_as_typed(page: Page, address: str) -> None:
    page.goto(f"{address}/verdict?core=0420")
    expect(page.locator(".ia-title")).to_contain_text(
        '0420 Nasty <img src=x onerror="alert(1)"> **bold** & co'
    )
    _no_sideways_scroll(page)


def test_choosing_another_core_changes_page_and_address(page: Page, address: str) -> None:
    page.goto(f"{address}/verdict?core=0417")
    expect(page.locator("h1")).to_have_text("Build it, provisional")
    page.get_by_role("combobox").click()
    page.get_by_role("option", name="0431 Harrow Six").click()
    expect(page.locator("h1")).to_have_text("Break it for parts, settled")
    page.wait_for_url("**/verdict?core=0431")


def test_fault_of_a_page_is_said_in_words_and_logged_in_a_line(browser: Browser, tmp_path: Path) -> None:
    put_core(tmp_path, "one", no_word_for="moon")
    process, at = start_server(tmp_path)
    page = browser.new_page()
    page.goto(at)
    expect(page.get_by_text("This page could not be drawn.")).to_be_visible()
    expect(page.get_by_text("KeyError")).to_have_count(0)
    page.close()
    process.send_signal(signal.SIGINT)
    _, err = process.communicate(timeout=10)
    assert "page: KeyError('moon') in rack.py, line" in err
    assert "Traceback" not in err


def test_dark_theme_takes_the_dark_tokens(browser: Browser, address: str) -> None:
    page = browser.new_page(color_scheme="dark")
    page.goto(address)
    expect(page.locator("h1")).to_have_css("color", "rgb(230, 235, 234)")
    expect(page.locator(".stApp")).to_have_css("background-color", "rgb(20, 26, 30)")
    page.close()
