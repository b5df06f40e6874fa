"""Unpack a zip from anywhere: everything is looked at before anything is written."""

import shutil
import stat
import zipfile
import zlib
from collections import Counter
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path, PurePosixPath

from inspect_app.bundle import CORE_FILE
from inspect_app.model.problems import Problem, Problems, raise_if_any

_MB = 1 << 20
_KINDS = (0, stat.S_IFREG, stat.S_IFDIR)


@dataclass(frozen=True)
class Limits:
    """How much a zip may hold: files, bytes of one and of all unpacked, and times its packed size."""

    files: int = 5_000
    one: int = 200 * _MB
    all: int = 4_000 * _MB
    ratio: int = 200


def unpack(source: Path, folder: Path, limits: Limits | None = None) -> None:
    """Unpack a core's zip into an empty folder. Raises Problems with everything wrong in its list of names.

    Refused are names that lead out of the folder, links, files listed twice, what needs a password, and
    more than the limits allow, also where the zip lies about its sizes.
    """
    allowed = limits or Limits()
    try:
        with zipfile.ZipFile(source) as archive:
            entries = archive.infolist()
            raise_if_any([*_problems(source.name, entries, allowed)])
            for entry in entries:
                if not entry.is_dir():
                    _write(archive, entry, folder / entry.filename)
    except OSError as error:
        what = f"it cannot be unpacked: {error.strerror or error}."
        advice = "Look at the file and at the room on the disk."
        raise Problems([Problem(str(source), what, advice)]) from None
    except Problems:
        raise
    except (zipfile.BadZipFile, zlib.error, EOFError, RuntimeError, ValueError) as error:
        raise Problems([_broken(source.name, error)]) from None


def _write(archive: zipfile.ZipFile, entry: zipfile.ZipInfo, target: Path) -> None:
    """Write one file; zipfile reads no more than the list says and refuses what does not match it."""
    target.parent.mkdir(parents=True, exist_ok=True)
    with archive.open(entry) as packed, target.open("xb") as file:
        shutil.copyfileobj(packed, file)


def _broken(name: str, error: Exception) -> Problem:
    return Problem(name, f"this zip is broken: {error}.", "Copy it again, or export the core again.")


def _problems(name: str, entries: list[zipfile.ZipInfo], limits: Limits) -> Iterator[Problem]:
    yield from _size_problems(name, entries, limits)
    for entry in entries:
        yield from _entry_problems(f"{name}, {entry.orig_filename!r}", entry, limits)
    yield from _clashes(name, [entry.filename for entry in entries])
    names = [entry.filename for entry in entries]
    if CORE_FILE not in names:
        inside = sorted(path for path in names if path.endswith(f"/{CORE_FILE}"))
        what = f"{CORE_FILE} lies in a folder in it ({inside[0]})." if inside else f"it holds no {CORE_FILE}."
        yield Problem(name, what, f"Zip the content of the core's folder, so that {CORE_FILE} is at the top.")


def _size_problems(name: str, entries: list[zipfile.ZipInfo], limits: Limits) -> Iterator[Problem]:
    total = sum(entry.file_size for entry in entries)
    if len(entries) > limits.files:
        yield Problem(name, f"it holds {len(entries)} files, {limits.files} at most.", "Leave some out.")
    if total > limits.all:
        what = f"unpacked it would be {_shown(total)}, {_shown(limits.all)} at most."
        yield Problem(name, what, "Leave some photos out.")


def _entry_problems(here: str, entry: zipfile.ZipInfo, limits: Limits) -> Iterator[Problem]:
    leads = _leads_out(entry.orig_filename)
    if leads:
        yield Problem(here, f"this name {leads}.", "Do not use this zip; ask for a new one.")
    if stat.S_IFMT(entry.external_attr >> 16) not in _KINDS:
        yield Problem(here, "this is a link or a device, not a file.", "Put the file itself into the zip.")
    if entry.flag_bits & 1:
        yield Problem(here, "it needs a password.", "Make the zip without one.")
    elif entry.compress_type not in (zipfile.ZIP_STORED, zipfile.ZIP_DEFLATED):
        yield Problem(here, "it is packed in a way that is not read here.", "Make a plain zip.")
    if entry.file_size > limits.one:
        what = f"unpacked it would be {_shown(entry.file_size)}, {_shown(limits.one)} at most."
        yield Problem(here, what, "Leave it out.")
    if entry.file_size > _MB and entry.file_size > limits.ratio * max(entry.compress_size, 1):
        times = entry.file_size // max(entry.compress_size, 1)
        what = f"it would grow {times} times, {limits.ratio} at most."
        yield Problem(here, what, "Do not use this zip; ask for a new one.")


def _leads_out(name: str) -> str:
    """Why a name does not stay in the folder it is unpacked into; empty if it does."""
    path = PurePosixPath(name)
    if not name.isprintable():
        return "holds characters that cannot be printed"
    if path.is_absolute() or "\\" in name or ":" in name:
        return "names a drive, or a folder from the top of the disk"
    if ".." in path.parts:
        return "climbs out of the folder"
    if name.removesuffix("/") != str(path) or not path.parts:
        return "is not written plainly"
    return ""


def _clashes(name: str, names: list[str]) -> Iterator[Problem]:
    plain = [path.removesuffix("/").casefold() for path in names]
    for path, count in sorted(Counter(plain).items()):
        if count > 1:
            yield Problem(name, f'"{path}" is in it {count} times.', "Keep one of them.")
    files = {path.casefold() for path in names if not path.endswith("/")}
    folders = {str(above) for path in plain for above in PurePosixPath(path).parents}
    for path in sorted(files & folders):
        yield Problem(name, f'"{path}" is both a file and a folder in it.', "Give one another name.")


def _shown(size: int) -> str:
    return f"{size / _MB:,.0f} MB"
