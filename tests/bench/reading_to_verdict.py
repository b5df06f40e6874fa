"""How long from the Enter behind a reading to the figures and words that it brings, painted in a browser.

Server and browser are a process of their own, `python -m tests.bench.reading_to_verdict`: it answers each
line it reads with the median of twelve in seconds, and ends with its input.
"""

import subprocess
import sys
import tempfile
from functools import cache
from itertools import count
from pathlib import Path
from statistics import median

HOME = Path(__file__).parents[2]
TIMES = 12

_WATCH = """() => {
  window.took = null;
  document.addEventListener("keydown", () => {
    const from = performance.now();
    const before = document.querySelector(".ia-panel").textContent;
    const look = new MutationObserver(() => {
      if (document.querySelector(".ia-panel")?.textContent === before) return;
      look.disconnect();
      requestAnimationFrame(() => { window.took = performance.now() - from; });
    });
    look.observe(document.body, { subtree: true, childList: true, characterData: true });
  }, { capture: true, once: true });
}"""


@cache
def _stage() -> subprocess.Popen[str]:
    command = [sys.executable, "-m", "tests.bench.reading_to_verdict"]
    return subprocess.Popen(command, cwd=HOME, stdin=subprocess.PIPE, stdout=subprocess.PIPE, text=True)


def ask() -> float:
    """The median of twelve readings of a bore of the measured four, in seconds."""
    stage = _stage()
    assert stage.stdin is not None
    assert stage.stdout is not None
    print("reading", file=stage.stdin, flush=True)
    return float(stage.stdout.readline())


def main() -> None:
    """Serve and open the Bench, answer until the input ends."""
    from playwright.sync_api import sync_playwright

    from tests.ui.bench_support import BenchPage, served
    from tests.ui.chromium import ARGUMENTS, chromium_path

    with (
        tempfile.TemporaryDirectory() as folder,
        served(Path(folder)) as shop,
        sync_playwright() as playwright,
    ):
        browser = playwright.chromium.launch(executable_path=chromium_path(), args=ARGUMENTS)
        page = browser.new_page(viewport={"width": 1440, "height": 1000})
        bench = BenchPage(page, shop, shop.begin_measured())
        values = count(50)
        for _ in sys.stdin:
            print(median(_one(bench, f"+{next(values)}") for _ in range(TIMES)), flush=True)
        browser.close()


def _one(bench, text: str) -> float:  # type: ignore[no-untyped-def]
    box = bench.box("Bore 1, top, across")
    box.fill(text)
    bench.page.evaluate(_WATCH)
    box.press("Enter")
    bench.page.wait_for_function("window.took !== null", timeout=10_000)
    bench.all_saved()
    return float(bench.page.evaluate("window.took")) / 1000


if __name__ == "__main__":
    main()
