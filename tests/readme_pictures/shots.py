"""What the pictures of the README show, and how each page is brought to that state."""

from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path

from playwright.sync_api import Locator, Page, expect

FOLDER = Path(__file__).parents[2] / "inspect_app" / "help" / "pictures"
AT_MOST = 250_000
"""Bytes of a picture."""
SLOW_MS = 60_000


@dataclass(frozen=True)
class Shot:
    """A picture: its file, the address of the page, the window in CSS pixels, and what is taken of it.

    Those with a photo are JPEG: 256 colours have no room for both metal and the colour of a mark.
    `ready` waits until the page shows what it should, and returns the element to take, None for the window.
    """

    file: str
    address: str
    size: tuple[int, int]
    ready: Callable[[Page], Locator | None]
    scale: float = 1


def _rack(page: Page) -> None:
    expect(page.locator("a.ia-core")).to_have_count(4, timeout=SLOW_MS)
    expect(page.get_by_text("Being judged")).to_have_count(0, timeout=SLOW_MS)
    expect(page.locator(".ia-core-money svg")).to_have_count(3, timeout=SLOW_MS)


def _part(page: Page) -> None:
    _wait(page.locator("svg.photo"))
    _to_top(page.locator("svg.photo"))


def _bench(page: Page) -> None:
    box = page.get_by_label("Who enters", exact=True)
    _wait(box)
    box.fill("A.T.")
    box.press("Enter")
    expect(page.locator(".bench[data-ready='true']")).to_be_attached(timeout=SLOW_MS)
    read = page.get_by_label("Bore 3, middle, across", exact=True)
    read.fill("+14")
    read.press("Enter")
    _wait(page.locator("h1, h2, h3").filter(has_text="bore 3").first)
    _to_top(page.get_by_label("What is read", exact=True))


def _verdict(page: Page) -> None:
    _wait(page.locator(".ia-first img").first)
    _wait(page.locator("section[data-panel=crankshaft] .ia-marked svg").first)


def _paper(page: Page) -> Locator:
    sheet = page.locator("img.ia-paper-page")
    _wait(sheet)
    expect(sheet).to_have_js_property("complete", True, timeout=SLOW_MS)
    return sheet


def _to_top(one: Locator) -> None:
    one.evaluate("one => { one.style.scrollMarginTop = '56px'; one.scrollIntoView({block: 'start'}); }")


def _wait(one: Locator) -> None:
    expect(one).to_be_visible(timeout=SLOW_MS)


FOUR, VEE = "brackwater-four", "brackwater-vee"
SHOTS = (
    Shot("rack.png", "/", (1320, 960), _rack),
    Shot("verdict.jpg", f"/verdict?core={FOUR}&part=crankshaft", (1200, 1240), _verdict),
    Shot(
        "part.jpg",
        f"/part?core={FOUR}&part=crankshaft&photo=photo-p2-crack",
        (390, 844),
        _part,
        scale=2,
    ),
    Shot("bench.png", f"/bench?core={VEE}&group=block/bore/diameter", (1440, 1080), _bench),
    Shot("paper.jpg", f"/papers?core={FOUR}&part=crankshaft", (1200, 1400), _paper),
)
