"""Demo cores in a real shop file, set as the shelf of this process, with its worker ended at the end."""

from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

from streamlit.testing.v1 import AppTest

from inspect_app import store
from inspect_app.rulebook.load import load_rulebook
from inspect_app.shipped import shipped
from inspect_app.ui import shelf
from inspect_app.ui.shelf import Shelf

FOUR, VEE = "brackwater-four", "brackwater-vee"


@contextmanager
def shop_with(folder: Path, *cores: str) -> Iterator[Shelf]:
    """A shelf over a new shop file in `folder` that holds these demo cores."""
    book = load_rulebook(shipped("rules"))
    with store.create_shop_file(folder / "shop.sqlite") as shop:
        for name in cores:
            store.import_bundle(shop, book, shipped("demo_cores") / name, "A.T.")
        made = Shelf(shop, lambda: book)
        shelf.use(made)
        try:
            yield made
        finally:
            made.close()
            shelf._current = None


def html(app: AppTest) -> str:
    """The HTML of a page that was drawn without an error."""
    assert not app.exception, app.exception
    return "\n".join(element.proto.body for element in app.get("html"))
