"""Copies to give away: the same pixels, and nothing told but how it is turned and when it was taken."""

from typing import Any

import numpy as np
import pytest
from PIL import Image, ImageCms

from inspect_app.model.problems import Problems
from inspect_app.photos import take_in, without_location

from .made import KINDS, TELLS, exif, file_of, grainy, opened, pixels, png_chunk, quarters, told_all

PROFILE = ImageCms.ImageCmsProfile(ImageCms.createProfile("sRGB")).tobytes()


@pytest.mark.parametrize("kind", KINDS)
def test_pixels_stay_and_what_was_told_goes(kind: str) -> None:
    data = told_all(kind)
    copy = without_location(data, "a")
    assert TELLS in data
    assert TELLS not in copy
    assert b"GPSLatitude" not in copy
    assert np.array_equal(pixels(copy), pixels(data))
    before, after = take_in(data, "a"), take_in(copy, "a")
    assert (before.located, after.located) == (True, False)
    assert (after.captured, after.orientation) == (before.captured, before.orientation)
    assert after.large == before.large
    assert after.sha256 != before.sha256


@pytest.mark.parametrize("kind", KINDS)
def test_other_programs_find_orientation_and_time_and_nothing_more(kind: str) -> None:
    found = opened(without_location(told_all(kind), "a")).getexif()
    assert set(found) == {0x0112, 0x8769}
    assert found[0x0112] == (1 if kind == "HEIF" else 6)
    assert found.get_ifd(0x8769) == {0x9003: "2026:11:22 14:05:33"}
    assert found.get_ifd(0x8825) == {}


@pytest.mark.parametrize("kind", ["JPEG", "PNG", "WEBP"])
def test_a_file_that_tells_nothing_stays_as_it_is(kind: str) -> None:
    data = file_of(grainy(64, 64), kind)
    assert without_location(data, "a") == data


@pytest.mark.parametrize("kind", KINDS)
def test_a_copy_of_a_copy_is_the_same(kind: str) -> None:
    copy = without_location(told_all(kind), "a")
    assert without_location(copy, "a") == copy


@pytest.mark.parametrize("kind", ["JPEG", "PNG", "WEBP"])
def test_the_colour_profile_stays(kind: str) -> None:
    data = file_of(grainy(64, 64), kind, icc_profile=PROFILE, exif=exif(located=True))
    assert opened(without_location(data, "a")).info["icc_profile"] == PROFILE


@pytest.mark.parametrize("how", [{"progressive": True}, {"restart_marker_rows": 1}, {"subsampling": 0}])
def test_every_way_of_writing_a_jpeg_is_copied(how: dict[str, Any]) -> None:
    data = file_of(grainy(200, 100), exif=exif(3, located=True), **how)
    copy = without_location(data, "a")
    assert np.array_equal(pixels(copy), pixels(data))
    assert not take_in(copy, "a").located


def test_a_cmyk_jpeg_keeps_the_segment_that_says_how_its_colours_are_meant() -> None:
    data = file_of(quarters().convert("CMYK"), exif=exif(located=True))
    copy = without_location(data, "a")
    assert b"Adobe" in copy
    assert np.array_equal(pixels(copy), pixels(data))


@pytest.mark.parametrize("marker", [0xE1, 0xE2, 0xE3, 0xED, 0xEF, 0xFE])
def test_segments_of_every_other_use_go(marker: int) -> None:
    data = file_of(quarters())
    told = bytes((0xFF, marker, 0, len(TELLS) + 2)) + TELLS
    assert without_location(data[:2] + told + data[2:], "a") == data


def test_films_and_second_pictures_behind_a_jpeg_go() -> None:
    data = file_of(quarters())
    assert without_location(data + told_all("JPEG"), "a") == data


@pytest.mark.parametrize("name", [b"tEXt", b"zTXt", b"iTXt", b"tIME", b"eXIf", b"prVt"])
def test_png_chunks_that_change_no_pixel_go(name: bytes) -> None:
    data = file_of(quarters(), "PNG")
    assert without_location(data[:33] + png_chunk(name, TELLS) + data[33:], "a") == data


def test_a_clear_palette_stays_clear() -> None:
    few = quarters().convert("P", palette=Image.Palette.ADAPTIVE, colors=8)
    data = file_of(few, "PNG", transparency=few.getpixel((10, 10)), exif=exif(located=True))
    assert np.array_equal(
        np.asarray(opened(without_location(data, "a")).convert("RGBA")),
        np.asarray(opened(data).convert("RGBA")),
    )


def test_a_webp_with_alpha_keeps_it() -> None:
    clear = grainy(64, 64).convert("RGBA")
    clear.putalpha(90)
    data = file_of(clear, "WEBP", exif=exif(located=True), xmp=TELLS)
    copy = without_location(data, "a")
    assert np.array_equal(pixels(copy), pixels(data))
    assert TELLS not in copy


def test_a_false_orientation_is_not_copied() -> None:
    from .made import entry, lying

    copy = without_location(lying(entry(0x0112, 3, 1, b"\x09\0")), "a")
    assert copy == file_of(quarters())


def test_a_heic_whose_block_is_too_short_for_the_time_is_refused(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("inspect_app.photos.private.small_exif", lambda _: bytes(5000))
    with pytest.raises(Problems) as caught:
        without_location(told_all("HEIF"), "a")
    assert str(caught.value) == (
        'photo "a", not taken in: what the file tells of place and time does not lie in one piece, '
        "so it cannot be taken out. Save the picture as JPEG and make the copy of that."
    )
