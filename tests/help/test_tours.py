"""The tours of the manual, walked in Chromium: what a step quotes stands on the page that the step opens."""

import re
import time
from collections.abc import Callable, Iterator
from dataclasses import dataclass

import pytest
from playwright.sync_api import Browser, Page, expect

from inspect_app import store
from inspect_app.rulebook.load import load_rulebook
from inspect_app.shipped import manual_page, shipped
from inspect_app.ui import help
from tests.ui.served_shop import served

SLOW_S = 30
WALKED = {"tour-buyer": (390, 844), "tour-technician": (390, 844), "tour-advisor": (1440, 1000)}
STEP = re.compile(r"^(\d+)\. (.*(?:\n +.*)*)", re.MULTILINE)
LINK = re.compile(r"\[[^\]]+\]\((/[^)]*)\)")
QUOTED = re.compile(r'"([^"]+)"')
NUMBER = re.compile(r"\+?\d[\d.,]*\d|\+?\d")
TEXT = """() => {
    const said = [];
    const walk = node => {
        if (node.nodeType === Node.TEXT_NODE) said.push(node.textContent);
        if (node.nodeType !== Node.ELEMENT_NODE || ['STYLE', 'SCRIPT'].includes(node.nodeName)) return;
        if (['INPUT', 'TEXTAREA'].includes(node.nodeName)) said.push(` ${node.value} `);
        [...(node.shadowRoot?.childNodes ?? []), ...node.childNodes].forEach(walk);
        if (!getComputedStyle(node).display.startsWith('inline')) said.push(' ');
    };
    walk(document.querySelector('.stApp'));
    return said.join('');
}"""


@dataclass(frozen=True)
class Step:
    """One step of a tour: its number, where its link leads, and what it says to be there."""

    number: int
    address: str
    named: tuple[str, ...]


def steps(tour: str) -> list[Step]:
    return [_step(int(number), said) for number, said in STEP.findall(manual_page(tour).read_text("utf-8"))]


def _step(number: int, said: str) -> Step:
    [address] = LINK.findall(said) or [""]
    plain = " ".join(LINK.sub("", said).split())
    return Step(number, address, (*QUOTED.findall(plain), *NUMBER.findall(QUOTED.sub("", plain))))


@pytest.fixture(scope="module")
def shop(tmp_path_factory: pytest.TempPathFactory) -> Iterator[str]:
    """The address of the program over a fresh shop file with all demo cores."""
    folder = tmp_path_factory.mktemp("tours")
    with store.create_shop_file(folder / "shop.sqlite") as made:
        for core in sorted(shipped("demo_cores").iterdir()):
            store.import_bundle(made, load_rulebook(shipped("rules")), core, "A.T.")
    with served(folder / "shop.sqlite") as address:
        yield address


def text(page: Page) -> str:
    """All that stands on the page, also behind lines that open, and what is in its boxes."""
    return " ".join(page.evaluate(TEXT).split())


def missing(page: Page, named: tuple[str, ...], before: str = "") -> list[str]:
    """What of `named` is not on the page once it had time to be drawn, nor was on it before."""
    until = time.monotonic() + SLOW_S
    while True:
        shown = before + text(page)
        left = [one for one in named if one not in shown]
        if not left or time.monotonic() > until:
            return left
        page.wait_for_timeout(100)


def look_and_undo(page: Page) -> str:
    """Sign, say that the part is washed, tap, read what the page says, and take the tap back."""
    sign(page)
    page.get_by_text("Washed", exact=True).click()
    looked = page.get_by_role("button", name="Looked, nothing seen")
    undo = page.get_by_role("button", name="Undo this look")
    looked.first.click()
    expect(undo).to_be_visible(timeout=SLOW_S * 1000)
    expect(page.locator(".ia-told")).to_contain_text("Saved", timeout=SLOW_S * 1000)
    shown = text(page)
    undo.click()
    expect(undo).to_have_count(0, timeout=SLOW_S * 1000)
    return shown


def read_and_withdraw(page: Page) -> str:
    """Type the reading of the step, see it saved and counted, and withdraw it with a reason."""
    sign(page)
    expect(page.locator(".bench[data-ready='true']")).to_be_attached(timeout=SLOW_S * 1000)
    box = page.get_by_label("Bore 3, middle, across", exact=True)
    box.fill("+14")
    box.press("Enter")
    assert missing(page, ("12 of 48 read", "at least 0.0010 ")) == []
    shown = text(page)
    box.fill("")
    box.press("Enter")
    page.keyboard.type("tried in the tour")
    page.keyboard.press("Enter")
    assert missing(page, ("11 of 48 read",)) == []
    return shown


def sign(page: Page) -> None:
    box = page.get_by_label("Who enters", exact=True)
    expect(box).to_be_visible(timeout=SLOW_S * 1000)
    box.fill("A.T.")
    box.press("Enter")


DONE: dict[tuple[str, int], Callable[[Page], str]] = {
    ("tour-technician", 3): look_and_undo,
    ("tour-technician", 6): read_and_withdraw,
}


@pytest.mark.parametrize("tour", WALKED)
def test_what_a_tour_names_stands_on_the_pages_that_it_opens(browser: Browser, shop: str, tour: str) -> None:
    width, height = WALKED[tour]
    page = browser.new_page(viewport={"width": width, "height": height})
    wrong: dict[int, list[str]] = {}
    opened = ""
    for step in steps(tour):
        if step.address != opened:
            page.goto(shop + step.address)
        opened = step.address
        act = DONE.get((tour, step.number))
        before = act(page) if act else ""
        if left := missing(page, step.named, before):
            wrong[step.number] = left
    page.close()
    assert wrong == {}, f"{tour}: these steps name what is not on their page"


@pytest.mark.parametrize("tour", WALKED)
def test_a_tour_is_ten_steps_or_so_each_with_one_link_and_something_to_see(tour: str) -> None:
    found = steps(tour)
    assert 8 <= len(found) <= 12
    assert [step.number for step in found] == list(range(1, len(found) + 1))
    assert [step.number for step in found if not step.address or not step.named] == []


@pytest.mark.parametrize("tour", WALKED)
def test_a_tour_cautions_and_is_reached_from_the_first_page(tour: str) -> None:
    assert manual_page(tour).read_text("utf-8").count("**Caution.**") >= 2
    assert f"({tour}.md)" in manual_page("index").read_text("utf-8")
    assert tour in help.PAGES


def test_the_walk_finds_what_is_not_there(
    browser: Browser, shop: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("tests.help.test_tours.SLOW_S", 3)
    page = browser.new_page()
    page.goto(shop)
    assert missing(page, ("Brackwater Vee", "Brackwater Twelve", "$2,813")) == ["Brackwater Twelve", "$2,813"]
    page.close()
