"""In a real browser, at a desk and on a phone: begin a core, and find one as one types."""

from collections.abc import Iterator
from pathlib import Path

import pytest
from playwright.sync_api import Browser, Page, expect

from tests.ui.served_shop import served

SIZES = {"desk": (1440, 1000), "phone": (390, 844)}


@pytest.fixture(scope="module")
def shop_address(tmp_path_factory: pytest.TempPathFactory) -> Iterator[str]:
    path: Path = tmp_path_factory.mktemp("rack") / "shop.sqlite"
    with served(path) as address:
        yield address


@pytest.fixture(params=SIZES)
def page(browser: Browser, request: pytest.FixtureRequest) -> Iterator[Page]:
    width, height = SIZES[request.param]
    opened = browser.new_page(viewport={"width": width, "height": height})
    opened.set_default_timeout(30_000)
    yield opened
    opened.close()


def no_sideways_scroll(page: Page) -> None:
    assert page.evaluate("document.documentElement.scrollWidth") <= page.viewport_size["width"]  # type: ignore[index]


def test_a_core_is_begun_and_found_as_one_types(page: Page, shop_address: str) -> None:
    assert page.viewport_size is not None
    title = f"Harrow {page.viewport_size['width']}"
    page.goto(shop_address)
    page.get_by_role("link", name="Begin a core").click()
    page.get_by_label("Who enters").fill("B.W.")
    page.get_by_label("Title", exact=True).fill(title)
    page.get_by_label("Title", exact=True).press("Tab")
    no_sideways_scroll(page)
    page.get_by_role("button", name="Begin this core").click()
    expect(page.locator("h1")).to_have_text("Not judged", timeout=30_000)
    core = title.lower().replace(" ", "-")
    assert f"core={core}" in page.url
    expect(page.get_by_text("Nobody has looked at this core yet.")).to_be_visible()
    link = page.get_by_role("link", name="Next: look at the")
    assert (link.get_attribute("href") or "").startswith(f"/part?core={core}&part=")
    no_sideways_scroll(page)

    page.goto(shop_address)
    find = page.get_by_label("Find a core")
    expect(page.locator(f'.ia-core[data-core="{core}"]')).to_be_visible(timeout=30_000)
    find.press_sequentially(title)
    expect(page.get_by_text("1 of ", exact=False).first).to_be_visible(timeout=30_000)
    expect(page.locator(".ia-core")).to_have_count(1)
    no_sideways_scroll(page)
