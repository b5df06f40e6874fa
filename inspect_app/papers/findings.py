"""What a rejection rests on: the findings and tests that weighed, and the photos that show them."""

from collections.abc import Iterable
from dataclasses import dataclass

from inspect_app.model.answer import Closed
from inspect_app.model.evidence import Evidence, Finding, OutsideReport, Test, standing
from inspect_app.papers.subject import Picture, Subject
from inspect_app.pictures.answer_words import place, plain, sentence
from inspect_app.pictures.item_words import STRENGTHS, state, when
from inspect_app.pictures.marked_photos import MarkedPhoto, MarkedPhotos
from inspect_app.pictures.photo_marks import photo_marks
from inspect_app.pictures.tokens import PAPER

MOST_PHOTOS = 7
MAIN_WIDE, SMALL_WIDE = 330, 170
"""How wide the first photo and the others stand, in px of the drawing of their marks."""


@dataclass(frozen=True)
class Found:
    """A finding in words. `letter` and `photo` (from 1) say where it is marked; "" and 0 where it is not."""

    letter: str
    photo: int
    what: str
    how: str


@dataclass(frozen=True)
class PhotoShown:
    """A photo as the template takes it: names of the files of picture and marks, height by width, words."""

    picture: str
    marks: str
    shape: float
    caption: str


class Grounds:
    """The findings behind reasons, the strongest reason first, and the photos on which they are marked."""

    def __init__(self, subject: Subject, reasons: Iterable[Closed]) -> None:
        evidence = subject.core.evidence
        self._subject = subject
        self._marked = MarkedPhotos(evidence)
        self._items = {item.id: item for item in standing(evidence)}
        weighed = list(dict.fromkeys(id_ for reason in reasons for id_ in reason.evidence))
        self._reports = [item for id_ in weighed if isinstance(item := self._items.get(id_), OutsideReport)]
        named = dict.fromkeys(self._marked.first(weighed))
        self.findings = [id_ for id_ in named if id_ in self._marked.findings]
        self.shown: list[tuple[MarkedPhoto, Picture]] = []
        photos = self._ordered()
        for photo in photos:
            # Each takes its time to be made smaller: none that no sheet has room for.
            if len(self.shown) < MOST_PHOTOS and (picture := subject.picture(photo.photo)) is not None:
                self.shown.append((photo, picture))
        self.unshown = len(photos) - len(self.shown)

    def _ordered(self) -> list[MarkedPhoto]:
        """The photos of the strongest reason's findings first."""
        photos = self._marked.of_findings(self.findings)
        first = {id_: at for at, id_ in enumerate(self.findings)}
        return sorted(photos, key=lambda one: min(first[id_] for id_ in one.findings))

    @property
    def damage(self) -> list[str]:
        """The damage words of the findings."""
        return [self._marked.findings[id_].damage for id_ in self.findings]

    def told(self) -> list[Found]:
        """Every finding in words, with the letter of its mark; then what others said, and their grounds."""
        return [*map(self._told, self.findings), *map(_reported, self._reports)]

    def _told(self, id_: str) -> Found:
        finding = self._marked.findings[id_]
        letter, number = self._mark_of(id_)
        extent = f", {finding.extent}" if finding.extent else ""
        what = sentence(f"{finding.damage}, {place(finding.place)}{extent}")[:-1]
        return Found(letter, number, what, self._how(finding))

    def _mark_of(self, id_: str) -> tuple[str, int]:
        for number, (photo, _) in enumerate(self.shown, 1):
            if id_ in photo.findings:
                return photo.marks[photo.findings.index(id_)].letter, number
        return "", 0

    def _how(self, finding: Finding) -> str:
        test = self._items.get(finding.test or "")
        sure = STRENGTHS[finding.strength]
        by = ""
        if isinstance(test, Test):
            form = self._subject.engine.book.methods.get(test.method)
            by = f" by {form.title if form else test.method}" + (f", {test.by}" if test.by else "")
        told: Evidence = test if isinstance(test, Test) else finding
        return f"{sure}{by}, {when(told.when)}, {told.who}"

    def photos(self) -> tuple[list[PhotoShown], dict[str, bytes]]:
        """Every photo for the template, and the files of pictures and marks by name."""
        told: list[PhotoShown] = []
        files: dict[str, bytes] = {}
        for number, (one, picture) in enumerate(self.shown, 1):
            names = f"photo-{number}.jpg", f"photo-{number}-marks.svg"
            wide = MAIN_WIDE if number == 1 else SMALL_WIDE
            marks = photo_marks(picture.width, picture.height, one.marks, PAPER, shown=wide)
            files |= {names[0]: picture.jpeg, names[1]: str(marks).encode("utf-8")}
            told.append(PhotoShown(*names, picture.height / picture.width, _caption(one, number)))
        return told, files


def _reported(report: OutsideReport) -> Found:
    grounds = f"Grounds: {report.grounds}. " if report.grounds else ""
    what = f"Outside report: {plain(report.says)}"
    return Found("", 0, what, f"{grounds}{when(report.when)}, {report.who}")


def _caption(one: MarkedPhoto, number: int) -> str:
    photo = one.photo
    taken = f"{when(photo.captured or photo.when)}, {photo.who}"
    digest = f"SHA-256 {photo.sha256[:4]} {photo.sha256[4:8]} {photo.sha256[8:12]}"
    head = f"Photo {number}, {state(photo)}, {taken}"
    return ". ".join(text.strip().rstrip(".") for text in (head, photo.caption, digest) if text.strip())
