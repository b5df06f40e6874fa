"""A program of its own that writes evidence and photos, and says each id when it is saved.

    python -m tests.store.writing

For each line "SHOP.sqlite<tab>PREFIX" that it is given it starts a process that says its number and
writes until it is killed; then it says how that ended. Loading the program is done once.
"""

import hashlib
import os
import sys
from itertools import count
from pathlib import Path

from inspect_app.store import add_evidence, add_photo, open_shop_file
from tests.support import pump_book

from .pumps import photo, worn


def picture(name: str) -> bytes:
    """The bytes of a picture, other ones for each name: 40 kB, more than a page of the file."""
    return hashlib.sha256(name.encode()).digest() * 1250


def write(path: Path, prefix: str) -> None:
    """Write until somebody ends the process."""
    book = pump_book()
    with open_shop_file(path) as shop:
        for number in count():
            name = f"{prefix}-{number}"
            if number % 3:
                pair = [worn(f"{name}-a"), worn(f"{name}-b")]
                add_evidence(shop, book, "pump-1", pair)
                saved = [item.id for item in pair]
            else:
                add_photo(shop, book, "pump-1", photo(name, picture(name)), picture(name))
                saved = [name]
            print("saved", *saved, flush=True)


def main() -> None:
    """One process after the other, each until it is killed."""
    pump_book()
    for line in sys.stdin:
        path, _, prefix = line.rstrip("\n").partition("\t")
        child = os.fork()
        if child == 0:
            print("process", os.getpid(), flush=True)
            write(Path(path), prefix)
        _, status = os.waitpid(child, 0)
        print("ended", os.waitstatus_to_exitcode(status), flush=True)


if __name__ == "__main__":
    main()
