"""From a core's folder to its Answer."""

from pathlib import Path

from inspect_app.judge import judge
from inspect_app.model.answer import Answer
from inspect_app.rulebook.book import Rulebook
from inspect_app.rulebook.engine import Engine

from .folder import read_core


def judge_folder(folder: Path, book: Rulebook) -> Answer:
    """Read, check and judge the core in `folder`. Raises Problems with everything wrong in it."""
    bundle = read_core(folder)
    return judge(bundle.core, Engine(book, bundle.sheet))
