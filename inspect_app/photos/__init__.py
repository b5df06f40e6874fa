"""Photo intake on bytes: what a photo file is, its previews, hints, and a copy without its location."""

from .hints import Hint, words
from .intake import LARGE, PREVIEW_TYPE, SMALL, TakenIn, take_in, take_in_all
from .private import without_location
from .refusal import LARGEST_FILE, MOST_PIXELS, SMALLEST_SIDE

__all__ = [
    "LARGE",
    "LARGEST_FILE",
    "MOST_PIXELS",
    "PREVIEW_TYPE",
    "SMALL",
    "SMALLEST_SIDE",
    "Hint",
    "TakenIn",
    "take_in",
    "take_in_all",
    "without_location",
    "words",
]
