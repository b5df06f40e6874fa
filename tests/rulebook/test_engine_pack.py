"""The engine rule pack: it loads, its examples hold, its words are plain, whole engines come out right."""

import ast
import re
from collections.abc import Iterable, Iterator
from pathlib import Path
from typing import Any

import pytest

from inspect_app.closing.examples import run_examples
from inspect_app.judge import judge
from inspect_app.model.answer import Answer, PartAnswer
from inspect_app.model.core import Core
from inspect_app.model.sheet import EngineSheet
from inspect_app.rulebook.book import Rulebook
from inspect_app.rulebook.engine import Engine
from inspect_app.rulebook.load import load_rulebook
from tests.sound_parts import SHEET_ROWS, piston_mark, piston_readings, rod_readings

ROOT = Path(__file__).parents[2]
RULES = ROOT / "rules"
MOST_WORDS = 40
PART_WORDS = (
    "crankshaft",
    "crankshafts",
    "crank",
    "piston",
    "pistons",
    "camshaft",
    "cylinder_head",
    "rod",
    "rods",
    "rod_journal",
    "main_journal",
    "main_web",
    "main_cap",
    "cylinders",
    "big_end",
    "crankcase",
)
EXAMPLE_IN_A_MESSAGE = {"inspect_app/model/places.py"}
"""Files whose error message shows how a place is written; they decide nothing by it."""
ALLOWED_BASIS = re.compile(
    r"common practice|judgement|(to run|to freshen|to rebuild|TM \d|;|:| and |, pp?\. [\d-]+)"
)


@pytest.fixture(scope="module")
def book() -> Rulebook:
    return load_rulebook(RULES)


def test_every_example_of_every_rule_holds(book: Rulebook) -> None:
    assert [str(problem) for problem in run_examples(book)] == []


def test_every_rule_has_an_example_in_which_it_is_met(book: Rulebook) -> None:
    assert [r.id for r in book.rules.values() if all(e.then != "met" for e in r.example)] == []


def test_plain_sentences_are_short(book: Rulebook) -> None:
    assert [r.id for r in book.rules.values() if len(r.plain.split()) > MOST_WORDS] == []


def test_plain_sentences_name_no_place(book: Rulebook) -> None:
    assert [r.id for r in book.rules.values() if "{" in r.plain] == []


def test_part_and_place_of_the_brief_are_there(book: Rulebook) -> None:
    assert list(book.parts) == ["block", "crankshaft", "cylinder_head", "piston", "rod"]
    assert [p.id for p in book.parts.values() if p.decides_core] == ["block", "crankshaft"]


def test_prices_stand_in_one_file_alone(book: Rulebook) -> None:
    others = [path for path in RULES.glob("*.toml") if path.name != "prices.toml"]
    assert [p.name for p in others if re.search(r"^\[\[?price(_book)?\]", p.read_text(), re.M)] == []


def test_every_price_named_is_in_the_book_and_used(book: Rulebook) -> None:
    used = set(_price_ids(book))
    assert used == set(book.prices)


def _price_ids(book: Rulebook) -> Iterator[str]:
    for operation in book.operations.values():
        yield from (bill.price for bill in operation.bills)
    for part in book.parts.values():
        yield from (bill.price for source in part.source for bill in source.bills)
        yield from (bill.price for test in part.test for bill in test.bills)
        yield from (p for p in part.salvage.model_dump().values() if p)
    for line in book.core_lines.values():
        yield line.bill.price
    for coupling in book.couplings.values():
        yield from (bill.price for bill in coupling.adds)


ONLY_THE_MAKER = {
    ("largest", "main_web"),
    ("smallest", "main_web"),
    ("height_after", "deck"),
    ("width", "thrust_face"),
    ("largest", "big_end"),
    ("smallest", "big_end"),
    ("largest", "small_end"),
    ("thickness", "head_face"),
    ("thickness_left", "head_face"),
    ("recession", "chamber"),
    ("fillet_radius", "main_journal"),
    ("fillet_radius", "rod_journal"),
}
"""Sizes of one engine that no practice of the trade knows."""


def test_every_past_limit_has_a_limit_in_the_pack_or_can_only_come_from_the_maker(book: Rulebook) -> None:
    asked = {
        (leaf.form.figure, kind)
        for rule in book.rules.values()
        for leaf, _ in book.compiled[rule.id].leaves()
        if getattr(leaf.form, "is_", None)
        for kind in rule.each
    }
    assert asked - set(book.limits) == ONLY_THE_MAKER


def test_every_damage_word_and_method_is_used(book: Rulebook) -> None:
    leaves = [leaf.form for node in book.compiled.values() for leaf, _ in node.leaves()]
    asked = {getattr(form, "finding", None) for form in leaves}
    assert set(book.damage) <= asked
    tested = {getattr(form, "test", None) for form in leaves}
    settling = {method for damage in book.damage.values() for method in damage.settled_by}
    assert set(book.methods) <= tested | settling


def test_every_operation_is_done_by_some_way(book: Rulebook) -> None:
    ways = [w for p in book.parts.values() for c in p.concern for w in (*c.rungs(), c.exception) if w]
    assert {name for way in ways for name in way.does} == set(book.operations)


def test_every_basis_names_practice_judgement_or_a_manual(book: Rulebook) -> None:
    entries = [*book.rules.values(), *book.limits.values(), *book.couplings.values()]
    for entry in entries:
        rest = ALLOWED_BASIS.sub("", entry.basis)
        assert not re.search(r"[a-z]{4,}", rest), entry.basis


def test_no_code_of_evidence_classes_is_left_in_the_pack() -> None:
    for path in RULES.glob("*.toml"):
        text = path.read_text()
        assert not re.search(r"\(?\b[PMKCJ]/[PMKCJ]\b|\bclass [PMKCJ]\b|\bP [AT]\d+|\b[ADGTY]\d{1,2}\b", text)
        assert not re.search(r'(?<![A-Za-z&"])(SC|SA)\b', text)


def test_no_python_file_knows_a_part_of_the_pack() -> None:
    found = []
    for path in (ROOT / "inspect_app").rglob("*.py"):
        if str(path.relative_to(ROOT)) in EXAMPLE_IN_A_MESSAGE:
            continue
        for line, text in _strings_and_names(ast.parse(path.read_text(encoding="utf-8"))):
            found += [
                f"{path.relative_to(ROOT)}:{line} {word}"
                for word in PART_WORDS
                if re.search(rf"(?<![A-Za-z_]){word}(?![A-Za-z_])", text)
            ]
    assert found == []


def _strings_and_names(tree: ast.Module) -> Iterator[tuple[int, str]]:
    """Every string and name of a module that is no docstring; comments are not in the tree at all."""
    documented = (ast.Module, ast.ClassDef, ast.FunctionDef, ast.AsyncFunctionDef)
    docstrings = {
        id(node.body[0].value)
        for node in ast.walk(tree)
        if isinstance(node, documented) and node.body and isinstance(node.body[0], ast.Expr)
    }
    for node in ast.walk(tree):
        if isinstance(node, ast.Constant) and isinstance(node.value, str) and id(node) not in docstrings:
            yield node.lineno, node.value
        elif isinstance(node, ast.Name):
            yield node.lineno, node.id
        elif isinstance(node, ast.Attribute):
            yield node.lineno, node.attr


# ---- whole engines, judged ----

BORE, MAIN, PIN, SEAT = 3.5000, 2.5000, 2.1000, 2.6925
TORQUED = ("caps torqued", "no shells")


def sheet(**changes: Any) -> EngineSheet:
    fields: dict[str, Any] = {
        "id": "four",
        "title": "Four in line",
        "source": "invented",
        "counts": {"cylinders": 4, "mains": 5, "rod_journals": 4, "heads": 1},
        "materials": {
            "block": "cast iron",
            "crankshaft": "nodular iron",
            "rod": "forged steel",
            "piston": "aluminium",
            "cylinder_head": "cast iron",
        },
        "quantities": {
            "bore.diameter": {"nominal": "3.5000 in"},
            "main_journal.diameter": {"nominal": "2.5000 in"},
            "rod_journal.diameter": {"nominal": "2.1000 in"},
            "main_web.diameter": {"minimum": "2.6920 in", "maximum": "2.6930 in"},
            **SHEET_ROWS,
        },
    }
    return EngineSheet.model_validate(fields | changes)


class Bench:
    """Evidence of one engine, written down piece by piece; everything not changed is sound."""

    def __init__(self) -> None:
        self.items: list[dict[str, Any]] = []
        self.pieces: list[dict[str, Any]] = [
            {
                "id": "crankshaft",
                "position": "crankshaft",
                "marks": [
                    {"text": "STD", "quantity": "diameter", "place": f"{kind} *", "size": "0 in"}
                    for kind in ("main_journal", "rod_journal")
                ],
            },
            *(
                {"id": f"piston {i}", "position": f"piston {i}", "marks": [piston_mark()]}
                for i in range(1, 5)
            ),
        ]

    def add(self, kind: str, piece: str, **fields: Any) -> None:
        common = {"id": f"e{len(self.items)}", "who": "A", "when": "2026-11-20", "stage": "bench"}
        self.items.append({"kind": kind, "piece": piece, "state": "washed", **common, **fields})

    def look(self, piece: str, method: str = "eye") -> None:
        self.add("look", piece, places=["*"], method=method)

    def test(self, piece: str, method: str) -> None:
        self.add("test", piece, places=["*"], method=method, outcome="nothing_found")

    def read(self, piece: str, quantity: str, place: str, value: float, **slot: Any) -> None:
        gauge = {"edge_gap": "straightedge and feeler", "runout": "dial indicator"}.get(
            quantity, "outside micrometer" if piece == "crankshaft" else "dial bore gauge"
        )
        self.add("reading", piece, quantity=quantity, place=place, value=f"{value:.4f}", unit="in",
                 gauge=gauge, session="1", **slot)  # fmt: skip

    def bore(self, number: int, top: float = 0.001, below: float = 0.0) -> None:
        for station, over in (("top", top), ("middle", top / 2), ("bottom", top / 4), ("below", below)):
            for direction in ("across", "along"):
                self.read(
                    "block", "diameter", f"bore {number}", BORE + over, station=station, direction=direction
                )

    def journals(self, kind: str, count: int, size: float, under: dict[int, float] | None = None) -> None:
        for number in range(1, count + 1):
            for station in ("front", "rear"):
                for direction in ("vertical", "horizontal"):
                    worn = (under or {}).get(number, 0.0002)
                    self.read("crankshaft", "diameter", f"{kind} {number}", size - worn,
                              station=station, direction=direction)  # fmt: skip

    def seat(self, number: int, sizes: dict[tuple[str, str], float]) -> None:
        """One main bearing seat; every size that is not given is in the middle of its range."""
        for station in ("front", "rear"):
            for direction in ("vertical", "plus_45", "minus_45"):
                self.read(
                    "block", "diameter", f"main_web {number}", sizes.get((station, direction), SEAT),
                    station=station, direction=direction, conditions=TORQUED,
                )  # fmt: skip

    def looked_and_tested(self) -> None:
        irons = ["block", "crankshaft", "cylinder_head 1", *(f"rod {i}" for i in range(1, 5))]
        for piece in irons:
            self.look(piece)
            self.test(piece, "magnetic particle")
        for number in range(1, 5):
            self.look(f"piston {number}")
            self.test(f"piston {number}", "dye penetrant")
        for piece in ("block", "cylinder_head 1"):
            self.test(piece, "pressure test")
        self.look("block", "straightedge")

    def measured(self, tops: dict[int, float] | None = None, pins: dict[int, float] | None = None) -> None:
        for number in range(1, 5):
            self.bore(number, (tops or {}).get(number, 0.001))
        self.journals("main_journal", 5, MAIN)
        self.journals("rod_journal", 4, PIN, pins)
        for number in range(1, 6):
            self.seat(number, {})
        for piece, face in (("block", "deck 1"), ("cylinder_head 1", "head_face")):
            for line in ("front", "rear", "left", "right", "diagonal_1", "diagonal_2"):
                self.read(piece, "edge_gap", face, 0.001, station=line, direction="stops")
        self.read("crankshaft", "runout", "centre_line", 0.0005)
        for number in range(1, 5):
            self.part_read(f"rod {number}", rod_readings())
            self.part_read(f"piston {number}", piston_readings())

    def part_read(self, piece: str, found: Iterable[dict[str, Any]]) -> None:
        for fields in found:
            self.add("reading", piece, unit="in", session="1", **fields)

    def judged(self, book: Rulebook, **changes: Any) -> Answer:
        core = {
            "id": "c",
            "title": "C",
            "stage": "bench",
            "build_standard": "rebuild",
            "record": {"value_built": 6000},
            "pieces": self.pieces,
            "evidence": self.items,
        }
        return judge(Core.model_validate(core), Engine(book, sheet(**changes)))


def sound(tops: dict[int, float] | None = None, pins: dict[int, float] | None = None) -> Bench:
    bench = Bench()
    bench.looked_and_tested()
    bench.measured(tops, pins)
    return bench


def part(answer: Answer, position: str) -> PartAnswer:
    return next(p for p in answer.parts if p.position == position)


def ways(answer: Answer, position: str) -> dict[str, str]:
    return {w.concern: w.size or w.way for w in part(answer, position).ways}


def test_a_sound_engine_is_reused_and_nothing_is_open(book: Rulebook) -> None:
    answer = sound().judged(book)
    assert {p.position: (p.verdict, p.standing) for p in answer.parts} == {
        p.position: ("reuse", "settled") for p in answer.parts
    }
    assert [(p.position, o.what, o.place) for p in answer.parts for o in p.open_points] == []
    assert answer.core.verdict == "build"


def test_nothing_seen_is_not_judged(book: Rulebook) -> None:
    answer = Bench().judged(book)
    assert {p.verdict for p in answer.parts} == {None}
    assert answer.core.verdict is None


def test_one_worn_bore_bores_all_and_buys_pistons_without_asking_for_the_wall(book: Rulebook) -> None:
    answer = sound({2: 0.007, 1: 0.006, 3: 0.006, 4: 0.006}).judged(book)
    assert ways(answer, "block")["bores"] == "0.020 in"
    assert part(answer, "block").verdict == "recondition"
    assert part(answer, "block").standing == "settled"
    assert part(answer, "piston 1").verdict == "replace"
    assert part(answer, "piston 1").grounds == "coupling"


def test_a_larger_size_waits_for_the_wall_reading(book: Rulebook) -> None:
    answer = sound(dict.fromkeys(range(1, 5), 0.018)).judged(book)
    assert ways(answer, "block")["bores"] == "0.030 in"
    assert part(answer, "block").standing == "provisional"
    assert any("wall" in o.what for o in part(answer, "block").open_points)


def test_one_bore_beyond_the_largest_size_is_sleeved(book: Rulebook) -> None:
    answer = sound({3: 0.060}).judged(book)
    taken = next(w for w in part(answer, "block").ways if w.concern == "bores")
    assert (taken.way, taken.except_at) == ("hone", ("bore 3",))


def test_all_bores_beyond_the_largest_size_give_the_block_up(book: Rulebook) -> None:
    answer = sound(dict.fromkeys(range(1, 5), 0.060)).judged(book)
    assert part(answer, "block").verdict == "replace"
    assert part(answer, "block").grounds == "evidence"


def test_a_worn_pin_grinds_the_pins_and_leaves_the_mains(book: Rulebook) -> None:
    answer = sound(pins={2: 0.0025}).judged(book)
    assert ways(answer, "crankshaft")["pins"] == "0.010 in"
    assert ways(answer, "crankshaft")["mains"] == "polish"


def test_a_fillet_crack_ends_the_crankshaft_whatever_its_size(book: Rulebook) -> None:
    bench = sound()
    bench.add("test", "crankshaft", places=["rod_journal 2"], method="magnetic particle", outcome="found")
    bench.add("finding", "crankshaft", damage="crack", place="rod_journal 2/fillet/front",
              strength="confirmed", test=bench.items[-1]["id"])  # fmt: skip
    answer = bench.judged(book)
    assert part(answer, "crankshaft").verdict == "replace"
    assert part(answer, "crankshaft").closed[0].rule == "crack-in-journal-fillet"


def test_a_cheaper_crankshaft_of_another_kind_is_weighed_with_its_rods(book: Rulebook) -> None:
    bench = sound()
    bench.add("finding", "crankshaft", damage="broken", place="outside/web", strength="seen")
    kinds = {
        "crankshaft": {"fitted": "wide pin", "others": ["narrow pin"]},
        "rod": {"fitted": "wide pin", "others": ["narrow pin"]},
    }
    answer = bench.judged(book, kinds=kinds)
    other = next(o for o in part(answer, "crankshaft").options if o.kind == "narrow pin")
    assert {f.position for f in other.forces} == {f"rod {i}" for i in range(1, 5)}
    assert part(answer, "crankshaft").kind == "wide pin"
    assert part(answer, "rod 1").verdict == "reuse"


def test_milling_both_faces_asks_for_a_thicker_gasket(book: Rulebook) -> None:
    bench = sound()
    bench.add("finding", "block", damage="erosion", place="deck 1", strength="seen")
    bench.add("finding", "cylinder_head 1", damage="erosion", place="head_face/water_hole", strength="seen")
    lines = {line.line for line in bench.judged(book).bill}
    assert book.prices["thicker-head-gasket"].title in lines


def test_a_maker_who_allows_less_than_both_cuts_lets_only_one_face_be_milled(book: Rulebook) -> None:
    bench = sound()
    bench.add("finding", "block", damage="erosion", place="deck 1", strength="seen")
    bench.add("finding", "cylinder_head 1", damage="erosion", place="head_face/water_hole", strength="seen")
    quantities = sheet().model_dump()["quantities"] | {"deck.stack_removed": {"maximum": "0.008 in"}}
    answer = bench.judged(book, quantities=quantities)
    assert part(answer, "cylinder_head 1").verdict == "replace"
    assert ways(answer, "block")["deck"] == "mill"
