"""Whether a photo shows what it should: sharpness and exposure, told as hints that refuse nothing."""

from dataclasses import dataclass
from enum import StrEnum

import numpy as np

from . import cv

LOOKED_AT = 1024
"""Pixels of the longer side at which a picture is measured: grain of the sensor is gone, edges are not."""
LEAST = 512
"""Pixels of the longer side below which nothing is said of sharpness: the bands below lie too close."""
FINE, COARSE = (0.7, 1.4), (2.8, 5.6)
"""Sigmas in pixels of the two bands whose variances are held against each other."""
BLURRED_BELOW = 0.05
FLAT_BELOW = 2.0
DARK, DARK_SHARE = 24, 0.70
CLIPPED, CLIPPED_SHARE = 250, 0.20


class Hint(StrEnum):
    """What may be wrong with a photo."""

    BLURRED = "blurred"
    TOO_DARK = "too_dark"
    TOO_BRIGHT = "too_bright"


_WORDS = {
    Hint.BLURRED: "Looks blurred: take it again before you wash the part.",
    Hint.TOO_DARK: "Looks too dark: take it again with a lamp beside the camera.",
    Hint.TOO_BRIGHT: "Parts of it are burnt out to white: take it again without flash or from another side.",
}


def words(hint: Hint) -> str:
    """What is said of a hint beside the photo."""
    return _WORDS[hint]


@dataclass(frozen=True)
class Look:
    """`sharpness`: fine over coarse band, or None; `dark` and `clipped`: shares of the pixels, 0 to 1."""

    sharpness: float | None
    dark: float
    clipped: float

    @property
    def hints(self) -> tuple[Hint, ...]:
        found = []
        if self.sharpness is not None and self.sharpness < BLURRED_BELOW:
            found.append(Hint.BLURRED)
        if self.dark > DARK_SHARE:
            found.append(Hint.TOO_DARK)
        if self.clipped > CLIPPED_SHARE:
            found.append(Hint.TOO_BRIGHT)
        return tuple(found)


def look_at(picture: cv.Picture) -> Look:
    """Measure a picture of any size."""
    grey = cv.grey(cv.smaller(picture, LOOKED_AT))
    share = 1 / grey.size
    dark, clipped = np.count_nonzero(grey <= DARK) * share, np.count_nonzero(grey >= CLIPPED) * share
    return Look(_sharpness(grey), dark, clipped)


def _sharpness(grey: cv.Picture) -> float | None:
    """A ratio of two bands does not depend on the light, as a single measure of edges does."""
    if max(grey.shape) < LEAST:
        return None
    coarse = cv.band_variance(grey, *COARSE)
    return cv.band_variance(grey, *FINE) / coarse if coarse >= FLAT_BELOW else None
