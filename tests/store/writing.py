"""A program of its own that writes evidence and photos, and says each id when it is saved.

python -m tests.store.writing SHOP.sqlite PREFIX
"""

import hashlib
import sys
from itertools import count
from pathlib import Path

from inspect_app.store import add_evidence, add_photo, open_shop_file
from tests.support import pump_book

from .pumps import photo, worn


def picture(name: str) -> bytes:
    """The bytes of a picture, other ones for each name: 40 kB, more than a page of the file."""
    return hashlib.sha256(name.encode()).digest() * 1250


def main(path: str, prefix: str) -> None:
    """Write until somebody ends the program."""
    book = pump_book()
    with open_shop_file(Path(path)) as shop:
        for number in count():
            name = f"{prefix}-{number}"
            if number % 3:
                pair = [worn(f"{name}-a"), worn(f"{name}-b")]
                add_evidence(shop, book, "pump-1", pair)
                saved = [item.id for item in pair]
            else:
                add_photo(shop, book, "pump-1", photo(name, picture(name)), picture(name))
                saved = [name]
            print(*saved, flush=True)


if __name__ == "__main__":
    main(*sys.argv[1:])
