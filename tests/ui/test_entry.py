"""What every entry shares, over a real shop file."""

from collections.abc import Iterator
from pathlib import Path

import pytest
from streamlit.testing.v1 import AppTest

from inspect_app import store
from inspect_app.model.evidence import Look
from inspect_app.model.pieces import OperationDone, Piece
from inspect_app.rulebook.load import load_rulebook
from inspect_app.shipped import shipped
from inspect_app.ui import entry, shelf
from inspect_app.ui.shelf import Shelf

VEE = "brackwater-vee"


@pytest.fixture
def cores(tmp_path: Path) -> Iterator[Shelf]:
    book = load_rulebook(shipped("rules"))
    with store.create_shop_file(tmp_path / "shop.sqlite") as shop:
        store.import_bundle(shop, book, shipped("demo_cores") / VEE, "A.T.")
        cores = Shelf(shop, lambda: book)
        shelf.use(cores)
        yield cores
    shelf._current = None


def look(cores: Shelf, **changes: object) -> Look:
    slot = cores.get(VEE)
    assert slot is not None
    fields = entry.stamp(slot, "B.W.") | {"id": entry.new_id("look"), "piece": "block", "places": ("*",)}
    return Look(**(fields | changes))  # type: ignore[arg-type]


def test_ids_are_never_the_same() -> None:
    assert len({entry.new_id("look") for _ in range(1000)}) == 1000


def test_the_piece_and_its_state_are_those_of_the_answer(cores: Shelf) -> None:
    slot = cores.get(VEE)
    assert slot is not None
    piece = entry.piece_in(slot, "crankshaft")
    assert piece.position == "crankshaft"
    before = entry.present_state(slot, piece)
    assert before in entry.states(piece)
    cores.add(VEE, [look(cores, piece=piece.id, state="washed")])
    slot = cores.get(VEE)
    assert slot is not None
    assert entry.present_state(slot, piece) == "washed"


def test_work_done_is_a_state_with_its_name(cores: Shelf) -> None:
    done = Piece(id="block", position="block", operations=(OperationDone(operation="mill head"),))
    assert entry.states(done) == ("as_found", "washed", "after 1")
    words = [entry.state_words(cores.book, done, state) for state in (*entry.states(done), "after 2")]
    title = cores.book.operations["mill head"].title
    assert words == ["As found", "Washed", f"After work 1: {title}", "After work 2"]


def page(places: str) -> str:
    """Save a look at these places, and return what the page then shows."""

    def script(places: str) -> None:
        from inspect_app.model.evidence import Look
        from inspect_app.ui import entry, shelf

        slot = shelf.current().get("brackwater-vee")
        fields = entry.stamp(slot, "B.W.") | {"piece": "block", "places": (places,)}
        entry.save(slot, [Look(id=entry.new_id("look"), **fields)], "look at <b>bore 1</b>.")
        entry.show_told()
        entry.show_told()

    app = AppTest.from_function(script, args=(places,)).run()
    assert not app.exception
    return "\n".join(element.proto.body for element in app.get("html"))


@pytest.mark.usefixtures("cores")
def test_saved_is_told_once_and_as_text() -> None:
    html = page("bore 1")
    assert html.count("Saved: look at &lt;b&gt;bore 1&lt;/b&gt;.") == 1


def test_what_was_refused_is_told_with_everything_wrong(cores: Shelf) -> None:
    before = cores.get(VEE)
    html = page("bore 99")
    assert "Not saved." in html
    assert "bore 99" in html
    assert cores.get(VEE) is before


def test_a_file_that_cannot_be_written_says_so_and_nothing_is_lost(cores: Shelf, tmp_path: Path) -> None:
    before = cores.get(VEE)
    other = store.open_shop_file(tmp_path / "shop.sqlite", wait_s=0.05)
    cores.shop, kept = other, cores.shop
    with kept.writing():
        html = page("bore 1")
    assert "somebody else is writing to it. Nothing of this was saved." in html
    assert cores.get(VEE) is before
    other.close()
    cores.shop = kept
