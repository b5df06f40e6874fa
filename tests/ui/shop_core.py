"""A demo core in a real shop file, set as the shelf of this process, for tests of pages that write."""

from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

from streamlit.testing.v1 import AppTest

from inspect_app import store
from inspect_app.rulebook.load import load_rulebook
from inspect_app.shipped import shipped
from inspect_app.ui import shelf
from inspect_app.ui.shelf import Shelf

VEE, FOUR = "brackwater-vee", "brackwater-four"


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


def part_page(position: str, core: str = VEE, **query: str) -> AppTest:
    """The Part page of a position, entered by B.W., not yet run."""

    def script() -> None:
        from inspect_app.ui import part

        part.page()

    app = AppTest.from_function(script, default_timeout=20)
    for name, value in {"core": core, "part": position, **query}.items():
        app.query_params[name] = value
    app.session_state["who"] = "B.W."
    return app


def html(app: AppTest) -> str:
    """The HTML of a page that was drawn without an error."""
    assert not app.exception, app.exception
    return "\n".join(element.proto.body for element in app.get("html"))
