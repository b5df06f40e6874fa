"""A sound inline-six on the shipped rules, fully evidenced, for tests that take things away."""

from functools import cache
from itertools import count
from typing import Any

from inspect_app.judge import judge
from inspect_app.model.answer import Answer
from inspect_app.model.core import Core
from inspect_app.model.evidence import Evidence, Finding, Look, Reading, Test
from inspect_app.model.pieces import Mark, Piece
from inspect_app.model.sheet import EngineSheet
from inspect_app.rulebook.book import Rulebook
from inspect_app.rulebook.engine import Engine
from inspect_app.rulebook.load import load_rulebook
from inspect_app.shipped import shipped
from tests.sound_parts import SHEET_ROWS, piston_mark, piston_readings, rod_readings

CYLINDERS, MAINS = 6, 7
COMMON: dict[str, Any] = {"who": "A.T.", "when": "2026-11-20", "stage": "bench", "state": "washed"}


@cache
def book() -> Rulebook:
    return load_rulebook(shipped("rules"))


def sheet(**changes: Any) -> EngineSheet:
    data: dict[str, Any] = {
        "id": "six",
        "title": "Inline-six of the tests",
        "source": "made for the tests",
        "counts": {"cylinders": CYLINDERS, "mains": MAINS, "rod_journals": CYLINDERS, "heads": 1},
        "materials": {
            "block": "cast iron",
            "crankshaft": "nodular iron",
            "rod": "forged steel",
            "piston": "aluminium",
            "cylinder_head": "cast iron",
        },
        "quantities": {
            "bore.diameter": {"nominal": "3.5000 in", "sizes": ["0.020 in", "0.030 in", "0.040 in"]},
            "main_journal.diameter": {"nominal": "2.5000 in", "sizes": ["0.010 in", "0.020 in"]},
            "rod_journal.diameter": {"nominal": "2.0000 in", "sizes": ["0.010 in", "0.020 in"]},
            "main_web.diameter": {"minimum": "2.6920 in", "maximum": "2.6930 in"},
            **SHEET_ROWS,
        },
    }
    return EngineSheet.model_validate(data | changes)


@cache
def engine() -> Engine:
    return Engine(book(), sheet())


def look(id_: str, piece: str, method: str = "eye", places: tuple[str, ...] = ("*",)) -> Look:
    return Look(id=id_, piece=piece, method=method, places=places, **COMMON)


def clean_test(id_: str, piece: str, method: str, places: tuple[str, ...] = ("*",)) -> Test:
    return Test(id=id_, piece=piece, method=method, places=places, outcome="nothing_found", **COMMON)


def confirmed_crack(place: str, test: str = "t", method: str = "magnetic particle") -> list[Evidence]:
    """A crack of the crankshaft at `place`, and the test of the whole piece that confirmed it."""
    found = Test(id=test, piece="crankshaft", method=method, places=("*",), outcome="found", **COMMON)
    crack = Finding(
        id="crack",
        piece="crankshaft",
        damage="crack",
        place=place,
        strength="confirmed",
        test=test,
        **COMMON,
    )
    return [found, crack]


def reading(id_: str, piece: str, quantity: str, place: str, value: str, **more: Any) -> Reading:
    data = {"unit": "in", "session": "s1"} | more
    return Reading(id=id_, piece=piece, quantity=quantity, place=place, value=value, **data, **COMMON)


def pieces() -> tuple[Piece, ...]:
    """Crankshaft and pistons are at standard size: nothing is stamped on them but that."""
    marks = (
        Mark(text="no stamp: standard", quantity="diameter", place="main_journal *", size="0 in"),
        Mark(text="no stamp: standard", quantity="diameter", place="rod_journal *", size="0 in"),
    )
    standard = (Mark.model_validate(piston_mark()),)
    pistons = [f"piston {number}" for number in range(1, CYLINDERS + 1)]
    return (
        Piece(id="crankshaft", position="crankshaft", marks=marks),
        *(Piece(id=name, position=name, marks=standard) for name in pistons),
    )


def readings() -> list[Evidence]:
    """Every slot that the rules ask for: hardly worn."""
    found: list[Evidence] = []
    number = count(1)
    for cylinder in range(1, CYLINDERS + 1):
        for direction in ("across", "along"):
            for station, value in (
                ("top", "3.5004"),
                ("middle", "3.5003"),
                ("bottom", "3.5001"),
                ("below", "3.5000"),
            ):
                slot = {"station": station, "direction": direction, "gauge": "dial bore gauge"}
                found.append(
                    reading(f"r{next(number)}", "block", "diameter", f"bore {cylinder}", value, **slot)
                )
    for kind, total, value in (("main_journal", MAINS, "2.4999"), ("rod_journal", CYLINDERS, "1.9999")):
        for index in range(1, total + 1):
            for station in ("front", "rear"):
                for direction in ("vertical", "horizontal"):
                    slot = {"station": station, "direction": direction, "gauge": "outside micrometer"}
                    found.append(
                        reading(
                            f"r{next(number)}", "crankshaft", "diameter", f"{kind} {index}", value, **slot
                        )
                    )
    found.append(reading("runout", "crankshaft", "runout", "centre_line", "0.0004", gauge="dial indicator"))
    found += seats() + sound_rods_and_pistons()
    found += flat("block", "deck 1", "0.001") + flat("cylinder_head 1", "head_face", "0.001")
    return found


def seats() -> list[Evidence]:
    """Every main bearing seat, caps torqued and no shells in: round and in the middle of its range."""
    return [
        reading(
            f"seat {web} {station} {direction}", "block", "diameter", f"main_web {web}", "2.6925",
            station=station, direction=direction, gauge="dial bore gauge",
            conditions=("caps torqued", "no shells"),
        )
        for web in range(1, MAINS + 1)
        for station in ("front", "rear")
        for direction in ("vertical", "plus_45", "minus_45")
    ]  # fmt: skip


def sound_rods_and_pistons() -> list[Evidence]:
    return [
        Reading(id=f"{piece} {index}", piece=piece, unit="in", session="s1", **fields, **COMMON)
        for number in range(1, CYLINDERS + 1)
        for piece, found in ((f"rod {number}", rod_readings()), (f"piston {number}", piston_readings()))
        for index, fields in enumerate(found, 1)
    ]


def flat(piece: str, place: str, stops: str) -> list[Evidence]:
    """A face on which a leaf of this thickness passes nowhere under the straightedge."""
    lines = ("front", "rear", "left", "right", "diagonal_1", "diagonal_2")
    return [
        reading(
            f"{piece} {place} {line}", piece, "edge_gap", place, stops, station=line, direction="stops",
            gauge="straightedge and feeler",
        )
        for line in lines
    ]  # fmt: skip


def looks_and_tests() -> list[Evidence]:
    found: list[Evidence] = []
    parts = ["block", "crankshaft", "cylinder_head 1"]
    parts += [f"{part} {i}" for part in ("rod", "piston") for i in range(1, CYLINDERS + 1)]
    for piece in parts:
        found.append(look(f"look-{piece}", piece))
        method = "dye penetrant" if piece.startswith("piston") else "magnetic particle"
        found.append(clean_test(f"crack-{piece}", piece, method))
    found += [
        clean_test("pressure-block", "block", "pressure test"),
        clean_test("pressure-head", "cylinder_head 1", "pressure test"),
    ]
    found.append(look("line-block", "block", "straightedge"))
    return found


def core(evidence: list[Evidence] | None = None, **changes: Any) -> Core:
    data: dict[str, Any] = {
        "id": "six",
        "title": "Six",
        "stage": "bench",
        "build_standard": "rebuild",
        "record": {"value_built": 4000, "value_in_parts": 300},
        "pieces": pieces(),
        "evidence": tuple(looks_and_tests() + readings() if evidence is None else evidence),
    }
    return Core.model_validate(data | changes)


def answer(evidence: list[Evidence] | None = None, **changes: Any) -> Answer:
    return judge(core(evidence, **changes), engine())
