"""Pictures and files that the tests make: every kind that is taken, and metadata that tells or lies."""

import io
import struct
from typing import Any

import numpy as np
import pillow_heif
from numpy.typing import NDArray
from PIL import Image

RED, GREEN, BLUE, GREY = (200, 40, 30), (30, 170, 60), (40, 60, 190), (128, 128, 128)
KINDS = {"JPEG": "image/jpeg", "PNG": "image/png", "WEBP": "image/webp", "HEIF": "image/heic"}
TELLS = b"Workshop Lane 7"
XMP = b'<x:xmpmeta xmlns:x="adobe:ns:meta/"><a exif:GPSLatitude="52,30N" b="' + TELLS + b'"/></x:xmpmeta>'
pillow_heif.register_heif_opener()


def quarters(width: int = 96, height: int = 64) -> Image.Image:
    """Red, green over blue, grey: every turn and mirror of it looks different."""
    pixels = np.empty((height, width, 3), np.uint8)
    pixels[: height // 2, : width // 2], pixels[: height // 2, width // 2 :] = RED, GREEN
    pixels[height // 2 :, : width // 2], pixels[height // 2 :, width // 2 :] = BLUE, GREY
    return Image.fromarray(pixels)


def corners(picture: Image.Image) -> list[tuple[int, int, int]]:
    """The middles of the four quarters, in the order red, green, blue, grey of `quarters`."""
    across, down = (
        (picture.width // 4, picture.width * 3 // 4),
        (picture.height // 4, picture.height * 3 // 4),
    )
    seen = picture.convert("RGB")
    return [seen.getpixel((x, y)) for y in down for x in across]  # type: ignore[misc]


def alike(found: Any, wanted: Any, within: int = 12) -> bool:
    return bool(np.abs(np.asarray(found, int) - np.asarray(wanted, int)).max() <= within)


def grainy(width: int, height: int, seed: int = 1) -> Image.Image:
    """Grain over soft blotches, about as large a file as a photo of the same size."""
    random = np.random.default_rng(seed)
    coarse = Image.fromarray(random.integers(60, 200, (height // 16 + 1, width // 16 + 1, 3), np.uint8))
    soft = np.asarray(coarse.resize((width, height), Image.Resampling.BICUBIC), np.float32)
    return Image.fromarray(np.clip(soft + random.normal(0, 6, soft.shape), 0, 255).astype(np.uint8))


def file_of(picture: Image.Image, kind: str = "JPEG", **how: Any) -> bytes:
    buffer = io.BytesIO()
    picture.save(buffer, kind, **how)
    return buffer.getvalue()


def opened(data: bytes) -> Image.Image:
    picture = Image.open(io.BytesIO(data))
    picture.load()
    return picture


def pixels(data: bytes) -> NDArray[np.uint8]:
    return np.asarray(opened(data))


def exif(orientation: int = 1, captured: str = "", located: bool = False, owner: bool = False) -> bytes:
    """A whole EXIF block, as Pillow writes it."""
    block = Image.Exif()
    block[0x0112] = orientation
    if captured:
        block.get_ifd(0x8769)[0x9003] = captured
    if located:
        block.get_ifd(0x8825).update({1: "N", 2: (52.0, 30.0, 15.0), 3: "E", 4: (13.0, 20.0, 5.0)})
    if owner:
        block[0x010F] = block[0x9C9D] = TELLS.decode()
    return block.tobytes()


def entry(tag: int, kind: int, count: int, content: bytes, order: str = "<") -> bytes:
    return struct.pack(f"{order}HHI", tag, kind, count) + content.ljust(4, b"\0")


def tiff(*entries: bytes, order: str = "<") -> bytes:
    """A TIFF block with these entries, true or not."""
    start = {"<": b"II*\0", ">": b"MM\0*"}[order]
    return start + struct.pack(f"{order}IH", 8, len(entries)) + b"".join(entries) + bytes(4)


def lying(orientation: bytes) -> bytes:
    """A JPEG whose EXIF has only this entry."""
    return file_of(quarters(), exif=b"Exif\0\0" + tiff(orientation))


def png_chunk(name: bytes, content: bytes) -> bytes:
    import zlib

    return struct.pack(">I", len(content)) + name + content + struct.pack(">I", zlib.crc32(name + content))


def told_all(kind: str, orientation: int = 6) -> bytes:
    """A file of this kind that tells place, time, owner and device in every way it can."""
    block = exif(orientation, "2026:11:22 14:05:33", located=True, owner=True)
    picture = grainy(96, 64)
    if kind == "JPEG":
        return file_of(picture, kind, exif=block, xmp=XMP, comment=TELLS, quality=90) + TELLS
    if kind == "PNG":
        whole = file_of(picture, kind, exif=block)
        texts = png_chunk(b"tEXt", b"Author\0" + TELLS) + png_chunk(
            b"iTXt", b"XML:com.adobe.xmp\0\0\0\0\0" + XMP
        )
        texts += png_chunk(b"tIME", bytes((7, 234, 11, 22, 14, 5, 33))) + png_chunk(b"zTXt", b"a\0\0" + TELLS)
        return whole[:33] + texts + whole[33:] + TELLS
    return file_of(picture, kind, exif=block, xmp=XMP, quality=90)
