"""Read a rule pack and its overlays from folders of TOML: all errors at once, or a checked Rulebook."""

import hashlib
import tomllib
from collections.abc import Sequence
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

from pydantic import ValidationError

from inspect_app.model.answer import OverlayUsed
from inspect_app.model.frozen import Frozen
from inspect_app.model.problems import Problem, from_validation, raise_if_any

from .book import SINGLE, TABLES, Rulebook, Where
from .check import check

Entries = dict[str, dict[str, Any]]
PRICE_FILES = "prices.toml"
_NO_PACK = "Add one, or name a folder of your own rules with --overlay beside a whole pack."


def load_rulebook(folder: Path, overlays: Sequence[Path] = ()) -> Rulebook:
    """The pack in `folder`, entries replaced by id from each overlay in turn, checked as a whole.

    Raises Problems with every error of every file: where it stands and what to write instead.
    """
    intake = _Intake()
    intake.read(folder, "")
    for overlay in overlays:
        intake.read(overlay, overlay.name)
    for table in SINGLE:
        if not intake.entries[table] and not intake.problems:
            advice = "Add one." if intake.entries["pack"] else _NO_PACK
            intake.problems.append(Problem(str(folder), f"no file has a [{table}] table.", advice))
    raise_if_any(intake.problems)
    book = _assemble(intake, folder, overlays)
    raise_if_any(check(book))
    return book


@dataclass
class _Intake:
    """What has been read so far, and everything found wrong with it."""

    entries: Entries = field(default_factory=lambda: {table: {} for table in TABLES})
    where: dict[tuple[str, str], Where] = field(default_factory=dict)
    problems: list[Problem] = field(default_factory=list)

    def note(self, where: str, what: str, advice: str) -> None:
        self.problems.append(Problem(where, what, advice))

    def read(self, folder: Path, overlay: str) -> None:
        found = sorted(folder.glob("*.toml"))
        if not found:
            self.note(str(folder), "there are no .toml files here.", "Name a folder of rules.")
        for path in found:
            self._read_file(path, overlay)

    def _read_file(self, path: Path, overlay: str) -> None:
        try:
            data = tomllib.loads(path.read_text(encoding="utf-8"))
        except (tomllib.TOMLDecodeError, UnicodeDecodeError) as error:
            self.note(path.name, f"this is not TOML: {error}.", "Mend the line named.")
            return
        for table, rows in data.items():
            if table not in TABLES:
                what = f'"{table}" is no table of a rule file.'
                self.note(path.name, what, f"Use one of {', '.join(TABLES)}.")
                continue
            for number, row in enumerate(rows if isinstance(rows, list) else [rows], 1):
                self._read_row(Where(path.name, overlay), table, number, row)

    def _read_row(self, here: Where, table: str, number: int, row: Any) -> None:
        named = row if isinstance(row, dict) else {}
        name = named.get("id", named.get("quantity", f"number {number}"))
        try:
            form = TABLES[table].model_validate(row)
        except ValidationError as error:
            self.problems.extend(from_validation(error, f"{here.file}, {table} {name}"))
            return
        for key in _keys(table, form):
            twin = self.where.get((table, key))
            if twin is not None and twin.overlay == here.overlay:
                what = f"this id stands already in {twin.file}."
                self.note(f"{here.file}, {table} {key}", what, "Give each entry its own id.")
            self.entries[table][key] = form
            self.where[(table, key)] = here


def _keys(table: str, form: Frozen) -> list[str]:
    if table in SINGLE:
        return [table]
    if table in ("quantity", "limit"):
        name = getattr(form, "id", None) or getattr(form, "quantity", "")
        return [f"{kind}.{name}" for kind in getattr(form, "each", ())]
    return [getattr(form, "id", "")]


def _pairs(forms: dict[str, Any]) -> dict[tuple[str, str], Any]:
    """ "kind.quantity" keys as (quantity, kind)."""
    return {(key.partition(".")[2], key.partition(".")[0]): form for key, form in forms.items()}


def _assemble(intake: _Intake, folder: Path, overlays: Sequence[Path]) -> Rulebook:
    entries = intake.entries
    return Rulebook(
        pack=entries["pack"]["pack"],
        price_book=entries["price_book"]["price_book"],
        counts=entries["count"],
        parts=entries["part"],
        quantities=_pairs(entries["quantity"]),
        damage=entries["damage"],
        methods=entries["method"],
        materials=entries["material"],
        conditions=entries["condition"],
        gauges=entries["gauge"],
        operations=entries["operation"],
        limits=_pairs(entries["limit"]),
        fits=entries["fit"],
        effects=entries["effect"],
        rules=entries["rule"],
        unruled=entries["unruled"],
        couplings=entries["coupling"],
        signs=entries["sign"],
        reports=entries["report"],
        prices=entries["price"],
        core_lines=entries["core_line"],
        cautions=entries["caution"],
        where=intake.where,
        sha256=_digest(path for path in sorted(folder.glob("*.toml")) if path.name != PRICE_FILES),
        prices_sha256=_digest(
            path for source in (folder, *overlays) for path in sorted(source.glob(PRICE_FILES))
        ),
        overlays=tuple(
            OverlayUsed(id=source.name, sha256=_digest(sorted(source.glob("*.toml")))) for source in overlays
        ),
    )


def _digest(paths: Any) -> str:
    total = hashlib.sha256()
    for path in paths:
        total.update(path.name.encode() + b"\0" + path.read_bytes() + b"\0")
    return total.hexdigest()
