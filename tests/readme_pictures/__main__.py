"""Take the pictures of the README anew: `python -m tests.readme_pictures`, then look at each of them."""

import io
import sys
import tempfile
from collections.abc import Iterator
from pathlib import Path
from typing import Any

from PIL import Image
from playwright.sync_api import Browser, sync_playwright

from inspect_app import store
from inspect_app.rulebook.load import load_rulebook
from inspect_app.shipped import shipped
from tests.ui.chromium import ARGUMENTS, chromium_path
from tests.ui.served_shop import served

from .shots import AT_MOST, FOLDER, SHOTS, Shot

SETTLE_MS = 1500
COLOURS, QUALITIES = (256, 128, 64), (90, 82, 74)


def main() -> int:
    """Serve a fresh shop file with the demo cores, take every picture, and say how large each is."""
    FOLDER.mkdir(exist_ok=True)
    with tempfile.TemporaryDirectory() as folder, sync_playwright() as playwright:
        browser = playwright.chromium.launch(executable_path=chromium_path(), args=ARGUMENTS)
        with served(_shop(Path(folder))) as address:
            for shot in SHOTS:
                small = smaller(taken(browser, address, shot), Path(shot.file).suffix)
                (FOLDER / shot.file).write_bytes(small)
                print(f"{shot.file}: {len(small):,} bytes")
        browser.close()
    return 0


def _shop(folder: Path) -> Path:
    book = load_rulebook(shipped("rules"))
    with store.create_shop_file(folder / "shop.sqlite") as shop:
        for core in sorted(shipped("demo_cores").iterdir()):
            store.import_bundle(shop, book, core, "A.T.")
    return folder / "shop.sqlite"


def taken(browser: Browser, address: str, shot: Shot) -> bytes:
    """The picture as Chromium takes it, once the page has come to rest."""
    width, height = shot.size
    page = browser.new_page(
        viewport={"width": width, "height": height}, device_scale_factor=shot.scale, color_scheme="light"
    )
    page.goto(address + shot.address)
    element = shot.ready(page)
    page.wait_for_timeout(SETTLE_MS)
    picture = element.screenshot() if element else page.screenshot()
    page.close()
    return picture


def smaller(picture: bytes, suffix: str) -> bytes:
    """The picture as PNG or JPEG, as good as fits into the bytes allowed; raises if nothing does."""
    whole = Image.open(io.BytesIO(picture)).convert("RGB")
    for found in _pngs(whole) if suffix == ".png" else _jpegs(whole):
        if len(found) <= AT_MOST:
            return found
    raise ValueError(f"The picture does not fit into {AT_MOST:,} bytes: make its window smaller.")


def _pngs(whole: Image.Image) -> Iterator[bytes]:
    return (_saved(whole.quantize(colours), "PNG", optimize=True) for colours in COLOURS)


def _jpegs(whole: Image.Image) -> Iterator[bytes]:
    return (_saved(whole, "JPEG", quality=quality, subsampling=0, optimize=True) for quality in QUALITIES)


def _saved(picture: Image.Image, form: str, **options: Any) -> bytes:
    out = io.BytesIO()
    picture.save(out, form, **options)
    return out.getvalue()


if __name__ == "__main__":
    sys.exit(main())
