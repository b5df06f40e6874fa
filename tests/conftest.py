"""The one browser that every test of screens shares: a second one beside it cannot be started."""

from collections.abc import Iterator

import pytest
from playwright.sync_api import Browser, sync_playwright

from tests.ui.chromium import ARGUMENTS, chromium_path


@pytest.fixture(scope="session")
def browser() -> Iterator[Browser]:
    """Debian's Chromium without a window."""
    with sync_playwright() as playwright:
        opened = playwright.chromium.launch(executable_path=chromium_path(), args=ARGUMENTS)
        yield opened
        opened.close()
