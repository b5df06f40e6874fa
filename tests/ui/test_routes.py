import json

import pytest
from starlette.applications import Starlette
from starlette.testclient import TestClient

from inspect_app.model.answer import Answer
from inspect_app.ui.routes import ROUTES
from tests.ui import made
from tests.ui.made_shelf import MadeShelf


@pytest.fixture
def client(made_shelf: MadeShelf) -> TestClient:
    return TestClient(Starlette(routes=ROUTES))


def test_answer_is_served_as_it_is(client: TestClient) -> None:
    response = client.get("/answer/0417.json")
    assert response.status_code == 200
    assert response.headers["content-type"] == "application/json"
    assert Answer.model_validate_json(response.content) == made.answer("0417")
    assert set(json.loads(response.content)["parts"][0]["fork"]) == {"if", "else"}


@pytest.mark.parametrize("core_id", ["9999", "..%2F0417", "%2Fetc%2Fpasswd", "%3Cb%3E"])
def test_unknown_core_is_404_in_words(client: TestClient, core_id: str) -> None:
    response = client.get(f"/answer/{core_id}.json")
    assert response.status_code == 404
    if core_id == "9999":
        assert response.json()["problem"] == 'No core here has the id "9999". The rack lists those there are.'


def test_core_with_a_problem_is_422_with_its_words(client: TestClient) -> None:
    response = client.get("/answer/0500-broken.json")
    assert response.status_code == 422
    assert response.json()["problem"].startswith("core.json, title: this key is missing.")


def test_answers_are_only_read(client: TestClient) -> None:
    assert client.post("/answer/0417.json").status_code == 405
