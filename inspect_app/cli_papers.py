"""The command that writes the papers of a core: each that the answer offers, and why the others are not."""

import argparse
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from datetime import date
from pathlib import Path

from inspect_app import cli_shop
from inspect_app.bundle import read_core
from inspect_app.judge import judge
from inspect_app.model.evidence import Photo
from inspect_app.model.problems import Problem, Problems, raise_if_any
from inspect_app.papers import TITLES, NotOffered, Offer, Picture, Subject, offers, picture_from, print_paper
from inspect_app.rulebook.book import Rulebook
from inspect_app.rulebook.engine import Engine


def run_papers(options: argparse.Namespace, book: Rulebook) -> int:
    """Write every paper that is offered into the folder --out; a file that is there already stops all."""
    with _subject(options, book) as about:
        told = offers(about.answer)
        paths = [options.out / one.file_name for one in told if isinstance(one, Offer)]
        raise_if_any([_there(path) for path in paths if path.exists()])
        if paths:
            options.out.mkdir(parents=True, exist_ok=True)
        for one in told:
            if isinstance(one, NotOffered):
                print(f"Not offered: {TITLES[one.kind].lower()}, {one.title}. {one.why}")
            else:
                _write(options.out / one.file_name, one, about)
    return 0


def _there(path: Path) -> Problem:
    advice = "Nothing was written over. Name another folder, or move it away."
    return Problem(str(path), "this file is there already.", advice)


def _write(path: Path, offer: Offer, about: Subject) -> None:
    paper = print_paper(offer, about)
    try:
        with path.open("xb") as file:
            file.write(paper.pdf)
    except FileExistsError:
        raise Problems([_there(path)]) from None
    except OSError:
        path.unlink(missing_ok=True)
        raise
    print(" ".join(filter(None, (f"Wrote {path}.", paper.missing))))


@contextmanager
def _subject(options: argparse.Namespace, book: Rulebook) -> Iterator[Subject]:
    """The core of a folder, or of a shop file that stays open while its photos may be asked for."""
    today = date.today()
    if options.shop is None:
        bundle = read_core(options.core)
        engine = Engine(book, bundle.sheet)
        picture = _pictures(lambda photo: (bundle.folder / photo.path).read_bytes())
        yield Subject(judge(bundle.core, engine), bundle.core, engine, picture, today)
        return
    from inspect_app.store import judge_core, load_core, picture_of

    core_id = str(options.core)
    with cli_shop.opened(options.shop) as shop:
        answer, held = judge_core(shop, book, core_id), load_core(shop, core_id)
        picture = _pictures(lambda photo: picture_of(shop, core_id, photo.id))
        yield Subject(answer, held.core, Engine(book, held.sheet), picture, today)


def _pictures(read: Callable[[Photo], bytes]) -> Callable[[Photo], Picture | None]:
    """What gives a photo's picture; each is read and made smaller once, only where a paper shows it."""
    made: dict[str, Picture | None] = {}

    def picture(photo: Photo) -> Picture | None:
        if photo.sha256 not in made:
            made[photo.sha256] = picture_from(read(photo), photo.id)
        return made[photo.sha256]

    return picture
