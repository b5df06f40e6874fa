"""How long a browser waits for the page of a part with 60 photos; beside the page of the manual.

Server and browser are a process of their own, `python -m tests.bench.part_page`: it answers each line it
reads, "photos" or "manual", with the seconds of one opening, and ends with its input.
"""

import subprocess
import sys
import tempfile
from functools import cache
from pathlib import Path
from time import perf_counter

HOME = Path(__file__).parents[2]
PHOTOS = 60
CORE = "brackwater-vee"


@cache
def _stage() -> subprocess.Popen[str]:
    return subprocess.Popen(
        [sys.executable, "-m", "tests.bench.part_page"],
        cwd=HOME,
        stdin=subprocess.PIPE,
        stdout=subprocess.PIPE,
        text=True,
    )


def ask(what: str) -> float:
    """Seconds until a page is there: "photos" or "manual"."""
    stage = _stage()
    assert stage.stdin is not None
    assert stage.stdout is not None
    print(what, file=stage.stdin, flush=True)
    return float(stage.stdout.readline())


def fill(path: Path) -> None:
    """A shop file with a core that has 60 photos of its crankshaft."""
    from inspect_app import photos, store
    from inspect_app.model.evidence import Photo
    from inspect_app.rulebook.load import load_rulebook
    from inspect_app.shipped import shipped
    from inspect_app.ui.photo_intake import previews
    from inspect_app.ui.shelf import Shelf
    from tests.ui.pictures_made import jpeg

    book = load_rulebook(shipped("rules"))
    with store.create_shop_file(path) as shop:
        store.import_bundle(shop, book, shipped("demo_cores") / CORE, "A.T.")
        cores = Shelf(shop, lambda: book)
        for seed in range(PHOTOS):
            data = jpeg(800, 600, seed)
            taken = photos.take_in(data, "photo")
            photo = Photo(
                id=f"photo-{seed}",
                who="B.W.",
                when="2026-11-25T09:00",
                stage="teardown",
                piece="crankshaft",
                path=f"photos/{seed}.jpg",
                sha256=taken.sha256,
            )
            cores.add_photo(CORE, photo, data, previews(taken))


def main() -> None:
    """Serve and open the pages, answer until the input ends."""
    from playwright.sync_api import sync_playwright

    from tests.ui.chromium import ARGUMENTS, chromium_path
    from tests.ui.served_shop import served

    with tempfile.TemporaryDirectory() as folder:
        shop = Path(folder) / "shop.sqlite"
        fill(shop)
        with served(shop) as address, sync_playwright() as playwright:
            browser = playwright.chromium.launch(executable_path=chromium_path(), args=ARGUMENTS)
            page = browser.new_page(viewport={"width": 390, "height": 844})
            wanted = {
                "photos": (f"/part?core={CORE}&part=crankshaft", ".ia-item", PHOTOS),
                "manual": ("/help", "h1", 0),
            }
            for line in sys.stdin:
                path, last, count = wanted[line.strip()]
                start = perf_counter()
                page.goto(f"{address}{path}", wait_until="commit")
                page.locator(last).first.wait_for()
                took = perf_counter() - start
                assert page.locator("a.ia-shot").count() == count
                print(took, flush=True)
            browser.close()


if __name__ == "__main__":
    main()
