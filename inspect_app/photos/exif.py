"""The few EXIF entries that count here: orientation, capture time, and whether there is a location."""

import struct
from collections.abc import Iterator
from dataclasses import dataclass
from datetime import datetime

ORIENTATION, CHANGED, ORIGINAL = 0x0112, 0x0132, 0x9003
EXIF_IFD, GPS_IFD = 0x8769, 0x8825
LATITUDE, LONGITUDE, AREA = 2, 4, 28
SHORT, ASCII, LONG = 3, 2, 4
SIZES = {1: 1, 2: 1, 3: 2, 4: 4, 5: 8, 6: 1, 7: 1, 8: 2, 9: 4, 10: 8, 11: 4, 12: 8, 13: 4}
MOST_ENTRIES = 512
YEARS = range(1990, 2101)
"""A camera without a set clock says 1970 or 1980; digital cameras began about 1990."""


@dataclass(frozen=True)
class Exif:
    """What was read. `orientation` is 1 to 8; `claimed` is what stood there when that is none of them."""

    orientation: int = 1
    claimed: str = ""
    captured: datetime | None = None
    located: bool = False


@dataclass(frozen=True)
class _Entry:
    kind: int
    content: bytes


def read_exif(tiff: bytes, xmp: bytes = b"") -> Exif:
    """Read a TIFF block and an XMP packet; whatever in them is broken counts as not there."""
    order = {b"II*\0": "<", b"MM\0*": ">"}.get(tiff[:4], "")
    located = b"GPSLatitude" in xmp or b"GPSLongitude" in xmp
    if not order or len(tiff) < 8:
        return Exif(located=located)
    main = _directory(tiff, order, _number(tiff[4:8], order))
    inner = _directory(tiff, order, _pointer(main, EXIF_IFD, order))
    gps = _directory(tiff, order, _pointer(main, GPS_IFD, order))
    orientation, claimed = _orientation(main.get(ORIENTATION), order)
    captured = _moment(inner.get(ORIGINAL)) or _moment(main.get(CHANGED))
    located |= any(any(gps[tag].content) for tag in (LATITUDE, LONGITUDE, AREA) if tag in gps)
    return Exif(orientation, claimed, captured, located)


def small_exif(read: Exif) -> bytes:
    """A TIFF block with orientation and capture time only; b"" when there is neither."""
    if read.orientation == 1 and read.captured is None:
        return b""
    turned = struct.pack("<HHIHH", ORIENTATION, SHORT, 1, read.orientation, 0)
    if read.captured is None:
        return struct.pack("<4sIH", b"II*\0", 8, 1) + turned + bytes(4)
    inner_at = 8 + 2 + 2 * 12 + 4
    text = read.captured.strftime("%Y:%m:%d %H:%M:%S").encode() + b"\0"
    to_inner = struct.pack("<HHII", EXIF_IFD, LONG, 1, inner_at)
    inner = struct.pack("<HHHII", 1, ORIGINAL, ASCII, len(text), inner_at + 2 + 12 + 4) + bytes(4)
    return struct.pack("<4sIH", b"II*\0", 8, 2) + turned + to_inner + bytes(4) + inner + text


def _directory(tiff: bytes, order: str, start: int) -> dict[int, _Entry]:
    if not 8 <= start <= len(tiff) - 2:
        return {}
    count = min(struct.unpack_from(f"{order}H", tiff, start)[0], MOST_ENTRIES)
    return dict(_entries(tiff, order, start + 2, count))


def _entries(tiff: bytes, order: str, start: int, count: int) -> Iterator[tuple[int, _Entry]]:
    for at in range(start, start + 12 * count, 12):
        if at + 12 > len(tiff):
            return
        tag, kind, number = struct.unpack_from(f"{order}HHI", tiff, at)
        size = SIZES.get(kind, 0) * number
        first = at + 8 if size <= 4 else _number(tiff[at + 8 : at + 12], order)
        if size and first + size <= len(tiff):
            yield tag, _Entry(kind, tiff[first : first + size])


def _pointer(entries: dict[int, _Entry], tag: int, order: str) -> int:
    found = entries.get(tag)
    return _number(found.content, order) if found and len(found.content) == 4 else 0


def _number(content: bytes, order: str) -> int:
    return int.from_bytes(content, "little" if order == "<" else "big")


def _orientation(found: _Entry | None, order: str) -> tuple[int, str]:
    if found is None:
        return 1, ""
    if found.kind == ASCII:
        return 1, found.content.rstrip(b"\0").decode("ascii", "replace")[:20]
    number = _number(found.content[: SIZES[found.kind]], order)
    return (number, "") if found.kind in (SHORT, LONG) and 1 <= number <= 8 else (1, str(number)[:20])


def _moment(found: _Entry | None) -> datetime | None:
    if found is None:
        return None
    try:
        text = found.content.split(b"\0")[0].decode("ascii").strip()
        moment = datetime.strptime(text, "%Y:%m:%d %H:%M:%S")
    except ValueError:
        return None
    return moment if moment.year in YEARS else None
