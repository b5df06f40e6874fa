"""The shipped photos are those that were rendered, and the marks in the demo cores lie on what they show."""

import hashlib
import json
from functools import cache
from pathlib import Path

import numpy as np
import pytest
from PIL import Image

from inspect_app.bundle import read_core
from inspect_app.model.core import Core
from inspect_app.model.evidence import Finding, Photo, Region
from inspect_app.photos import Hint, take_in
from inspect_app.shipped import shipped

ROOT = Path(__file__).parents[2]
CORES = sorted(folder.name for folder in shipped("demo_cores").iterdir() if (folder / "core.json").is_file())
TRUTHS = sorted((Path(__file__).parent / "truth").glob("*.json"))
EACH = pytest.mark.parametrize("path", TRUTHS, ids=lambda path: path.stem)

TAKEN, EXIF_BLOCK, LOCATION = 0x9003, 0x8769, 0x8825
HAND = 6.0
"""How far a mark may lie from what was drawn, in pixels: marks are set by hand, truth is not."""
MEANT = {"rust": {"pit", "pulled thread"}}
"""Damage words of findings for what the scenes call otherwise."""


@cache
def truth(path: Path) -> dict:
    return json.loads(path.read_text(encoding="utf-8"))


@cache
def core_of(name: str) -> Core:
    return read_core(shipped("demo_cores") / name).core


def photos_of(name: str) -> list[Photo]:
    return [item for item in core_of(name).evidence if isinstance(item, Photo)]


def test_every_photo_of_a_demo_core_has_its_truth_and_the_other_way_round() -> None:
    shown = {f"demo_cores/{name}/{photo.path}" for name in CORES for photo in photos_of(name)}
    on_disk = {str(path.relative_to(ROOT)) for path in (ROOT / "demo_cores").glob("*/photos/*")}
    assert shown == on_disk == {truth(path)["photo"] for path in TRUTHS}
    assert len(shown) >= 20


@EACH
def test_the_photo_is_the_one_that_was_rendered(path: Path) -> None:
    data = (ROOT / truth(path)["photo"]).read_bytes()
    assert hashlib.sha256(data).hexdigest() == truth(path)["sha256"]
    assert 40_000 < len(data) < 300_000


def test_all_photos_together_stay_small() -> None:
    assert sum((ROOT / truth(path)["photo"]).stat().st_size for path in TRUTHS) < 6_000_000


@EACH
def test_the_photo_tells_when_it_was_taken_and_not_where(path: Path) -> None:
    with Image.open(ROOT / truth(path)["photo"]) as picture:
        exif = picture.getexif()
        assert picture.size == tuple(truth(path)["size_px"])
        assert exif.get_ifd(EXIF_BLOCK)[TAKEN] == truth(path)["taken"]
        assert LOCATION not in exif


@EACH
def test_intake_hints_at_the_spoilt_photos_and_at_no_other(path: Path) -> None:
    expected = {"shake": Hint.BLURRED, "dark": Hint.TOO_DARK}
    taken = take_in((ROOT / truth(path)["photo"]).read_bytes(), path.stem)
    assert taken.hints == tuple(expected[reason] for reason in truth(path)["spoilt_by"])


@EACH
def test_the_camera_of_the_truth_puts_its_millimetres_onto_its_pixels(path: Path) -> None:
    camera = truth(path)["camera"]
    k, rotation, shift = (np.array(camera[key]) for key in ("K", "R", "t_mm"))
    assert np.allclose(rotation @ rotation.T, np.eye(3), atol=1e-4)
    pairs = [(one["points_mm"], one["points_px"]) for one in truth(path)["drawn"]]
    pairs += [(one["corners_mm"], one["corners_px"]) for one in truth(path)["cards"]]
    for solid, flat in pairs:
        seen = k @ (rotation @ np.array(solid).T + shift[:, None])
        assert seen[:2].T / seen[2][:, None] == pytest.approx(np.array(flat), abs=0.2)


@EACH
def test_what_is_drawn_lies_inside_the_picture(path: Path) -> None:
    for one in truth(path)["drawn"]:
        x, y = np.array(one["points_px"]).T
        width, height = truth(path)["size_px"]
        assert (x.min(), y.min()) > (0, 0)
        assert (x.max(), y.max()) < (width, height)


def test_no_two_photos_share_a_seed() -> None:
    seeds = [truth(path)["seed"] for path in TRUTHS]
    assert len(set(seeds)) == len(seeds)


def test_one_photo_is_blurred_one_too_dark_and_one_has_its_card_in_another_plane() -> None:
    spoilt = [reason for path in TRUTHS for reason in truth(path)["spoilt_by"]]
    assert sorted(spoilt) == ["dark", "shake"]
    planes = {path.stem: [card["plane"] for card in truth(path)["cards"]] for path in TRUTHS}
    assert planes["head-left-crack"] == ["the gasket face"]
    assert planes["head-left-as-found"] == ["the bench, 110 mm below the gasket face"]


def marks() -> list[tuple[str, Region]]:
    """Every mark of the demo cores."""
    return [(name, item) for name in CORES for item in core_of(name).evidence if isinstance(item, Region)]


def test_there_are_marks_on_three_cores_at_least() -> None:
    assert len({name for name, _ in marks()}) >= 3


@pytest.mark.parametrize(("name", "mark"), marks(), ids=lambda value: getattr(value, "id", value))
def test_a_mark_lies_on_what_was_drawn_and_its_finding_says_so(name: str, mark: Region) -> None:
    items = {item.id: item for item in core_of(name).evidence}
    photo, finding = items[mark.photo], items[mark.finding or ""]
    assert isinstance(photo, Photo)
    assert isinstance(finding, Finding)
    assert (mark.piece, mark.state) == (photo.piece, photo.state) == (finding.piece, finding.state)
    told = next(truth(path) for path in TRUTHS if truth(path)["photo"] == f"demo_cores/{name}/{photo.path}")
    meant = [
        one
        for one in told["drawn"]
        if finding.damage in MEANT.get(one["what"], {one["what"]}) and one["shape"] == mark.shape
    ]
    assert any(lies_on(np.array(mark.points), shape_of(one)) for one in meant)


def shape_of(one: dict) -> np.ndarray:
    """Points of the drawn shape as a mark has them: of an ellipse, two corners of its box."""
    points = np.array(one["points_px"])
    return np.array([points.min(0), points.max(0)]) if one["shape"] == "ellipse" else points


def lies_on(points: np.ndarray, drawn: np.ndarray) -> bool:
    """Whether every marked point is near some drawn one, and the other way round."""
    away = np.linalg.norm(points[:, None] - drawn[None], axis=2)
    return bool(max(away.min(0).max(), away.min(1).max()) <= HAND)


@pytest.mark.parametrize("name", CORES)
def test_every_caption_says_that_the_picture_is_made(name: str) -> None:
    for photo in photos_of(name):
        assert photo.caption.endswith(". Computer-made picture; it shows no real engine.")
        told = next(truth(path) for path in TRUTHS if truth(path)["photo"].endswith(f"{name}/{photo.path}"))
        assert photo.captured == photo.when == told["taken"].replace(":", "-", 2).replace(" ", "T")[:16]
