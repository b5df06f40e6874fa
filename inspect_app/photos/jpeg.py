"""JPEG as a row of segments: its size and EXIF without decoding, and a copy without what tells on people."""

import re
import struct
from collections.abc import Iterator
from dataclasses import dataclass

from .header import EXIF_MARK, Header, tiff_of
from .refusal import cut_off, unreadable

START, APP0, APP1, APP2, APP14, FRAME, SCAN, END = 0xD8, 0xE0, 0xE1, 0xE2, 0xEE, 0xC0, 0xDA, 0xD9
FRAMES = frozenset(range(0xC0, 0xD0)) - {0xC4, 0xC8, 0xCC}
BARE = frozenset({START, END, 0x01, *range(0xD0, 0xD8)})
XMP_MARK = b"http://ns.adobe.com/xap/1.0/\0"
ICC_MARK = b"ICC_PROFILE\0"
SIGNATURE = b"\xff\xd8\xff"
_NEXT_MARKER = re.compile(rb"\xff[^\x00\xff\xd0-\xd7]")
MOST_PACKED = 64 * 8
"""Pixels to a byte: a block of 64 takes a bit at least. A decoder fills what is missing with grey."""
MOST_SCANS = 200
"""Passes over the picture. Cameras write one, programs about ten; thousands in a small file take hours."""
_APPS = range(0xE0, 0xF0)
COMMENT = 0xFE


@dataclass(frozen=True)
class Segment:
    """A marker, what stands behind its length, and what is coded behind that up to the next marker."""

    marker: int
    content: bytes
    coded: bytes = b""

    def __bytes__(self) -> bytes:
        head = bytes((0xFF, self.marker))
        if self.marker in BARE:
            return head
        return head + struct.pack(">H", len(self.content) + 2) + self.content + self.coded


def read_header(data: bytes) -> Header:
    """Size, EXIF and XMP from the segments before the first scan. Raises Refused."""
    exif, xmp, size = b"", b"", None
    for segment in segments(data, coded=False):
        if segment.marker == APP1 and segment.content.startswith(EXIF_MARK):
            exif = exif or tiff_of(segment.content)
        elif segment.marker == APP1 and segment.content.startswith(XMP_MARK):
            xmp += segment.content[len(XMP_MARK) :]
        elif segment.marker in FRAMES and len(segment.content) >= 6:
            height, width = struct.unpack_from(">HH", segment.content, 1)
            size = width, height
        elif segment.marker in (SCAN, END):
            break
    if size is None:
        raise unreadable()
    if data.count(bytes((0xFF, SCAN))) > MOST_SCANS:
        _check_scans(data)
    least = size[0] * size[1] // MOST_PACKED
    return Header("image/jpeg", *size, exif, xmp, least)


def segments(data: bytes, coded: bool = True) -> Iterator[Segment]:
    """The segments up to the end of the picture. Raises Refused where the file ends or breaks off first.

    With `coded=False` scans come without their coded part and nothing is told of what follows the first.
    """
    at = 0
    while True:
        marker, at = _marker(data, at)
        if marker in BARE:
            yield Segment(marker, b"")
            if marker == END:
                return
            continue
        if at + 2 > len(data):
            raise cut_off()
        end = at + int.from_bytes(data[at : at + 2], "big")
        if end < at + 2:
            raise unreadable()
        if end > len(data):
            raise cut_off()
        stop = _scan_end(data, end) if coded and marker == SCAN else end
        yield Segment(marker, data[at + 2 : end], data[end:stop])
        at = stop


def without_location(data: bytes, exif: bytes) -> bytes:
    """A copy with the same coded picture, and `exif` (a TIFF block or b"") in place of all that was told.

    What follows the end of the picture is dropped. Raises Refused where the file is cut off.
    """
    kept = [segment for segment in segments(data) if _belongs(segment)]
    if exif:
        first = 2 if len(kept) > 1 and kept[1].marker == APP0 else 1
        kept.insert(first, Segment(APP1, EXIF_MARK + exif))
    return b"".join(map(bytes, kept))


def _check_scans(data: bytes) -> None:
    if sum(segment.marker == SCAN for segment in segments(data)) > MOST_SCANS:
        raise unreadable()


def _belongs(segment: Segment) -> bool:
    """Whether the picture looks different without it."""
    if segment.marker == APP2:
        return segment.content.startswith(ICC_MARK)
    if segment.marker in _APPS:
        return segment.marker in (APP0, APP14)
    return segment.marker != COMMENT


def _marker(data: bytes, at: int) -> tuple[int, int]:
    if at < len(data) and data[at] != 0xFF:
        raise unreadable()
    while at < len(data) and data[at] == 0xFF:
        at += 1
    if at >= len(data):
        raise cut_off()
    return data[at], at + 1


def _scan_end(data: bytes, start: int) -> int:
    found = _NEXT_MARKER.search(data, start)
    if found is None:
        raise cut_off()
    return found.start()
