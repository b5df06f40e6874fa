"""The program itself, serving a shop file from a process of its own, to be stopped and started again."""

import re
import signal
import subprocess
import sys
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

import pytest

CHECKOUT = Path(__file__).parents[2]


@contextmanager
def served(shop: Path, *options: object) -> Iterator[str]:
    """Serve the shop file and give the address; at the end Ctrl-C, which must end it in good order."""
    process = subprocess.Popen(
        [sys.executable, "-m", "inspect_app", "serve", "--shop", str(shop), *map(str, options)],
        cwd=shop.parent,
        env={"PYTHONPATH": str(CHECKOUT), "PATH": "/usr/bin:/bin", "HOME": str(shop.parent)},
        stdout=subprocess.PIPE,
        stderr=subprocess.PIPE,
        text=True,
    )
    try:
        yield _address(process)
    finally:
        process.send_signal(signal.SIGINT)
        _, err = process.communicate(timeout=15)
    assert process.returncode == 0
    assert "Traceback" not in err, err


def _address(process: subprocess.Popen[str]) -> str:
    assert process.stdout is not None
    for line in process.stdout:
        if found := re.search(r"http://localhost:\d+", line):
            return found.group()
    pytest.fail(f"the server ended: {process.communicate()[1]}")
