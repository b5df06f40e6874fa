"""Builders shared by the tests: the invented gear pump, its evidence, and rule packs changed by a line."""

import shutil
from collections.abc import Mapping
from functools import cache
from itertools import count
from pathlib import Path
from typing import Any

from inspect_app.closing.piece_state import PieceState, piece_state
from inspect_app.model.answer import Answer, PartAnswer
from inspect_app.model.core import Core, CoreRecord
from inspect_app.model.evidence import (
    Decision,
    Evidence,
    Finding,
    Look,
    OutsideReport,
    Reading,
    Sign,
    Test,
    Withdrawal,
    standing,
)
from inspect_app.model.frozen import BuildStandard
from inspect_app.model.pieces import Piece
from inspect_app.model.problems import Problem, Problems
from inspect_app.model.sheet import EngineSheet
from inspect_app.rulebook.book import Rulebook
from inspect_app.rulebook.engine import Engine
from inspect_app.rulebook.load import load_rulebook

PUMP = Path(__file__).parent / "packs" / "gear_pump"
_numbers = count(1)


@cache
def pump_book() -> Rulebook:
    """The pump's rule pack as it is in the tests."""
    return load_rulebook(PUMP)


def changed_pack(tmp_path: Path, changes: Mapping[str, str] | None = None, **added: str) -> Path:
    """A copy of the pump's pack with text replaced (each must be there) and files added by name."""
    folder = tmp_path / "pack"
    shutil.copytree(PUMP, folder)
    for old, new in (changes or {}).items():
        hit = [path for path in sorted(folder.glob("*.toml")) if old in path.read_text()]
        assert hit, f"nothing to replace: {old}"
        for path in hit:
            path.write_text(path.read_text().replace(old, new))
    for name, text in added.items():
        (folder / f"{name}.toml").write_text(text)
    return folder


def problems_of(folder: Path, *overlays: Path) -> list[Problem]:
    """Everything the loader says against a pack; [] if it loads."""
    try:
        load_rulebook(folder, overlays)
    except Problems as problems:
        return list(problems.items)
    return []


def pump_sheet(**changes: Any) -> EngineSheet:
    """A sheet of the pump: 40 mm pockets, 18 mm journals, gears and shafts called driver and driven."""
    usual: dict[str, Any] = {
        "id": "pump-40",
        "title": "Pump 40",
        "source": "invented",
        "counts": {"gears": 2, "bushings": 4, "journals": 2},
        "names": {"gears": ("driver", "driven")},
        "materials": {"housing": "aluminium", "cover": "aluminium", "gear": "steel", "shaft": "steel"},
        "quantities": {
            "pocket.diameter": {"nominal": "40.00 mm"},
            "journal.diameter": {"nominal": "18.00 mm"},
        },
    }
    return EngineSheet.model_validate(usual | changes)


@cache
def pump_engine() -> Engine:
    """The pump's pack bound to its usual sheet."""
    return Engine(pump_book(), pump_sheet())


def _common(kind: str, given: dict[str, Any]) -> dict[str, Any]:
    usual = {
        "who": "A. Tester",
        "when": "2026-03-02",
        "stage": "bench",
        "state": "washed",
        "piece": "housing",
    }
    return usual | {"id": f"{kind}-{next(_numbers)}"} | given


def look(*places: str, **given: Any) -> Look:
    return Look.model_validate({"method": "eye", "places": places or ("*",)} | _common("look", given))


def finding(damage: str, place: str, strength: str = "seen", **given: Any) -> Finding:
    return Finding.model_validate(
        {"damage": damage, "place": place, "strength": strength} | _common("finding", given)
    )


def trial(method: str, *places: str, **given: Any) -> Test:
    fields = {"method": method, "places": places or ("*",), "outcome": "nothing_found"}
    return Test.model_validate(fields | _common("test", given))


def reading(quantity: str, place: str, value: str, spot: str = "", **given: Any) -> Reading:
    """A reading in mm; `spot` is "station" or "station direction"."""
    station, _, direction = spot.partition(" ")
    fields = {"quantity": quantity, "place": place, "station": station, "direction": direction}
    return Reading.model_validate(fields | {"value": value, "unit": "mm"} | _common("reading", given))


def report(says: str, grounds: str = "", **given: Any) -> OutsideReport:
    return OutsideReport.model_validate({"says": says, "grounds": grounds} | _common("report", given))


def sign(name: str, answer: str, **given: Any) -> Sign:
    return Sign.model_validate({"sign": name, "answer": answer} | _common("sign", given))


def decision(what: str, rule: str, place: str = "*", **given: Any) -> Decision:
    fields = {"decision": what, "rule": rule, "place": place, "reason": "seen before"}
    return Decision.model_validate(fields | _common("decision", given))


def withdrawal(of: str, **given: Any) -> Withdrawal:
    fields = {"of": of, "reason": "mistyped", "who": "A. Tester", "when": "2026-03-02", "stage": "bench"}
    return Withdrawal.model_validate(fields | {"id": f"withdrawal-{next(_numbers)}"} | given)


def pocket(place: str, worn: str, unworn: str = "40.000", **given: Any) -> list[Reading]:
    """Both worn stations of a pocket and the one that nothing rubs."""
    spots = {"inlet": worn, "outlet": worn, "unworn": unworn}
    return [
        reading("diameter", place, value, spot, **_gauged("bore-gauge", given))
        for spot, value in spots.items()
    ]


def journal(place: str, across: str, along: str, **given: Any) -> list[Reading]:
    """Front and rear of a journal, the same in both."""
    spots = {
        f"{station} {way}": v
        for station in ("front", "rear")
        for way, v in (("across", across), ("along", along))
    }
    usual = _gauged("outside-micrometer", {"piece": "shaft driver"} | given)
    return [reading("diameter", place, value, spot, **usual) for spot, value in spots.items()]


def _gauged(gauge: str, given: dict[str, Any]) -> dict[str, Any]:
    return {"gauge": gauge} | given


def state_of(
    position: str,
    *items: Evidence,
    standard: BuildStandard = "rebuild",
    engine: Engine | None = None,
    piece: Piece | None = None,
) -> PieceState:
    """The rules' word on one piece of the pump, with this evidence on it (and no other)."""
    bound = engine or pump_engine()
    sits = piece or Piece(id=position, position=position)
    return piece_state(bound, bound.positions[position], sits, standing(items), standard)


def make_core(
    *items: Evidence, standard: BuildStandard = "rebuild", pieces: tuple[Piece, ...] = (), **record: Any
) -> Core:
    """A pump on the bench with this evidence; `record` goes into its core record."""
    return Core(
        id="pump-1",
        title="Pump 1",
        stage="bench",
        build_standard=standard,
        record=CoreRecord.model_validate(record),
        pieces=pieces,
        evidence=items,
    )


def part_of(answer: Answer, position: str) -> PartAnswer:
    return next(part for part in answer.parts if part.position == position)


STATES = {(True, True): "met", (False, True): "open", (False, False): "not met"}
WAYS = {(True, True): "closed", (False, True): "open", (False, False): "proven"}


def said(state: PieceState, rule: str, place: str = "") -> str:
    """What a rule says at a place: met, open or not met."""
    (answer,) = {
        STATES[bool(row.pair.must[index]), bool(row.pair.may[index])]
        for row in state.rows
        if row.rule.id == rule
        for index, where in enumerate(row.places)
        if str(where) == place
    }
    return answer


def ways_of(state: PieceState) -> dict[str, str]:
    """The ways of the piece's one concern, lowest first: closed, open or proven."""
    (ladder,) = state.real.ladders
    names = [way.size or way.form.id for way in ladder.ways]
    return {name: WAYS[bool(must), bool(may)] for name, (must, may) in zip(names, ladder.closed, strict=True)}


def engine_with(tmp_path: Path, changes: Mapping[str, str] | None = None, **added: str) -> Engine:
    """The pump with its pack changed as in `changed_pack`."""
    return Engine(load_rulebook(changed_pack(tmp_path, changes, **added)), pump_sheet())
