"""A server that is shared beyond this machine, and the address by which another machine would reach it."""

import os
import re
import signal
import subprocess
import sys
from pathlib import Path

import pytest

from tests.ui.conftest import CHECKOUT

FOREIGN = "127.0.0.2"
"""An address that leads here and is none of this machine's own names: whoever asks by it is foreign."""


class SharedServer:
    """A server process over the shop file in a folder; `here` and `there` are its two addresses."""

    def __init__(self, folder: Path, *arguments: str) -> None:
        self._process = subprocess.Popen(
            [sys.executable, "-m", "tests.ui.pair_server", str(folder), FOREIGN, *arguments],
            cwd=folder,
            env=os.environ | {"PYTHONPATH": str(CHECKOUT), "FORWARDED_ALLOW_IPS": "*"},
            stdout=subprocess.PIPE,
            stderr=subprocess.PIPE,
            text=True,
        )
        assert self._process.stdout is not None
        self.said = ""
        while "never in a guest's" not in self.said:
            line = self._process.stdout.readline()
            if not line:
                pytest.fail(f"the server said {self.said!r}: {self._process.communicate()[1]}")
            self.said += line
        port = re.search(r"http://localhost:(\d+)", self.said)
        assert port is not None
        self.port = int(port.group(1))
        self.here = f"http://localhost:{self.port}"
        self.there = f"http://{FOREIGN}:{self.port}"

    def stop(self) -> str:
        """Stop it as Ctrl-C does; what it said on stderr."""
        self._process.send_signal(signal.SIGINT)
        return self._process.communicate(timeout=15)[1]
