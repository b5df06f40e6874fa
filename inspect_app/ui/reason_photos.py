"""The photos behind a reason, each with the marks of the findings that weighed."""

import json
from dataclasses import dataclass
from urllib.parse import quote

from inspect_app.model.answer import Closed
from inspect_app.model.evidence import Photo
from inspect_app.model.problems import Problems
from inspect_app.pictures.marked_photos import MarkedPhotos
from inspect_app.pictures.photo_marks import Marked, photo_marks
from inspect_app.pictures.tokens import Ground
from inspect_app.ui import drawings, photo_intake, shelf
from inspect_app.ui.markup import EMPTY, Html, join, tag
from inspect_app.ui.photo_intake import LARGE
from inspect_app.ui.shelf import Slot

SHOWN = 400
"""How wide a photo stands in the panel, px."""


@dataclass(frozen=True)
class Shown:
    """A photo with marks of the findings asked about, and its size in px; 0 where it is not known yet."""

    photo: Photo
    marks: tuple[Marked, ...]
    words: str
    width: int = 0
    height: int = 0


class Behind:
    """The photos of one core, asked for by the evidence of a reason."""

    def __init__(self, slot: Slot) -> None:
        self._core = slot.id
        self._marked = MarkedPhotos(slot.held.core.evidence if slot.held else ())
        self._about = shelf.current().previews_about(slot.id, LARGE) if self._marked else {}

    def of(self, reason: Closed) -> list[Shown]:
        """The photos on which a finding of this reason is marked."""
        return [self._shown(found.photo, found.marks) for found in self._marked.of(reason)]

    def _shown(self, photo: Photo, marks: tuple[Marked, ...]) -> Shown:
        about = self._size(photo)
        words = f"Photo by {photo.who}, {photo.when.replace('T', ' ')}. {photo.caption}".strip()
        return Shown(photo, marks, words, about.get("width", 0), about.get("height", 0))

    def _size(self, photo: Photo) -> dict[str, int]:
        text = self._about.get(photo.sha256)
        if text is None:
            try:
                text = photo_intake.preview(self._core, photo.id, photo.sha256, LARGE).about
            except Problems:
                # What cannot be read as a picture has no size to draw marks in; its place says so itself.
                text = "{}"
        about: dict[str, int] = json.loads(text)
        return about

    def html(self, reason: Closed) -> Html:
        """Build the photos of a reason, each with a place for its marks and a link to where it is opened."""
        return join(*(self._figure(one, _name(one, reason)) for one in self.of(reason)))

    def _figure(self, one: Shown, name: str) -> Html:
        core, photo = quote(self._core, safe=""), quote(one.photo.id, safe="")
        marks = drawings.place(name) if one.width else EMPTY
        picture = tag("img", src=f"/photo/{core}/{photo}/{LARGE}", alt=one.words, loading="lazy")
        return tag(
            "figure",
            tag("div", picture, marks, cls="ia-marked"),
            tag("figcaption", one.words),
            cls="ia-reason-photo",
        )

    def drawings(self, reasons: tuple[Closed, ...], on: Ground) -> dict[str, str]:
        """Draw the marks of every photo of these reasons."""
        return {
            _name(one, reason): str(photo_marks(one.width, one.height, one.marks, on, shown=SHOWN))
            for reason in reasons
            for one in self.of(reason)
            if one.width
        }


def _name(one: Shown, reason: Closed) -> str:
    """One photo may stand behind several reasons, each with marks of its own."""
    return f"photo|{one.photo.id}|{reason.rule}|{reason.place}"
