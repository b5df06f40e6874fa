"""Photo intake of a picture of 12 megapixels: all that is found out and made of it, from its bytes alone."""

from collections.abc import Callable
from functools import cache

import cv2
import numpy as np

from inspect_app.photos import SMALL, take_in


@cache
def photo(height: int = 3000, width: int = 4000) -> bytes:
    """A JPEG with soft blotches and a sensor's grain, about as large as a phone's: 0.3 bytes a pixel."""
    random = np.random.default_rng(1)
    blotches = random.normal(128, 40, (height // 8, width // 8, 3)).astype(np.float32)
    picture = cv2.resize(blotches, (width, height), interpolation=cv2.INTER_CUBIC)
    picture += random.normal(0, 6, picture.shape)
    return cv2.imencode(".jpg", np.clip(picture, 0, 255).astype(np.uint8), [cv2.IMWRITE_JPEG_QUALITY, 88])[
        1
    ].tobytes()


def intake(data: bytes) -> Callable[[], object]:
    """What is timed."""
    return lambda: take_in(data, "photo")


def decode_and_thumbnail(data: bytes) -> Callable[[], object]:
    """The floor: decoded once, and one thumbnail made of that and written."""

    def run() -> object:
        picture = cv2.imdecode(np.frombuffer(data, np.uint8), cv2.IMREAD_COLOR)
        assert picture is not None
        height, width = picture.shape[:2]
        size = SMALL, round(SMALL * height / width)
        return cv2.imencode(".jpg", cv2.resize(picture, size, interpolation=cv2.INTER_AREA))

    return run
