"""The photos of a part: each by the id it came with, through all corrections, with what is known of it."""

import json
from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Any
from urllib.parse import quote

from inspect_app import photos
from inspect_app.model.evidence import Photo, first_ids
from inspect_app.photos import Hint
from inspect_app.ui import asks, item_words, shelf
from inspect_app.ui.markup import Html, lines, tag
from inspect_app.ui.part_page_at import AtPart
from inspect_app.ui.photo_intake import SMALL

NONE = "None yet. Take them before washing: dirt and stains are evidence, and they are gone after the wash."


@dataclass(frozen=True)
class Shot:
    """A photo that counts. `id` is the one it came with: marks and drafts name that one.

    `about` is what is known of its picture; empty where no preview was made yet.
    """

    id: str
    photo: Photo
    number: int
    about: Mapping[str, Any] = field(default_factory=dict)

    @property
    def hints(self) -> list[str]:
        """What may be wrong with it, in words."""
        known = {str(hint): hint for hint in Hint}
        found = [known[name] for name in self.about.get("hints", ()) if name in known]
        return [*map(photos.words, found), *self.about.get("notes", ())]


def shots(at: AtPart) -> list[Shot]:
    """The photos of the piece that sits here, newest first, numbered in the order they came."""
    about = shelf.current().previews_about(at.slot.id, SMALL)
    first = first_ids(at.core.evidence)
    order = {item.id: number for number, item in enumerate(at.core.evidence)}
    counting = [item for item in at.counting if isinstance(item, Photo) and item.piece == at.piece.id]
    counting.sort(key=lambda photo: order[first[photo.id]])
    found = [
        Shot(first[photo.id], photo, number, json.loads(about.get(photo.sha256, "{}")))
        for number, photo in enumerate(counting, 1)
    ]
    return found[::-1]


def address(core_id: str, photo_id: str, size: str) -> str:
    """Where a photo is served in a size."""
    return f"/photo/{quote(core_id, safe='')}/{quote(photo_id, safe='')}/{size}"


def thumbnails(at: AtPart, found: list[Shot], opened: str) -> Html:
    """The photos as small pictures that open; words where there is none."""
    if not found:
        return lines(NONE)
    return tag("div", *(_thumbnail(at, shot, shot.id == opened) for shot in found), cls="ia-shots")


def _thumbnail(at: AtPart, shot: Shot, opened: bool) -> Html:
    photo = shot.photo
    picture = tag(
        "img",
        src=address(at.slot.id, shot.id, SMALL),
        alt=f"Photo {shot.number}{': ' if photo.caption else ''}{photo.caption}",
        loading="lazy",
    )
    return tag(
        "a",
        tag("span", picture, cls="ia-shot-picture"),
        tag("span", f"{shot.number}. {photo.caption or item_words.state(photo).capitalize()}"),
        tag("span", taken(photo), cls="ia-soft"),
        *(tag("span", hint, cls="ia-shot-hint") for hint in shot.hints),
        href=asks.address("/part", core=at.slot.id, part=at.position, photo=shot.id),
        data_ask="photo",
        data_value=shot.id,
        aria_current="true" if opened else None,
        cls="ia-shot",
    )


def taken(photo: Photo) -> str:
    """When a photo was taken, by whom, and in which state of the part."""
    when = item_words.when(photo.captured or photo.when)
    return f"{'Taken' if photo.captured else 'Added'} {when}, {photo.who}, {item_words.state(photo)}"
