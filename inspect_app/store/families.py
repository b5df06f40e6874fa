"""The engine sheets that the cores of a shop file have, one for each family, to begin another core from."""

from dataclasses import dataclass

from sqlalchemy import func, select

from . import tables
from .file import ShopFile
from .records import heads


@dataclass(frozen=True)
class Family:
    """An engine sheet by id and title, how many cores have it, and the core whose record is the latest."""

    sheet: str
    title: str
    cores: int
    latest: str


def families(shop: ShopFile) -> tuple[Family, ...]:
    """Every family by title: of sheets with one id the one last written, from standing records alone."""
    column = tables.record.c
    with shop.reading() as connection:
        counting = {found[0].number: core for core, found in heads(connection).items()}
        title = func.json_extract(column.sheet, "$.title")
        query = select(
            column.number, func.json_extract(column.sheet, "$.id").label("id"), title.label("title")
        )
        rows = [row for row in connection.execute(query.order_by(column.number)) if row.number in counting]
    found: dict[str, Family] = {}
    for row in rows:
        before = found.get(row.id)
        cores = before.cores + 1 if before else 1
        found[row.id] = Family(row.id, row.title or "", cores, counting[row.number])
    return tuple(sorted(found.values(), key=lambda one: (one.title.casefold(), one.sheet)))
