"""A V6 in a real shop file, looked at and with a few readings, for tests of the Part page.

It has the engine sheet of a demo core and evidence of its own, so that a better demo changes no test.
"""

from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

from inspect_app import store
from inspect_app.bundle import read_core
from inspect_app.model.core import Core
from inspect_app.model.evidence import Evidence, Look, Reading
from inspect_app.model.sheet import EngineSheet
from inspect_app.rulebook.book import Rulebook
from inspect_app.rulebook.engine import Engine
from inspect_app.rulebook.load import load_rulebook
from inspect_app.shipped import shipped
from inspect_app.ui import shelf
from inspect_app.ui.shelf import Shelf
from tests.ui.shop_core import VEE

_BY = {"who": "K.O.", "when": "2026-11-20", "stage": "teardown", "state": "washed"}


def put_core(shop: store.ShopFile, book: Rulebook) -> None:
    """Begin the core: each part looked at all over by eye, washed, the block as found too; each bore read."""
    sheet = read_core(shipped("demo_cores") / VEE).sheet
    core = Core(id=VEE, title="Brackwater Vee", stage="teardown", build_standard="freshen")
    store.add_core(shop, book, core, sheet, "A.T.")
    store.add_evidence(shop, book, VEE, _evidence(Engine(book, sheet), sheet))


def _evidence(engine: Engine, sheet: EngineSheet) -> list[Evidence]:
    looks = [
        Look.model_validate(_BY | {"id": f"look-{position}", "piece": position, "places": ("*",)})
        for position in engine.positions
    ]
    readings = [
        Reading.model_validate(
            _BY
            | {
                "id": f"bore-{number}-{station}",
                "piece": "block",
                "quantity": "diameter",
                "place": f"bore {number}",
                "station": station,
                "direction": "across",
                "value": "3.5005",
                "unit": "in",
            }
        )
        for number in range(1, sheet.counts["cylinders"] + 1)
        for station in ("top", "middle", "below")
    ]
    raw = _BY | {"id": "look-raw", "piece": "block", "places": ("*",), "state": "as_found"}
    return [Look.model_validate(raw), *looks, *readings]


@contextmanager
def shop_with_own(folder: Path) -> Iterator[Shelf]:
    """A shelf over a new shop file in `folder` that holds the core."""
    book = load_rulebook(shipped("rules"))
    with store.create_shop_file(folder / "shop.sqlite") as shop:
        put_core(shop, book)
        made = Shelf(shop, lambda: book)
        shelf.use(made)
        try:
            yield made
        finally:
            made.close()
            shelf._current = None
