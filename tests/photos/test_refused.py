"""Files that are not taken, and what is said of them."""

import struct
import zlib

import numpy as np
import pytest
from PIL import Image

from inspect_app.model.problems import Problems
from inspect_app.photos import LARGEST_FILE, take_in, without_location

from .made import KINDS, file_of, grainy, png_chunk, quarters

CUT = (
    "the file ends before the picture does: a part of it was lost on the way. "
    "Send it again from the device that took it."
)
DAMAGED = (
    "the picture in the file is damaged and cannot be read. "
    "Send it again from the device that took it, or take the picture again."
)
MOVES = (
    "it holds several pictures that move, and a mark belongs to one picture. "
    "Save the one that shows the spot as a still picture and send that."
)
TAKEN = (
    "JPEG, PNG, WebP and HEIC pictures are taken. "
    "Take the picture with the camera, or save it as JPEG, and send that."
)


def said(data: bytes) -> str:
    with pytest.raises(Problems) as caught:
        take_in(data, "a.jpg")
    (item,) = caught.value.items
    assert item.where == 'photo "a.jpg", not taken in'
    return f"{item.what} {item.advice}"


def sized_png(width: int, height: int, packed: bytes, depth: int = 8, colour: int = 2) -> bytes:
    head = struct.pack(">IIBBBBB", width, height, depth, colour, 0, 0, 0)
    chunks = png_chunk(b"IHDR", head) + png_chunk(b"IDAT", packed) + png_chunk(b"IEND", b"")
    return b"\x89PNG\r\n\x1a\n" + chunks


def sized_jpeg(width: int, height: int) -> bytes:
    """A small JPEG whose frame claims another size."""
    data = file_of(quarters())
    at = data.index(b"\xff\xc0") + 5
    return data[:at] + struct.pack(">HH", height, width) + data[at + 4 :]


def test_an_empty_file() -> None:
    assert said(b"") == "the file is empty. Send it again from the device that took it."


@pytest.mark.parametrize(
    ("data", "kind"),
    [
        (b"hello there, no picture", "no picture that is known here"),
        (b"\xff", "no picture that is known here"),
        (file_of(quarters(), "GIF"), "a GIF"),
        (file_of(quarters(), "BMP"), "a BMP"),
        (file_of(quarters(), "TIFF"), "a TIFF or a camera's raw file"),
        (b"%PDF-1.7 ...", "a PDF"),
        (b"PK\x03\x04....", "a zip"),
        (b"\0\0\0\x20ftypavif" + bytes(20), "an AVIF picture"),
        (b"\0\0\0\x20ftypisom" + bytes(20), "a film"),
    ],
)
def test_what_is_no_photo_is_told_by_what_it_is(data: bytes, kind: str) -> None:
    assert said(data) == f"it is {kind}; {TAKEN}"


def test_a_file_of_forty_megabytes_is_taken_and_one_above_is_not() -> None:
    whole = file_of(quarters())
    assert take_in(whole + bytes(LARGEST_FILE - len(whole)), "a").width == 96
    assert said(whole + bytes(LARGEST_FILE - len(whole) + 60_000)) == (
        "the file has 40.1 MB; up to 40 MB are taken. Save it as JPEG and send that."
    )


@pytest.mark.parametrize("kind", KINDS)
@pytest.mark.parametrize("share", [0.3, 0.6, 0.99])
def test_a_file_cut_off_anywhere_is_refused(kind: str, share: float) -> None:
    data = file_of(grainy(640, 480), kind)
    assert said(data[: int(len(data) * share)]) == CUT


@pytest.mark.parametrize("how", [{}, {"progressive": True}])
@pytest.mark.parametrize("less", [1, 2, 50, 5000])
def test_a_large_jpeg_that_is_decoded_reduced_must_be_whole_too(how: dict[str, bool], less: int) -> None:
    data = file_of(grainy(4100, 600), **how)
    assert take_in(data, "a").width == 4100
    assert said(data[:-less]) == CUT


@pytest.mark.parametrize("kind", KINDS)
def test_a_file_cut_off_at_any_byte_of_its_beginning_has_words(kind: str) -> None:
    data = file_of(grainy(64, 64), kind)
    for length in range(1, min(len(data), 700)):
        assert said(data[:length])


@pytest.mark.parametrize("kind", ["PNG", "WEBP"])
def test_pictures_that_move(kind: str) -> None:
    data = file_of(quarters(), kind, save_all=True, append_images=[grainy(96, 64)])
    assert said(data) == MOVES


def test_heic_sequences_move() -> None:
    data = file_of(quarters(), "HEIF")
    assert said(data[:8] + b"hevc" + data[12:]) == MOVES


@pytest.mark.parametrize("kind", KINDS)
def test_a_picture_of_a_single_pixel_shows_nothing(kind: str) -> None:
    assert said(file_of(Image.new("RGB", (1, 1)), kind)) == (
        "the picture has 1 × 1 px; below 16 px a side it shows nothing. "
        "Send the picture itself, not its icon."
    )


def test_the_smallest_picture() -> None:
    assert take_in(file_of(Image.new("RGB", (16, 16))), "a").width == 16
    assert said(file_of(Image.new("RGB", (400, 15)))).startswith("the picture has 400 × 15 px;")


def test_two_hundred_megapixels_are_refused_by_the_header() -> None:
    words = (
        "the picture has 200 megapixels (20000 × 10000 px); up to 100 are taken. "
        "Set the camera to fewer pixels, or save the picture smaller."
    )
    assert said(sized_jpeg(20000, 10000)) == words
    assert said(sized_png(20000, 10000, zlib.compress(bytes(10)) * 99999)) == words


def test_a_hundred_megapixels_are_let_through_by_the_header() -> None:
    assert said(sized_jpeg(10000, 10000)) == CUT
    assert "megapixels" in said(sized_jpeg(10001, 10000))


@pytest.mark.parametrize(("depth", "colour"), [(8, 2), (16, 6), (1, 0)])
def test_a_png_far_too_small_for_its_size_is_refused_before_it_is_decoded(
    depth: int, colour: int, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("inspect_app.photos.intake.read_picture", lambda *_: pytest.fail("decoded"))
    assert said(sized_png(9000, 9000, zlib.compress(bytes(2000)), depth, colour)) == CUT


def test_a_png_with_too_few_rows_is_damaged() -> None:
    rows = zlib.compress(np.random.default_rng(1).bytes(91 * 20))
    assert said(sized_png(30, 100, rows)) == DAMAGED


def test_a_png_with_a_changed_byte_is_damaged() -> None:
    data = bytearray(file_of(grainy(64, 64), "PNG"))
    data[len(data) // 2] ^= 1
    assert said(bytes(data)) == DAMAGED


def test_a_jpeg_without_a_frame_is_damaged() -> None:
    assert said(b"\xff\xd8\xff\xd9") == DAMAGED


def test_a_jpeg_of_thousands_of_passes_is_refused() -> None:
    data = file_of(quarters(), progressive=True)
    last = data.rindex(b"\xff\xda")
    assert said(data[:-2] + data[last:-2] * 300 + b"\xff\xd9") == DAMAGED


@pytest.mark.parametrize("kind", KINDS)
def test_a_copy_of_a_file_that_is_cut_off_is_refused_in_the_same_words(kind: str) -> None:
    data = file_of(grainy(640, 480), kind)
    with pytest.raises(Problems) as caught:
        without_location(data[: len(data) // 2], "b.jpg")
    assert str(caught.value) == f'photo "b.jpg", not taken in: {CUT}'
