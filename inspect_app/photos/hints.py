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
BLURRED_BELOW = 0.10
"""Made scenes (castings, bores, plates, clutter; in full light and a third of it) have 0.16 to 0.5 when
sharp, 0.10 to 0.26 a little out of focus (1.5 px), 0.04 to 0.14 clearly so (3 px), 0.05 to 0.15 moved by
12 px. The bar lies well below the sharp ones: a hint that is often wrong is soon not read. On even faces
the grain of the sensor hides blur, and nothing is said."""
FLAT_BELOW = 0.5
"""Variance of the coarse band in grey steps squared, below which there are no edges to be sharp."""
DARK, DARK_SHARE = 24, 0.70
"""Grey step (of 255), and the share of pixels at or below it. The scenes have up to 0.35 of them at a third
of the light, and 0.83 and more at an eighth."""
CLIPPED, CLIPPED_SHARE = 250, 0.20
"""Grey step, and the share of pixels at or above it: a lamp's reflections take less, a flash on a
machined face more."""


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
    dark, clipped = (
        int(np.count_nonzero(grey <= DARK)) * share,
        int(np.count_nonzero(grey >= CLIPPED)) * share,
    )
    return Look(_sharpness(grey), dark, clipped)


def _sharpness(grey: cv.Picture) -> float | None:
    """A ratio of two bands does not depend on the light, as a single measure of edges does."""
    if max(grey.shape) < LEAST:
        return None
    coarse = cv.band_variance(grey, *COARSE)
    return cv.band_variance(grey, *FINE) / coarse if coarse >= FLAT_BELOW else None
