"""The commands that work on the shop file, and the file they work on."""

import argparse
import getpass
import sys
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import TYPE_CHECKING

from inspect_app.model.answer import Answer
from inspect_app.model.fit_answer import FitAnswer
from inspect_app.model.problems import Problem, Problems, raise_if_any
from inspect_app.rulebook.book import Rulebook
from inspect_app.rulebook.engine import Engine
from inspect_app.rulebook.shop_rules import folder_beside, in_use
from inspect_app.shipped import shipped

if TYPE_CHECKING:
    from inspect_app.store import Imported, ShopFile

USUAL = Path("shop.sqlite")


def add_shop(parser: argparse.ArgumentParser, help: str) -> None:
    """Give a command its option --shop."""
    parser.add_argument("--shop", type=Path, metavar="FILE", help=help)


def own_rules(options: argparse.Namespace) -> list[Path]:
    """The shop's own entries beside the shop file that a command works on, if it works on one."""
    on_usual = "usual_shop" in options and not getattr(options, "readings", None)
    path = getattr(options, "shop", None) or (USUAL if on_usual else None)
    return in_use(folder_beside(path)) if path else []


def shop_for_serving(options: argparse.Namespace, book: Rulebook) -> "ShopFile":
    """Open the shop file to serve, made if it is not there; the usual one begins with the demo cores.

    The cores of the folder --cores come in first; one that cannot is told on stderr and left out.
    """
    path = options.shop or USUAL
    folders = [options.cores] if options.cores else []
    if not path.exists() and options.shop is None and not folders:
        folders = [shipped("demo_cores")]
    for folder in folders:
        if not folder.is_dir():
            what = f'"{folder}" is not a folder.'
            raise Problems([Problem("serve", what, "Name the folder that holds the cores.")])
    shop = _opened_or_made(path)
    for folder in folders:
        _bring_in(shop, book, folder)
    return shop


def _bring_in(shop: "ShopFile", book: Rulebook, folder: Path) -> None:
    from inspect_app.store import import_bundle

    found = [path for path in sorted(folder.iterdir()) if path.name[0] != "."]
    for path in (path for path in found if path.is_dir() or path.suffix == ".zip"):
        try:
            print(_imported(import_bundle(shop, book, path, _user())))
        except Problems as problems:
            print(f"{path.name} was not brought in:\n{problems}", file=sys.stderr)


def run_import(options: argparse.Namespace, book: Rulebook) -> int:
    """Bring a bundle into the shop file; readings into a core of it, or into a core's folder."""
    if options.readings is None:
        from inspect_app.store import import_bundle

        if not options.core.exists():
            advice = "Name a core's folder, or a zip that was exported."
            raise Problems([Problem(str(options.core), "there is no such file.", advice)])
        with _opened_or_made(options.shop or USUAL) as shop:
            print(_imported(import_bundle(shop, book, options.core, options.who or _user())))
        return 0
    if options.shop is None:
        from inspect_app.bundle import add_readings

        count = add_readings(options.core, options.readings, book)
    else:
        with opened(options.shop) as shop:
            count = _readings_in(shop, book, str(options.core), options.readings)
    print(f"Added {count} readings to {options.core}.")
    return 0


def _user() -> str:
    try:
        return getpass.getuser()
    except (KeyError, ImportError, OSError):
        # A machine may run this under a number that nobody has given a name.
        return "this machine"


def _readings_in(shop: "ShopFile", book: Rulebook, core_id: str, source: Path) -> int:
    from inspect_app.bundle.readings_csv import checked_readings
    from inspect_app.store import add_evidence, load_core

    held = load_core(shop, core_id)
    readings = checked_readings(source, held.core, Engine(book, held.sheet))
    add_evidence(shop, book, core_id, readings)
    return len(readings)


def _imported(done: "Imported") -> str:
    said = {
        "new": "A new core.",
        "same": "Its record is the one that is here.",
        "differs": "Its record differs from the one that is here: both stand until one is settled on.",
    }
    return f"{done.core}: {done.added} items added, {done.already} were here already. {said[done.record]}"


def judge_in_shop(options: argparse.Namespace, book: Rulebook) -> Answer:
    """Judge the core with this id."""
    from inspect_app.store import judge_core

    with opened(options.shop) as shop:
        return judge_core(shop, book, str(options.core))


def fits_in_shop(options: argparse.Namespace, book: Rulebook) -> FitAnswer:
    """Check the fits of the core with this id."""
    from inspect_app.judge import fit_check
    from inspect_app.store import load_core

    with opened(options.shop) as shop:
        held = load_core(shop, str(options.core))
    return fit_check(held.core, Engine(book, held.sheet))


def export_from_shop(options: argparse.Namespace) -> None:
    """Write the core with this id as one zip."""
    from inspect_app.store import export_core_zip

    with opened(options.shop) as shop:
        export_core_zip(shop, str(options.core), options.target)


def run_back_up(options: argparse.Namespace) -> int:
    """Write all that is saved to one new file, while others go on working."""
    from inspect_app.store import back_up

    with opened(options.shop or USUAL) as shop:
        back_up(shop, options.target)
    print(f"Wrote {options.target}, and read it through: it is sound.")
    return 0


def run_restore(options: argparse.Namespace) -> int:
    """Put a backup in the place of the shop file, which is kept beside it."""
    from inspect_app.store import restore

    shop = options.shop or USUAL
    kept = restore(options.backup, shop)
    print(f"Restored {shop} from {options.backup}." + (f" The old file is kept as {kept}." if kept else ""))
    return 0


def run_check_shop(options: argparse.Namespace) -> int:
    """Look over a whole shop file, every hash too."""
    from inspect_app.store import check_shop_file

    with opened(options.shop or USUAL) as shop:
        raise_if_any(check_shop_file(shop))
    print(f"{options.shop or USUAL} is sound.")
    return 0


@contextmanager
def opened(path: Path) -> Iterator["ShopFile"]:
    """Open a shop file that must be there."""
    from inspect_app.store import open_shop_file

    with open_shop_file(path) as shop:
        yield shop


def _opened_or_made(path: Path) -> "ShopFile":
    from inspect_app.store import create_shop_file, open_shop_file

    if path.exists():
        return open_shop_file(path)
    shop = create_shop_file(path)
    print(f"Made {path}.")
    return shop
