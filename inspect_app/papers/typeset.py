"""From a template and its data to a PDF: set in a child process, with bounds on memory and time."""

import json
import subprocess
import sys
import tempfile
from collections.abc import Mapping
from dataclasses import dataclass
from datetime import UTC, date, datetime
from pathlib import Path
from typing import Any

from inspect_app.model.problems import Problem, Problems
from inspect_app.papers import fonts

MEMORY = 1024 * 2**20
SECONDS = 20
DATA = "sheet.json"
_FEW_THREADS = {"RAYON_NUM_THREADS": "4", "MALLOC_ARENA_MAX": "2"}
"""On a machine with many processors, threads alone would take the memory that the bound allows."""
_CHILD = Path(__file__).with_name("child.py")


@dataclass(frozen=True)
class TypeSet:
    """A paper: the PDF, and its pages as PNG where they were asked for."""

    pdf: bytes
    pages: tuple[bytes, ...]


def template(name: str) -> bytes:
    """The template of this package with this name."""
    return Path(__file__).with_name(name).read_bytes()


def typeset(
    source: bytes,
    data: object,
    files: Mapping[str, bytes],
    made: date,
    *,
    ppi: int = 0,
    memory: int = MEMORY,
    seconds: int = SECONDS,
) -> TypeSet:
    """Set a template with `data`, which it reads as sheet.json, and the pictures in `files`.

    The same input gives the same bytes: `made` is the only date in it. `ppi` above 0 draws the pages too.
    `memory` in bytes, `seconds` of the processor and of the clock. Raises Problems in words: the template is
    at fault, the child ended at one of its bounds, or the temporary folder cannot be written.
    """
    job: dict[str, Any] = {
        "fonts": str(fonts.folder()),
        "timestamp": int(datetime(made.year, made.month, made.day, tzinfo=UTC).timestamp()),
        "ppi": ppi,
        "memory": memory,
        "seconds": seconds,
    }
    text = json.dumps(data, ensure_ascii=False).encode("utf-8")
    try:
        with tempfile.TemporaryDirectory(prefix="inspect-app-paper-") as folder:
            for name, content in {"main.typ": source, DATA: text, **files}.items():
                Path(folder, name).write_bytes(content)
            told, parts = _run({**job, "folder": folder})
    except OSError as error:
        what = f"the temporary folder cannot be written: {error.strerror or error}."
        raise _problem(what, "Make room there, then ask for the paper again.") from None
    if "error" in told:
        raise _problem(f"its template is at fault: {told['error']}", "Report these words.")
    return TypeSet(parts[0], tuple(parts[1:]))


def _run(job: dict[str, Any]) -> tuple[dict[str, Any], list[bytes]]:
    try:
        done = subprocess.run(
            # Nothing of the surroundings reaches it: no environment of ours, no folder to import from.
            [sys.executable, "-I", str(_CHILD)],
            input=json.dumps(job).encode(),
            capture_output=True,
            timeout=job["seconds"],
            env=_FEW_THREADS,
            check=False,
        )
    except subprocess.TimeoutExpired:
        what = f"it was not set within its bound of {job['seconds']} s, and was stopped."
        raise _problem(what, "Nothing was written. Try again when the machine has less to do.") from None
    if done.returncode:
        raise _ended(job, done)
    line, _, rest = done.stdout.partition(b"\n")
    told = json.loads(line)
    parts, at = [], 0
    for size in told["sizes"]:
        parts.append(rest[at : at + size])
        at += size
    return told, parts


def _ended(job: dict[str, Any], done: subprocess.CompletedProcess[bytes]) -> Problems:
    bounds = f"{job['memory'] // 2**20:,} MB of memory and {job['seconds']} s"
    last = done.stderr.decode("utf-8", "replace").strip().rpartition("\n")[2]
    what = f"setting it ended early, code {done.returncode}; it may use {bounds}. {last}".strip()
    return _problem(what, "Nothing was written. Use smaller or fewer photos.")


def _problem(what: str, advice: str) -> Problems:
    return Problems([Problem("The paper", what, advice)])
