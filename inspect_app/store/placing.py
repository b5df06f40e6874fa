"""Put a finished file or folder under its name, and never over another."""

import os
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

from inspect_app.model.problems import Problem, Problems

from .words import DiskTrouble


@contextmanager
def writing_to(path: Path) -> Iterator[None]:
    """Raise DiskTrouble in words where the disk refuses a file or folder that a person has named."""
    try:
        yield
    except OSError as error:
        what = f"it cannot be written: {error.strerror or error}."
        advice = "Name a place that can be written and has room."
        raise DiskTrouble([Problem(str(path), what, advice)]) from error


def refuse_taken(path: Path) -> None:
    """Raise Problems when something has this name already."""
    if path.exists() or path.is_symlink():
        raise Problems([Problem(str(path), "something of this name is there already.", "Name a new one.")])


def place_new(temporary: Path, path: Path) -> None:
    """Give a finished file its name; the temporary one may remain. Raises Problems if the name is taken."""
    try:
        os.link(temporary, path)
    except FileExistsError:
        refuse_taken(path)
    except OSError:
        # A stick or share without hard links: the look before the move is all there is.
        refuse_taken(path)
        os.rename(temporary, path)
    sync_folder(path.resolve().parent)


def sync_folder(folder: Path) -> None:
    """Have the names in a folder written to the disk, as the content of its files is."""
    handle = os.open(folder, os.O_RDONLY)
    try:
        os.fsync(handle)
    finally:
        os.close(handle)
