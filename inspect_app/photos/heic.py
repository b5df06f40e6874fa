"""HEIC, the usual file of one kind of phone: decoded by libheif, and a copy without what tells on people."""

import io
from typing import Any

import numpy as np

from . import cv
from .header import Header, tiff_of
from .refusal import Refused, cut_off, moving, unreadable

STILL = frozenset((b"heic", b"heix", b"heim", b"heis", b"mif1"))
MOVES = frozenset((b"hevc", b"hevx", b"msf1"))
CODED_BRANDS = frozenset((b"heic", b"heix", b"heim", b"heis"))


def is_heic(data: bytes) -> bool:
    """Whether the file begins as a HEIC does, still or moving."""
    return (
        data[4:8] == b"ftyp"
        and (data[8:12] in STILL | MOVES)
        and bool(_brands(data) & (CODED_BRANDS | MOVES))
    )


def read_header(data: bytes) -> Header:
    """Size once upright, EXIF and XMP. Raises Refused: cut off, damaged or moving."""
    if data[8:12] in MOVES:
        raise moving()
    _check_boxes(data)
    file = _opened(data)
    width, height = file.size
    exif, xmp = file.info.get("exif") or b"", file.info.get("xmp") or b""
    return Header("image/heic", width, height, tiff_of(exif), xmp, alpha=file.has_alpha, turned=True)


def decoded(data: bytes) -> cv.Picture:
    """The picture upright, laid on white where it is transparent. Raises Refused if it is damaged."""
    file = _opened(data)
    try:
        found = np.asarray(file, np.uint8)
    except Exception:
        raise unreadable() from None
    if found.ndim == 2:
        found = np.repeat(found[:, :, np.newaxis], 3, axis=2)
    if found.shape[2] == 4:
        return cv.on_white(np.dstack((cv.from_rgb(found[:, :, :3]), found[:, :, 3])))
    return cv.from_rgb(found)


def without_location(data: bytes, exif: bytes) -> bytes:
    """A copy of the same length in which all that was told is written over, with `exif` in its place.

    Where things lie in the file stays as it is, so the coded picture does too; that is checked by decoding
    both. Raises Refused where a block of it is not found in one piece, or is too short for `exif`.
    """
    told = _told(data)
    copy = bytearray(data)
    for block in filter(None, told):
        at = data.find(block)
        if at < 0:
            raise _scattered()
        copy[at : at + len(block)] = bytes(len(block))
    if exif and told[0]:
        _put(copy, data.find(told[0]), told[0], exif)
    done = bytes(copy)
    if done != data and (set(told) & set(_told(done)) - {b"", exif} or not _same_picture(done, data)):
        raise _scattered()
    return done


def _told(data: bytes) -> list[bytes]:
    """The EXIF block first, b"" if there is none, then every other block of metadata."""
    info = _opened(data).info
    others = [block["data"] for block in info.get("metadata") or []]
    return [info.get("exif") or b"", info.get("xmp") or b"", *others]


def _same_picture(one: bytes, other: bytes) -> bool:
    try:
        return np.array_equal(decoded(one), decoded(other))
    except Refused:
        return False


def _put(copy: bytearray, at: int, old: bytes, exif: bytes) -> None:
    start = at + len(old) - len(tiff_of(old))
    if len(exif) > len(tiff_of(old)):
        raise _scattered()
    copy[at:start] = old[: start - at]
    copy[start : start + len(exif)] = exif


def _scattered() -> Refused:
    return Refused(
        "what the file tells of place and time does not lie in one piece, so it cannot be taken out.",
        "Save the picture as JPEG and make the copy of that.",
    )


def _brands(data: bytes) -> set[bytes]:
    size = min(int.from_bytes(data[:4], "big"), 512)
    return {data[at : at + 4] for at in (8, *range(16, size, 4))}


def _check_boxes(data: bytes) -> None:
    """Raise Refused where one of the boxes that make up the file reaches past its end."""
    at = 0
    while at < len(data):
        size = int.from_bytes(data[at : at + 4], "big")
        if size == 1:
            size = int.from_bytes(data[at + 8 : at + 16], "big")
        if size == 0:
            return
        if size < 8:
            raise unreadable()
        at += size
    if at > len(data):
        raise cut_off()


def _opened(data: bytes) -> Any:
    """The file as libheif sees it; nothing is decoded yet. Raises Refused if it cannot be opened."""
    from pillow_heif import open_heif

    try:
        file = open_heif(io.BytesIO(data), convert_hdr_to_8bit=True)
    except Exception:
        raise unreadable() from None
    if not len(file):
        raise unreadable()
    return file
