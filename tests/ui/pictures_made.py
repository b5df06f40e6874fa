"""Pictures made for tests of photos: sharp noise and lines, as files of several kinds."""

import io

import numpy as np
from PIL import Image


def jpeg(width: int = 1200, height: int = 900, seed: int = 1, quality: int = 90) -> bytes:
    """A sharp picture as JPEG; another `seed` makes another picture."""
    noise = np.random.default_rng(seed).integers(60, 200, (height, width, 3), dtype=np.uint8)
    noise[:: max(height // 12, 1)] = 230
    return _saved(Image.fromarray(noise), "JPEG", quality=quality)


def flat(shade: int, width: int = 1200, height: int = 900) -> bytes:
    """A picture of one shade, as JPEG."""
    return _saved(Image.new("RGB", (width, height), (shade,) * 3), "JPEG")


def png(width: int = 600, height: int = 400) -> bytes:
    """A picture as PNG."""
    return _saved(Image.new("RGB", (width, height), (90, 120, 140)), "PNG")


def _saved(picture: Image.Image, kind: str, **options: int) -> bytes:
    out = io.BytesIO()
    picture.save(out, kind, **options)
    return out.getvalue()
