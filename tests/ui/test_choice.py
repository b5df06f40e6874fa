"""The box of cores: whichever is chosen is the one that is shown, also where two are called alike."""

from collections.abc import Iterator
from pathlib import Path

import pytest
from streamlit.testing.v1 import AppTest

from inspect_app import store
from inspect_app.rulebook.load import load_rulebook
from inspect_app.shipped import shipped
from inspect_app.ui import shelf, words
from inspect_app.ui.shelf import Shelf

FOUR, VEE = "brackwater-four", "brackwater-vee"


@pytest.fixture
def cores(tmp_path: Path) -> Iterator[Shelf]:
    book = load_rulebook(shipped("rules"))
    with store.create_shop_file(tmp_path / "shop.sqlite") as shop:
        for name in (FOUR, VEE):
            store.import_bundle(shop, book, shipped("demo_cores") / name, "A.T.")
        made = Shelf(shop, lambda: book)
        shelf.use(made)
        yield made
        made.close()
    shelf._current = None


def page() -> AppTest:
    def script() -> None:
        import streamlit as st

        from inspect_app.ui.choice import chosen_core

        slot = chosen_core()
        st.html(f"<p>Shown: {slot.id if slot else 'none'}</p>")

    return AppTest.from_function(script, default_timeout=20)


def html(app: AppTest) -> str:
    assert not app.exception
    return "\n".join(element.proto.body for element in app.get("html"))


def test_of_two_cores_called_alike_the_one_chosen_is_shown(cores: Shelf) -> None:
    held = cores.get(VEE).held  # type: ignore[union-attr]
    title = cores.get(FOUR).held.core.title  # type: ignore[union-attr]
    cores.revise(held.core.model_copy(update={"title": title}), held.sheet, "B.W.", held.records)
    app = page().run()
    box = app.selectbox(key="core_chosen")
    assert len(set(box.options)) == 2
    for core_id in (VEE, FOUR, VEE):
        box = app.selectbox(key="core_chosen")
        box.select(next(option for option in box.options if core_id in option))
        app.run()
        assert f"Shown: {core_id}" in html(app)
        assert app.query_params["core"] in (core_id, [core_id])


@pytest.mark.usefixtures("cores")
@pytest.mark.parametrize("asked", ["", "../..", "<b>", "x" * 5000, "a\0b", "brackwater-vee "])
def test_an_address_with_nonsense_for_a_core_is_answered_in_words(asked: str) -> None:
    app = page()
    app.query_params["core"] = asked
    text = html(app.run())
    assert "<b>" not in text
    assert ("Shown: none" in text) == bool(asked)


def test_what_is_said_alike_is_told_apart_by_its_id() -> None:
    said = {"a": "Harrow Six", "b": "Harrow Six", "c": "Brackwater"}
    assert words.told_apart(said) == {"a": "Harrow Six (a)", "b": "Harrow Six (b)", "c": "Brackwater"}
