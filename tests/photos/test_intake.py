"""What is known of a photo that is taken in, and its previews."""

import hashlib
from typing import Any

import numpy as np
import pytest
from PIL import Image, ImageOps

from inspect_app.model.problems import Problem
from inspect_app.photos import LARGE, SMALL, take_in, take_in_all
from inspect_app.photos.cv import decoded

from .made import (
    BLUE,
    GREEN,
    GREY,
    KINDS,
    RED,
    alike,
    corners,
    entry,
    exif,
    file_of,
    grainy,
    lying,
    opened,
    quarters,
    told_all,
)

COLOURS = [RED, GREEN, BLUE, GREY]


@pytest.mark.parametrize("kind", KINDS)
def test_every_kind_is_known_by_its_content_whatever_it_is_called(kind: str) -> None:
    data = file_of(quarters(), kind, quality=95)
    taken = take_in(data, "invoice.pdf")
    assert (taken.media_type, taken.width, taken.height) == (KINDS[kind], 96, 64)
    assert taken.sha256 == hashlib.sha256(data).hexdigest()
    assert (taken.orientation, taken.captured, taken.located, taken.notes) == (1, "", False, ())
    assert taken.name == "invoice.pdf"
    assert alike(corners(opened(taken.large)), COLOURS)


@pytest.mark.parametrize("kind", ["JPEG", "PNG", "WEBP"])
@pytest.mark.parametrize("orientation", range(1, 9))
def test_previews_and_sizes_are_upright(kind: str, orientation: int) -> None:
    data = file_of(quarters(), kind, exif=exif(orientation), quality=95)
    taken = take_in(data, "a")
    upright = ImageOps.exif_transpose(opened(data))
    assert (taken.width, taken.height) == upright.size
    assert taken.orientation == orientation
    for preview in (taken.large, taken.small):
        assert opened(preview).size == upright.size
        assert alike(corners(opened(preview)), corners(upright))


@pytest.mark.parametrize("orientation", [1, 3, 6, 8])
def test_a_heic_is_turned_by_its_own_container_once(orientation: int) -> None:
    data = file_of(quarters(), "HEIF", exif=exif(orientation), quality=95)
    taken = take_in(data, "a")
    upright = opened(data)
    assert (taken.width, taken.height) == upright.size
    assert taken.orientation == 1
    assert alike(corners(opened(taken.large)), corners(upright))


CLAIMS = {
    "0": entry(0x0112, 3, 1, b"\x00\0"),
    "9": entry(0x0112, 3, 1, b"\x09\0"),
    "65535": entry(0x0112, 3, 1, b"\xff\xff"),
    "up": entry(0x0112, 2, 3, b"up\0"),
}


@pytest.mark.parametrize("claim", CLAIMS)
def test_an_orientation_that_does_not_exist_is_told_and_not_believed(claim: str) -> None:
    taken = take_in(lying(CLAIMS[claim]), "a")
    assert (taken.orientation, taken.width, taken.height) == (1, 96, 64)
    assert taken.notes == (
        f'The file says "{claim}" for how it is turned; there are 1 to 8. It is shown as stored.',
    )


@pytest.mark.parametrize("kind", KINDS)
def test_time_and_location_are_read(kind: str) -> None:
    taken = take_in(told_all(kind), "a")
    assert taken.captured == "2026-11-22T14:05"
    assert taken.located


@pytest.mark.parametrize("kind", KINDS)
def test_previews_carry_nothing_but_the_picture(kind: str) -> None:
    taken = take_in(told_all(kind), "a")
    for preview in (taken.large, taken.small):
        assert not opened(preview).getexif()
        assert set(opened(preview).info) <= {"jfif", "jfif_version", "jfif_unit", "jfif_density"}


@pytest.mark.parametrize(
    ("width", "large"), [(1800, 1800), (2048, 2048), (2049, 2048), (4000, 2000), (4032, 2016)]
)
def test_the_large_preview_has_between_2000_and_2048_pixels_or_all_there_are(width: int, large: int) -> None:
    taken = take_in(file_of(grainy(width, 600)), "a")
    assert (taken.width, taken.height) == (width, 600)
    assert opened(taken.large).size == (large, round(600 * large / width))
    assert max(opened(taken.small).size) == SMALL
    assert large <= LARGE


def test_a_picture_of_a_single_row_of_the_preview_keeps_that_row() -> None:
    taken = take_in(file_of(grainy(9000, 16)), "a")
    assert opened(taken.small).size == (360, 1)


@pytest.mark.parametrize(
    "how", [{"progressive": True}, {"subsampling": 0}, {"quality": 30}, {"restart_marker_rows": 1}]
)
def test_every_way_of_writing_a_jpeg_is_read(how: dict[str, Any]) -> None:
    taken = take_in(file_of(quarters(), **how), "a")
    assert alike(corners(opened(taken.large)), COLOURS)


def test_a_cmyk_jpeg_has_the_right_colours() -> None:
    taken = take_in(file_of(quarters().convert("CMYK"), quality=95), "a")
    assert alike(corners(opened(taken.large)), COLOURS)


@pytest.mark.parametrize("kind", ["JPEG", "PNG"])
def test_a_grey_picture_stays_grey(kind: str) -> None:
    taken = take_in(file_of(quarters().convert("L"), kind), "a")
    wanted = [(value,) * 3 for value in (quarters().convert("L").getpixel(at) for at in [(24, 16), (72, 16)])]
    assert alike(corners(opened(taken.large))[:2], wanted)


def test_palette_and_single_bits_are_read() -> None:
    few = quarters().convert("P", palette=Image.Palette.ADAPTIVE, colors=8)
    assert alike(corners(opened(take_in(file_of(few, "PNG"), "a").large)), COLOURS)
    bits = Image.new("1", (64, 32), 1)
    bits.paste(0, (0, 0, 32, 32))
    assert alike(corners(opened(take_in(file_of(bits, "PNG"), "a").large)), [(0,) * 3, (255,) * 3] * 2)


def test_sixteen_bits_are_brought_to_eight() -> None:
    grey = Image.fromarray(np.asarray(quarters().convert("L")).astype(np.uint16) * 257)
    wanted = [(value,) * 3 for value in (quarters().convert("L").getpixel(at) for at in [(24, 16), (72, 16)])]
    assert alike(corners(opened(take_in(file_of(grey, "PNG"), "a").large))[:2], wanted)


@pytest.mark.parametrize("kind", ["PNG", "WEBP", "HEIF"])
def test_what_is_transparent_is_white_whatever_colour_is_hidden_there(kind: str) -> None:
    clear = quarters().convert("RGBA")
    cover = Image.new("L", clear.size, 255)
    cover.paste(0, (0, 0, 48, 32))
    clear.putalpha(cover)
    large = opened(take_in(file_of(clear, kind, quality=95), "a").large)
    assert alike(corners(large), [(255,) * 3, GREEN, BLUE, GREY])


def test_sixteen_bits_with_half_cover_are_laid_on_white() -> None:
    import cv2

    half = np.full((32, 32, 4), (0, 0, 65535, 32768), np.uint16)
    data = cv2.imencode(".png", half)[1].tobytes()
    assert alike(corners(opened(take_in(data, "a").large))[0], (255, 128, 128))


def test_a_palette_with_one_clear_colour() -> None:
    few = quarters().convert("P", palette=Image.Palette.ADAPTIVE, colors=8)
    data = file_of(few, "PNG", transparency=few.getpixel((10, 10)))
    assert alike(corners(opened(take_in(data, "a").large)), [(255,) * 3, GREEN, BLUE, GREY])


def test_a_jpeg_with_something_hung_on_behind_is_taken() -> None:
    """Phones append films and second pictures."""
    assert take_in(file_of(quarters()) + b"\0" * 999 + file_of(grainy(64, 64)), "a").width == 96


def test_a_reduced_jpeg_looks_as_the_whole_one() -> None:
    data = file_of(grainy(800, 600), quality=95)
    half, whole = decoded(data, 2), decoded(data)
    assert half is not None
    assert whole is not None
    mean = whole.reshape(300, 2, 400, 2, 3).mean(axis=(1, 3))
    assert half.shape == (300, 400, 3)
    assert np.abs(half - mean).mean() < 2


def test_of_many_the_good_ones_are_kept_and_every_problem_is_told() -> None:
    files = [("a", file_of(quarters())), ("b", b""), ("c", file_of(quarters(), "PNG")), ("d", b"what")]
    taken, problems = take_in_all(files)
    assert [one.name for one in taken] == ["a", "c"]
    assert [one.where for one in problems] == ['photo "b", not taken in', 'photo "d", not taken in']
    assert all(isinstance(one, Problem) for one in problems)
    assert take_in_all([]) == ((), ())
