"""Take a photo in for a piece: kept as it came, its previews made once; the same photo twice is once."""

import json
import threading
from dataclasses import dataclass

from inspect_app import photos
from inspect_app.model.evidence import Photo, standing
from inspect_app.model.pieces import Piece
from inspect_app.model.problems import Problem, Problems, raise_if_any
from inspect_app.photos import TakenIn
from inspect_app.ui import entry, item_words, shelf, who
from inspect_app.ui.shelf import Preview, Slot

LARGE, SMALL = "large", "small"
"""Names of the previews: 2048 and 360 px on the longer side."""
_ENDINGS = {"image/jpeg": "jpg", "image/png": "png", "image/webp": "webp"}
_writing = threading.Lock()


@dataclass(frozen=True)
class Sent:
    """What comes with the bytes of a photo: the position and state it shows, who took it, its file's name."""

    position: str
    state: str
    who: str
    name: str


def take(slot: Slot, sent: Sent, data: bytes) -> tuple[Photo, str]:
    """Keep a photo of the piece in a position; the photo as evidence, and what is told of it.

    A photo of the same piece with the same bytes is not kept again: the one that is here comes back.
    Raises Problems in words where the photo or what came with it is not taken.
    """
    piece = _piece(slot, sent)
    taken = photos.take_in(data, sent.name)
    with _writing:
        slot = shelf.current().get(slot.id) or slot
        here = _here_already(slot, piece, taken.sha256)
        if here is not None:
            return here, f"Here already, from {item_words.told_by(here)}. It is kept once."
        photo = _evidence(slot, piece, sent, taken)
        shelf.current().add_photo(slot.id, photo, data, previews(taken))
    return photo, " ".join(("Added.", *map(photos.words, taken.hints), *taken.notes))


def previews(taken: TakenIn) -> dict[str, Preview]:
    """What is made from a photo, each with what is known of the photo as JSON."""
    about = json.dumps(
        {
            "media_type": taken.media_type,
            "width": taken.width,
            "height": taken.height,
            "located": taken.located,
            "hints": [str(hint) for hint in taken.hints],
            "notes": list(taken.notes),
        }
    )
    return {LARGE: Preview(about, taken.large), SMALL: Preview(about, taken.small)}


def preview(core_id: str, photo_id: str, sha256: str, name: str) -> Preview:
    """The preview of this name; of a photo that came in a bundle it is made now.

    Raises Problems for a photo that cannot be read as a picture.
    """
    kept = shelf.current().preview(sha256, name)
    if kept is not None:
        return kept
    made = previews(photos.take_in(shelf.current().picture(core_id, photo_id), photo_id))
    for one, content in made.items():
        try:
            shelf.current().keep_preview(sha256, one, content)
        except Problems:
            # What cannot be kept, as in a file that may only be read, is shown all the same.
            break
    return made[name]


def _piece(slot: Slot, sent: Sent) -> Piece:
    """The piece that a photo is said to show; Problems with everything that is wrong with what came."""
    assert slot.answer is not None
    known = [part.position for part in slot.answer.parts]
    problems = []
    if not 0 < len(sent.who.strip()) <= who.LONGEST:
        what = f"{len(sent.who.strip())} characters say who took the photo; 1 to {who.LONGEST} are taken."
        problems.append(Problem("Who enters", what, "Type your initials at the head of the page."))
    if sent.position not in known:
        what = f'"{sent.position}" is no part of this core.'
        problems.append(Problem("Part", what, "Choose the part on its page."))
    raise_if_any(problems)
    piece = entry.piece_in(slot, sent.position)
    if sent.state not in entry.states(piece):
        advice = f"Use one of: {', '.join(entry.states(piece))}."
        raise Problems([Problem("State", f'"{sent.state}" is no state of this part.', advice)])
    return piece


def _here_already(slot: Slot, piece: Piece, sha256: str) -> Photo | None:
    assert slot.held is not None
    counting = standing(slot.held.core.evidence)
    found = (item for item in counting if isinstance(item, Photo) and item.piece == piece.id)
    return next((photo for photo in found if photo.sha256 == sha256), None)


def _evidence(slot: Slot, piece: Piece, sent: Sent, taken: TakenIn) -> Photo:
    """The photo as evidence; its path says nothing that came with it, so that no name can lead anywhere."""
    return Photo(
        **entry.stamp(slot, sent.who.strip()),
        id=entry.new_id("photo"),
        piece=piece.id,
        state=sent.state,
        path=f"photos/{taken.sha256[:24]}.{_ENDINGS.get(taken.media_type, 'heic')}",
        sha256=taken.sha256,
        captured=taken.captured,
    )
