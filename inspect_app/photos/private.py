"""A copy of a photo to give away: nothing in it but the picture, how it is turned and when it was taken."""

from dataclasses import replace

from . import heic, jpeg, png, webp
from .exif import read_exif, small_exif
from .reading import read_header
from .refusal import Refused


def without_location(data: bytes, name: str = "photo") -> bytes:
    """A copy of a JPEG, PNG, WebP or HEIC that decodes to equal pixels, nothing being coded anew.

    Kept are the colour profile, the orientation and the capture time; gone are place, device, owner, text,
    small pictures inside and whatever hangs on behind. Raises Problems as `take_in` does, and where a HEIC
    keeps what it tells in several pieces.
    """
    try:
        header = read_header(data)
        found = read_exif(header.exif)
        exif = small_exif(replace(found, orientation=1) if header.turned else found)
        match header.media_type:
            case "image/jpeg":
                return jpeg.without_location(data, exif)
            case "image/png":
                return png.without_location(data, exif)
            case "image/webp":
                return webp.without_location(data, exif)
            case _:
                return heic.without_location(data, exif)
    except Refused as refused:
        raise refused.about(name) from None
