"""One day in the shop, in Chromium: the computer at the desk, a paired phone, and a restart between."""

from collections.abc import Iterator
from pathlib import Path

import pytest
from playwright.sync_api import Browser, Page, expect

from inspect_app import store
from inspect_app.model.evidence import Finding, Reading, Region
from inspect_app.rulebook.load import load_rulebook
from inspect_app.shipped import shipped
from tests.ui.pictures_made import jpeg
from tests.ui.shared import SharedServer
from tests.ui.shop_core import VEE

SLOW = 30_000
NEW, TITLE = "the-one-from-the-barn", "The one from the barn"
STATIONS, DIRECTIONS = ("top", "middle", "bottom", "below"), ("across", "along")
VALUES = [f"+{62 - 15 * at + number}" for number in range(4) for at in range(4) for _ in range(2)]


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    with store.create_shop_file(tmp_path / "shop.sqlite") as shop:
        store.import_bundle(shop, load_rulebook(shipped("rules")), shipped("demo_cores") / VEE, "A.T.")
    return tmp_path


@pytest.fixture
def complaints() -> Iterator[list[str]]:
    said: list[str] = []
    yield said
    assert said == []


def opened(browser: Browser, complaints: list[str], width: int, height: int, touch: bool = False) -> Page:
    size = {"width": width, "height": height}
    page = browser.new_context(viewport=size, has_touch=touch).new_page()  # type: ignore[arg-type]
    page.on("pageerror", lambda error: complaints.append(str(error)))
    page.on("console", lambda said: complaints.append(said.text) if "Content Security" in said.text else None)
    return page


def sign(page: Page, who: str) -> None:
    box = page.get_by_label("Who enters", exact=True)
    expect(box).to_be_visible(timeout=SLOW)
    box.fill(who)
    box.press("Enter")


def choose(page: Page, label: str, option: str) -> None:
    page.get_by_label(label, exact=True).click()
    page.get_by_role("option", name=option, exact=True).click()


def begin(desk: Page, at: str) -> None:
    """Begin a core from a few words, and see that nobody has looked at it."""
    desk.goto(at)
    desk.get_by_role("link", name="Begin a core").click()
    sign(desk, "A.T.")
    desk.get_by_label("Title", exact=True).fill(TITLE)
    desk.get_by_label("Title", exact=True).press("Enter")
    desk.get_by_role("button", name="Begin this core").click()
    expect(desk.locator("h1").first).to_have_text("Not judged", timeout=SLOW)
    assert f"core={NEW}" in desk.url


def pair(phone: Page, desk: Page, server: SharedServer) -> None:
    desk.goto(f"{server.here}/phones")
    desk.get_by_role("button", name="Make a code").click(timeout=SLOW)
    shown = desk.locator(".ia-code")
    expect(shown).to_be_visible(timeout=SLOW)
    phone.goto(f"{server.there}/pair")
    phone.get_by_label("Code, as the shop's computer shows it").fill(shown.inner_text())
    phone.get_by_label("Your name or initials").fill("B. Walker")
    phone.get_by_role("button", name="Pair this phone").tap()
    expect(phone.locator("h1").first).to_contain_text("2 cores", timeout=SLOW)


def photo_of_a_crack(phone: Page, at: str) -> None:
    """Take a photo at the Vee's crankshaft, draw the crack by touch, and save it as seen."""
    phone.goto(f"{at}/part?core={VEE}&part=crankshaft")
    sign(phone, "B.W.")
    files = phone.locator("input[type=file]")
    expect(files.first).to_be_enabled(timeout=SLOW)
    assert files.first.get_attribute("capture") == "environment"
    shots = phone.locator("a.ia-shot")
    expect(shots).to_have_count(1, timeout=SLOW)
    picture = {"name": "IMG_1.jpg", "mimeType": "image/jpeg", "buffer": jpeg(seed=77)}
    files.nth(1).set_input_files([picture])  # type: ignore[list-item]
    expect(shots).to_have_count(2, timeout=SLOW)
    shots.last.tap(timeout=SLOW)
    phone.get_by_role("button", name="Crack line", exact=True).tap(timeout=SLOW)
    glass = phone.locator("svg.photo")
    glass.scroll_into_view_if_needed()
    box = glass.bounding_box()
    assert box is not None
    for across, down in ((0.3, 0.3), (0.45, 0.42), (0.55, 0.6)):
        phone.touchscreen.tap(box["x"] + box["width"] * across, box["y"] + box["height"] * down)
        phone.wait_for_timeout(150)
    phone.get_by_role("button", name="Done", exact=True).tap()
    form = phone.locator(".st-key-mark_form")
    expect(form).to_contain_text("Mark A", timeout=SLOW)
    asked = {"What is it?": "Crack", "Where?": "Rod journal 2", "Where on it?": "Fillet, front"}
    for label, option in asked.items():
        field = form.get_by_label(label, exact=True)
        field.click()
        field.fill(option)
        phone.get_by_role("option", name=option, exact=False).first.click()
    form.get_by_text("Seen", exact=True).tap()
    form.get_by_role("button", name="Save finding A").tap()
    expect(phone.locator(".ia-told")).to_contain_text("Saved: finding A", timeout=SLOW)


def crankshaft_is_replaced(desk: Page, at: str) -> None:
    """The desk sees the verdict with its reason, and the photo with the mark on it."""
    desk.goto(f"{at}/verdict?core={VEE}&part=crankshaft")
    panel = desk.locator("section[data-panel=crankshaft]")
    expect(panel.locator(".ia-panel-mark")).to_contain_text("Replace", timeout=SLOW)
    first = panel.locator(".ia-first")
    expect(first).to_contain_text("rod journal 2")
    picture = first.locator("img")
    expect(picture).to_be_visible()
    assert picture.evaluate("image => image.complete && image.naturalWidth > 0")
    expect(first.locator(".ia-marked svg")).to_have_attribute("aria-label", "Marks on the photo: A")


def bores_by_keyboard(desk: Page, at: str) -> None:
    desk.goto(f"{at}/bench?core={NEW}&group=block/bore/diameter")
    sign(desk, "A.T.")
    expect(desk.locator(".bench[data-ready='true']")).to_be_attached(timeout=SLOW)
    choose(desk, "Gauge", "dial bore gauge, 0.0001 in")
    field = desk.get_by_label("Set to, in", exact=True)
    field.fill("3.4370")
    field.press("Enter")
    expect(desk.locator(".bench .box").first).to_have_attribute("placeholder", "+0 or 3.4370", timeout=SLOW)
    desk.locator(".bench .box").first.click()
    for value in VALUES:
        desk.keyboard.type(value)
        desk.keyboard.press("Enter")
    expect(desk.locator('.cell[data-state="read"]')).to_have_count(32, timeout=SLOW)


def held(folder: Path, core_id: str) -> store.HeldCore:
    with store.open_shop_file(folder / "shop.sqlite") as shop:
        assert store.check_shop_file(shop) == []
        return store.load_core(shop, core_id)


def test_from_a_new_core_to_a_cracked_crankshaft_and_over_a_restart(
    browser: Browser, folder: Path, complaints: list[str]
) -> None:
    server = SharedServer(folder)
    desk = opened(browser, complaints, 1440, 1000)
    phone = opened(browser, complaints, 390, 844, touch=True)
    begin(desk, server.here)
    pair(phone, desk, server)
    photo_of_a_crack(phone, server.there)
    crankshaft_is_replaced(desk, server.here)
    bores_by_keyboard(desk, server.here)
    port = str(server.port)
    assert "Traceback" not in server.stop()

    again = SharedServer(folder, port)
    desk.goto(again.here)
    expect(desk.locator(".ia-rack")).to_contain_text(TITLE, timeout=SLOW)
    crankshaft_is_replaced(desk, again.here)
    desk.goto(f"{again.here}/bench?core={NEW}&group=block/bore/diameter")
    expect(desk.locator('.cell[data-state="read"]')).to_have_count(32, timeout=SLOW)
    # The phone is still paired, and finds its photo beside the one that the core came with.
    phone.goto(f"{again.there}/part?core={VEE}&part=crankshaft")
    expect(phone.locator("a.ia-shot")).to_have_count(2, timeout=SLOW)
    assert "Traceback" not in again.stop()
    readings = [item for item in held(folder, NEW).core.evidence if isinstance(item, Reading)]
    assert [reading.value for reading in readings] == VALUES
    order = [(f"bore {n}", station, way) for n in range(1, 5) for station in STATIONS for way in DIRECTIONS]
    assert [(r.place, r.station, r.direction) for r in readings] == order
    finding, region = held(folder, VEE).core.evidence[-2:]
    assert isinstance(finding, Finding)
    assert isinstance(region, Region)
    assert (finding.who, finding.place) == ("B.W.", "rod_journal 2/fillet/front")
    assert (region.shape, region.finding, len(region.points)) == ("crack_line", finding.id, 3)
