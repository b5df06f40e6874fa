"""Shared parts of the tests of the screens: made cores, one real server, one real browser."""

import re
import signal
import subprocess
import sys
from collections.abc import Iterator
from pathlib import Path

import pytest

from inspect_app.ui import shelf
from tests.ui.made import judge_made, put_usual
from tests.ui.made_shelf import MadeShelf

CHECKOUT = Path(__file__).parents[2]


@pytest.fixture
def made_shelf(tmp_path: Path) -> Iterator[MadeShelf]:
    """The usual made cores, set as the shelf of this process."""
    made = MadeShelf(put_usual(tmp_path / "cores"), judge_made)
    shelf.use(made)  # type: ignore[arg-type]
    yield made
    shelf._current = None


def start_server(cores: Path) -> tuple[subprocess.Popen[str], str]:
    """Start a server process over made cores, from a foreign folder; return it and its address."""
    process = subprocess.Popen(
        [sys.executable, "-m", "tests.ui.server", str(cores)],
        cwd=cores,
        env={"PYTHONPATH": str(CHECKOUT), "PATH": "/usr/bin:/bin", "HOME": str(cores)},
        stdout=subprocess.PIPE,
        stderr=subprocess.PIPE,
        text=True,
    )
    assert process.stdout is not None
    line = process.stdout.readline()
    found = re.search(r"http://localhost:\d+", line)
    if not found:
        process.kill()
        pytest.fail(f"the server said {line!r}: {process.communicate()[1]}")
    return process, found.group()


@pytest.fixture(scope="session")
def address(tmp_path_factory: pytest.TempPathFactory) -> Iterator[str]:
    """The address of a server process over the usual made cores."""
    process, at = start_server(put_usual(tmp_path_factory.mktemp("served")))
    yield at
    process.send_signal(signal.SIGINT)
    process.wait(timeout=10)
