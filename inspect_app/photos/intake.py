"""Photo intake: from the bytes that came to what is kept of them, or words why they are not taken."""

import hashlib
from collections.abc import Iterable
from dataclasses import dataclass

from inspect_app.model.problems import Problem, Problems

from . import cv, hints
from .exif import Exif, read_exif
from .hints import Hint
from .reading import read_header, read_picture
from .refusal import Refused

LARGE, SMALL = 2048, 360
"""Pixels of the longer side of the two previews, at most; a smaller picture is not made larger."""
QUALITY = 82
PREVIEW_TYPE = "image/jpeg"


@dataclass(frozen=True)
class TakenIn:
    """A photo that can be kept, with what is known of it.

    `width` and `height` are the pixels of the whole picture upright, which marks are drawn in.
    `orientation`: 1 to 8, how it was stored. `captured`: "2026-11-22T14:05" or "". `located`: the file tells
    where it was taken. `notes`: sentences on what in the file was not believed. `large` and `small`:
    previews as JPEG, upright, without metadata.
    """

    name: str
    sha256: str
    media_type: str
    width: int
    height: int
    orientation: int
    captured: str
    located: bool
    hints: tuple[Hint, ...]
    notes: tuple[str, ...]
    large: bytes
    small: bytes


def take_in(data: bytes, name: str) -> TakenIn:
    """Look at the bytes of a photo; `name` only says in messages which one is meant.

    Raises Problems: empty or above 40 MB, not JPEG, PNG, WebP or HEIC, moving, below 16 px a side, above
    100 megapixels (told before anything is decoded), cut off, damaged.
    """
    try:
        header = read_header(data)
        picture = read_picture(data, header)
    except Refused as refused:
        raise refused.about(name) from None
    found = read_exif(header.exif, header.xmp)
    orientation = 1 if header.turned else found.orientation
    large = cv.turned(cv.smaller(picture, LARGE), orientation)
    middle = cv.smaller(large, hints.LOOKED_AT)
    size = header.width, header.height
    width, height = size if orientation < 5 else reversed(size)
    return TakenIn(
        name,
        hashlib.sha256(data).hexdigest(),
        header.media_type,
        width,
        height,
        orientation,
        found.captured.isoformat(timespec="minutes") if found.captured else "",
        found.located,
        hints.look_at(middle).hints,
        () if header.turned else _notes(found),
        cv.as_jpeg(large, QUALITY),
        cv.as_jpeg(cv.smaller(middle, SMALL), QUALITY),
    )


def take_in_all(files: Iterable[tuple[str, bytes]]) -> tuple[tuple[TakenIn, ...], tuple[Problem, ...]]:
    """Take in many, each as (name, bytes): those that can be kept, and every problem of the others."""
    taken: list[TakenIn] = []
    problems: list[Problem] = []
    for name, data in files:
        try:
            taken.append(take_in(data, name))
        except Problems as found:
            problems += found.items
    return tuple(taken), tuple(problems)


def _notes(found: Exif) -> tuple[str, ...]:
    if not found.claimed:
        return ()
    return (
        f'The file says "{found.claimed}" for how it is turned; there are 1 to 8. It is shown as stored.',
    )
