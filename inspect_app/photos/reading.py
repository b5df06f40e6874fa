"""A photo file by what is in it: which kind it is, what its beginning says, and its picture."""

from typing import Literal

from . import cv, heic, jpeg, png, webp
from .header import Header
from .refusal import Refused, check_pixels, check_size, cut_off, unreadable

ENOUGH = 2000
"""Pixels of the longer side for which a JPEG is decoded at a half, a quarter or an eighth."""
_OTHERS = (
    (b"GIF8", "a GIF"), (b"BM", "a BMP"), (b"II*\0", "a TIFF or a camera's raw file"),
    (b"MM\0*", "a TIFF or a camera's raw file"), (b"%PDF", "a PDF"), (b"PK\x03\x04", "a zip"),
)  # fmt: skip
_TAKEN = "JPEG, PNG, WebP and HEIC pictures are taken."


def media_type(data: bytes) -> str | None:
    """The media type by content, whatever the file is called; None if it is none that is taken."""
    if data.startswith(jpeg.SIGNATURE):
        return "image/jpeg"
    if data.startswith(png.SIGNATURE):
        return "image/png"
    if webp.is_webp(data):
        return "image/webp"
    return "image/heic" if heic.is_heic(data) else None


def read_header(data: bytes) -> Header:
    """What the file says of its picture; nothing is decoded. Raises Refused if it is not taken."""
    check_size(data)
    match media_type(data):
        case "image/jpeg":
            header = jpeg.read_header(data)
        case "image/png":
            header = png.read_header(data)
        case "image/webp":
            header = webp.read_header(data)
        case "image/heic":
            header = heic.read_header(data)
        case _:
            raise _no_photo(data)
    check_pixels(header.width, header.height)
    if len(data) < header.least:
        raise cut_off()
    return header


def read_picture(data: bytes, header: Header) -> cv.Picture:
    """The picture as stored, decoded once and whole: if anything of it is missing, Refused is raised.

    A JPEG comes at a half, a quarter or an eighth where ENOUGH pixels are left. That still reads all of the
    file, because only the last step of decoding, from frequencies to pixels, is done on fewer of them.
    """
    if header.media_type == "image/heic":
        return heic.decoded(data)
    if header.media_type == "image/jpeg":
        found = cv.decoded(data, _reduction(header))
    else:
        data = webp.whole(data) if header.media_type == "image/webp" else data
        found = cv.decoded_on_white(data) if header.alpha else cv.decoded(data)
    if found is None:
        raise _why_not(data, header)
    return found


def _reduction(header: Header) -> Literal[1, 2, 4, 8]:
    longest = max(header.width, header.height)
    for share in (8, 4, 2):
        if longest >= share * ENOUGH:
            return share
    return 1


def _why_not(data: bytes, header: Header) -> Refused:
    """Cut off, or damaged within."""
    if header.media_type == "image/jpeg":
        try:
            for _ in jpeg.segments(data):
                pass
        except Refused as refused:
            return refused
    return cut_off() if header.media_type == "image/webp" else unreadable()


def _no_photo(data: bytes) -> Refused:
    advice = "Take the picture with the camera, or save it as JPEG, and send that."
    if data[4:8] == b"ftyp":
        kind = "an AVIF picture" if data[8:12] in (b"avif", b"avis") else "a film"
        return Refused(f"it is {kind}; {_TAKEN}", advice)
    kind = next((name for start, name in _OTHERS if data.startswith(start)), "no picture that is known here")
    return Refused(f"it is {kind}; {_TAKEN}", advice)
