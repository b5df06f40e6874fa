"""The marks of a photo: those on record with their findings, and those that somebody is drawing."""

from collections.abc import Sequence
from dataclasses import dataclass
from uuid import uuid4

import streamlit as st

from inspect_app.model.evidence import Finding, Region, first_ids
from inspect_app.model.problems import Problems
from inspect_app.pictures.photo_marks import letter
from inspect_app.ui import marks, shelf, who
from inspect_app.ui.marker import Drawn, regions_drawn
from inspect_app.ui.marks import Mark, Sent
from inspect_app.ui.part_page_at import AtPart
from inspect_app.ui.photo_list import Shot, shots
from inspect_app.ui.shelf import Draft

COOKIE = "drawn_by"
OTHERS = "being drawn by somebody else"


@dataclass(frozen=True)
class OnRecord:
    """A region that counts, with its letter and, but for a scale, what was found there."""

    letter: str
    region: Region
    finding: Finding | None


@dataclass(frozen=True)
class Drawing:
    """The marks that this browser is drawing on a photo, and those that others are."""

    mine: tuple[Mark, ...]
    revision: int
    others: tuple[Mark, ...]


def on_record(at: AtPart, shot: Shot) -> list[OnRecord]:
    """The regions of a photo that count, in the order they were made; not those of a withdrawn finding."""
    first = first_ids(at.core.evidence)
    findings = {first[item.id]: item for item in at.counting if isinstance(item, Finding)}
    regions = [item for item in at.counting if isinstance(item, Region) and first.get(item.photo) == shot.id]
    kept = [region for region in regions if region.finding is None or first.get(region.finding) in findings]
    return [
        OnRecord(letter(number), region, findings.get(first[region.finding]) if region.finding else None)
        for number, region in enumerate(kept)
    ]


def where_marked(at: AtPart) -> dict[str, tuple[Shot, str]]:
    """Of each finding that is marked on a photo of the part, the last such photo and the letter there."""
    if not any(isinstance(item, Region) for item in at.counting):
        return {}
    return {
        one.finding.id: (shot, one.letter)
        for shot in reversed(shots(at))
        for one in on_record(at, shot)
        if one.finding is not None
    }


def drawn(recorded: Sequence[OnRecord], drawing: Drawing) -> tuple[Drawn, ...]:
    """What is shown and not changed: marks on record, then those that others are drawing."""
    known = regions_drawn((one.region, one.finding.strength if one.finding else None) for one in recorded)
    others = (
        Drawn(letter(number), mark.shape, mark.points, dashed=True, words=OTHERS)
        for number, mark in enumerate(drawing.others, len(known))
    )
    return (*known, *others)


def session() -> str:
    """The name under which this browser draws, through reloads; it says nothing of who draws."""
    kept = st.session_state.setdefault(COOKIE, st.context.cookies.get(COOKIE) or uuid4().hex)
    who.keep(COOKIE, str(kept)[:64])
    return str(kept)[:64]


def drawing(core_id: str, shot: Shot, mine: str) -> Drawing:
    """What is being drawn on a photo now, by this browser and by others."""
    drafts = shelf.current().drafts(core_id, shot.id)
    own = next((draft for draft in drafts if draft.session == mine), None)
    others = [mark for draft in drafts if draft.session != mine for mark in _read(draft, shot)]
    return Drawing(_read(own, shot) if own else (), own.revision if own else 0, tuple(others))


def store_marks(core_id: str, shot: Shot, mine: str, sent: Sent) -> str:
    """Keep the marks that came; what is to be told of it, "" where nothing is.

    Where another page of this browser has drawn since, the marks of both are kept.
    """
    plain = [mark.plain() for mark in sent.marks]
    try:
        if shelf.current().save_draft(core_id, shot.id, mine, sent.revision, plain):
            return ""
        held = drawing(core_id, shot, mine)
        both = {mark.id: mark.plain() for mark in (*held.mine, *sent.marks)}
        shelf.current().save_draft(core_id, shot.id, mine, held.revision + 1, list(both.values()))
    except Problems as problems:
        return f"The marks are not saved. {problems}"
    return "Another page of this browser draws on this photo too: the marks of both are kept."


def _read(draft: Draft, shot: Shot) -> tuple[Mark, ...]:
    """The marks of a draft; none where they do not fit the photo, as after a change of the program."""
    try:
        return marks.read_marks(list(draft.marks), shot.about["width"], shot.about["height"])
    except Problems:
        return ()
