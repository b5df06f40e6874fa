"""Who enters: whoever was typed last in a browser, on every page of it."""

from pathlib import Path

import pytest
from playwright.sync_api import Browser, Page, expect
from streamlit.testing.v1 import AppTest

from inspect_app.shipped import shipped
from inspect_app.ui import who
from tests.ui.served_shop import served


def typed(page: Page, name: str) -> None:
    box = page.get_by_label("Who enters", exact=True)
    box.fill(name)
    box.press("Enter")
    page.wait_for_function("name => document.cookie.includes(name)", arg=f"{who.COOKIE}={name}")


@pytest.fixture
def page(browser: Browser, tmp_path: Path):
    with served(tmp_path / "shop.sqlite", "--cores", shipped("demo_cores")) as address:
        context = browser.new_context(base_url=address, viewport={"width": 1440, "height": 1000})
        yield context.new_page()
        context.close()


def test_who_was_typed_last_enters_also_after_a_page_that_does_not_ask(page: Page) -> None:
    page.goto("/prices")
    typed(page, "A.T.")
    page.goto("/gauges")
    box = page.get_by_label("Who enters", exact=True)
    expect(box).to_have_value("A.T.", timeout=20_000)
    typed(page, "B.W.")
    page.get_by_role("link", name="Help", exact=True).click()
    expect(box).to_have_count(0, timeout=20_000)
    page.get_by_role("link", name="Part", exact=True).click()
    expect(box).to_have_value("B.W.", timeout=20_000)
    assert f"{who.COOKIE}=B.W." in page.evaluate("document.cookie")


@pytest.mark.parametrize(
    ("typed_before", "shown"), [("B.W.", "B.W."), ("", ""), (" B.W. ", "B.W."), ("x" * 99, "x" * 40)]
)
def test_what_was_typed_on_an_earlier_page_counts(typed_before: str, shown: str) -> None:
    def script() -> None:
        import streamlit as st

        from inspect_app.ui import who

        st.text(f"[{who.box()}]")

    app = AppTest.from_function(script)
    app.session_state["who_typed"] = typed_before
    app.run()
    assert app.text[0].value == f"[{shown}]"
