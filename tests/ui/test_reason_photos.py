"""The photo behind a reason, with the region that weighed, on the Verdict page."""

import hashlib
import io
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
from PIL import Image
from streamlit.testing.v1 import AppTest

from inspect_app.model.evidence import Finding, Photo, Region
from inspect_app.pictures.tokens import LIGHT
from inspect_app.ui.reason_photos import Behind
from inspect_app.ui.shelf import Shelf
from tests.ui.made import NASTY
from tests.ui.shop_core import VEE, html, shop_with

COMMON: dict[str, Any] = {"who": "B.W.", "when": "2026-11-25", "stage": "bench", "piece": "crankshaft"}


def picture() -> bytes:
    out = io.BytesIO()
    Image.effect_noise((640, 480), 60).convert("RGB").save(out, "JPEG")
    return out.getvalue()


@pytest.fixture
def cores(tmp_path: Path) -> Iterator[Shelf]:
    with shop_with(tmp_path, VEE) as made:
        yield made


def crack(cores: Shelf, strength: str = "seen", **region: Any) -> None:
    data = picture()
    sha256 = hashlib.sha256(data).hexdigest()
    place = "rod_journal 1/fillet/front"
    line = {"shape": "crack_line", "points": ((100, 100), (200, 220))} | region
    cores.add(
        VEE,
        [
            Photo(id="p1", path="photos/p1.jpg", sha256=sha256, caption=NASTY, **COMMON),
            Region(id="g0", photo="p1", finding="f0", shape="point", points=((10, 10),), **COMMON),
            Finding(id="f0", damage="score", place="main_journal 1", strength="seen", **COMMON),
            Finding(id="f1", damage="crack", place=place, strength=strength, **COMMON),  # type: ignore[arg-type]
            Region(id="g1", photo="p1", finding="f1", **line, **COMMON),
        ],
        [data],
    )


def verdict() -> AppTest:
    def script() -> None:
        from inspect_app.ui import verdict

        verdict.page()

    app = AppTest.from_function(script, default_timeout=20)
    app.query_params["core"], app.query_params["part"] = VEE, "crankshaft"
    return app.run()


def test_the_reason_shows_the_photo_that_weighed_and_only_its_own_mark(cores: Shelf) -> None:
    crack(cores)
    text = html(verdict())
    assert f'src="/photo/{VEE}/p1/large"' in text
    assert "<img src=x" not in text
    slot = cores.get(VEE)
    assert slot is not None
    assert slot.answer is not None
    shaft = next(part for part in slot.answer.parts if part.position == "crankshaft")
    reason = next(closed for closed in shaft.closed if "f1" in closed.evidence)
    behind = Behind(slot)
    (shown,) = behind.of(reason)
    assert (shown.width, shown.height) == (640, 480)
    # The mark of the score on the same photo has the first letter, and is not shown with the crack.
    assert [(mark.letter, mark.points) for mark in shown.marks] == [("B", ((100, 100), (200, 220)))]
    drawn = behind.drawings(shaft.closed, LIGHT)
    assert "Marks on the photo: B" in drawn[f"photo|p1|{reason.rule}|{reason.place}"]
    assert {name for name in drawn if f'data-drawing="{name}"' not in text} == set()


def test_a_reason_without_a_marked_photo_shows_none(cores: Shelf) -> None:
    assert "/photo/" not in html(verdict())


def test_a_photo_that_cannot_be_read_shows_its_place_without_marks(cores: Shelf, tmp_path: Path) -> None:
    data = b"no picture"
    cores.add(
        VEE,
        [
            Photo(id="p1", path="photos/p1.jpg", sha256=hashlib.sha256(data).hexdigest(), **COMMON),
            Finding(id="f1", damage="crack", place="rod_journal 1/fillet/front", strength="seen", **COMMON),
            Region(id="g1", photo="p1", finding="f1", shape="point", points=((1, 1),), **COMMON),
        ],
        [data],
    )
    slot = cores.get(VEE)
    assert slot is not None
    assert slot.answer is not None
    reasons = tuple(c for part in slot.answer.parts for c in part.closed if "f1" in c.evidence)
    assert Behind(slot).drawings(reasons, LIGHT) == {}
    assert f'src="/photo/{VEE}/p1/large"' in html(verdict())
