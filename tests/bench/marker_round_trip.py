"""How long from the lift of the pointer to what Python made of it, painted; beside one text box.

Server and browser are a process of their own, `python -m tests.bench.marker_round_trip`: it answers each
line it reads, "mark" or "text", with the median of twelve in seconds, and ends with its input.
"""

import re
import signal
import subprocess
import sys
import tempfile
from collections.abc import Callable
from functools import cache
from pathlib import Path
from statistics import median

HOME = Path(__file__).parents[2]
TIMES = 12

_WATCH = """([kind, words]) => new Promise((done) => {
  const begin = () => {
    const from = performance.now();
    const look = new MutationObserver(() => {
      if (!document.body.textContent.includes(words)) return;
      look.disconnect();
      requestAnimationFrame(() => { window.took = performance.now() - from; });
    });
    look.observe(document.body, { subtree: true, childList: true, characterData: true });
  };
  window.took = null;
  document.addEventListener(kind, begin, { capture: true, once: true });
  done();
})"""


@cache
def _stage() -> subprocess.Popen[str]:
    return subprocess.Popen(
        [sys.executable, "-m", "tests.bench.marker_round_trip"],
        cwd=HOME,
        stdin=subprocess.PIPE,
        stdout=subprocess.PIPE,
        text=True,
    )


def ask(what: str) -> float:
    """The median of twelve round trips in seconds: "mark", a mark that is moved, or "text", a text box."""
    stage = _stage()
    assert stage.stdin is not None
    assert stage.stdout is not None
    print(what, file=stage.stdin, flush=True)
    return float(stage.stdout.readline())


def main() -> None:
    """Serve and open the pages, answer until the input ends."""
    from playwright.sync_api import sync_playwright

    from tests.ui.chromium import ARGUMENTS, chromium_path

    with tempfile.TemporaryDirectory() as folder:
        command = [sys.executable, "-m", "tests.ui.marker_server"]
        server = subprocess.Popen(command, cwd=HOME, stdout=subprocess.PIPE, text=True)
        try:
            assert server.stdout is not None
            found = re.search(r"http://localhost:\d+", server.stdout.readline())
            assert found
            with sync_playwright() as playwright:
                browser = playwright.chromium.launch(executable_path=chromium_path(), args=ARGUMENTS)
                answers = {
                    "mark": _marking(browser, f"{found.group()}/?folder={folder}"),
                    "text": _typing(browser, f"{found.group()}/?folder={folder}&floor=1"),
                }
                for line in sys.stdin:
                    print(median(answers[line.strip()]() for _ in range(TIMES)), flush=True)
                browser.close()
        finally:
            server.send_signal(signal.SIGINT)
            server.wait(timeout=10)


def _took(page) -> float:  # type: ignore[no-untyped-def]
    page.wait_for_function("window.took !== null", timeout=10_000)
    return float(page.evaluate("window.took")) / 1000


def _marking(browser, address: str) -> Callable[[], float]:  # type: ignore[no-untyped-def]
    page = browser.new_page(viewport={"width": 1280, "height": 1000})
    page.goto(address)
    page.locator("button[data-do=point]").click(timeout=20_000)
    box = page.locator("svg.photo").bounding_box()
    middle, across = box["y"] + box["height"] / 2, box["x"] + box["width"] / 2
    page.mouse.click(across, middle)
    page.get_by_text("Stored 1, revision 1,").wait_for()
    state = {"revision": 1, "at": 0}

    def edit() -> float:
        page.bring_to_front()
        to = 40 - state["at"]
        page.mouse.move(across + state["at"], middle)
        page.mouse.down()
        page.mouse.move(across + to, middle, steps=3)
        state.update(revision=state["revision"] + 1, at=to)
        page.evaluate(_WATCH, ["pointerup", f"revision {state['revision']},"])
        page.mouse.up()
        return _took(page)

    return edit


def _typing(browser, address: str) -> Callable[[], float]:  # type: ignore[no-untyped-def]
    page = browser.new_page(viewport={"width": 1280, "height": 1000})
    page.goto(address)
    field = page.get_by_label("Text")
    field.wait_for(timeout=20_000)
    state = {"number": 0}

    def edit() -> float:
        page.bring_to_front()
        state["number"] += 1
        field.fill(f"n{state['number']}.")
        page.evaluate(_WATCH, ["keydown", f"Typed n{state['number']}."])
        field.press("Enter")
        return _took(page)

    return edit


if __name__ == "__main__":
    main()
