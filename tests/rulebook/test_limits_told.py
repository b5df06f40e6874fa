"""Limits as told to a person: those of the rules by build standard, and of an engine which counts."""

from pathlib import Path

import pytest

from inspect_app.bundle import limits_of_folder
from inspect_app.rulebook.engine import Engine
from inspect_app.rulebook.limits_told import CountingLimit, UsualLimit, limits_told, usual_limits
from inspect_app.rulebook.load import load_rulebook
from inspect_app.shipped import shipped
from tests.support import PUMP, pump_book, pump_sheet


def usual(title: str, folder: Path = PUMP, *overlays: Path) -> UsualLimit:
    return next(limit for limit in usual_limits(load_rulebook(folder, overlays)) if limit.title == title)


def test_every_limit_of_the_rules_is_told_once() -> None:
    book = load_rulebook(shipped("rules"))
    told = usual_limits(book)
    assert sum(len(limit.where.split(", ")) for limit in told) == len(book.limits)
    assert len(set(told)) == len(told)


def test_a_limit_is_told_for_each_build_standard_with_its_basis_and_how_it_is_decided() -> None:
    told = usual_limits(load_rulebook(shipped("rules")))
    wear = next(limit for limit in told if (limit.title, limit.where) == ("wear on diameter", "bore"))
    assert wear.values == ("0.2 mm", "0.006 in", "0.003 in")
    assert (wear.side, wear.decision, wear.whose) == ("at most", "simple", "pack")
    assert wear.basis.startswith("to run: TM 10-3930-653-14&P")
    wall = next(limit for limit in told if (limit.title, limit.where) == ("wall thickness", "bore"))
    assert (wall.side, wall.decision) == ("at least", "guarded")


def test_a_limit_of_the_shop_is_told_as_its_own(tmp_path: Path) -> None:
    limit = next(iter(pump_book().limits.items()))
    (quantity, kind), form = limit
    title = pump_book().quantities[(quantity, kind)].title
    side = "max" if form.max else "min"
    (tmp_path / "limits.toml").write_text(
        f'[[limit]]\nquantity = "{quantity}"\neach = ["{kind}"]\n{side} = "0.07 mm"\nbasis = "judgement"\n'
    )
    assert usual(title).whose == "pack"
    assert usual(title, PUMP, tmp_path).whose == "shop"
    assert usual(title, PUMP, tmp_path).values == ("0.07 mm",) * 3


@pytest.fixture(scope="module")
def of_four() -> tuple[CountingLimit, ...]:
    return limits_of_folder(
        shipped("demo_cores") / "brackwater-four", load_rulebook(shipped("rules"))
    ).counting


def one(told: tuple[CountingLimit, ...], title: str, where: str) -> CountingLimit:
    return next(limit for limit in told if (limit.title, limit.where) == (title, where))


def test_the_makers_limit_names_its_row_and_the_note_beside_it(of_four: tuple[CountingLimit, ...]) -> None:
    wall = one(of_four, "wall thickness", "bore")
    assert (wall.value, wall.unit, wall.whose, wall.row) == (0.13, "in", "maker", "bore.wall")
    assert (wall.note, wall.basis) == ("least wall that must remain on any side", "")


def test_a_limit_taken_from_another_row_names_that_row(of_four: tuple[CountingLimit, ...]) -> None:
    largest = one(of_four, "largest diameter of the bearing seat", "main web")
    assert (largest.whose, largest.row, largest.side) == ("maker", "main_web.diameter", "at most")
    smallest = one(of_four, "smallest diameter of the bearing seat", "main web")
    assert (smallest.row, smallest.side, smallest.value) == ("main_web.diameter", "at least", 2.6905)


def test_a_limit_of_the_pack_tells_what_it_rests_on_and_no_row(of_four: tuple[CountingLimit, ...]) -> None:
    wear = one(of_four, "wear on diameter", "bore")
    assert (wear.value, wear.whose, wear.row, wear.note) == (0.003, "pack", "", "")
    assert wear.basis.endswith("to freshen and to rebuild: judgement")


def test_the_sheet_and_what_it_was_typed_from_are_told() -> None:
    told = limits_told(Engine(pump_book(), pump_sheet()), "run")
    assert (told.sheet, told.source, told.standard) == ("Pump 40", "invented", "run")
    assert told.usual == usual_limits(pump_book())
