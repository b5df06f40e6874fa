"""From a core's folder to its Answer, and to its fit check."""

from pathlib import Path

from inspect_app.judge import fit_check, judge
from inspect_app.model.answer import Answer
from inspect_app.model.fit_answer import FitAnswer
from inspect_app.rulebook.book import Rulebook
from inspect_app.rulebook.engine import Engine

from .folder import read_core


def judge_folder(folder: Path, book: Rulebook) -> Answer:
    """Read, check and judge the core in `folder`. Raises Problems with everything wrong in it."""
    bundle = read_core(folder)
    return judge(bundle.core, Engine(book, bundle.sheet))


def check_fits_in_folder(folder: Path, book: Rulebook) -> FitAnswer:
    """Read, check and fit-check the core in `folder`. Raises Problems with everything wrong in it."""
    bundle = read_core(folder)
    return fit_check(bundle.core, Engine(book, bundle.sheet))
