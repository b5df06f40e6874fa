"""A rejection sheet with six photos: all of it, beside the same photos on a bare page."""

import io
from dataclasses import replace
from functools import cache

from PIL import Image

from inspect_app.model.evidence import Photo
from inspect_app.papers import Paper, Picture, Subject
from inspect_app.papers.typeset import typeset
from tests.papers.made import DAY, part_of, sheet_of, subject, with_part

PHOTOS = 6


@cache
def picture(number: int) -> bytes:
    """A preview as intake makes it, each another."""
    small = Image.effect_noise((256, 192), 40 + number).convert("RGB")
    out = io.BytesIO()
    small.resize((2048, 1536), Image.Resampling.BICUBIC).save(out, "JPEG", quality=82)
    return out.getvalue()


def _picture(photo: Photo) -> Picture:
    return Picture(picture(int(photo.id.rpartition("-")[2])), 4000, 3000)


@cache
def about() -> Subject:
    """The cracked shaft with its strongest reason alone: with more on it, the last photos are left out."""
    usual = subject(photos=PHOTOS)
    part = part_of(usual.answer)
    first = part.model_copy(update={"closed": part.closed[:1]})
    return replace(usual, answer=with_part(usual.answer, first), picture=_picture)


def whole() -> Paper:
    """What is timed."""
    return sheet_of(about())


def bare() -> object:
    """The floor: a process that sets these photos on a page, and nothing else."""
    names = [f"photo-{number}.jpg" for number in range(PHOTOS)]
    source = "\n".join(f'#image("{name}", width: 50mm)' for name in names).encode()
    files = {name: picture(number) for number, name in enumerate(names)}
    return typeset(source, {}, files, DAY)
