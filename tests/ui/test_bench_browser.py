"""The Bench in Debian's Chromium: a group by keyboard, questions, corrections, two people, a reload."""

from collections.abc import Iterator

import pytest
from playwright.sync_api import Browser, Page, expect

from inspect_app.model.evidence import Reading, Withdrawal
from tests.ui.bench_support import BenchPage, Shop, served
from tests.ui.test_browser import WIDTHS, _is_foreign, _no_sideways_scroll

GAUGE = "dial bore gauge, 0.0001 in"
STATIONS, DIRECTIONS = ("top", "middle", "bottom", "below"), ("across", "along")
FIRST, SECOND = "Bore 1, top, across", "Bore 1, top, along"


@pytest.fixture(scope="module")
def shop(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Shop]:
    with served(tmp_path_factory.mktemp("bench")) as shop:
        yield shop


@pytest.fixture(autouse=True)
def patience() -> Iterator[None]:
    """Two browsers and a server share the processors with whatever else runs."""
    expect.set_options(timeout=15_000)
    yield
    expect.set_options(timeout=5_000)


@pytest.fixture(params=WIDTHS)
def page(browser: Browser, request: pytest.FixtureRequest) -> Iterator[Page]:
    opened = open_page(browser, request.param)
    complaints: list[str] = []
    opened.on("pageerror", lambda error: complaints.append(str(error)))
    opened.on("request", lambda sent: complaints.append(sent.url) if _is_foreign(sent.url) else None)
    yield opened
    opened.context.close()
    assert complaints == []


at_a_desk = pytest.mark.parametrize("page", ["desk"], indirect=True)


def open_page(browser: Browser, width: str) -> Page:
    wide, high = WIDTHS[width]
    return browser.new_context(viewport={"width": wide, "height": high}).new_page()


def set_up(bench: BenchPage) -> None:
    """Ask once: the gauge and what it was set to."""
    bench.choose("Gauge", GAUGE)
    bench.ask("Set to, in", "3.4370")
    expect(bench.page.locator(".bench .box").first).to_have_attribute("placeholder", "+0 or 3.4370")


def test_a_whole_group_takes_one_key_besides_the_digits_of_each_reading(page: Page, shop: Shop) -> None:
    core_id = shop.begin()
    bench = BenchPage(page, shop, core_id)
    set_up(bench)
    _no_sideways_scroll(page)
    values = [f"+{60 - 15 * at + number}" for number in range(4) for at in range(4) for _ in range(2)]
    values[5], values[6] = "15,5", "3.4372"
    values[5] = "+15,5"
    bench.box(FIRST).click()
    bench.enter(*values)
    assert bench.keys == sum(map(len, values)) + len(values)
    bench.all_saved()
    expect(page.locator('.cell[data-state="read"]')).to_have_count(32)
    readings = shop.readings(core_id)
    assert [r.value for r in readings] == values
    order = [
        (f"bore {number}", station, direction)
        for number in range(1, 5)
        for station in STATIONS
        for direction in DIRECTIONS
    ]
    assert [(r.place, r.station, r.direction) for r in readings] == order
    assert {(r.gauge, r.unit, r.who) for r in readings} == {("dial bore gauge", "in", "B.W.")}
    assert [r.setting for r in readings if not r.value.startswith("+")] == [None]
    assert len({r.session for r in readings}) == 1
    assert readings[0].session
    expect(page.locator(".ia-panel")).to_contain_text("Taper")
    page.reload()
    expect(page.locator('.cell[data-state="read"]')).to_have_count(32)
    assert bench.box(FIRST).input_value() == "+60"


def test_up_and_shift_enter_go_back_and_a_changed_reading_is_a_correction(page: Page, shop: Shop) -> None:
    core_id = shop.begin()
    bench = BenchPage(page, shop, core_id)
    set_up(bench)
    bench.box(FIRST).click()
    bench.enter("+60", "+50")
    bench.press("ArrowUp")
    expect(bench.box(SECOND)).to_be_focused()
    bench.press("Shift+Enter")
    expect(bench.box(FIRST)).to_be_focused()
    bench.settled(FIRST)
    bench.enter("+61")
    bench.all_saved()
    first, second, third = (i for i in shop.core(core_id).evidence if isinstance(i, Reading))
    assert third.supersedes == first.id
    assert third.session == first.session
    assert [r.value for r in shop.readings(core_id)] == ["+50", "+61"]
    assert second.value == "+50"


def test_an_emptied_box_withdraws_its_reading_for_a_reason(page: Page, shop: Shop) -> None:
    core_id = shop.begin()
    bench = BenchPage(page, shop, core_id)
    set_up(bench)
    bench.box(FIRST).click()
    bench.enter("+60")
    bench.settled(FIRST)
    bench.box(FIRST).fill("")
    bench.press("Enter")
    why = page.locator(".why")
    expect(why).to_be_focused()
    expect(bench.said(FIRST)).to_contain_text("Withdraw +60? It stays in the record, struck through.")
    bench.press("Enter")
    assert [r.value for r in shop.readings(core_id)] == ["+60"]
    bench.enter("dirt on the anvil")
    bench.settled(FIRST, "empty")
    assert shop.readings(core_id) == []
    (withdrawn,) = (i for i in shop.core(core_id).evidence if isinstance(i, Withdrawal))
    assert (withdrawn.reason, withdrawn.who) == ("dirt on the anvil", "B.W.")


def test_millimetres_in_an_inch_group_keep_their_unit(page: Page, shop: Shop) -> None:
    core_id = shop.begin()
    bench = BenchPage(page, shop, core_id)
    bench.box(FIRST).click()
    bench.enter("87,35 mm", "3.4390in")
    bench.all_saved()
    assert [(r.value, r.unit) for r in shop.readings(core_id)] == [("87,35", "mm"), ("3.4390", "in")]
    assert bench.box(FIRST).input_value() == "87,35 mm"
    assert bench.box(SECOND).input_value() == "3.4390"


def test_a_unit_mixed_up_is_asked_about_and_stops_nobody(page: Page, shop: Shop) -> None:
    core_id = shop.begin()
    bench = BenchPage(page, shop, core_id)
    bench.box(FIRST).click()
    bench.enter("87.35", "3.4390")
    bench.settled(FIRST, "question")
    bench.settled(SECOND)
    expect(bench.said(FIRST)).to_contain_text("Inch or millimetre?")
    expect(bench.cell(FIRST)).to_contain_text("not saved yet")
    assert [r.value for r in shop.readings(core_id)] == ["3.4390"]
    page.reload()
    bench.settled(FIRST, "question")
    bench.box(FIRST).click()
    bench.press("=")
    bench.settled(FIRST)
    assert [(r.value, r.as_meant) for r in shop.readings(core_id)] == [("3.4390", False), ("87.35", True)]


def test_a_slip_against_the_others_is_saved_and_asked_about(page: Page, shop: Shop) -> None:
    core_id = shop.begin()
    bench = BenchPage(page, shop, core_id)
    set_up(bench)
    bench.box(FIRST).click()
    bench.enter("+60", "+52", "+430", "+33", "+14")
    bench.all_saved()
    slip = bench.said("Bore 1, middle, across")
    expect(slip).to_contain_text("+43 would fit: the point one place further left?")
    bench.settled("Bore 1, middle, across")
    assert len(shop.readings(core_id)) == 5
    bench.box("Bore 1, middle, across").focus()
    bench.press("=")
    bench.settled("Bore 1, middle, across")
    expect(slip).not_to_contain_text("would fit")
    assert [r.value for r in shop.readings(core_id) if r.as_meant] == ["+430"]


@at_a_desk
def test_what_is_no_number_stays_in_its_box_with_words(page: Page, shop: Shop) -> None:
    core_id = shop.begin()
    bench = BenchPage(page, shop, core_id)
    bench.box(FIRST).click()
    bench.enter("9,5o", "+8")
    bench.settled(FIRST, "refused")
    bench.settled(SECOND, "refused")
    expect(bench.said(FIRST)).to_contain_text('"9,5o" is not a number.')
    expect(bench.said(SECOND)).to_contain_text('"+8" counts from a setting size.')
    assert bench.box(FIRST).input_value() == "9,5o"
    bench.box(FIRST).click()
    page.keyboard.press("Control+A")
    bench.enter("3.4390")
    bench.settled(FIRST)
    assert [r.value for r in shop.readings(core_id)] == ["3.4390"]


def test_hostile_text_stays_text_and_is_refused_in_words(page: Page, shop: Shop) -> None:
    core_id = shop.begin()
    bench = BenchPage(page, shop, core_id)
    texts = ("<b>+8</b><img src=x onerror=alert(1)>", "x" * 10_000, "\x07\x1b[31m+8")
    names = (FIRST, SECOND, "Bore 1, middle, across")
    for name, text in zip(names, texts, strict=True):
        bench.box(name).fill(text)
        bench.box(name).press("Enter")
    for name, text in zip(names, texts, strict=True):
        bench.settled(name, "refused")
        assert bench.box(name).input_value() == text
    assert page.locator(".bench img, .bench b").count() == 0
    assert shop.readings(core_id) == []
    _no_sideways_scroll(page)


def paste(page: Page, text: str) -> None:
    """Paste into the box in hand, as a spreadsheet's clipboard does."""
    page.evaluate(
        """(text) => {
          let at = document.activeElement;
          while (at.shadowRoot?.activeElement) at = at.shadowRoot.activeElement;
          const clipboard = new DataTransfer();
          clipboard.setData("text/plain", text);
          const sent = { clipboardData: clipboard, bubbles: true, cancelable: true, composed: true };
          at.dispatchEvent(new ClipboardEvent("paste", sent));
        }""",
        text,
    )


def test_a_block_from_a_spreadsheet_is_shown_before_it_is_saved(page: Page, shop: Shop) -> None:
    core_id = shop.begin()
    bench = BenchPage(page, shop, core_id)
    bench.box("Bore 1, middle, across").click()
    paste(page, "3,4400\t3,4390\r\n3,4380\t3,4381\r\n\t3,4371\r\n")
    expect(page.locator(".bar")).to_contain_text(
        "5 values from the clipboard, from Bore 1, middle, across on."
    )
    assert bench.box("Bore 1, below, along").input_value() == "3,4371"
    assert shop.readings(core_id) == []
    page.get_by_role("button", name="Discard").click()
    _no_sideways_scroll(page)
    assert bench.box("Bore 1, below, along").input_value() == ""
    bench.box("Bore 1, middle, across").click()
    paste(page, "3,4400\t3,4390\r\n3,4380\t3,4381\r\n\t3,4371\r\n")
    bench.press("Enter")
    bench.all_saved()
    assert [(r.station, r.direction, r.value) for r in shop.readings(core_id)] == [
        ("middle", "across", "3,4400"),
        ("middle", "along", "3,4390"),
        ("bottom", "across", "3,4380"),
        ("bottom", "along", "3,4381"),
        ("below", "along", "3,4371"),
    ]


def test_a_reload_in_the_middle_loses_nothing(page: Page, shop: Shop) -> None:
    core_id = shop.begin()
    bench = BenchPage(page, shop, core_id)
    set_up(bench)
    bench.box(FIRST).click()
    bench.enter("+60", "+52", "+44", "+33")
    bench.type("+1")
    page.reload()
    expect(page.locator(".bench .box").first).to_be_attached(timeout=20_000)
    bench.settled("Bore 1, middle, along")
    assert [r.value for r in shop.readings(core_id)] == ["+60", "+52", "+44", "+33"]
    bench.settled("Bore 1, bottom, across", "typed")
    box = bench.box("Bore 1, bottom, across")
    assert box.input_value() == "+1"
    box.press("End")
    bench.enter("4")
    bench.settled("Bore 1, bottom, across")
    assert shop.readings(core_id)[-1].value == "+14"


@at_a_desk
def test_what_was_left_behind_in_another_group_is_saved_or_told(page: Page, shop: Shop) -> None:
    core_id = shop.begin()
    bench = BenchPage(page, shop, core_id, who="")
    bench.box(FIRST).click()
    bench.enter("3.4390")
    bench.settled(FIRST, "retry")
    bench.type("3.43")
    other = BenchPage(page, shop, core_id, "crankshaft/main_journal/diameter")
    left = page.locator(".bar a")
    expect(left).to_have_text(f"{core_id}, block bore diameter")
    expect(page.locator(".bar")).to_contain_text("Typed in this browser and not saved yet: 1,")
    assert [r.value for r in shop.readings(core_id)] == ["3.4390"]
    left.click()
    other.settled(FIRST)
    assert other.box(SECOND).input_value() == "3.43"


@at_a_desk
def test_without_initials_nothing_is_saved_and_nothing_is_lost(page: Page, shop: Shop) -> None:
    core_id = shop.begin()
    bench = BenchPage(page, shop, core_id, who="")
    bench.box(FIRST).click()
    bench.enter("3.4390", "3.4388")
    bench.settled(FIRST, "retry")
    expect(bench.said(FIRST)).to_contain_text("type your initials in Who enters.")
    assert shop.readings(core_id) == []
    bench.sign("B.W.")
    bench.settled(FIRST)
    bench.settled(SECOND)
    assert sorted(r.value for r in shop.readings(core_id)) == ["3.4388", "3.4390"]


def test_the_words_of_the_verdict_follow_a_reading(page: Page, shop: Shop) -> None:
    core_id = shop.begin_measured()
    bench = BenchPage(page, shop, core_id)
    expect(page.locator(".ia-panel")).to_contain_text("Bore 2 decides")
    bench.box(FIRST).click()
    bench.enter("+99")
    expect(page.locator(".ia-panel")).to_contain_text("Bore 1 decides")
    _no_sideways_scroll(page)


def test_two_people_in_one_slot_both_stand(browser: Browser, page: Page, shop: Shop) -> None:
    """The second who types sees what is there; what both typed at once is kept twice."""
    core_id = shop.begin()
    other_page = open_page(browser, "desk")
    mine, other = BenchPage(page, shop, core_id), BenchPage(other_page, shop, core_id, who="C.D.")
    for bench in (mine, other):
        set_up(bench)
    mine.box(FIRST).click()
    mine.enter("+60")
    mine.settled(FIRST)
    other.box(FIRST).click()
    other.enter("+75")
    other.settled(FIRST)
    assert [(r.value, r.who) for r in shop.readings(core_id)] == [("+60", "B.W."), ("+75", "C.D.")]
    expect(other.said(FIRST)).to_contain_text("These readings contradict each other.")
    expect(other.said(FIRST)).to_contain_text("+60")
    other.said(FIRST).get_by_role("button", name="Keep +60").click()
    expect(other.said(FIRST)).not_to_contain_text("contradict")
    assert [r.value for r in shop.readings(core_id)] == ["+60"]
    other_page.context.close()


def test_one_reading_corrected_twice_is_shown_with_both_and_settled(
    browser: Browser, page: Page, shop: Shop
) -> None:
    core_id = shop.begin()
    mine = BenchPage(page, shop, core_id)
    set_up(mine)
    mine.box(FIRST).click()
    mine.enter("+60")
    mine.settled(FIRST)
    other_page = open_page(browser, "desk")
    other = BenchPage(other_page, shop, core_id, who="C.D.")
    expect(other.box(FIRST)).to_have_value("+60")
    mine.box(FIRST).click()
    mine.enter("+61")
    mine.settled(FIRST)
    other.box(FIRST).click()
    other.enter("+62")
    other.all_saved()
    words = "+60 was corrected twice at the same time. Both stand; keep one."
    expect(other.said(FIRST)).to_contain_text(words)
    assert sorted(r.value for r in shop.readings(core_id)) == ["+61", "+62"]
    page.reload()
    expect(mine.said(FIRST)).to_contain_text(words)
    mine.said(FIRST).get_by_role("button", name="Keep +62").click()
    expect(mine.said(FIRST)).not_to_contain_text("corrected twice")
    assert [r.value for r in shop.readings(core_id)] == ["+62"]
    other_page.context.close()


def test_a_phone_shows_one_place_with_big_boxes_and_keys(browser: Browser, shop: Shop) -> None:
    core_id = shop.begin()
    page = open_page(browser, "phone")
    bench = BenchPage(page, shop, core_id)
    set_up(bench)
    expect(page.locator(".table:visible caption")).to_have_text("Bore 1")
    size = bench.box(FIRST).bounding_box()
    assert size is not None
    assert size["height"] >= 52
    bench.box(FIRST).click()
    page.get_by_role("button", name="minus").click()
    bench.type("2.5")
    page.get_by_role("button", name="next", exact=True).click()
    expect(bench.box(SECOND)).to_be_focused()
    bench.settled(FIRST)
    assert [r.value for r in shop.readings(core_id)] == ["-2.5"]
    for _ in range(7):
        page.get_by_role("button", name="next", exact=True).click()
    expect(page.locator(".table:visible caption")).to_have_text("Bore 2")
    page.get_by_role("button", name="back", exact=True).click()
    expect(page.locator(".table:visible caption")).to_have_text("Bore 1")
    page.context.close()
