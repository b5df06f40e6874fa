"""From a core's folder to its Answer, to its fit check, and to the limits that count for it."""

from pathlib import Path

from inspect_app.judge import fit_check, judge
from inspect_app.model.answer import Answer
from inspect_app.model.fit_answer import FitAnswer
from inspect_app.rulebook.book import Rulebook
from inspect_app.rulebook.engine import Engine
from inspect_app.rulebook.limits_told import LimitsTold, limits_told

from .folder import read_core


def judge_folder(folder: Path, book: Rulebook) -> Answer:
    """Read, check and judge the core in `folder`. Raises Problems with everything wrong in it."""
    bundle = read_core(folder)
    return judge(bundle.core, Engine(book, bundle.sheet))


def check_fits_in_folder(folder: Path, book: Rulebook) -> FitAnswer:
    """Read, check and fit-check the core in `folder`. Raises Problems with everything wrong in it."""
    bundle = read_core(folder)
    return fit_check(bundle.core, Engine(book, bundle.sheet))


def limits_of_folder(folder: Path, book: Rulebook) -> LimitsTold:
    """Read and check the core in `folder`: its limits. Raises Problems with everything wrong in it."""
    bundle = read_core(folder)
    return limits_told(Engine(book, bundle.sheet), bundle.core.build_standard)
