"""An invented inline four put together: its sheet, and readings of the fits written one line each."""

from functools import cache
from itertools import count
from pathlib import Path
from typing import Any

from inspect_app.judge import fit_check
from inspect_app.model.core import Core
from inspect_app.model.evidence import Reading
from inspect_app.model.fit_answer import Fit, FitAnswer
from inspect_app.model.frozen import BuildStandard
from inspect_app.model.sheet import EngineSheet
from inspect_app.rulebook.book import Rulebook
from inspect_app.rulebook.engine import Engine
from inspect_app.rulebook.load import load_rulebook

RULES = Path(__file__).parents[2] / "rules"
COUNTS = {"cylinders": 4, "mains": 5, "rod_journals": 4, "heads": 1}
VEE = {"cylinders": 6, "mains": 4, "rod_journals": 3, "heads": 2}
MICROMETER = "outside micrometer"
SEAT = ("caps torqued", "no shells")
SHELLS = ("caps torqued", "shells in")
BOLTED = ("bolts torqued", "shells in")
_numbers = count(1)


@cache
def book() -> Rulebook:
    """The shipped rules."""
    return load_rulebook(RULES)


def sheet(rows: dict[str, dict[str, Any]] | None = None, **changes: Any) -> EngineSheet:
    """A sheet with a few nominal sizes and `rows` beside them."""
    usual = {
        "bore.diameter": {"nominal": "3.5000 in", "sizes": ["0.020 in", "0.030 in"]},
        "main_journal.diameter": {"nominal": "2.5000 in"},
        "rod_journal.diameter": {"nominal": "2.1000 in"},
    }
    fields: dict[str, Any] = {
        "id": "fitted",
        "title": "Fitted",
        "source": "invented",
        "counts": COUNTS,
        "materials": {"block": "cast iron", "crankshaft": "nodular iron"},
        "quantities": usual | (rows or {}),
    }
    return EngineSheet.model_validate(fields | changes)


def read(piece: str, quantity: str, place: str, value: str, **more: Any) -> Reading:
    """One reading in inches on a washed piece; `more` names gauge, station, direction, conditions."""
    fields: dict[str, Any] = {
        "id": f"fit-{next(_numbers)}",
        "who": "A. Tester",
        "when": "2026-11-20",
        "stage": "fit_check",
        "piece": piece,
        "state": "washed",
        "quantity": quantity,
        "place": place,
        "value": value,
        "unit": "in",
    }
    return Reading.model_validate(fields | more)


def journal(place: str, size: str, **more: Any) -> list[Reading]:
    """A round and straight journal: all four slots of one size."""
    return [
        read("crankshaft", "diameter", place, size, station=s, direction=d, gauge=MICROMETER, **more)
        for s in ("front", "rear")
        for d in ("vertical", "horizontal")
    ]


def seat(place: str, size: str, rear: str = "") -> list[Reading]:
    """A bearing seat read upright at both ends, caps torqued, without shells."""
    return [
        read("block", "diameter", place, value, station=s, direction="vertical", gauge="dial bore gauge",
             conditions=SEAT)
        for s, value in (("front", size), ("rear", rear or size))
    ]  # fmt: skip


def checked(
    *items: Reading,
    rows: dict[str, dict[str, Any]] | None = None,
    standard: BuildStandard = "rebuild",
    **changes: Any,
) -> FitAnswer:
    """The fit check of the engine with these readings and these rows on its sheet."""
    core = Core(id="fitted", title="Fitted", stage="fit_check", build_standard=standard, evidence=items)
    return fit_check(core, Engine(book(), sheet(rows, **changes)))


def fit_of(answer: FitAnswer, fit: str, place: str) -> Fit:
    """The one fit of this name whose place ends so."""
    (found,) = [f for f in answer.fits if f.fit == fit and f.place.endswith(place)]
    return found
