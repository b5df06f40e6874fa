"""Every open point of the demo cores says how it is entered, in ids that the rules know."""

import pytest

from inspect_app.bundle import judge_folder
from inspect_app.model.answer import OpenPoint
from inspect_app.model.places import parse_place
from inspect_app.rulebook.book import Rulebook
from inspect_app.rulebook.load import load_rulebook
from inspect_app.shipped import shipped


def known(book: Rulebook, part: str, point: OpenPoint) -> bool:
    enter = point.enter
    assert enter is not None
    kinds = [parse_place(place).kind for place in enter.places]
    assert all(book.place_form(part, kind) for kind in kinds)
    match enter.by:
        case "look" | "test":
            return not enter.name or enter.name in book.methods
        case "reading" | "piece":
            return bool(kinds) and all((enter.name, kind) in book.quantities for kind in kinds)
        case "finding":
            return not enter.name or enter.name in book.damage
        case "sheet":
            return not enter.name or any(name == enter.name for name, _ in book.quantities)
        case "price":
            return enter.name not in book.prices
        case "report":
            return enter.name in book.reports
        case "sign":
            return enter.name in book.signs
        case "decision":
            return enter.name.endswith(": size")


@pytest.mark.parametrize("core", ["brackwater-four", "brackwater-vee"])
def test_every_open_point_says_where_it_is_entered(core: str) -> None:
    book = load_rulebook(shipped("rules"))
    answer = judge_folder(shipped("demo_cores") / core, book)
    points = [(part, point) for part in answer.parts for point in part.open_points]
    assert len(points) >= (20 if core.endswith("vee") else 0)
    assert [point for part, point in points if not known(book, part.part, point)] == []
    asked = {rule for _, point in points for rule in point.rules}
    assert all(rule in book.rules or rule.endswith(": size") for rule in asked)
    for _, point in points:
        if point.enter is not None and point.enter.by in ("test", "reading"):
            assert point.rules, point
