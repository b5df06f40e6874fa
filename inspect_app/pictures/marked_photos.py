"""Which photos stand behind a reason, and the marks of the findings that weighed, from evidence alone."""

from collections.abc import Iterable
from dataclasses import dataclass

from inspect_app.model.answer import Closed
from inspect_app.model.evidence import Evidence, Finding, Photo, Region, first_ids, standing
from inspect_app.pictures.photo_marks import Marked, letter


@dataclass(frozen=True)
class MarkedPhoto:
    """A photo with the marks of the findings asked about, and of each mark the finding's first id."""

    photo: Photo
    marks: tuple[Marked, ...]
    findings: tuple[str, ...]


class MarkedPhotos:
    """The photos of one core that carry marks, asked for by the evidence of a reason.

    A mark has the same letter wherever it is shown: that of its place among all marks on its photo.
    """

    def __init__(self, evidence: tuple[Evidence, ...]) -> None:
        items = standing(evidence)
        # A mark names photo and finding by the ids they came with; corrections have others.
        self._first = first_ids(evidence)
        self._photos = {self._first[item.id]: item for item in items if isinstance(item, Photo)}
        self.findings = {self._first[item.id]: item for item in items if isinstance(item, Finding)}
        marks = [self._as_first(item) for item in items if isinstance(item, Region)]
        self._regions = [
            mark
            for mark in marks
            if mark.photo in self._photos and (mark.finding is None or mark.finding in self.findings)
        ]

    def __bool__(self) -> bool:
        return bool(self._regions)

    def first(self, ids: Iterable[str]) -> list[str]:
        """The ids that these items came with; an unknown one is left out."""
        return [self._first[id_] for id_ in ids if id_ in self._first]

    def of(self, reason: Closed) -> list[MarkedPhoto]:
        """The photos on which a finding of this reason is marked."""
        return self.of_findings(self.first(reason.evidence))

    def of_findings(self, named: Iterable[str]) -> list[MarkedPhoto]:
        """The photos on which findings of these first ids are marked, in the order the marks came."""
        wanted = set(named)
        found = [region for region in self._regions if region.finding in wanted]
        return [self._marked(photo, found) for photo in dict.fromkeys(region.photo for region in found)]

    def _as_first(self, region: Region) -> Region:
        first = {"photo": self._first.get(region.photo, ""), "finding": self._first.get(region.finding or "")}
        return region.model_copy(update=first)

    def _marked(self, photo_id: str, found: list[Region]) -> MarkedPhoto:
        on_it = [region for region in self._regions if region.photo == photo_id]
        shown = [region for region in found if region.photo == photo_id]
        marks = tuple(
            Marked(letter(on_it.index(region)), region.shape, region.points, self._suspected(region))
            for region in shown
        )
        return MarkedPhoto(self._photos[photo_id], marks, tuple(region.finding or "" for region in shown))

    def _suspected(self, region: Region) -> bool:
        finding = self.findings.get(region.finding or "")
        return finding is not None and finding.strength == "suspected"
