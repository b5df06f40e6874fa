"""The marker in a real browser over a real server, by mouse, touch and keyboard."""

import json
import re
import signal
import subprocess
import sys
from collections.abc import Callable, Iterator
from pathlib import Path
from time import monotonic, sleep
from typing import Any

import pytest
from playwright.sync_api import Browser, BrowserContext, CDPSession, Page, expect

from inspect_app.pictures.photo_marks import Marked, balloon
from inspect_app.ui import marker
from tests.ui.conftest import CHECKOUT

WIDE, HIGH = 1600, 1200
Point = tuple[float, float]


@pytest.fixture(scope="module")
def served(tmp_path_factory: pytest.TempPathFactory) -> Iterator[str]:
    home = tmp_path_factory.mktemp("marker")
    process = subprocess.Popen(
        [sys.executable, "-m", "tests.ui.marker_server"],
        cwd=home,
        env={"PYTHONPATH": str(CHECKOUT), "PATH": "/usr/bin:/bin", "HOME": str(home)},
        stdout=subprocess.PIPE,
        text=True,
    )
    assert process.stdout is not None
    found = re.search(r"http://localhost:\d+", process.stdout.readline())
    assert found
    yield found.group()
    process.send_signal(signal.SIGINT)
    process.wait(timeout=10)


class Hand:
    """A page with the marker; points are in pixels of the photo, as the marks are."""

    def __init__(self, page: Page, folder: Path, touch: bool) -> None:
        self.page, self.folder, self.touch = page, folder, touch
        self.wire: CDPSession | None = page.context.new_cdp_session(page) if touch else None

    def on_glass(self, point: Point) -> Point:
        found = self.page.locator("svg.photo").evaluate(
            "(svg, [x, y]) => { const p = new DOMPoint(x, y).matrixTransform(svg.getScreenCTM());"
            " return [p.x, p.y]; }",
            list(point),
        )
        return found[0], found[1]

    @property
    def slack(self) -> float:
        """Pixels of the photo to one on the glass: fingers and mice stand on whole ones."""
        return float(self.page.locator("svg.photo").evaluate("svg => 1 / svg.getScreenCTM().a"))

    def do(self, name: str) -> None:
        button = self.page.locator(f"button[data-do={name}]")
        if self.touch:
            # The click of an emulated tap comes later than the tap.
            button.evaluate("n => n.addEventListener('click', () => (window.clicked = true), { once: true })")
            button.tap()
            self.page.wait_for_function("window.clicked")
            self.page.evaluate("window.clicked = false")
        else:
            button.click()
        self.page.locator("svg.photo").scroll_into_view_if_needed()

    def fingers(self, kind: str, *points: Point) -> None:
        assert self.wire is not None
        touches = [{"x": x, "y": y, "id": at} for at, (x, y) in enumerate(points)]
        self.wire.send("Input.dispatchTouchEvent", {"type": kind, "touchPoints": touches})

    def drag(self, start: Point, end: Point) -> None:
        one, two = self.on_glass(start), self.on_glass(end)
        steps = [tuple(a + (b - a) * at / 4 for a, b in zip(one, two, strict=True)) for at in (1, 2, 3, 4)]
        if self.touch:
            self.fingers("touchStart", one)
            for x, y in steps:
                self.fingers("touchMove", (x, y))
            # A finger lifted at speed is a fling to the browser, and a fling swallows the next tap.
            sleep(0.15)
            self.fingers("touchMove", two)
            self.fingers("touchEnd")
            return
        self.page.mouse.move(*one)
        self.page.mouse.down()
        for x, y in steps:
            self.page.mouse.move(x, y)
        self.page.mouse.up()

    def tap(self, point: Point) -> None:
        spot = self.on_glass(point)
        if self.touch:
            self.fingers("touchStart", spot)
            self.fingers("touchEnd")
        else:
            self.page.mouse.click(*spot)

    def stored(self) -> list[dict[str, Any]]:
        path = self.folder / "stored.json"
        return json.loads(path.read_text())["marks"] if path.exists() else []

    def until(self, holds: Callable[[list[dict[str, Any]]], object]) -> list[dict[str, Any]]:
        """Wait until what Python stored is as asked; return it."""
        end = monotonic() + 8
        while monotonic() < end:
            if holds(self.stored()):
                return self.stored()
            sleep(0.03)
        pytest.fail(f"stored was {self.stored()}")

    def zoom_in(self) -> None:
        for _ in range(2):
            self.do("larger")


Opener = Callable[..., Hand]


@pytest.fixture
def opened(served: str, browser: Browser, tmp_path: Path) -> Iterator[Opener]:
    contexts: list[BrowserContext] = []

    def open_page(touch: bool = False, **query: object) -> Hand:
        size = {"width": 390, "height": 844} if touch else {"width": 1280, "height": 1000}
        context = browser.new_context(viewport=size, has_touch=touch, is_mobile=touch)  # type: ignore[arg-type]
        contexts.append(context)
        page = context.new_page()
        more = "".join(f"&{name}={value}" for name, value in query.items())
        page.goto(f"{served}/?folder={tmp_path}{more}")
        expect(page.locator("svg.photo")).to_be_visible(timeout=20_000)
        expect(page.get_by_text("Stored")).to_be_visible()
        return Hand(page, tmp_path, touch)

    yield open_page
    for context in contexts:
        context.close()


def close(marked: dict[str, Any], points: list[Point], slack: float) -> bool:
    return len(marked["points"]) == len(points) and all(
        abs(a - b) <= slack for one, other in zip(marked["points"], points, strict=True)
        for a, b in zip(one, other, strict=True)
    )  # fmt: skip


DRAGGED = {"rectangle": [(620, 420), (760, 540)], "ellipse": [(700, 500), (820, 640)],
           "scale_line": [(640, 650), (900, 500)]}  # fmt: skip
TAPPED = {"polygon": [(640, 460), (820, 480), (760, 640)], "crack_line": [(640, 460), (700, 560), (820, 580)]}


def draw(hand: Hand, shape: str) -> list[Point]:
    hand.do(shape)
    if shape in DRAGGED:
        hand.drag(*DRAGGED[shape])
        return DRAGGED[shape]
    points: list[Point] = [(700.0, 600.0)] if shape == "point" else list(TAPPED[shape])
    for point in points:
        hand.tap(point)
    if shape != "point":
        hand.do("done")
    return points


@pytest.mark.parametrize("zoomed", [False, True], ids=["whole", "zoomed"])
@pytest.mark.parametrize("touch", [False, True], ids=["mouse", "touch"])
def test_each_shape_comes_back_to_the_pixel_of_the_glass(opened: Opener, touch: bool, zoomed: bool) -> None:
    hand = opened(touch)
    if zoomed:
        hand.zoom_in()
    wanted: list[tuple[str, list[Point]]] = []
    for shape in (*DRAGGED, *TAPPED, "point"):
        wanted.append((shape, draw(hand, shape)))
        marks = hand.until(lambda held: len(held) == len(wanted))
        assert marks[-1]["shape"] == shape
        assert close(marks[-1], wanted[-1][1], 1.01 * hand.slack + 0.01), marks[-1]
    assert [mark["shape"] for mark in marks] == [shape for shape, _ in wanted]
    assert len({mark["id"] for mark in marks}) == 6


def rectangle(hand: Hand) -> dict[str, Any]:
    draw(hand, "rectangle")
    return hand.until(lambda held: len(held) == 1)[0]


@pytest.mark.parametrize("touch", [False, True], ids=["mouse", "touch"])
def test_move_reshape_undo_redo_and_delete(opened: Opener, touch: bool) -> None:
    hand = opened(touch)
    first = rectangle(hand)["points"]
    hand.drag((690, 480), (790, 480))
    moved = hand.until(lambda held: held[0]["points"] != first)[0]["points"]
    assert moved[0][0] - first[0][0] == pytest.approx(100, abs=1.01 * hand.slack)
    assert moved[1][0] - moved[0][0] == pytest.approx(first[1][0] - first[0][0], abs=0.02)
    hand.drag(tuple(moved[1]), (1000, 700))
    reshaped = hand.until(lambda held: held[0]["points"] != moved)[0]["points"]
    assert reshaped[0] == moved[0]
    assert reshaped[1] == pytest.approx([1000, 700], abs=1.01 * hand.slack)
    hand.do("undo")
    hand.until(lambda held: held[0]["points"] == moved)
    hand.do("redo")
    hand.until(lambda held: held[0]["points"] == reshaped)
    hand.do("delete")
    hand.until(lambda held: held == [])
    hand.do("undo")
    hand.until(lambda held: held and held[0]["points"] == reshaped)


def test_points_of_a_line_are_added_and_taken_away(opened: Opener) -> None:
    hand = opened()
    draw(hand, "crack_line")
    hand.until(lambda held: len(held) == 1)
    hand.tap((640, 460))
    hand.do("add_point")
    line = hand.until(lambda held: len(held[0]["points"]) == 4)[0]["points"]
    assert line[1] == pytest.approx([(line[0][axis] + line[2][axis]) / 2 for axis in (0, 1)], abs=0.01)
    hand.do("remove_point")
    hand.until(lambda held: len(held[0]["points"]) == 3)


def seen(hand: Hand) -> list[float]:
    return [float(n) for n in (hand.page.locator("svg.photo").get_attribute("viewBox") or "").split()]


def test_two_fingers_pinch_about_their_middle_and_draw_nothing(opened: Opener) -> None:
    hand = opened(touch=True)
    hand.do("rectangle")
    x, y = hand.on_glass((800, 600))
    hand.fingers("touchStart", (x - 20, y))
    hand.fingers("touchStart", (x - 20, y), (x + 20, y))
    for wide in (25, 30, 35, 40):
        hand.fingers("touchMove", (x - wide, y), (x + wide, y))
    hand.fingers("touchEnd")
    left, top, wide, high = seen(hand)
    assert wide == pytest.approx(800, rel=0.1)
    assert left + wide / 2 == pytest.approx(800, abs=60)
    assert top + high / 2 == pytest.approx(600, abs=60)
    assert hand.stored() == []
    hand.do("whole")
    assert seen(hand) == [0, 0, WIDE, HIGH]


def test_the_wheel_zooms_only_with_focus_or_ctrl_and_space_pans(opened: Opener) -> None:
    hand = opened()
    page = hand.page
    page.mouse.move(*hand.on_glass((800, 600)))
    page.mouse.wheel(0, -200)
    page.wait_for_timeout(150)
    assert seen(hand)[2] == WIDE
    page.locator("svg.photo").focus()
    page.mouse.move(*hand.on_glass((800, 600)))
    page.mouse.wheel(0, -300)
    page.wait_for_timeout(150)
    zoomed = seen(hand)
    assert zoomed[2] < WIDE
    page.keyboard.down("Space")
    hand.drag((800, 600), (700, 600))
    page.keyboard.up("Space")
    assert seen(hand)[0] == pytest.approx(zoomed[0] + 100, abs=2)
    assert hand.stored() == []


def test_a_mark_cannot_leave_the_picture(opened: Opener) -> None:
    hand = opened()
    hand.do("rectangle")
    hand.drag((1500, 1100), (1690, 1100))
    assert hand.stored() == [], "a rectangle without height is none"
    hand.drag((1400, 1000), (1690, 1150))
    (mark,) = hand.until(lambda held: len(held) == 1)
    assert mark["points"][1][0] == WIDE
    hand.drag((1500, 1080), (1590, 1080))
    hand.page.wait_for_timeout(300)
    assert all(0 <= x <= WIDE and 0 <= y <= HIGH for x, y in hand.stored()[0]["points"])


def test_the_keyboard_alone_adds_moves_reshapes_and_deletes(opened: Opener) -> None:
    hand = opened()
    page = hand.page
    page.get_by_text("Add a mark by numbers").press("Enter")
    page.get_by_label("Shape").select_option("crack_line")
    page.get_by_label("Points in pixels").fill("100 200, 300 400")
    page.keyboard.press("Enter")
    (mark,) = hand.until(lambda held: len(held) == 1)
    assert mark["points"] == [[100, 200], [300, 400]]
    page.get_by_role("button", name="Mark A, crack line, draft").focus()
    page.keyboard.press("ArrowRight")
    page.keyboard.press("Shift+ArrowDown")
    hand.until(lambda held: held[0]["points"] == [[101, 210], [301, 410]])
    page.keyboard.press("Tab")
    expect(page.locator(".handle").first).to_be_focused()
    expect(page.locator(".handle").first).to_have_attribute("aria-label", "Point 1 of A, at 101, 210")
    page.keyboard.press("ArrowUp")
    hand.until(lambda held: held[0]["points"] == [[101, 209], [301, 410]])
    page.keyboard.press("Control+z")
    hand.until(lambda held: held[0]["points"] == [[101, 210], [301, 410]])
    page.get_by_role("button", name="Mark A, crack line, draft").focus()
    page.keyboard.press("Delete")
    hand.until(lambda held: held == [])


@pytest.mark.parametrize(
    ("shape", "typed", "said"),
    [
        ("rectangle", "5 5", "A rectangle needs 2 points, each two numbers. Nothing was added."),
        ("polygon", "5 5 6 6", "A polygon needs 3 or more points, each two numbers. Nothing was added."),
        ("point", "5 5000", "5, 5000 lies outside the picture of 1600 by 1200 pixels. Nothing was added."),
        ("scale_line", "5 5 5 5", "These points make no scale line: it has no size. Nothing was added."),
    ],
)
def test_wrong_numbers_are_refused_in_words(opened: Opener, shape: str, typed: str, said: str) -> None:
    hand = opened()
    hand.page.get_by_text("Add a mark by numbers").click()
    hand.page.get_by_label("Shape").select_option(shape)
    hand.page.get_by_label("Points in pixels").fill(typed)
    hand.do("add")
    expect(hand.page.locator(".said")).to_have_text(said)
    assert hand.stored() == []


def test_escape_cancels_and_enter_ends_a_line(opened: Opener) -> None:
    hand = opened()
    hand.do("crack_line")
    hand.tap((300, 300))
    hand.tap((400, 400))
    hand.page.keyboard.press("Escape")
    expect(hand.page.locator("button[data-do=done]")).to_be_disabled()
    hand.tap((500, 300))
    hand.tap((700, 400))
    hand.page.keyboard.press("Enter")
    (mark,) = hand.until(lambda held: len(held) == 1)
    assert close(mark, [(500, 300), (700, 400)], 1.01 * hand.slack)


def test_two_close_taps_of_a_finger_do_not_end_a_line(opened: Opener) -> None:
    hand = opened(touch=True)
    hand.do("polygon")
    for point in ((300.0, 300.0), (600.0, 300.0), (600.0, 500.0), (604.0, 500.0)):
        hand.tap(point)
    expect(hand.page.locator("button[data-do=done]")).to_be_enabled()
    assert hand.stored() == []


def test_keys_do_not_reach_the_shortcuts_of_the_page(opened: Opener) -> None:
    hand = opened()
    hand.page.evaluate("window.heard = []; document.addEventListener('keydown', e => heard.push(e.key))")
    hand.page.locator("svg.photo").focus()
    for key in ("r", "c", "ArrowLeft", "Escape"):
        hand.page.keyboard.press(key)
    assert hand.page.evaluate("window.heard") == []


def test_a_reload_shows_what_python_has(opened: Opener) -> None:
    hand = opened()
    rectangle(hand)
    hand.page.reload()
    expect(hand.page.get_by_role("button", name="Mark A, rectangle, draft")).to_be_visible(timeout=20_000)
    draw(hand, "point")
    assert [mark["shape"] for mark in hand.until(lambda held: len(held) == 2)] == ["rectangle", "point"]


def test_five_edits_in_one_tick_lose_nothing(opened: Opener) -> None:
    hand = opened(slow=0.2)
    hand.page.get_by_text("Add a mark by numbers").click()
    hand.page.locator(".numbers").evaluate(
        """node => { const box = node.querySelector('input'), add = node.querySelector('button');
        node.querySelector('select').value = 'point';
        for (let at = 1; at < 6; at++) { box.value = `${at * 100} 50`; add.click(); } }"""
    )
    marks = hand.until(lambda held: len(held) == 5)
    assert [mark["points"][0][0] for mark in marks] == [100, 200, 300, 400, 500]
    expect(hand.page.locator("svg.photo .mark")).to_have_count(5)


def test_what_python_replaces_is_taken_over_and_edits_go_on(opened: Opener) -> None:
    hand = opened()
    rectangle(hand)
    draw(hand, "point")
    point = hand.until(lambda held: len(held) == 2)[1]
    hand.page.get_by_role("button", name="Replace").click()
    expect(hand.page.locator("svg.photo .mark")).to_have_count(1)
    expect(hand.page.locator("button[data-do=undo]")).to_be_disabled()
    draw(hand, "scale_line")
    marks = hand.until(lambda held: len(held) == 2)
    assert marks[0] == point
    lines = (hand.folder / "log.jsonl").read_text().splitlines()
    revisions = [json.loads(line)["revision"] for line in lines]
    assert revisions == sorted(set(revisions))


def test_marks_on_record_are_shown_and_cannot_be_changed(opened: Opener) -> None:
    hand = opened(kept=1)
    first = hand.page.get_by_role("button", name="Mark A, ellipse, suspected")
    expect(first.locator("ellipse").nth(1)).to_have_attribute("stroke-dasharray", re.compile(r"\d"))
    second = hand.page.get_by_role("button", name="Mark B, polygon, seen")
    assert second.locator("polygon").nth(1).get_attribute("stroke-dasharray") is None
    hand.tap((200, 900))
    expect(hand.page.locator(".said")).to_contain_text("It is on record")
    assert hand.page.locator(".handle").count() == 0
    second.focus()
    hand.page.keyboard.press("ArrowRight")
    hand.page.keyboard.press("Delete")
    expect(second).to_be_visible()
    draw(hand, "rectangle")
    hand.until(lambda held: len(held) == 1)
    expect(hand.page.get_by_role("button", name="Mark C, rectangle, draft")).to_be_visible()
    assert hand.page.locator(".handle").count() == 4


def test_read_only_shows_the_view_alone(opened: Opener) -> None:
    hand = opened(kept=1, read_only=1)
    expect(hand.page.locator("button:visible[data-do]")).to_have_text(["\u2212", "+", "Whole picture"])
    hand.drag((300, 300), (600, 600))
    hand.page.wait_for_timeout(200)
    assert hand.stored() == []


@pytest.mark.parametrize("zoomed", [False, True], ids=["whole", "zoomed"])
def test_a_balloon_is_28_pixels_at_any_zoom(opened: Opener, zoomed: bool) -> None:
    hand = opened(kept=1)
    if zoomed:
        hand.zoom_in()
        hand.page.wait_for_timeout(100)
    wide = hand.page.locator(".mark").first.locator("circle").first.bounding_box()
    assert wide is not None
    assert wide["width"] == pytest.approx(28, abs=0.5)


def test_screen_and_paper_put_a_balloon_on_the_same_spot(opened: Opener) -> None:
    hand = opened(kept=1)
    disc = hand.page.get_by_role("button", name="Mark B").locator("circle").first
    shown = (float(disc.get_attribute("cx") or 0), float(disc.get_attribute("cy") or 0))
    paper = Marked("B", "polygon", ((1300, 900), (1500, 950), (1400, 1100)))
    centre, _ = balloon(paper, [], WIDE, HIGH, hand.slack)
    assert shown == pytest.approx(centre, abs=0.1)


def test_on_a_phone_targets_are_large_and_nothing_stands_out_sideways(opened: Opener) -> None:
    hand = opened(touch=True, kept=1)
    page = hand.page
    boxes = page.locator(".marker button, .marker summary").evaluate_all(
        "all => all.filter(n => n.checkVisibility())"
        ".map(n => [n.textContent, n.getBoundingClientRect().width, n.getBoundingClientRect().height])"
    )
    assert len(boxes) >= 18
    assert [box for box in boxes if box[1] < 47.9 or box[2] < 47.9] == []
    assert page.evaluate("document.documentElement.scrollWidth") == 390
    photo, tools = page.locator("svg.photo").bounding_box(), page.locator(".tools").bounding_box()
    assert photo is not None
    assert tools is not None
    assert photo["height"] < 0.7 * 844
    assert tools["y"] > photo["y"] + photo["height"]
    action = "n => getComputedStyle(n).touchAction"
    assert page.locator("svg.photo").evaluate(action) == "none"
    assert page.locator(".marker").evaluate(action) == "auto"


def test_everything_to_press_has_a_role_and_a_name(opened: Opener) -> None:
    hand = opened(kept=1)
    rectangle(hand)
    expect(hand.page.get_by_role("group", name="Photo 1 of 1, as found")).to_be_visible()
    expect(hand.page.get_by_role("button", name="Select", exact=True)).to_have_attribute(
        "aria-pressed", "true"
    )
    expect(hand.page.get_by_role("status").filter(has_text="")).not_to_have_count(0)
    named = hand.page.locator(".marker :is(button, select, input, [role=button], [role=group])").evaluate_all(
        "all => all.map(n => n.getAttribute('aria-label') || n.textContent.trim())"
    )
    assert all(named)
    handles = hand.page.locator(".handle").evaluate_all("all => all.map(n => n.getAttribute('aria-label'))")
    assert len(set(handles)) == 4


@pytest.mark.parametrize("dark", [False, True], ids=["light", "dark"])
def test_focus_is_seen(opened: Opener, dark: bool) -> None:
    hand = opened(kept=1, **({"dark": 1} if dark else {}))
    hand.page.locator("button[data-do=scale_line]").focus()
    hand.page.keyboard.press("Tab")
    hand.page.keyboard.press("Tab")
    style = hand.page.locator(".mark").first.evaluate(
        "n => { const now = getComputedStyle(n);"
        " return [n.matches(':focus-visible'), now.outlineStyle, now.outlineWidth]; }"
    )
    assert style == [True, "solid", "3px"]


def test_the_photo_comes_by_its_address_alone() -> None:
    assert marker.__doc__ is not None
    files = [
        path.read_text() for path in Path(marker.__file__).parent.glob("marker*") if path.suffix != ".py"
    ]
    assert len(files) == 6
    assert not [text for text in files if "base64" in text or "randomUUID(" in text or "innerHTML" in text]
    assert all(len(text.splitlines()) <= 300 for text in files)
