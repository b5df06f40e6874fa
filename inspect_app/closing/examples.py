"""Run the rules' own examples: given this evidence on an unseen piece, the rule says so."""

from collections.abc import Iterator
from typing import Any

from inspect_app.metrology.figure import Figure
from inspect_app.model.evidence import Evidence, Finding, Look, OutsideReport, Sign, Test
from inspect_app.model.pieces import WASHED, Piece
from inspect_app.model.places import Place, parse_place
from inspect_app.model.problems import Problem, Problems
from inspect_app.model.sheet import EngineSheet, SheetQuantity
from inspect_app.model.units import size
from inspect_app.rulebook.book import Rulebook
from inspect_app.rulebook.engine import Engine
from inspect_app.rulebook.forms_rules import ExampleForm, RuleForm

from .piece_evidence import PieceEvidence
from .rows import real_rows
from .scene import RealScene

_COMMON = {"who": "example", "when": "2026-01-01", "stage": "bench", "state": WASHED}


def run_examples(book: Rulebook) -> list[Problem]:
    """Examples whose rule does not say what they claim; [] when all hold."""
    problems = []
    for rule in book.rules.values():
        for number, example in enumerate(rule.example, 1):
            here = f"{book.where[('rule', rule.id)].file}, rule {rule.id}, example {number}"
            problems += [
                Problem(here, what, "Correct the rule or the example.") for what in _run(book, rule, example)
            ]
    return problems


def _run(book: Rulebook, rule: RuleForm, example: ExampleForm) -> Iterator[str]:
    try:
        outcome = _outcome(book, rule, example)
    except (ValueError, KeyError, TypeError, AttributeError) as error:
        yield f"it cannot be run: {str(error).rstrip('.')}."
        return
    if outcome != example.then:
        yield f'the rule is "{outcome}", the example says "{example.then}".'


def _outcome(book: Rulebook, rule: RuleForm, example: ExampleForm) -> str:
    engine = Engine(book, _sheet(book, example))
    position = next(p for p in engine.positions.values() if p.part == rule.part)
    piece = Piece(id="piece", position=position.id)
    items = [item for number, given in enumerate(example.given) for item in _items(book, given, number)]
    scene = RealScene(PieceEvidence(engine, position, piece, items), example.standard)
    for given in example.given:
        if "figure" in given:
            place = parse_place(given["place"])
            value = size(given["value"], book.quantities[(given["figure"], place.kind)].dimension)
            scene.figures.assume(given["figure"], place, Figure(value, value))
    states = {
        (bool(row.pair.must[i]), bool(row.pair.may[i]))
        for row in real_rows(scene)[0]
        if row.rule.id == rule.id
        for i, place in enumerate(row.places)
        if _bound_there(example, place)
    }
    if not states:
        raise Problems([Problem("place", "the rule does not run there.", "")])
    if any(must for must, _ in states):
        return "met"
    return "open" if any(may for _, may in states) else "not met"


def _bound_there(example: ExampleForm, place: Place) -> bool:
    """Whether a row's place is the example's: the one it names, else that of its evidence."""
    named = example.place or next(
        (given["place"] for given in example.given if given.get("place", "*") != "*"), None
    )
    if named is None or not place.kind:
        return True
    wanted = parse_place(named)
    return (place.kind, place.index) == (wanted.kind, wanted.index)


def _sheet(book: Rulebook, example: ExampleForm) -> EngineSheet:
    materials = [word for method in book.methods.values() if method.kind == "test" for word in method.suits]
    material = next((g["material"] for g in example.given if "material" in g), next(iter(materials), None))
    return EngineSheet(
        id="example",
        title="Example",
        source="none",
        counts={count.id: count.usual for count in book.counts.values()},
        materials=dict.fromkeys(book.parts, material) if material else {},
        quantities=_makers_limits(example),
    )


def _makers_limits(example: ExampleForm) -> dict[str, SheetQuantity]:
    """Sheet rows for figures that only a maker limits: `limit` beside a figure stands for what he gives."""
    return {
        f"{parse_place(given['place']).kind}.{given['figure']}": SheetQuantity(wear_limit=given["limit"])
        for given in example.given
        if "limit" in given
    }


def _items(book: Rulebook, given: dict[str, Any], number: int) -> list[Evidence]:
    """One short form of evidence as items; figures and materials are none."""
    common = {**_COMMON, "id": f"g{number}", "piece": "piece", "state": given.get("state", WASHED)}
    places = (given.get("place", "*"),)
    if "finding" in given:
        return _finding(book, given, common)
    if "look" in given:
        return [Look(method=given["look"], places=places, lit=given.get("lit", True), **common)]
    if "test" in given:
        return [Test(method=given["test"], places=places, outcome=given["outcome"], **common)]
    if "report" in given:
        return [OutsideReport(says=given["report"], grounds=given.get("grounds", ""), **common)]
    if "sign" in given:
        return [Sign(sign=given["sign"], answer=given["answer"], **common)]
    if "figure" in given or "material" in given:
        return []
    raise ValueError(f"{given} is no evidence: use finding, look, test, figure, report, sign or material")


def _finding(book: Rulebook, given: dict[str, Any], common: dict[str, Any]) -> list[Evidence]:
    """A finding; if it is confirmed, with the test that confirmed it."""
    strength = given.get("strength", "seen")
    finding = {"damage": given["finding"], "place": given["place"], "strength": strength}
    if strength != "confirmed":
        return [Finding(**finding, **common)]
    methods = [book.methods[name] for name in book.damage[given["finding"]].settled_by]
    method = next((m.id for m in methods if m.kind == "test"), methods[0].id)
    test = {**common, "id": f"{common['id']}-test"}
    return [
        Test(method=method, places=(given["place"],), outcome="found", **test),
        Finding(**finding, test=test["id"], **common),
    ]
