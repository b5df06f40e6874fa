"""The Papers page in Chromium: the page that will be printed, its download, no sideways scroll."""

from collections.abc import Iterator
from pathlib import Path

import pytest
from playwright.sync_api import Browser, expect

from inspect_app.shipped import shipped
from tests.ui.served_shop import served
from tests.ui.shop_core import FOUR


@pytest.fixture(scope="module")
def address(tmp_path_factory: pytest.TempPathFactory) -> Iterator[str]:
    folder = tmp_path_factory.mktemp("papers")
    with served(folder / "shop.sqlite", "--cores", shipped("demo_cores")) as at:
        yield at


@pytest.mark.parametrize(("width", "height"), [(390, 844), (1440, 1000)])
def test_a_paper_is_seen_whole_and_fetched(
    browser: Browser, address: str, width: int, height: int, tmp_path: Path
) -> None:
    page = browser.new_page(viewport={"width": width, "height": height})
    page.goto(f"{address}/papers?core={FOUR}&part=crankshaft")
    shown = page.get_by_role("img", name="Rejection sheet, Crankshaft, page 1 of 1")
    expect(shown).to_be_visible(timeout=30_000)
    page.wait_for_function("document.querySelector('img.ia-paper-page').naturalWidth > 1200")
    assert page.evaluate("document.documentElement.scrollWidth") <= width
    link = page.get_by_role("link", name="Download the PDF")
    box = link.bounding_box()
    assert box is not None
    assert box["height"] >= 48
    with page.expect_download() as fetched:
        link.click()
    assert fetched.value.suggested_filename == f"{FOUR}--rejection--crankshaft.pdf"
    fetched.value.save_as(tmp_path / "sheet.pdf")
    assert (tmp_path / "sheet.pdf").read_bytes().startswith(b"%PDF")
    page.close()
