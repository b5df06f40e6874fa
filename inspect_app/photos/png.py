"""PNG as a row of chunks: its size and EXIF without decoding, and a copy without what tells on people."""

import struct
import zlib
from collections.abc import Iterator

from .header import Header, tiff_of
from .refusal import cut_off, moving, unreadable

SIGNATURE = b"\x89PNG\r\n\x1a\n"
CHANNELS = {0: 1, 2: 3, 3: 1, 4: 2, 6: 4}
"""Values of a pixel by the type of colour: grey, colours, palette, grey and alpha, colours and alpha."""
WITH_ALPHA = (4, 6)
MOST_PACKED = 1040
"""Deflate packs at most 1032 to 1."""
LOOKS = frozenset(b"IHDR PLTE IDAT IEND tRNS gAMA cHRM sRGB iCCP cICP sBIT pHYs bKGD".split())
"""Chunks without which the picture would look different."""
XMP_KEY = b"XML:com.adobe.xmp\0"
Chunk = tuple[bytes, bytes]


def read_header(data: bytes) -> Header:
    """Size, EXIF and XMP. Raises Refused: cut off, damaged or moving."""
    found = list(chunks(data))
    if found[0][0] != b"IHDR" or len(found[0][1]) != 13:
        raise unreadable()
    width, height, depth, colour = struct.unpack_from(">IIBB", found[0][1])
    names = {name for name, _ in found}
    if b"acTL" in names:
        raise moving()
    least = width * height * depth * CHANNELS.get(colour, 1) // (8 * MOST_PACKED)
    exif = next((tiff_of(content) for name, content in found if name == b"eXIf"), b"")
    xmp = b"".join(content for name, content in found if name == b"iTXt" and content.startswith(XMP_KEY))
    alpha = colour in WITH_ALPHA or b"tRNS" in names
    return Header("image/png", width, height, exif, xmp, least, alpha)


def chunks(data: bytes) -> Iterator[Chunk]:
    """Names and contents up to the end of the picture; each has the sum that was written with it."""
    at = len(SIGNATURE)
    while True:
        if at + 12 > len(data):
            raise cut_off()
        size, name = struct.unpack_from(">I4s", data, at)
        end = at + 12 + size
        if end > len(data):
            raise cut_off()
        if zlib.crc32(data[at + 4 : end - 4]) != int.from_bytes(data[end - 4 : end], "big"):
            raise unreadable()
        yield name, data[at + 8 : end - 4]
        if name == b"IEND":
            return
        at = end


def without_location(data: bytes, exif: bytes) -> bytes:
    """A copy with the same coded picture, and `exif` (a TIFF block or b"") in place of all that was told.

    What follows the end of the picture is dropped. Raises Refused where the file is cut off.
    """
    kept = [chunk for chunk in chunks(data) if chunk[0] in LOOKS]
    if exif:
        kept.insert(1, (b"eXIf", exif))
    return SIGNATURE + b"".join(_packed(*chunk) for chunk in kept)


def _packed(name: bytes, content: bytes) -> bytes:
    return struct.pack(">I", len(content)) + name + content + struct.pack(">I", zlib.crc32(name + content))
