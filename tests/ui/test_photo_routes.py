"""The routes for photos, over a real shop file: what is taken, what is refused in words, what is served."""

import asyncio
import hashlib
import io
import json
from collections.abc import Iterator
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path

import pytest
from PIL import Image
from starlette.applications import Starlette
from starlette.requests import Request
from starlette.testclient import TestClient

from inspect_app import store
from inspect_app.model.evidence import Photo, Withdrawal
from inspect_app.model.problems import Problem
from inspect_app.ui import entry
from inspect_app.ui.photo_routes import ROUTES, take_photo
from inspect_app.ui.shelf import Shelf
from tests.ui.own_core import shop_with_own
from tests.ui.pictures_made import flat, jpeg, png
from tests.ui.shop_core import VEE

ASKED = {"position": "crankshaft", "state": "washed", "who": "B.W.", "name": "IMG_1.jpg"}


@pytest.fixture
def cores(tmp_path: Path) -> Iterator[Shelf]:
    with shop_with_own(tmp_path) as made:
        yield made


@pytest.fixture
def client(cores: Shelf) -> TestClient:
    assert cores.rows()
    return TestClient(Starlette(routes=ROUTES))


def photos(cores: Shelf) -> list[Photo]:
    return [held.photo for held in cores.photos(VEE)]


def send(client: TestClient, data: bytes, core: str = VEE, **changes: str) -> tuple[int, str]:
    response = client.post(f"/photos/{core}", params=ASKED | changes, content=data)
    told = response.json()
    return response.status_code, told.get("said") or told["problem"]


def test_a_photo_is_kept_as_it_came_with_its_previews(client: TestClient, cores: Shelf) -> None:
    data = jpeg()
    assert send(client, data) == (200, "Added.")
    (photo,) = photos(cores)
    assert (photo.piece, photo.state, photo.who) == ("crankshaft", "washed", "B.W.")
    assert cores.picture(VEE, photo.id) == data
    about = json.loads(cores.previews_about(VEE, "small")[photo.sha256])
    assert (about["width"], about["height"], about["media_type"]) == (1200, 900, "image/jpeg")
    for size, longer in (("small", 360), ("large", 1200)):
        response = client.get(f"/photo/{VEE}/{photo.id}/{size}")
        assert response.headers["content-type"] == "image/jpeg"
        assert max(Image.open(io.BytesIO(response.content)).size) == longer


def test_the_same_photo_of_the_same_part_is_once_and_of_another_part_twice(
    client: TestClient, cores: Shelf
) -> None:
    data = jpeg()
    send(client, data)
    status, said = send(client, data, name="copy of IMG_1.jpg", who="K.O.")
    assert status == 200
    assert said.startswith("Here already, from B.W., ")
    assert said.endswith("It is kept once.")
    assert len(photos(cores)) == 1
    assert send(client, data, position="block")[0] == 200
    assert {photo.piece for photo in photos(cores)} == {"crankshaft", "block"}


def test_a_withdrawn_photo_can_be_added_again(client: TestClient, cores: Shelf) -> None:
    send(client, jpeg())
    slot = cores.get(VEE)
    assert slot is not None
    gone = Withdrawal(id="w1", **entry.stamp(slot, "B.W."), of=photos(cores)[0].id, reason="Wrong part")
    cores.add(VEE, [gone])
    assert send(client, jpeg()) == (200, "Added.")
    assert len(photos(cores)) == 2


def test_hints_are_told_and_refuse_nothing(client: TestClient, cores: Shelf) -> None:
    status, said = send(client, flat(5))
    assert (status, said) == (
        200,
        "Added. Looks too dark: take it again with a lamp beside the camera.",
    )
    assert len(photos(cores)) == 1


@pytest.mark.parametrize(
    ("data", "words"),
    [
        (b"", "the file is empty"),
        (b"%PDF-1.7 not a picture", "JPEG, PNG, WebP and HEIC pictures are taken"),
        (
            b"<svg xmlns='http://www.w3.org/2000/svg' onload='alert(1)'/>",
            "JPEG, PNG, WebP and HEIC pictures are taken",
        ),
        (jpeg()[:9000], "the file ends before the picture does"),
        (jpeg(8, 8), "below 16 px a side"),
    ],
)
def test_what_is_no_photo_is_refused_in_words(
    client: TestClient, cores: Shelf, data: bytes, words: str
) -> None:
    status, said = send(client, data)
    assert status == 422
    assert 'photo "IMG_1.jpg", not taken in' in said
    assert words in said
    assert photos(cores) == []


@pytest.mark.usefixtures("cores")
@pytest.mark.parametrize("told", [b"50000000", None])
def test_too_large_is_refused_before_all_of_it_is_read(told: bytes | None) -> None:
    read = []

    async def receive() -> dict[str, object]:
        read.append(1)
        return {"type": "http.request", "body": b"x" * 1_000_000, "more_body": len(read) < 50}

    scope = {
        "type": "http",
        "method": "POST",
        "path_params": {"core_id": VEE},
        "query_string": b"",
        "headers": [(b"content-length", told)] if told else [],
    }
    # A thread of its own: the one of the tests may hold the loop of a browser.
    with ThreadPoolExecutor(1) as other:
        response = other.submit(asyncio.run, take_photo(Request(scope, receive))).result()  # type: ignore[arg-type]
    assert response.status_code == 413
    said = json.loads(bytes(response.body))["problem"]
    assert said == "the file has more than 40 MB. Save it as JPEG and send that."
    assert len(read) == (0 if told else 41)


def test_exactly_as_much_as_is_taken_is_read(client: TestClient) -> None:
    status, said = send(client, b"x" * 40_000_000)
    assert (status, "no picture that is known here" in said) == (422, True)
    assert send(client, b"x" * 40_000_001)[0] == 413


@pytest.mark.parametrize(
    ("changes", "words"),
    [
        ({"who": " "}, "Who enters: 0 characters say who took the photo; 1 to 40 are taken."),
        ({"who": "x" * 41}, "Who enters: 41 characters"),
        ({"position": "../../etc/passwd"}, 'Part: "../../etc/passwd" is no part of this core.'),
        ({"state": "polished"}, 'State: "polished" is no state of this part. Use one of: as_found, washed.'),
        ({"state": "after 1"}, 'State: "after 1" is no state of this part.'),
    ],
)
def test_what_comes_with_a_photo_is_checked(
    client: TestClient, cores: Shelf, changes: dict[str, str], words: str
) -> None:
    status, said = send(client, jpeg(), **changes)
    assert (status, words in said) == (422, True), said
    assert photos(cores) == []


@pytest.mark.parametrize(
    "name", ["../../../etc/passwd", "C:\\x\\y.jpg", "<img src=x>.jpg", "a" * 5000, "\x00"]
)
def test_a_name_leads_nowhere(client: TestClient, cores: Shelf, name: str) -> None:
    assert send(client, jpeg(), name=name)[0] == 200
    (photo,) = photos(cores)
    assert photo.path == f"photos/{photo.sha256[:24]}.jpg"


def test_an_unknown_core_is_404_in_words(client: TestClient) -> None:
    status, said = send(client, jpeg(), core="nobody")
    assert (status, said) == (404, 'No core here has the id "nobody". The rack lists those there are.')


def test_the_original_is_served_by_its_content_and_kept_by_the_browser(
    client: TestClient, cores: Shelf
) -> None:
    data = png()
    send(client, data, name="IMG.jpg")
    (photo,) = photos(cores)
    response = client.get(f"/photo/{VEE}/{photo.id}/original")
    assert response.content == data
    assert response.headers["content-type"] == "image/png"
    assert response.headers["cache-control"].startswith("private, ")
    assert response.headers["x-content-type-options"] == "nosniff"
    again = client.get(
        f"/photo/{VEE}/{photo.id}/original", headers={"If-None-Match": response.headers["etag"]}
    )
    assert (again.status_code, again.content) == (304, b"")
    assert client.get(f"/photo/{VEE}/{photo.id}/small").headers["etag"] != response.headers["etag"]


@pytest.mark.parametrize(
    "path",
    [
        f"{VEE}/nobody/small",
        "nobody/nobody/small",
        f"{VEE}/..%2F..%2Fetc%2Fpasswd/original",
        f"{VEE}/%00/original",
    ],
)
def test_an_unknown_photo_is_404_in_words(client: TestClient, path: str) -> None:
    response = client.get(f"/photo/{path}")
    assert response.status_code == 404
    assert response.text == "There is no such photo here. Load the page of the part again."


def test_an_unknown_size_is_404(client: TestClient, cores: Shelf) -> None:
    send(client, jpeg())
    assert client.get(f"/photo/{VEE}/{photos(cores)[0].id}/huge").status_code == 404


def test_a_photo_without_previews_gets_them_when_it_is_asked_for(client: TestClient, cores: Shelf) -> None:
    data = jpeg(seed=7)
    slot = cores.get(VEE)
    assert slot is not None
    photo = Photo(
        id="from a bundle/1",
        **entry.stamp(slot, "K.O."),
        piece="block",
        path="photos/1.jpg",
        sha256=hashlib.sha256(data).hexdigest(),
    )
    cores.add(VEE, [photo], [data])
    assert cores.preview(photo.sha256, "small") is None
    response = client.get(f"/photo/{VEE}/from%20a%20bundle%2F1/small")
    assert response.status_code == 200
    kept = cores.preview(photo.sha256, "small")
    assert kept is not None
    assert kept.content == response.content


def test_a_photo_that_is_kept_is_told_so_where_its_previews_are_not(
    client: TestClient, cores: Shelf, monkeypatch: pytest.MonkeyPatch
) -> None:
    def full(*_: object) -> None:
        raise store.DiskFull([Problem("shop.sqlite", "the disk is full.", "Make room.")])

    with monkeypatch.context() as patched:
        patched.setattr("inspect_app.store.keep_preview", full)
        assert send(client, jpeg()) == (200, "Added.")
        assert client.get(f"/photo/{VEE}/{photos(cores)[0].id}/small").status_code == 200
    assert send(client, jpeg())[1].startswith("Here already")


def test_where_it_cannot_be_kept_it_says_so_and_nothing_is_saved(
    client: TestClient, cores: Shelf, tmp_path: Path
) -> None:
    other = store.open_shop_file(tmp_path / "shop.sqlite", wait_s=0.05)
    cores.get(VEE)
    cores.shop, kept = other, cores.shop
    with kept.writing():
        status, said = send(client, jpeg())
    cores.shop = kept
    other.close()
    assert status == 503
    assert "somebody else is writing to it. Nothing of this was saved." in said
    assert photos(cores) == []
