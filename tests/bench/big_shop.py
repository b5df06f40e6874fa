"""A shop file with many cores, each with small photos, and one with a hundred of full size."""

import atexit
import sqlite3
import tempfile
from collections.abc import Iterator
from contextlib import ExitStack, closing, contextmanager
from functools import cache
from pathlib import Path

from inspect_app.rulebook.book import Rulebook
from inspect_app.rulebook.load import load_rulebook
from inspect_app.shipped import shipped
from inspect_app.store import ShopFile, create_shop_file, import_bundle, judge_core, rack
from inspect_app.ui.rack_order import has, place

SMALL, FULL = 30_000, 4_000_000
PHOTOS_OF_ONE = 100
MANY, FEW = 5_000, 500
_COLUMNS = (
    "core, record, evidence, rulebook, prices, verdict, standing, waits_for, waits_by, cost_likely, "
    "currency, not_judged, sheet_title, parts, money_low, money_likely, money_high, "
    "money_mean, problems, answer"
)


_open = ExitStack()
atexit.register(_open.close)


@cache
def kept(cores: int) -> tuple[ShopFile, Rulebook]:
    """The same, made once and kept until the program ends."""
    book = load_rulebook(shipped("rules"))
    return _open.enter_context(shop(book, cores)), book


def shown(cores: int) -> int:
    """What the page does before it draws: all rows, in order, and a search through them."""
    file, book = kept(cores)
    rows = sorted(rack(file, book), key=place)
    assert all(row.fresh for row in rows)
    return sum(has(row, "core-000 nothing") for row in rows)


@contextmanager
def shop(book: Rulebook, cores: int) -> Iterator[ShopFile]:
    """A file of so many cores like the measured demo core, all judged."""
    with tempfile.TemporaryDirectory(prefix="big-shop-") as folder:
        path = Path(folder) / "shop.sqlite"
        with create_shop_file(path) as made:
            import_bundle(made, book, shipped("demo_cores") / "brackwater-four", "A.T.")
            judge_core(made, book, "brackwater-four")
            _fill(path, cores - 1)
            rows = rack(made, book)
            assert len(rows) == cores
            yield made


def _fill(path: Path, cores: int) -> None:
    """Copy the one core row by row: as it would lie there, in a hundredth of the time."""
    with closing(sqlite3.connect(path)) as raw:
        raw.execute("PRAGMA synchronous = OFF")
        for at in range(cores):
            name = f"core-{at:05}"
            _copy(raw, name)
            photos, size = (PHOTOS_OF_ONE, FULL) if at == 0 else (1, SMALL)
            for number in range(photos):
                _photo(raw, name, number, size)
            _judged(raw, name)
        raw.commit()
        raw.execute("PRAGMA wal_checkpoint(TRUNCATE)")


def _copy(raw: sqlite3.Connection, name: str) -> None:
    old = "brackwater-four"
    raw.execute("INSERT INTO core SELECT ?, made FROM core WHERE id = ?", (name, old))
    raw.execute(
        "INSERT INTO record (core, title, stage, digest, body, sheet, who, written) "
        "SELECT ?, ?, stage, digest, body, sheet, who, written FROM record WHERE core = ?",
        (name, f"Core {name}", old),
    )
    raw.execute(
        'INSERT INTO evidence (core, id, kind, piece, who, "when", written, digest, body) '
        'SELECT ?, id, kind, piece, who, "when", written, digest, body FROM evidence WHERE core = ? LIMIT 40',
        (name, old),
    )


def _judged(raw: sqlite3.Connection, name: str) -> None:
    kept = _COLUMNS.removeprefix("core, record, evidence, ")
    (record,) = raw.execute("SELECT max(number) FROM record").fetchone()
    (latest,) = raw.execute("SELECT max(number) FROM evidence").fetchone()
    raw.execute(
        f"INSERT INTO judgement ({_COLUMNS}) SELECT ?, ?, ?, {kept} FROM judgement WHERE core = ?",
        (name, record, latest, "brackwater-four"),
    )


def _photo(raw: sqlite3.Connection, name: str, number: int, size: int) -> None:
    sha256 = f"{name}{number}".encode().hex().ljust(64, "0")[:64]
    raw.execute("INSERT INTO file_bytes VALUES (?, ?, zeroblob(?))", (sha256, size, size))
    evidence = raw.execute(
        'INSERT INTO evidence (core, id, kind, piece, who, "when", written, digest, body) '
        "VALUES (?, ?, 'photo', 'block', 'A', '2026-11-25', '2026-11-25', '', '{}')",
        (name, f"photo-{number}"),
    ).lastrowid
    raw.execute("INSERT INTO photo VALUES (?, ?, ?, ?, ?)", (evidence, name, f"photo-{number}", sha256, size))


def plain_read(cores: int) -> int:
    """The least that any rack has to do: as many rows of title, verdict and money by plain SQL."""
    query = (
        "SELECT core.id, record.title, record.stage, judgement.verdict, judgement.standing, "
        "judgement.waits_for, judgement.parts, judgement.money_low, judgement.money_likely, "
        "judgement.money_high, judgement.cost_likely FROM core JOIN record ON record.core = core.id "
        "JOIN judgement ON judgement.core = core.id"
    )
    with closing(sqlite3.connect(kept(cores)[0].path)) as raw:
        return len(raw.execute(query).fetchall())
