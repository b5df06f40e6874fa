"""Hints on scenes that are sharp, out of focus, moved, too dark and too bright."""

from functools import cache

import numpy as np
import pytest

from inspect_app.photos import Hint, take_in, words
from inspect_app.photos.cv import as_jpeg
from inspect_app.photos.hints import BLURRED_BELOW, CLIPPED_SHARE, DARK_SHARE, Look, look_at

from .scenes import SCENES, Grey, defocused, moved, taken


@cache
def scene(name: str) -> Grey:
    return SCENES[name](np.random.default_rng(5))


def look(grey: Grey, light: float = 1, noise: float = 2) -> Look:
    return look_at(taken(grey, np.random.default_rng(6), light, noise))


@pytest.mark.parametrize("name", SCENES)
@pytest.mark.parametrize("light", [1, 0.35])
@pytest.mark.parametrize("noise", [2, 5])
def test_a_sharp_photo_gets_no_hint_in_full_light_nor_in_a_third_of_it(
    name: str, light: float, noise: float
) -> None:
    found = look(scene(name), light, noise)
    assert found.hints == ()
    assert found.sharpness is not None
    assert found.sharpness > 1.5 * BLURRED_BELOW


@pytest.mark.parametrize("name", SCENES)
def test_a_photo_out_of_focus_looks_blurred_in_little_light_too(name: str) -> None:
    blurred = defocused(scene(name), 3)
    assert look(blurred).hints == (Hint.BLURRED,)
    assert look(blurred, light=0.35).hints == (Hint.BLURRED,)


@pytest.mark.parametrize("name", ["clutter", "casting"])
def test_a_photo_moved_while_it_was_taken_looks_blurred(name: str) -> None:
    assert look(moved(scene(name), 12)).hints == (Hint.BLURRED,)


def test_edges_along_the_movement_stay_sharp_but_the_photo_loses_more_than_half() -> None:
    """The few rings of a bore all have a piece that lies along the movement: no bar finds that safely."""
    sharp, blurred = look(scene("bore")).sharpness, look(moved(scene("bore"), 12)).sharpness
    assert sharp is not None
    assert blurred is not None
    assert blurred < sharp / 2


@pytest.mark.parametrize("name", SCENES)
def test_within_a_scene_more_blur_is_less_sharp(name: str) -> None:
    found = [look(defocused(scene(name), radius)).sharpness for radius in (0.5, 1.5, 3, 6)]
    assert found == sorted(found, key=lambda value: -(value or 0))


@pytest.mark.parametrize("name", SCENES)
def test_an_eighth_of_the_light_is_too_dark(name: str) -> None:
    assert Hint.TOO_DARK in look(scene(name), light=0.12).hints


@pytest.mark.parametrize("name", SCENES)
def test_far_too_much_light_is_told(name: str) -> None:
    assert look(scene(name), light=3).hints == (Hint.TOO_BRIGHT,)


def test_hints_at_their_bars() -> None:
    def at(sharpness: float | None, dark: float = 0, clipped: float = 0) -> tuple[Hint, ...]:
        return Look(sharpness, dark, clipped).hints

    assert at(BLURRED_BELOW) == at(None) == ()
    assert at(BLURRED_BELOW - 0.001) == (Hint.BLURRED,)
    assert at(1, dark=DARK_SHARE) == at(1, clipped=CLIPPED_SHARE) == ()
    assert at(1, dark=DARK_SHARE + 0.001) == (Hint.TOO_DARK,)
    assert at(0, clipped=CLIPPED_SHARE + 0.001) == (Hint.BLURRED, Hint.TOO_BRIGHT)


def test_of_an_even_face_and_of_a_small_picture_nothing_is_said() -> None:
    even = np.full((768, 1024, 3), 130, np.uint8)
    assert look_at(even).sharpness is None
    small = np.random.default_rng(1).integers(0, 255, (384, 511, 3), np.uint8)
    assert look_at(small).sharpness is None
    assert look_at(np.tile(small, (1, 2, 1))).sharpness is not None


def test_a_hint_refuses_nothing() -> None:
    blurred = taken(defocused(scene("casting"), 6), np.random.default_rng(6), light=0.12)
    found = take_in(as_jpeg(blurred, 88), "a")
    assert found.hints == (Hint.BLURRED, Hint.TOO_DARK)
    assert found.width == 2048


def test_what_is_said_of_each() -> None:
    assert {hint: words(hint) for hint in Hint} == {
        Hint.BLURRED: "Looks blurred: take it again before you wash the part.",
        Hint.TOO_DARK: "Looks too dark: take it again with a lamp beside the camera.",
        Hint.TOO_BRIGHT: (
            "Parts of it are burnt out to white: take it again without flash or from another side."
        ),
    }
