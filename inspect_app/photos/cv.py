"""The one module that calls OpenCV: its results narrowed to arrays of known shape and type, or None.

A picture is `uint8[height, width, 3]` in the order blue, green, red; a grey one is `uint8[height, width]`.
"""

from typing import Any, Literal

import cv2
import numpy as np
from numpy.typing import NDArray

Picture = NDArray[np.uint8]
WHITE = 255
BAND = 256
"""Rows laid on white at a time, so that a large picture is not in memory several times."""
_REDUCED = {
    1: cv2.IMREAD_COLOR,
    2: cv2.IMREAD_REDUCED_COLOR_2,
    4: cv2.IMREAD_REDUCED_COLOR_4,
    8: cv2.IMREAD_REDUCED_COLOR_8,
}


def decoded(data: bytes, reduced: Literal[1, 2, 4, 8] = 1) -> Picture | None:
    """The picture as stored, not turned, of 1/`reduced` of its width and height; None if it is damaged."""
    found = _read(data, _REDUCED[reduced] | cv2.IMREAD_IGNORE_ORIENTATION)
    return None if found is None or found.ndim != 3 else np.asarray(found, np.uint8)


def decoded_on_white(data: bytes) -> Picture | None:
    """The picture as stored, not turned, and laid on white where it is transparent; None if damaged."""
    found = _read(data, cv2.IMREAD_UNCHANGED)
    if found is None or found.ndim != 3 or found.shape[2] != 4:
        return decoded(data)
    return on_white(found)


def on_white(found: NDArray[Any]) -> Picture:
    """`uint8` or `uint16[height, width, 4]`, the last of it how little is transparent, laid on white."""
    most = int(np.iinfo(found.dtype).max)
    laid = np.empty((*found.shape[:2], 3), np.uint8)
    for top in range(0, len(found), BAND):
        part = found[top : top + BAND]
        cover = cv2.cvtColor(part[:, :, 3], cv2.COLOR_GRAY2BGR)
        shown = cv2.multiply(cv2.cvtColor(part, cv2.COLOR_BGRA2BGR), cover, scale=1 / most)
        laid[top : top + BAND] = cv2.convertScaleAbs(shown + (most - cover), alpha=WHITE / most)
    return laid


def from_rgb(found: Picture) -> Picture:
    """Red, green, blue brought into the order used here."""
    return np.ascontiguousarray(found[:, :, ::-1])


def smaller(picture: Picture, longest: int) -> Picture:
    """The picture with its longer side `longest` px, made from all of its pixels; never larger.

    Down to a half, blending the nearest four takes them all in, at a tenth of the time of exact means.
    """
    height, width = picture.shape[:2]
    share = longest / max(width, height)
    if share >= 1:
        return picture
    size = max(1, round(width * share)), max(1, round(height * share))
    how = cv2.INTER_LINEAR if share > 0.5 else cv2.INTER_AREA
    return np.asarray(cv2.resize(picture, size, interpolation=how), np.uint8)


def turned(picture: Picture, orientation: int) -> Picture:
    """The picture upright, given its EXIF orientation, 1 to 8."""
    match orientation:
        case 2:
            upright: Any = cv2.flip(picture, 1)
        case 3:
            upright = cv2.rotate(picture, cv2.ROTATE_180)
        case 4:
            upright = cv2.flip(picture, 0)
        case 5:
            upright = cv2.transpose(picture)
        case 6:
            upright = cv2.rotate(picture, cv2.ROTATE_90_CLOCKWISE)
        case 7:
            upright = cv2.flip(cv2.transpose(picture), -1)
        case 8:
            upright = cv2.rotate(picture, cv2.ROTATE_90_COUNTERCLOCKWISE)
        case _:
            upright = picture
    return np.asarray(upright, np.uint8)


def as_jpeg(picture: Picture, quality: int) -> bytes:
    """The picture as JPEG without any metadata; `quality` 0 to 100."""
    _, content = cv2.imencode(".jpg", picture, [cv2.IMWRITE_JPEG_QUALITY, quality])
    return content.tobytes()


def grey(picture: Picture) -> Picture:
    """The brightness of every pixel."""
    return np.asarray(cv2.cvtColor(picture, cv2.COLOR_BGR2GRAY), np.uint8)


def band_variance(grey_picture: Picture, fine: float, coarse: float) -> float:
    """The variance of what a blur of sigma `fine` px leaves and one of `coarse` px takes away."""
    values = grey_picture.astype(np.float32)
    band = cv2.GaussianBlur(values, (0, 0), fine) - cv2.GaussianBlur(values, (0, 0), coarse)
    return float(np.var(band))


def _read(data: bytes, flags: int) -> NDArray[Any] | None:
    try:
        return cv2.imdecode(np.frombuffer(data, np.uint8), flags)
    except cv2.error:
        return None
