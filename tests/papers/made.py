"""Subjects of papers made for tests: a demo core, with photos and marks of its own."""

import io
from datetime import date
from functools import cache
from pathlib import Path

import pypdf
from PIL import Image

from inspect_app.bundle import read_core
from inspect_app.judge import judge
from inspect_app.model.answer import Answer, PartAnswer
from inspect_app.model.core import Core
from inspect_app.model.evidence import Photo, Region
from inspect_app.papers import Offer, Paper, Picture, Subject, offers, print_paper
from inspect_app.rulebook.book import Rulebook
from inspect_app.rulebook.engine import Engine
from inspect_app.rulebook.load import load_rulebook
from inspect_app.shipped import shipped

DAY = date(2026, 11, 25)
SHAFT = "crankshaft"
CRACK = "crack-p2-front"


@cache
def book() -> Rulebook:
    return load_rulebook(shipped("rules"))


@cache
def four() -> tuple[Core, Engine]:
    """The demo core with a cracked shaft, without the photos it came with, and its engine."""
    bundle = read_core(Path(shipped("demo_cores")) / "brackwater-four")
    kept = tuple(item for item in bundle.core.evidence if not isinstance(item, Photo | Region))
    return bundle.core.model_copy(update={"evidence": kept, "files": ()}), Engine(book(), bundle.sheet)


@cache
def jpeg(width: int = 2048, height: int = 1536) -> bytes:
    out = io.BytesIO()
    small = Image.effect_noise((width // 4, height // 4), 60).convert("RGB")
    small.resize((width, height)).save(out, "JPEG", quality=82)
    return out.getvalue()


def photographed(core: Core, count: int, finding: str = CRACK, caption: str = "Test card.") -> Core:
    """The core with so many photos of its shaft, each with a mark of the finding."""
    common = {"who": "K.O.", "when": "2026-11-22", "stage": "bench", "state": "washed", "piece": SHAFT}
    added: list[Photo | Region] = []
    for number in range(count):
        added += [
            Photo(
                id=f"photo-{number}",
                path=f"photos/{number}.jpg",
                sha256=f"{number:x}" * 64,
                caption=caption,
                **common,
            ),
            Region(
                id=f"mark-{number}",
                photo=f"photo-{number}",
                finding=finding,
                shape="polygon",
                points=((600, 400), (900, 300), (1000, 900), (700, 1000)),
                **common,
            ),
        ]
    return core.model_copy(update={"evidence": (*core.evidence, *added)})


def subject(photos: int = 0, answer: Answer | None = None, core: Core | None = None) -> Subject:
    """What a paper of the demo core is made from; another answer or core where one is given."""
    usual, engine = four()
    shown = core or photographed(usual, photos)
    told = answer or judge(shown, engine)
    return Subject(told, shown, engine, _picture, DAY)


def _picture(photo: Photo) -> Picture:
    """Each photo another picture: a PDF holds one that is shown twice only once."""
    number = int(photo.id.rpartition("-")[2])
    return Picture(jpeg(2048 - 8 * number), 4000, 3000)


def part_of(answer: Answer, position: str = SHAFT) -> PartAnswer:
    return next(part for part in answer.parts if part.position == position)


def with_part(answer: Answer, part: PartAnswer) -> Answer:
    """The answer with this part in the place of the one in the same position."""
    parts = tuple(part if one.position == part.position else one for one in answer.parts)
    return answer.model_copy(update={"parts": parts})


def sheet_of(about: Subject, position: str = SHAFT, *, pages: bool = False) -> Paper:
    offer = next(one for one in offers(about.answer) if one.position == position)
    assert isinstance(offer, Offer), offer
    return print_paper(offer, about, pages=pages)


def pages_of(paper: Paper) -> list[str]:
    """The text of each page, lines as they were broken; soft places to break are taken out."""
    reader = pypdf.PdfReader(io.BytesIO(paper.pdf))
    return [page.extract_text().replace("\u200b", "") for page in reader.pages]


def text_of(paper: Paper) -> str:
    """The text of a paper of one page, every run of space one space."""
    (page,) = pages_of(paper)
    return " ".join(page.split())
