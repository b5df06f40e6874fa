"""Rules that ask what a piece is made of: bores that are not iron, cast crankshafts, sleeves in aluminium."""

from pathlib import Path

import pytest

from inspect_app.judge import judge
from inspect_app.model.answer import PartAnswer
from inspect_app.model.evidence import Evidence, Finding
from inspect_app.model.pieces import Piece
from inspect_app.model.sheet import EngineSheet
from inspect_app.rulebook.engine import Engine
from tests.judge import six
from tests.reference.support import closed_by, part_at
from tests.support import changed_pack, problems_of

from .measured_six import EVERYTHING, told

NO_MAGNET, MAGNET = (told("block", "magnet-on-bores", answer) for answer in ("does not stick", "sticks"))


def six_of(material: str | None) -> Engine:
    materials = {k: v for k, v in six.sheet().materials.items() if k != "block"}
    return Engine(six.book(), six.sheet(materials=materials | ({"block": material} if material else {})))


def block(material: str | None, *items: Evidence) -> PartAnswer:
    return part_at(judge(six.core([*EVERYTHING, *items]), six_of(material)), "block")


@pytest.mark.parametrize(
    ("material", "items", "closed", "open_"),
    [
        ("cast iron", [], False, False),
        ("plated aluminium", [], True, False),
        ("silicon aluminium", [], True, False),
        ("aluminium", [NO_MAGNET], True, False),
        ("aluminium", [MAGNET], False, False),
        ("aluminium", [], False, True),
        (None, [], False, True),
    ],
)
def test_bores_that_are_not_of_iron_are_neither_honed_nor_bored(
    material: str | None, items: list[Evidence], closed: bool, open_: bool
) -> None:
    answer = block(material, *items)
    assert {c.closes for c in closed_by(answer, "bores-not-of-iron")} == (
        {"bores.hone", "bores.any size"} if closed else set()
    )
    asked = {point.what for point in answer.open_points if "bores-not-of-iron" in point.rules}
    question = six.book().signs["magnet-on-bores"].question
    wanted = {question} if material else {"material on the engine sheet"}
    assert asked == (wanted if open_ else set())


def bent(material: str, kind: str | None = None) -> PartAnswer:
    sheet = six.sheet().model_dump()
    sheet["materials"]["crankshaft"] = material
    if kind:
        sheet["kinds"] = {"crankshaft": {"fitted": kind, "others": []}}
    found = Finding(
        id="bent", piece="crankshaft", damage="bent", place="centre_line", strength="seen", **six.COMMON
    )
    answer = judge(six.core([*EVERYTHING, found]), Engine(six.book(), EngineSheet.model_validate(sheet)))
    return part_at(answer, "crankshaft")


@pytest.mark.parametrize(
    ("material", "kind", "verdict"),
    [
        ("forged steel", None, "recondition"),
        ("nodular iron", None, "recondition"),
        ("forged steel", "forged", "recondition"),
        ("nodular iron", "cast", "replace"),
        ("cast iron", None, "replace"),
    ],
)
def test_a_cast_crankshaft_is_not_straightened(material: str, kind: str | None, verdict: str) -> None:
    part = bent(material, kind)
    assert part.verdict == verdict
    assert bool(closed_by(part, "cast-crankshaft-is-not-straightened")) == (verdict == "replace")


def test_a_straight_cast_crankshaft_is_kept() -> None:
    sheet = six.sheet(materials=dict(six.sheet().materials) | {"crankshaft": "cast iron"})
    part = part_at(judge(six.core(EVERYTHING), Engine(six.book(), sheet)), "crankshaft")
    assert (part.verdict, part.standing) == ("reuse", "settled")


@pytest.mark.parametrize(("material", "value"), [("cast iron", 40_000.0), ("aluminium", None), (None, None)])
def test_the_stress_that_grey_iron_bears_is_no_limit_for_aluminium(
    material: str | None, value: float | None
) -> None:
    limit = six_of(material).limit("sleeve_stress", "bore", "rebuild")
    assert (limit.value if limit else None) == value


def test_a_limit_of_a_maker_counts_whatever_the_material() -> None:
    rows = six.sheet().model_dump()["quantities"] | {"bore.sleeve_stress": {"wear_limit": "30 MPa"}}
    materials = dict(six.sheet().materials) | {"block": "aluminium"}
    limit = Engine(six.book(), six.sheet(quantities=rows, materials=materials)).limit(
        "sleeve_stress", "bore", "run"
    )
    assert limit is not None
    assert (limit.value, limit.origin) == (30_000.0, "maker")


def test_a_material_that_nobody_declared_is_refused(tmp_path: Path) -> None:
    limit = '[[limit]]\nquantity = "wear"'
    found = [str(p) for p in problems_of(changed_pack(tmp_path, {limit: f'{limit}\nof = ["bronze"]'}))]
    assert any('"bronze" is no material' in text for text in found)


def test_the_material_of_a_piece_goes_before_that_of_the_sheet() -> None:
    other = Piece(id="crankshaft", position="crankshaft", material="cast iron")
    found = Finding(
        id="bent", piece="crankshaft", damage="bent", place="centre_line", strength="seen", **six.COMMON
    )
    pieces = (*(p for p in six.pieces() if p.position != "crankshaft"), other)
    answer = judge(six.core([*EVERYTHING, found], pieces=pieces), six.engine())
    assert closed_by(part_at(answer, "crankshaft"), "cast-crankshaft-is-not-straightened")
