"""Builders for the checks against outside sources: the manual's folder, its readings changed by a row."""

import csv
import shutil
import subprocess
import sys
from collections.abc import Iterable, Mapping, Sequence
from decimal import Decimal
from functools import cache
from hashlib import sha256
from pathlib import Path

from inspect_app.bundle import add_readings, judge_folder
from inspect_app.bundle.folder import SHEET_FILE, write_core
from inspect_app.model.answer import Answer, Closed, PartAnswer
from inspect_app.model.answer_figures import WayTaken
from inspect_app.model.core import Core, FileEntry
from inspect_app.model.evidence import Evidence, Reading
from inspect_app.model.sheet import EngineSheet
from inspect_app.rulebook.book import Rulebook
from inspect_app.rulebook.load import load_rulebook
from inspect_app.shipped import shipped
from tests.judge import six

MANUAL = Path(__file__).parent / "tm_10_3930_653_14p"
Spot = tuple[str, str, str]
"""Place, station and direction of a reading."""


def command(*arguments: str | Path) -> str:
    """Run the program as a person does; its standard output, or its words of complaint as a failure."""
    done = subprocess.run(
        [sys.executable, "-m", "inspect_app", *map(str, arguments)],
        capture_output=True,
        text=True,
        check=False,
    )
    assert done.returncode == 0, done.stderr
    return done.stdout


def manual_rows() -> list[dict[str, str]]:
    """The rows of the manual engine's readings.csv."""
    with (MANUAL / "readings.csv").open(encoding="utf-8", newline="") as file:
        return list(csv.DictReader(file))


def with_values(rows: Sequence[Mapping[str, str]], values: Mapping[Spot, str]) -> list[dict[str, str]]:
    """The rows with other values at some spots; every spot must be among them."""
    changed = [dict(row) for row in rows]
    at = {(row["place"], row["station"], row["direction"]): row for row in changed}
    for spot, value in values.items():
        at[spot]["value"] = value
    return changed


def copied(tmp_path: Path, values: Mapping[Spot, str]) -> tuple[Path, Path]:
    """A copy of the manual engine's folder, and beside it its readings.csv with some values changed."""
    folder, source = tmp_path / "core", tmp_path / "readings.csv"
    shutil.copytree(MANUAL, folder)
    rows = with_values(manual_rows(), values)
    with source.open("w", encoding="utf-8", newline="") as file:
        table = csv.DictWriter(file, rows[0].keys())
        table.writeheader()
        table.writerows(rows)
    return folder, source


def judge_by_command(tmp_path: Path, values: Mapping[Spot, str]) -> Answer:
    """Copy, `import` and `judge`, as a person does at the command line."""
    folder, source = copied(tmp_path, values)
    command("import", folder, "--readings", source)
    return Answer.model_validate_json(command("judge", folder, "--json"))


def judge_manual(tmp_path: Path, values: Mapping[Spot, str]) -> Answer:
    """The same as `judge_by_command`, without starting Python twice and reading the rules again."""
    folder, source = copied(tmp_path, values)
    add_readings(folder, source, shipped_book())
    return judge_folder(folder, shipped_book())


def judge_written(tmp_path: Path, core: Core, sheet: EngineSheet) -> Answer:
    """Write the core's folder as the program keeps it, then read, check and judge that folder."""
    folder = tmp_path / "core"
    folder.mkdir(parents=True)
    text = sheet.model_dump_json(exclude_defaults=True)
    (folder / SHEET_FILE).write_text(text, encoding="utf-8")
    listed = FileEntry(path=SHEET_FILE, sha256=sha256(text.encode("utf-8")).hexdigest())
    write_core(folder, core.model_copy(update={"files": (listed,)}))
    return judge_folder(folder, shipped_book())


def resized(items: Sequence[Evidence], kind: str, by: str, values: Mapping[Spot, str]) -> list[Evidence]:
    """The items, each diameter at a place of `kind` changed by `by`, or as `values` say at its spot.

    Every spot of `values` must have been read.
    """
    unused, changed = dict(values), list[Evidence]()
    for item in items:
        if isinstance(item, Reading) and item.quantity == "diameter" and item.place.startswith(f"{kind} "):
            spot = (item.place, item.station, item.direction)
            value = unused.pop(spot, str(Decimal(item.value) + Decimal(by)))
            item = item.model_copy(update={"value": value})
        changed.append(item)
    assert not unused, f"never read: {unused}"
    return changed


def walls(thickness: str) -> list[Evidence]:
    """The wall of every bore of the inline-six, in inch, on each side."""
    gauge = "ultrasonic thickness gauge"
    return [
        six.reading(f"wall {n} {side}", "block", "wall", f"bore {n}", thickness, direction=side, gauge=gauge)
        for n in range(1, six.CYLINDERS + 1)
        for side in ("thrust", "anti_thrust", "front", "rear")
    ]


def worn_out(bores: Iterable[int], top: str = "3.5450") -> list[Evidence]:
    """The sound six with bores worn at the top, as given by 0.045 in: past the largest listed size, 0.040.

    Walls are read, and thick enough for a sleeve.
    """
    worn = {f"bore {number}" for number in bores}
    return [
        item.model_copy(update={"value": top})
        if isinstance(item, Reading) and item.station == "top" and item.place in worn
        else item
        for item in [*six.looks_and_tests(), *six.readings(), *walls("0.250")]
    ]


@cache
def shipped_book() -> Rulebook:
    """The rule pack that comes with the program."""
    return load_rulebook(shipped("rules"))


def part_at(answer: Answer, position: str) -> PartAnswer:
    """The answer of one position."""
    return next(part for part in answer.parts if part.position == position)


def way_of(part: PartAnswer, concern: str) -> WayTaken:
    """The way taken for one concern of a piece that stays."""
    return next(way for way in part.ways if way.concern == concern)


def closed_by(part: PartAnswer, rule: str, place: str | None = None) -> list[Closed]:
    """What a rule closes at a position, at one place if one is named."""
    return [one for one in part.closed if one.rule == rule and place in (None, one.place)]
