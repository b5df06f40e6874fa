"""The Shop book in Chromium: what is typed into a table is what is kept."""

from collections.abc import Iterator
from pathlib import Path

import pytest
from playwright.sync_api import Browser, Page, expect

from inspect_app.rulebook.load import load_rulebook
from inspect_app.shipped import shipped
from tests.ui.served_shop import served


@pytest.fixture(scope="module")
def folder(tmp_path_factory: pytest.TempPathFactory) -> Path:
    return tmp_path_factory.mktemp("shop")


@pytest.fixture(scope="module")
def address(folder: Path) -> Iterator[str]:
    with served(folder / "shop.sqlite", "--cores", shipped("demo_cores")) as at:
        yield at


@pytest.fixture
def page(browser: Browser) -> Iterator[Page]:
    opened = browser.new_page(viewport={"width": 1440, "height": 1200})
    yield opened
    opened.close()


def find(page: Page, label: str, text: str) -> None:
    page.get_by_label(label).fill(text)
    page.get_by_label(label).press("Enter")
    page.wait_for_timeout(800)


def type_into(page: Page, grid: int, column: int, row: int, text: str) -> None:
    """Type into a cell of the grid: `column` and `row` from 0, by the pixels of its head and rows."""
    cells = page.get_by_test_id("stDataFrame").nth(grid)
    head = cells.locator("canvas").first.bounding_box()
    assert head is not None
    page.mouse.click(head["x"] + column, head["y"] + 40 + 48 * row + 20)
    page.keyboard.press("Enter")
    page.wait_for_timeout(400)
    page.keyboard.press("Control+A")
    page.keyboard.type(text, delay=40)
    page.keyboard.press("Enter")
    page.wait_for_timeout(600)


def test_prices_typed_in_two_views_are_kept_together(page: Page, address: str, folder: Path) -> None:
    page.goto(f"{address}/prices")
    find(page, "Who enters", "B.W.")
    find(page, "Find a price", "Used crankshaft of")
    type_into(page, 0, 480, 0, "95,50")
    expect(page.get_by_role("button", name="Save 1 price")).to_be_enabled()
    find(page, "Find a price", "Strip the engine")
    type_into(page, 0, 480, 0, "310")
    find(page, "Find a price", "")
    page.get_by_role("button", name="Save 2 prices").click()
    expect(page.get_by_text("Saved: 2 prices of the shop.")).to_be_visible()
    book = load_rulebook(shipped("rules"), [folder / "shop-rules"])
    assert book.prices["used-crankshaft-other-kind"].likely == 95.5
    assert book.prices["strip-engine"].likely == 310
    assert book.prices["strip-engine"].by == "B.W."
    page.reload()
    expect(page.get_by_text("2 of")).to_be_visible()
    expect(page.get_by_label("Who enters")).to_have_value("B.W.")
