"""What the beginning of a picture file says, before anything is decoded."""

from dataclasses import dataclass


@dataclass(frozen=True)
class Header:
    """Size as stored, before any turning; `exif` (a TIFF block) and `xmp` are b"" where there is none.

    `least`: bytes that a whole file of such a picture has at least, so far as that is known.
    `alpha`: pixels may be transparent. `turned`: decoding already turns the picture upright.
    """

    media_type: str
    width: int
    height: int
    exif: bytes = b""
    xmp: bytes = b""
    least: int = 0
    alpha: bool = False
    turned: bool = False


EXIF_MARK = b"Exif\0\0"


def tiff_of(block: bytes) -> bytes:
    """An EXIF block without the mark that JPEG, and some writers of other files, put before it."""
    return block.removeprefix(EXIF_MARK)
