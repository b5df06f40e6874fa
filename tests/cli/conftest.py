"""The command line called in this process, with what it printed."""

from collections.abc import Callable
from pathlib import Path
from typing import NamedTuple

import pytest

from inspect_app.cli import main
from tests.bundle.folders import six_folder


class Done(NamedTuple):
    code: int
    out: str
    err: str


Run = Callable[..., Done]


@pytest.fixture
def run(capsys: pytest.CaptureFixture[str]) -> Run:
    def called(*arguments: object) -> Done:
        try:
            code = main([str(argument) for argument in arguments])
        except SystemExit as left:
            code = int(left.code or 0)
        return Done(code, *capsys.readouterr())

    return called


@pytest.fixture
def refused(run: Run) -> Callable[..., list[str]]:
    """The lines on stderr of a command that must find its input at fault and print nothing else."""

    def lines(*arguments: object) -> list[str]:
        done = run(*arguments)
        assert (done.code, done.out) == (1, ""), done
        return done.err.splitlines()

    return lines


@pytest.fixture
def six(tmp_path: Path) -> Path:
    return six_folder(tmp_path)
