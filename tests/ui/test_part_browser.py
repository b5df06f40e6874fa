"""The Part page in Debian's Chromium, over a shop file served by a process of its own, on desk and phone."""

import re
import socket
from collections.abc import Iterator
from pathlib import Path

import pytest
from playwright.sync_api import Browser, Locator, Page, expect

from inspect_app import store
from inspect_app.model.core import Core
from inspect_app.model.evidence import Finding, Look, Photo, Reading, Region, Withdrawal
from inspect_app.rulebook.load import load_rulebook
from inspect_app.shipped import shipped
from tests.ui.own_core import put_core
from tests.ui.pictures_made import jpeg
from tests.ui.served_shop import served
from tests.ui.shop_core import VEE

WIDTHS = {"desk": (1440, 1000), "phone": (390, 844)}
CRANKSHAFT = f"/part?core={VEE}&part=crankshaft"


@pytest.fixture(scope="module")
def shop(tmp_path_factory: pytest.TempPathFactory) -> Path:
    return tmp_path_factory.mktemp("shop") / "shop.sqlite"


@pytest.fixture(scope="module")
def address(shop: Path) -> Iterator[str]:
    with store.create_shop_file(shop) as made:
        put_core(made, load_rulebook(shipped("rules")))
    with socket.socket() as free:
        free.bind(("127.0.0.1", 0))
        port = free.getsockname()[1]
    with served(shop, "--port", port) as at:
        yield at


@pytest.fixture(params=WIDTHS)
def page(browser: Browser, request: pytest.FixtureRequest) -> Iterator[Page]:
    """A page of each width; any script error or refused content fails the test."""
    yield from opened(browser, WIDTHS[request.param])


@pytest.fixture
def phone(browser: Browser) -> Iterator[Page]:
    yield from opened(browser, WIDTHS["phone"])


def opened(browser: Browser, size: tuple[int, int]) -> Iterator[Page]:
    context = browser.new_context(viewport={"width": size[0], "height": size[1]})
    one = context.new_page()
    complaints: list[str] = []
    one.on("pageerror", lambda error: complaints.append(str(error)))
    one.on("console", lambda said: complaints.append(said.text) if "Content Security" in said.text else None)
    yield one
    context.close()
    assert complaints == []


def core(shop: Path) -> Core:
    with store.open_shop_file(shop) as held:
        return store.load_core(held, VEE).core


def at_part(page: Page, address: str, position: str, who: str = "B.W.") -> None:
    page.goto(f"{address}/part?core={VEE}&part={position.replace(' ', '%20')}")
    expect(page.locator("h1")).to_be_visible(timeout=20_000)
    box = page.get_by_label("Who enters", exact=True)
    box.fill(who)
    box.press("Enter")
    expect(page.locator("input[type=file]").first).to_be_enabled()


def add_photos(page: Page, *pictures: bytes) -> None:
    before = page.locator("a.ia-shot").count()
    files = [
        {"name": f"IMG_{number}.jpg", "mimeType": "image/jpeg", "buffer": picture}
        for number, picture in enumerate(pictures)
    ]
    page.locator("input[type=file]").nth(1).set_input_files(files)  # type: ignore[arg-type]
    expect(page.locator("a.ia-shot")).to_have_count(before + len(pictures), timeout=20_000)


def draw_crack(page: Page) -> None:
    page.get_by_role("button", name="Crack line", exact=True).click()
    glass = page.locator("svg.photo")
    glass.scroll_into_view_if_needed()
    box = glass.bounding_box()
    assert box is not None
    for across, down in ((0.3, 0.3), (0.42, 0.4), (0.55, 0.6)):
        page.mouse.click(box["x"] + box["width"] * across, box["y"] + box["height"] * down)
    page.get_by_role("button", name="Done", exact=True).click()


def choose(within: Page | Locator, label: str, option: str) -> None:
    box = within.get_by_label(label, exact=True)
    box.click()
    box.fill(option)
    within_page = within if isinstance(within, Page) else within.page
    within_page.get_by_role("option", name=option, exact=True).click()


def no_sideways_scroll(page: Page) -> None:
    wide = page.evaluate(
        """() => [document.documentElement, ...document.querySelectorAll('body *')]
        .filter(e => e.scrollWidth > e.clientWidth + 1 && e.clientWidth > 0
                && ['auto', 'scroll'].includes(getComputedStyle(e).overflowX)).map(e => e.className)"""
    )
    assert wide == []


def test_two_photos_a_crack_line_and_the_verdict_of_the_part_changes(
    page: Page, address: str, shop: Path, request: pytest.FixtureRequest
) -> None:
    number = list(WIDTHS).index(request.node.callspec.params["page"])
    position, seed = ("crankshaft", "rod 1")[number], 10 * number
    place = ("Rod journal 2", "Beam")[number]
    at_part(page, address, position)
    add_photos(page, jpeg(seed=seed + 1), jpeg(seed=seed + 2))
    page.locator("a.ia-shot").first.click()
    expect(page.locator("svg.photo")).to_be_visible()
    no_sideways_scroll(page)
    draw_crack(page)
    form = page.locator(".st-key-mark_form")
    expect(form).to_contain_text("Mark A")
    choose(form, "What is it?", "Crack")
    expect(form).to_contain_text("A break in the metal that can be thinner than a hair")
    choose(form, "Where?", place)
    form.get_by_text("Seen", exact=True).click()
    form.get_by_role("button", name="Save finding A").click()
    expect(page.locator(".ia-told")).to_contain_text("Saved: finding A, Crack")
    expect(page.locator(".ia-told")).to_be_in_viewport()
    expect(page.locator(".ia-mark-line")).to_contain_text("Crack")
    expect(page.locator(".ia-panel-mark")).to_contain_text("Replace")
    no_sideways_scroll(page)
    region, finding = _region_and_finding(core(shop))
    assert (region.shape, len(region.points), region.finding) == ("crack_line", 3, finding.id)
    assert [round(part) for part in region.points[0]] == pytest.approx([360, 270], abs=8)


def _region_and_finding(held: Core) -> tuple[Region, Finding]:
    finding, region = held.evidence[-2:]
    assert isinstance(region, Region)
    assert isinstance(finding, Finding)
    return region, finding


def test_a_look_by_one_tap_and_its_undo(page: Page, address: str, shop: Path) -> None:
    at_part(page, address, "cylinder_head left")
    row = page.locator(".st-key-look_row_head_face")
    button = row.get_by_role("button", name="Looked, nothing")
    assert (button.bounding_box() or {"height": 0})["height"] >= 48
    button.click()
    expect(page.locator(".ia-told")).to_contain_text("Saved: Looked, nothing seen: head face")
    assert isinstance(core(shop).evidence[-1], Look)
    row.get_by_role("button", name="Undo this look").click()
    expect(page.locator(".ia-told")).to_contain_text("is withdrawn")
    assert isinstance(core(shop).evidence[-1], Withdrawal)


def test_a_reading_is_corrected_and_another_withdrawn_from_the_record(
    page: Page, address: str, shop: Path
) -> None:
    at_part(page, address, "block")
    lines = page.locator(".ia-item").filter(has_text="Reading").filter(has_text="Correct or withdraw")
    lines.first.get_by_role("link").click()
    form = page.locator(".st-key-changing")
    expect(form).to_be_focused()
    expect(form).to_be_in_viewport()
    form.get_by_label(re.compile("^Reading, ")).fill("3.501")
    form.get_by_role("button", name="Save correction").click()
    expect(page.locator(".ia-told")).to_contain_text("It corrects reading")
    corrected = core(shop).evidence[-1]
    assert isinstance(corrected, Reading)
    assert corrected.value == "3.501"
    expect(form).to_have_count(0)
    lines.first.get_by_role("link").click()
    expect(form).to_be_focused()
    expect(form).to_contain_text("It stays in the record, struck through.")
    form.get_by_role("button", name=re.compile("^Withdraw reading")).click()
    expect(page.locator(".ia-refused")).to_contain_text("Why?: nothing is chosen.")
    form.get_by_label("Why?").fill("Read on the <b>wrong</b> bore")
    form.get_by_label("Why?").press("Enter")
    form.get_by_role("button", name=re.compile("^Withdraw reading")).click()
    expect(page.locator(".ia-told")).to_contain_text("is withdrawn.")
    gone = page.locator(".ia-item").filter(has_text="Read on the <b>wrong</b> bore").first
    expect(gone.locator("s")).to_be_visible()
    assert isinstance(core(shop).evidence[-1], Withdrawal)


def test_two_browsers_on_one_photo_see_and_keep_each_others_marks(
    phone: Page, browser: Browser, address: str, shop: Path
) -> None:
    at_part(phone, address, "piston 1")
    add_photos(phone, jpeg(seed=31))
    phone.locator("a.ia-shot").first.click()
    draw_crack(phone)
    expect(phone.locator(".st-key-mark_form")).to_contain_text("Mark A")
    for other in opened(browser, WIDTHS["desk"]):
        other.goto(phone.url)
        expect(other.get_by_text("Somebody else is drawing 1 mark on this photo.")).to_be_visible()
        expect(other.locator('[aria-label*="being drawn by somebody else"]')).to_have_count(1)
        draw_crack(other)
        expect(other.locator(".st-key-mark_form")).to_contain_text("Mark B")
    phone.reload()
    expect(phone.get_by_text("Somebody else is drawing 1 mark on this photo.")).to_be_visible()
    with store.open_shop_file(shop) as held:
        photo = next(one.photo.id for one in store.photos_of(held, VEE) if one.photo.piece == "piston 1")
        drafts = store.drafts_of(held, VEE, photo)
    assert len(drafts) == 2
    assert [len(draft.marks) for draft in drafts] == [1, 1]
    assert len({draft.session for draft in drafts}) == 2


def test_a_file_that_is_no_photo_is_told_beside_those_that_are(phone: Page, address: str, shop: Path) -> None:
    at_part(phone, address, "rod 2")
    files = [
        {"name": "good.jpg", "mimeType": "image/jpeg", "buffer": jpeg(seed=41)},
        {"name": "<b>bad</b>.jpg", "mimeType": "image/jpeg", "buffer": b"no picture"},
        {"name": "again.jpg", "mimeType": "image/jpeg", "buffer": jpeg(seed=41)},
    ]
    phone.locator("input[type=file]").nth(1).set_input_files(files)  # type: ignore[arg-type]
    expect(phone.get_by_text("2 of 3 photos are saved.")).to_be_visible()
    expect(phone.get_by_text("good.jpg: Added.")).to_be_visible()
    expect(phone.get_by_text("again.jpg: Here already, from B.W.")).to_be_visible()
    expect(phone.get_by_text('<b>bad</b>.jpg: photo "<b>bad</b>.jpg", not taken in')).to_be_visible()
    kept = [item for item in core(shop).evidence if isinstance(item, Photo) and item.piece == "rod 2"]
    assert len(kept) == 1


def test_a_photo_of_a_phone_that_is_no_longer_paired_waits_to_be_sent_again(
    phone: Page, address: str, shop: Path
) -> None:
    at_part(phone, address, "block")
    before = len(core(shop).evidence)
    told = {"status": 401, "content_type": "text/html", "body": "<!doctype html><h1>Not paired</h1>"}
    phone.route("**/photos/**", lambda route: route.fulfill(**told))  # type: ignore[arg-type]
    picture = {"name": "late.jpg", "mimeType": "image/jpeg", "buffer": jpeg(64, 48)}
    phone.locator("input[type=file]").nth(1).set_input_files(picture)  # type: ignore[arg-type]
    line = phone.get_by_text("late.jpg: Not saved: this phone is no longer paired.")
    expect(line).to_be_visible()
    expect(phone.get_by_text("<h1>")).to_have_count(0)
    assert len(core(shop).evidence) == before
    phone.unroute("**/photos/**")
    phone.get_by_role("button", name="Send it again").click()
    expect(phone.get_by_text("late.jpg: Added.")).to_be_visible(timeout=20_000)
    assert len(core(shop).evidence) == before + 1


def test_without_initials_no_photo_can_be_chosen(phone: Page, address: str) -> None:
    phone.goto(f"{address}{CRANKSHAFT}")
    expect(phone.get_by_text("Type your initials above: a photo names who took it.")).to_be_visible()
    expect(phone.locator("input[type=file]").first).to_be_disabled()
    assert phone.locator("input[type=file]").first.get_attribute("capture") == "environment"


def test_a_part_is_chosen_from_the_list_without_loading(phone: Page, address: str) -> None:
    phone.goto(f"{address}{CRANKSHAFT}")
    phone.get_by_text("Choose another part").click()
    # The script that keeps the page from loading comes with the drawings.
    expect(phone.locator("[data-drawing] svg").first).to_be_attached(timeout=20_000)
    phone.evaluate("window.here = true")
    phone.locator('a[data-part="piston 6"]').click()
    expect(phone.locator("h1")).to_have_text("Piston 6")
    assert phone.evaluate("window.here")
    assert "part=piston+6" in phone.url or "part=piston%206" in phone.url


def test_a_second_mark_stays_a_draft_when_the_first_is_saved(phone: Page, address: str, shop: Path) -> None:
    at_part(phone, address, "piston 2")
    add_photos(phone, jpeg(seed=51))
    phone.locator("a.ia-shot").first.click()
    draw_crack(phone)
    expect(phone.locator(".st-key-mark_form")).to_contain_text("Mark A")
    phone.get_by_role("button", name="Scale line", exact=True).click()
    box = phone.locator("svg.photo").bounding_box()
    assert box is not None
    phone.mouse.move(box["x"] + 40, box["y"] + box["height"] - 40)
    phone.mouse.down()
    phone.mouse.move(box["x"] + 200, box["y"] + box["height"] - 40, steps=4)
    phone.mouse.up()
    form = phone.locator(".st-key-mark_form")
    expect(form).to_contain_text("Mark B")
    form.get_by_role("button", name="Save scale line B").click()
    expect(phone.locator(".ia-refused")).to_contain_text("How long is it?: it is empty.")
    form.get_by_label("How long is it, as 50 mm or 2 in?").fill("50 mm")
    form.get_by_label("How long is it, as 50 mm or 2 in?").press("Enter")
    form.get_by_role("button", name="Save scale line B").click()
    expect(phone.locator(".ia-told")).to_contain_text("Saved: scale line B, 50 mm.")
    region = core(shop).evidence[-1]
    assert isinstance(region, Region)
    assert (region.shape, region.note, region.finding) == ("scale_line", "50 mm", None)
    expect(phone.locator(".ia-mark-line")).to_contain_text("Scale line: 50 mm")
    with store.open_shop_file(shop) as held:
        (draft,) = store.drafts_of(held, VEE, region.photo)
    assert [mark["shape"] for mark in draft.marks] == ["crack_line"]
    mark = phone.locator('g.mark[aria-label^="Mark B, crack line"]')
    mark.focus()
    mark.press("Enter")
    expect(form).to_contain_text("Mark B")


def test_by_keyboard_alone_a_record_is_opened_and_left(page: Page, address: str) -> None:
    at_part(page, address, "block")
    link = page.locator(".ia-item a").first
    link.focus()
    page.keyboard.press("Enter")
    form = page.locator(".st-key-changing")
    expect(form).to_be_focused()
    leave = form.get_by_role("button", name="Leave it as it is")
    leave.focus()
    page.keyboard.press("Enter")
    expect(form).to_have_count(0)
