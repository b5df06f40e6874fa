"""The Papers page and its routes, over a real shop file."""

import io
from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path
from typing import Any

import pypdf
import pytest
from PIL import Image
from starlette.applications import Starlette
from starlette.testclient import TestClient
from streamlit.testing.v1 import AppTest

from inspect_app.model.evidence import Finding
from inspect_app.model.problems import Problem, Problems
from inspect_app.papers import Offer, offers
from inspect_app.ui import paper_routes
from inspect_app.ui.shelf import Shelf, Slot
from tests.ui.shop_core import FOUR, html, shop_with

SHEET = f"/paper/{FOUR}/rejection--crankshaft"


@pytest.fixture
def cores(tmp_path: Path) -> Iterator[Shelf]:
    with shop_with(tmp_path, FOUR) as made:
        yield made


@pytest.fixture
def client(cores: Shelf) -> TestClient:
    assert cores.rows()
    return TestClient(Starlette(routes=paper_routes.ROUTES))


def page(**query: str) -> AppTest:
    def script() -> None:
        from inspect_app.ui import papers

        papers.page()

    app = AppTest.from_function(script, default_timeout=30)
    for name, value in {"core": FOUR, **query}.items():
        app.query_params[name] = value
    return app.run()


def slot_of(cores: Shelf) -> Slot:
    slot = cores.get(FOUR)
    assert slot is not None
    return slot


def offer_of(cores: Shelf) -> Offer:
    answer = slot_of(cores).answer
    assert answer is not None
    return next(one for one in offers(answer) if isinstance(one, Offer) and one.position == "crankshaft")


def test_the_page_shows_the_paper_of_the_part_asked_for_and_where_it_is_fetched(cores: Shelf) -> None:
    assert slot_of(cores).answer
    text = html(page(part="rod 2"))
    assert f'href="/paper/{FOUR}/rejection--rod-2.pdf"' in text
    assert f'download="{FOUR}--rejection--rod-2.pdf"' in text
    assert f'src="/paper/{FOUR}/rejection--rod-2/1.png?v=' in text
    assert "page 1 of 1" in text


def test_another_paper_is_chosen_in_the_box(cores: Shelf) -> None:
    assert slot_of(cores).answer
    app = page(part="rod 2")
    app.selectbox(f"paper_{FOUR}").set_value("crankshaft").run()
    assert "rejection--crankshaft.pdf" in html(app)
    assert "rejection--rod-2.pdf" not in html(app)


def test_what_is_not_offered_stands_there_with_its_reason(cores: Shelf) -> None:
    assert slot_of(cores).answer
    text = html(page())
    assert "Not offered" in text
    assert "Reuse: nothing is rejected." in text


def test_a_paper_that_cannot_be_made_is_told_and_the_page_stands(
    cores: Shelf, monkeypatch: pytest.MonkeyPatch
) -> None:
    def fail(*_: Any, **__: Any) -> None:
        raise Problems([Problem("The paper", "it was not set, <b>.", "Try again.")])

    monkeypatch.setattr(paper_routes, "print_paper", fail)
    assert slot_of(cores).answer
    text = html(page(part="rod 2"))
    assert "This paper could not be made." in text
    assert "The paper: it was not set, &lt;b&gt;. Try again." in text
    assert "Not offered" in text


def test_what_a_paper_cannot_print_is_told(cores: Shelf, monkeypatch: pytest.MonkeyPatch) -> None:
    made = paper_routes.paper_of(slot_of(cores), offer_of(cores))
    odd = replace(made, missing="The paper cannot print: 漢 (U+6F22).")
    monkeypatch.setattr(paper_routes, "paper_of", lambda *_: odd)
    assert "The paper cannot print: 漢 (U+6F22)." in html(page(part="crankshaft"))


def test_the_pdf_is_served_to_keep_and_its_page_as_a_picture(client: TestClient) -> None:
    fetched = client.get(f"{SHEET}.pdf")
    assert (fetched.status_code, fetched.headers["content-type"]) == (200, "application/pdf")
    assert fetched.headers["content-disposition"] == (
        f'attachment; filename="{FOUR}--rejection--crankshaft.pdf"'
    )
    assert fetched.headers["cache-control"] == "no-store"
    assert len(pypdf.PdfReader(io.BytesIO(fetched.content)).pages) == 1
    drawn = client.get(f"{SHEET}/1.png")
    assert drawn.headers["content-type"] == "image/png"
    assert Image.open(io.BytesIO(drawn.content)).width > 1200


@pytest.mark.parametrize(
    ("path", "said"),
    [
        ("/paper/nowhere/rejection--crankshaft.pdf", "No core here has this id."),
        (f"/paper/{FOUR}/rejection--rod-1.pdf", "No such paper is offered as things stand."),
        (f"/paper/{FOUR}/rejection--rod-1/1.png", "No such paper is offered as things stand."),
        (f"{SHEET}/0.png", "The paper has 1 page"),
        (f"{SHEET}/2.png", "The paper has 1 page"),
        (f"{SHEET}/x.png", "The paper has 1 page"),
        (f"{SHEET}/²².png", "The paper has 1 page"),
    ],
)
def test_what_is_not_there_is_told(client: TestClient, path: str, said: str) -> None:
    response = client.get(path)
    assert response.status_code == 404
    assert response.text.startswith(said)


def test_a_core_that_cannot_be_judged_has_no_papers(
    client: TestClient, cores: Shelf, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(cores, "get", lambda core_id: Slot(core_id, None, "Two records stand."))
    response = client.get(f"{SHEET}.pdf")
    assert response.status_code == 422
    assert response.text == "The core cannot be judged, so it has no papers. Two records stand."


def test_a_paper_is_made_once_and_again_when_the_evidence_changes(cores: Shelf) -> None:
    first = paper_routes.paper_of(slot_of(cores), offer_of(cores))
    assert paper_routes.paper_of(slot_of(cores), offer_of(cores)) is first
    more = Finding(
        id="more",
        who="B.W.",
        when="2026-11-25",
        stage="bench",
        piece="crankshaft",
        damage="score",
        place="rod_journal 2/surface",
        strength="seen",
    )
    cores.add(FOUR, [more])
    assert paper_routes.paper_of(slot_of(cores), offer_of(cores)).pdf != first.pdf
