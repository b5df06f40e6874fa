"""A bench of one's own: a real shop file, a real server over it, and cores begun in it."""

import re
import signal
import socket
import subprocess
import sys
from collections.abc import Iterator
from contextlib import contextmanager
from itertools import count
from pathlib import Path

from playwright.sync_api import Locator, Page, expect

from inspect_app import store
from inspect_app.bundle import read_core
from inspect_app.model.core import Core
from inspect_app.model.evidence import Evidence, Reading, standing
from inspect_app.rulebook.book import Rulebook
from inspect_app.rulebook.load import load_rulebook
from inspect_app.shipped import shipped

CHECKOUT = Path(__file__).parents[2]
FOUR = "brackwater-four"
BORES = "block/bore/diameter"
_number = count(1)


class Shop:
    """A shop file that a server shows, and this process writes to besides."""

    def __init__(self, file: Path, address: str = "") -> None:
        self.file = file
        self.address = address
        self.book: Rulebook = load_rulebook(shipped("rules"))
        self.bundle = read_core(shipped("demo_cores") / FOUR)

    def begin(self, evidence: tuple[Evidence, ...] = ()) -> str:
        """Begin a core like the demo four under an id of its own, with this evidence; return the id."""
        core_id = f"four-{next(_number)}"
        core = self.bundle.core.model_copy(update={"id": core_id, "title": core_id, "files": ()})
        with store.open_shop_file(self.file) as shop:
            store.add_core(shop, self.book, core, self.bundle.sheet, "A.T.")
            if evidence:
                store.add_evidence(shop, self.book, core_id, evidence)
        return core_id

    def begin_measured(self) -> str:
        """Begin a core with all evidence of the demo four but photos."""
        return self.begin(tuple(i for i in self.bundle.core.evidence if i.kind not in ("photo", "region")))

    def core(self, core_id: str) -> Core:
        """The core as the file holds it now."""
        with store.open_shop_file(self.file) as shop:
            return store.load_core(shop, core_id).core

    def readings(self, core_id: str) -> list[Reading]:
        """Its readings that count, in the order they came."""
        return [item for item in standing(self.core(core_id).evidence) if isinstance(item, Reading)]


def _free_port() -> int:
    """A port that is free now, far from those that other servers try first."""
    with socket.socket() as trial:
        trial.bind(("127.0.0.1", 0))
        return int(trial.getsockname()[1])


@contextmanager
def served(folder: Path) -> Iterator[Shop]:
    """A shop file in `folder` and a server process over it."""
    file = folder / "shop.sqlite"
    with store.create_shop_file(file):
        pass
    process = subprocess.Popen(
        [sys.executable, "-m", "inspect_app", "serve", "--shop", str(file), "--port", str(_free_port())],
        cwd=folder,
        env={"PYTHONPATH": str(CHECKOUT), "PATH": "/usr/bin:/bin", "HOME": str(folder)},
        stdout=subprocess.PIPE,
        stderr=subprocess.PIPE,
        text=True,
    )
    assert process.stdout is not None
    found = None
    while found is None and (line := process.stdout.readline()):
        found = re.search(r"http://localhost:\d+", line)
    assert found is not None, process.communicate()[1]
    yield Shop(file, found.group())
    process.send_signal(signal.SIGINT)
    process.wait(timeout=10)


class BenchPage:
    """The Bench as a person works it, who may count the keys that are pressed."""

    def __init__(self, page: Page, shop: Shop, core_id: str, group: str = BORES, who: str = "B.W.") -> None:
        self.page = page
        self.keys = 0
        page.goto(f"{shop.address}/bench?core={core_id}&group={group}")
        expect(page.locator(".bench .box").first).to_be_attached(timeout=20_000)
        if who:
            self.sign(who)

    def sign(self, who: str) -> None:
        """Type the initials."""
        initials = self.page.get_by_label("Who enters")
        initials.fill(who)
        initials.press("Enter")
        expect(self.page.locator(".bench[data-ready='true']")).to_be_attached()

    def ask(self, label: str, text: str) -> None:
        """Fill one of the fields that are asked once."""
        field = self.page.get_by_label(label, exact=True)
        field.fill(text)
        field.press("Enter")

    def choose(self, label: str, option: str) -> None:
        """Choose from one of the boxes that are asked once."""
        self.page.get_by_label(label, exact=True).click()
        self.page.get_by_role("option", name=option, exact=True).click()

    def box(self, name: str) -> Locator:
        """The box of this name."""
        return self.page.get_by_label(name, exact=True)

    def cell(self, name: str) -> Locator:
        """The box with what stands beside it."""
        return self.page.locator(".cell").filter(has=self.box(name))

    def said(self, name: str) -> Locator:
        """What stands under the row of the box about it."""
        key = self.cell(name).get_attribute("data-key")
        return self.page.locator(f'.said[data-key="{key}"]')

    def type(self, text: str) -> None:
        """Press the keys of a text, one after the other."""
        self.page.keyboard.type(text)
        self.keys += len(text)

    def press(self, key: str) -> None:
        """Press one key."""
        self.page.keyboard.press(key)
        self.keys += 1

    def enter(self, *texts: str) -> None:
        """Type texts, each ended by Enter."""
        for text in texts:
            self.type(text)
            self.press("Enter")

    def settled(self, name: str, state: str = "read") -> None:
        """Wait until the box stands in this state."""
        expect(self.cell(name)).to_have_attribute("data-state", state)

    def all_saved(self) -> None:
        """Wait until nothing that was typed waits any more."""
        for state in ("typed", "sent"):
            expect(self.page.locator(f'.cell[data-state="{state}"]')).to_have_count(0)
