"""A phone is paired at the shop's computer and thrown out again, as two real browsers see it."""

import re
from collections.abc import Iterator
from pathlib import Path

import pytest
from playwright.sync_api import Browser, Page, expect

from tests.ui.shared import SharedServer

NOT_PAIRED = "This phone is not paired: ask the person at the shop's computer for a code."


@pytest.fixture(scope="module")
def folder(tmp_path_factory: pytest.TempPathFactory) -> Path:
    return tmp_path_factory.mktemp("shared")


@pytest.fixture(scope="module")
def server(folder: Path) -> Iterator[SharedServer]:
    started = SharedServer(folder)
    yield started
    assert "Traceback" not in started.stop()


@pytest.fixture
def complaints() -> Iterator[list[str]]:
    """What pages say of their policy or of a script that fails: nothing."""
    said: list[str] = []
    yield said
    assert said == []


@pytest.fixture
def desk(browser: Browser, server: SharedServer, complaints: list[str]) -> Iterator[Page]:
    yield from opened(browser, complaints, 1440, 1000)


@pytest.fixture
def phone(browser: Browser, server: SharedServer, complaints: list[str]) -> Iterator[Page]:
    yield from opened(browser, complaints, 390, 844)


def opened(browser: Browser, complaints: list[str], width: int, height: int) -> Iterator[Page]:
    context = browser.new_context(viewport={"width": width, "height": height})
    page = context.new_page()
    page.on("console", lambda said: complaints.append(said.text) if "Content Security" in said.text else None)
    page.on("pageerror", lambda error: complaints.append(str(error)))
    yield page
    context.close()


def code_at(desk: Page, server: SharedServer) -> str:
    desk.goto(f"{server.here}/phones")
    button = desk.get_by_role("button", name="Make a code")
    shown = desk.locator(".ia-code")
    expect(button.or_(shown)).to_be_visible(timeout=30_000)
    if button.is_visible():
        button.click()
    expect(shown).to_be_visible()
    return shown.inner_text()


def test_a_phone_pairs_by_the_typed_code_and_is_thrown_out(
    desk: Page, phone: Page, server: SharedServer
) -> None:
    phone.goto(server.there)
    expect(phone.get_by_text(NOT_PAIRED)).to_be_visible()
    code = code_at(desk, server)
    phone.get_by_role("link", name="Pair this phone").click()
    phone.get_by_label("Code, as the shop's computer shows it").fill("ABCD EFGH")
    phone.get_by_label("Your name or initials").fill("<b>B. Tester</b>")
    phone.get_by_role("button", name="Pair this phone").click()
    expect(phone.get_by_role("alert")).to_contain_text("The code does not count")
    phone.get_by_label("Code, as the shop's computer shows it").fill(code.lower())
    phone.get_by_label("Your name or initials").fill("<b>B. Tester</b>")
    phone.get_by_role("button", name="Pair this phone").click()
    expect(phone.get_by_role("heading", level=1)).to_have_text("No core is here yet", timeout=30_000)
    expect(desk.get_by_role("heading", level=1)).to_have_text("1 phone is paired", timeout=10_000)
    expect(desk.get_by_text("<b>B. Tester</b>", exact=True)).to_be_visible()
    expect(desk.locator(".ia-code")).to_have_count(0)

    phone.goto(f"{server.there}/phones")
    expect(phone.get_by_role("heading", level=1)).to_have_text("Phones are paired at the shop's computer")
    assert phone.get_by_role("button", name="Make a code").count() == 0

    with phone.expect_websocket() as again:
        phone.goto(f"{server.there}/help")
        expect(phone.get_by_role("heading").first).to_be_visible(timeout=30_000)
    assert not again.value.is_closed()
    desk.get_by_role("button", name="Unpair").click()
    expect(desk.get_by_role("status")).to_contain_text(
        "The phone of <b>B. Tester</b> is unpaired: what it had open is closed."
    )
    if not again.value.is_closed():
        again.value.wait_for_event("close", timeout=2_000)
    phone.reload()
    expect(phone.get_by_text(NOT_PAIRED)).to_be_visible()
    assert f"inspect_{server.port}" not in {cookie["name"] for cookie in phone.context.cookies()}


def test_the_picture_leads_to_a_page_that_has_the_code_and_hides_it(
    desk: Page, phone: Page, server: SharedServer
) -> None:
    code = code_at(desk, server)
    expect(desk.get_by_alt_text("QR picture of the address with the code")).to_be_visible()
    asked: list[str] = []
    phone.on("request", lambda request: asked.append(request.url))
    phone.goto(f"{server.there}/pair#{code.replace(' ', '')}")
    expect(phone.locator("input[name=code]")).to_have_value(code.replace(" ", ""))
    expect(phone.locator("input[name=who]")).to_be_focused()
    assert phone.url == f"{server.there}/pair"
    assert asked == [f"{server.there}/pair#{code.replace(' ', '')}"] or asked == [f"{server.there}/pair"]
    phone.keyboard.type("C. Tester")
    phone.keyboard.press("Enter")
    expect(phone.get_by_role("heading", level=1)).to_have_text("No core is here yet", timeout=30_000)
    (cookie,) = [one for one in phone.context.cookies() if one["name"] == f"inspect_{server.port}"]
    assert (cookie["httpOnly"], cookie["sameSite"], cookie["path"]) == (True, "Strict", "/")
    assert phone.evaluate("document.cookie").find(cookie["value"]) == -1
    expect(desk.get_by_role("heading", level=1)).to_have_text("1 phone is paired", timeout=10_000)
    desk.get_by_role("button", name="Unpair").click()
    expect(desk.get_by_role("heading", level=1)).to_have_text("No phone is paired")


def test_ending_a_code_takes_it_from_the_screen(desk: Page, server: SharedServer) -> None:
    code_at(desk, server)
    desk.get_by_role("button", name="End this code").click()
    expect(desk.locator(".ia-code")).to_have_count(0)
    expect(desk.get_by_role("button", name="Make a code")).to_be_visible()


def test_pages_of_pairing_fit_a_phone(phone: Page, server: SharedServer) -> None:
    for path in ("/", "/pair"):
        phone.goto(f"{server.there}{path}")
        assert phone.evaluate("document.documentElement.scrollWidth") <= 390
        for target in phone.locator("a, button, input").all():
            box = target.bounding_box()
            assert box is not None
            assert box["height"] >= 48


def test_a_paired_phone_stays_paired_when_the_program_starts_again(browser: Browser, tmp_path: Path) -> None:
    first = SharedServer(tmp_path)
    desk, phone = browser.new_page(), browser.new_page()
    try:
        code = code_at(desk, first)
        phone.goto(f"{first.there}/pair")
        phone.locator("input[name=code]").fill(code)
        phone.locator("input[name=who]").fill("D. Tester")
        phone.get_by_role("button").click()
        expect(phone.get_by_role("heading", level=1)).to_have_text("No core is here yet", timeout=30_000)
    finally:
        first.stop()
    second = SharedServer(tmp_path, str(first.port))
    try:
        phone.goto(second.there)
        expect(phone.get_by_role("heading", level=1)).to_have_text("No core is here yet", timeout=30_000)
    finally:
        second.stop()
        desk.close()
        phone.close()


def test_the_start_says_what_sharing_means(server: SharedServer) -> None:
    assert re.search(r"once it is paired on the page Phones, opens\n  http://[0-9.]+:\d+\n", server.said)
    assert "This is plain http: whoever can listen in that network can read along" in server.said
