"""The fonts of the papers: unpacked once into a cache folder, and which characters they have."""

import hashlib
import os
import shutil
import tempfile
from functools import lru_cache
from pathlib import Path

from inspect_app.shipped import fonts

FAMILIES = (
    ("IBMPlexSans-Regular", "IBMPlexSans-Bold", "IBMPlexSansCondensed-Regular", "IBMPlexSansCondensed-Bold"),
    ("IBMPlexSansHebrew-Regular", "IBMPlexSansHebrew-Bold"),
)
"""Of each family the faces used; a character that the first family lacks is set in the second."""


@lru_cache(maxsize=1)
def folder() -> Path:
    """The folder of the unpacked fonts, made at first use.

    It lies in the cache of the user (`XDG_CACHE_HOME`, else `.cache`), else, where nothing can be written
    there, in a new temporary folder. Its name holds the digest of what it was unpacked from.
    """
    sources = [fonts() / f"{face}.woff2" for family in FAMILIES for face in family]
    digest = hashlib.sha256(b"".join(source.read_bytes() for source in sources)).hexdigest()
    try:
        home = Path(os.environ.get("XDG_CACHE_HOME") or Path.home() / ".cache") / "inspect-app"
        kept = home / f"fonts-{digest[:16]}"
        if not kept.is_dir():
            home.mkdir(parents=True, exist_ok=True)
            _unpack_whole(sources, home, kept)
    except (OSError, RuntimeError):
        # No home, or one that cannot be written: the fonts are unpacked again by every process then.
        kept = Path(tempfile.mkdtemp(prefix="inspect-app-fonts-"))
        _unpack(sources, kept)
    return kept


def _unpack_whole(sources: list[Path], home: Path, kept: Path) -> None:
    """All or nothing: two processes may begin at once, and one may be ended half way."""
    begun = Path(tempfile.mkdtemp(prefix=".fonts-", dir=home))
    try:
        _unpack(sources, begun)
        os.replace(begun, kept)
    except OSError:
        if not kept.is_dir():
            raise
    finally:
        shutil.rmtree(begun, ignore_errors=True)


def _unpack(sources: list[Path], into: Path) -> None:
    """Write each as TrueType, with the licence beside them."""
    from fontTools.ttLib import TTFont

    for source in sources:
        font = TTFont(source, recalcTimestamp=False)
        font.flavor = None
        font.save(into / f"{source.stem}.ttf")
    shutil.copy(fonts() / "LICENSE.txt", into)


@lru_cache(maxsize=1)
def characters() -> frozenset[str]:
    """Every character that some family has in all of its faces."""
    from fontTools.ttLib import TTFont

    found: set[int] = set()
    for family in FAMILIES:
        maps = [set(TTFont(folder() / f"{face}.ttf", lazy=True).getBestCmap()) for face in family]
        found |= set.intersection(*maps)
    return frozenset(map(chr, found))
