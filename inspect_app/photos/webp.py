"""WebP as a row of chunks: its size and EXIF without decoding, and a copy without what tells on people."""

import struct
from collections.abc import Iterator

from .header import Header, tiff_of
from .refusal import cut_off, moving, unreadable

LOOKS = frozenset((b"VP8X", b"ICCP", b"ALPH", b"VP8 ", b"VP8L"))
"""Chunks without which the picture would look different."""
MOVES, XMP, EXIF, ALPHA = 0x02, 0x04, 0x08, 0x10
LOSSY_START = b"\x9d\x01\x2a"
Chunk = tuple[bytes, bytes]


def is_webp(data: bytes) -> bool:
    """Whether the file begins as a WebP does."""
    return data[:4] == b"RIFF" and data[8:12] == b"WEBP"


def read_header(data: bytes) -> Header:
    """Size, EXIF and XMP. Raises Refused: cut off, damaged or moving."""
    found = dict(reversed(list(chunks(data))))
    width, height, alpha = _coded_size(found)
    if b"VP8X" not in found:
        return Header("image/webp", width, height, alpha=alpha)
    if len(found[b"VP8X"]) != 10:
        raise unreadable()
    alpha |= bool(found[b"VP8X"][0] & ALPHA)
    exif = tiff_of(found.get(b"EXIF", b""))
    return Header("image/webp", width, height, exif, found.get(b"XMP ", b""), alpha=alpha)


def chunks(data: bytes) -> Iterator[Chunk]:
    """Names and contents of all chunks that the file says it has. Raises Refused where it ends first."""
    stop = len(whole(data))
    at = 12
    while at + 8 <= stop:
        name, size = struct.unpack_from("<4sI", data, at)
        if at + 8 + size > stop:
            raise cut_off()
        yield name, data[at + 8 : at + 8 + size]
        at += 8 + size + size % 2


def whole(data: bytes) -> bytes:
    """The file without what hangs on behind it: a decoder would read on there. Raises Refused if cut off."""
    stop = 8 + int.from_bytes(data[4:8], "little")
    if stop > len(data):
        raise cut_off()
    return data[:stop]


def without_location(data: bytes, exif: bytes) -> bytes:
    """A copy with the same coded picture, and `exif` (a TIFF block or b"") in place of all that was told.

    Raises Refused where the file is cut off.
    """
    kept = [_flagged(chunk, bool(exif)) for chunk in chunks(data) if chunk[0] in LOOKS]
    if exif:
        kept.append((b"EXIF", exif))
    body = b"WEBP" + b"".join(_packed(*chunk) for chunk in kept)
    return b"RIFF" + struct.pack("<I", len(body)) + body


def _coded_size(found: dict[bytes, bytes]) -> tuple[int, int, bool]:
    """Width, height (px) and whether there may be alpha, from the coded picture itself."""
    if b"ANMF" in found or any(flags & MOVES for flags in found.get(b"VP8X", b"")[:1]):
        raise moving()
    lossy, lossless = found.get(b"VP8 ", b""), found.get(b"VP8L", b"")
    if len(lossy) >= 10 and lossy[3:6] == LOSSY_START:
        width, height = struct.unpack_from("<HH", lossy, 6)
        return width & 0x3FFF, height & 0x3FFF, False
    if len(lossless) >= 5 and lossless[0] == 0x2F:
        bits = int.from_bytes(lossless[1:5], "little")
        return (bits & 0x3FFF) + 1, (bits >> 14 & 0x3FFF) + 1, bool(bits >> 28 & 1)
    raise unreadable()


def _flagged(chunk: Chunk, with_exif: bool) -> Chunk:
    name, content = chunk
    if name != b"VP8X" or not content:
        return chunk
    flags = content[0] & ~(EXIF | XMP) | (EXIF if with_exif else 0)
    return name, bytes((flags,)) + content[1:]


def _packed(name: bytes, content: bytes) -> bytes:
    return name + struct.pack("<I", len(content)) + content + bytes(len(content) % 2)
