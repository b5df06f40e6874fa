"""Cores: begin one, read one with its evidence, change its record."""

import json
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field

from pydantic import ValidationError
from sqlalchemy import Connection, func, insert, select

from inspect_app.bundle import SHEET_FILE
from inspect_app.model.core import Core, FileEntry
from inspect_app.model.evidence import Evidence, Withdrawal, standing
from inspect_app.model.problems import Problem, Problems, raise_if_any
from inspect_app.model.sheet import EngineSheet
from inspect_app.rulebook.book import Rulebook
from inspect_app.rulebook.check_core import core_problems
from inspect_app.rulebook.engine import Engine

from . import tables
from .file import ShopFile
from .keeping import keep_files
from .records import Record, heads, record_at, write_record
from .texts import item_of, now, other_files, photos_among, record_text
from .words import Damaged

_SHEET_FILES = (SHEET_FILE, "sheet.csv")


@dataclass(frozen=True)
class HeldCore:
    """A core as the shop file holds it at one moment.

    `revision` grows with every item of evidence; 0 before the first. `records` are the numbers of its
    standing records, the one that counts first: more than one is a conflict to settle. `contested`
    holds items that several others correct or withdraw, with the ids of those.
    """

    core: Core
    sheet: EngineSheet
    revision: int
    records: tuple[int, ...]
    contested: Mapping[str, tuple[str, ...]] = field(default_factory=dict)


def add_core(shop: ShopFile, book: Rulebook, core: Core, sheet: EngineSheet, who: str) -> None:
    """Begin a core without evidence. Raises Problems: its id is taken, or the rulebook does not know it.

    Its engine sheet becomes its file sheet.json; `core.files` is not asked.
    """
    core = core.model_copy(update={"evidence": (), "files": ()})
    raise_if_any(core_problems(Engine(book, sheet), core))
    with shop.writing() as connection:
        if heads(connection, core.id):
            what = f'a core with the id "{core.id}" is here already.'
            raise Problems([Problem("core, id", what, "Give the new one its own id.")])
        connection.execute(insert(tables.core).values(id=core.id, made=now()))
        write_record(connection, _with_sheet(connection, core, sheet), sheet, who, ())


def revise_core(
    shop: ShopFile, book: Rulebook, core: Core, sheet: EngineSheet, who: str, seen: Sequence[int]
) -> tuple[int, ...]:
    """Write a changed record that follows the records `seen` (of HeldCore); the standing ones after it.

    Where somebody else has written since, both stand. A record that follows all that stand settles a
    conflict. Raises Problems with everything that the change makes wrong; evidence stays as it is.
    """
    with shop.writing() as connection:
        held = read_held(connection, core.id)
        changed = core.model_copy(update={"evidence": held.core.evidence})
        raise_if_any(
            [*_unknown_records(connection, core.id, seen), *new_problems(book, held, changed, sheet)]
        )
        kept = changed.model_copy(update={"files": other_files(held.core)})
        if sheet != held.sheet:
            kept = _with_sheet(connection, kept, sheet)
        if len(held.records) > 1 or record_text(kept) != record_text(held.core):
            write_record(connection, kept, sheet, who, seen)
        return tuple(head.number for head in heads(connection, core.id)[core.id])


def load_core(shop: ShopFile, core_id: str) -> HeldCore:
    """A core with all its evidence. Raises Problems if no core has this id."""
    with shop.reading() as connection:
        return read_held(connection, core_id)


def standing_of(shop: ShopFile, core_id: str) -> tuple[tuple[int, ...], int] | None:
    """The standing records and the revision of a core, cheaply: what was loaded at these is as it is now.

    None if no core has this id.
    """
    with shop.reading() as connection:
        found = heads(connection, core_id).get(core_id)
        if not found:
            return None
        return tuple(head.number for head in found), revision_of(connection, core_id)


def titles(shop: ShopFile) -> dict[str, str]:
    """The title of every core in its standing record, by id and in its order."""
    with shop.reading() as connection:
        return {core: found[0].title for core, found in sorted(heads(connection).items())}


def cores_of_sheet(shop: ShopFile, sheet_id: str) -> tuple[str, ...]:
    """The ids of the cores whose standing record has an engine sheet of this id, in order."""
    with shop.reading() as connection:
        counting = {found[0].number: core for core, found in heads(connection).items()}
        column = tables.record.c
        rows = connection.execute(
            select(column.number, func.json_extract(column.sheet, "$.id")).where(
                func.json_extract(column.sheet, "$.id") == sheet_id
            )
        )
        return tuple(sorted(counting[row.number] for row in rows if row.number in counting))


def records_of(shop: ShopFile, core_id: str) -> tuple[Record, ...]:
    """Every record ever written of a core, oldest first."""
    with shop.reading() as connection:
        column = tables.record.c
        numbers = connection.execute(
            select(column.number).where(column.core == core_id).order_by(column.number)
        ).scalars()
        return tuple(record_at(connection, number) for number in numbers.all())


def read_held(connection: Connection, core_id: str) -> HeldCore:
    """The same as `load_core` within a transaction."""
    found = heads(connection, core_id).get(core_id)
    if not found:
        raise Problems(
            [Problem(f'core "{core_id}"', "no core here has this id.", "Look for it on the rack.")]
        )
    try:
        record, items = record_at(connection, found[0].number), _items(connection, core_id)
    except ValidationError as error:
        what = "what the file holds of it is not a core any more."
        advice = "Check the file, and restore the latest backup."
        raise Damaged([Problem(f'core "{core_id}"', what, advice)]) from error
    files = (*record.core.files, *_photo_files(items, record.core.files))
    core = record.core.model_copy(update={"evidence": items, "files": files})
    numbers = tuple(head.number for head in found)
    return HeldCore(core, record.sheet, revision_of(connection, core_id), numbers, contested(items))


def _items(connection: Connection, core_id: str) -> tuple[Evidence, ...]:
    column = tables.evidence.c
    query = select(column.body).where(column.core == core_id).order_by(column.number)
    return tuple(map(item_of, connection.execute(query).scalars()))


def revision_of(connection: Connection, core_id: str) -> int:
    """The number of the latest item of a core's evidence; 0 before the first."""
    column = tables.evidence.c
    return connection.execute(select(func.max(column.number)).where(column.core == core_id)).scalar() or 0


def contested(items: tuple[Evidence, ...]) -> dict[str, tuple[str, ...]]:
    """Items that several others correct or withdraw, none of these being withdrawn or corrected itself."""
    counting = {item.id for item in standing(items)}
    named = {item.of for item in items if isinstance(item, Withdrawal)}
    aims: dict[str, list[str]] = {}
    for item in items:
        withdraws = isinstance(item, Withdrawal)
        aim = item.of if isinstance(item, Withdrawal) else item.supersedes
        if aim is not None and (item.id not in named if withdraws else item.id in counting):
            aims.setdefault(aim, []).append(item.id)
    return {aim: tuple(sorted(by)) for aim, by in aims.items() if len(by) > 1}


def new_problems(book: Rulebook, held: HeldCore, core: Core, sheet: EngineSheet) -> list[Problem]:
    """What is wrong with a changed core and was not before: an old fault must not stop a new entry."""
    found = core_problems(Engine(book, sheet), core)
    if not found:
        return []
    before = set(core_problems(Engine(book, held.sheet), held.core))
    return [problem for problem in found if problem not in before]


def _unknown_records(connection: Connection, core_id: str, seen: Sequence[int]) -> list[Problem]:
    column = tables.record.c
    known = set(connection.execute(select(column.number).where(column.core == core_id)).scalars())
    advice = "Load the core again and make the change once more."
    return [
        Problem(f'core "{core_id}"', f"it has no record {number}.", advice)
        for number in seen
        if number not in known
    ]


def _photo_files(items: tuple[Evidence, ...], others: tuple[FileEntry, ...]) -> list[FileEntry]:
    """One entry for each path of a photo: the first of two that a folder could not hold together."""
    taken = {entry.path for entry in others}
    found: dict[str, FileEntry] = {}
    for photo in photos_among(items):
        if photo.path not in taken:
            found.setdefault(photo.path, FileEntry(path=photo.path, sha256=photo.sha256))
    return list(found.values())


def _with_sheet(connection: Connection, core: Core, sheet: EngineSheet) -> Core:
    """The core with its engine sheet as its file sheet.json, whose bytes are kept."""
    data = {"sheet_version": sheet.sheet_version} | sheet.model_dump(mode="json", exclude_defaults=True)
    text = json.dumps(data, ensure_ascii=False, indent=1) + "\n"
    (sha256,) = keep_files(connection, [text.encode()])
    others = tuple(entry for entry in core.files if entry.path not in _SHEET_FILES)
    return core.model_copy(update={"files": (FileEntry(path=SHEET_FILE, sha256=sha256), *others)})
