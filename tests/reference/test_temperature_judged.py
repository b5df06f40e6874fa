"""Warm parts judged by the whole program: ISO 1's 20 degrees (seen) and a textbook's Table B.6 (seen).

The bores of the inline-six are stamped standard and read at 35 degrees: with a gauge kept at 20, soaked
together with an iron block, and soaked together with an aluminium one. Diameters in inch.
"""

from pathlib import Path

import pytest

from inspect_app.model.answer import Answer
from inspect_app.model.evidence import Evidence, Reading
from inspect_app.model.pieces import Mark, Piece
from tests.judge import six

from .support import closed_by, judge_written, part_at, shipped_book

TABLE = {
    "cast iron": {"G1800": 11.4e-6, "G3000": 11.4e-6, "G4000": 11.4e-6},
    "nodular iron": {"60-40-18": 11.2e-6, "80-55-06": 10.6e-6},
    "forged steel": {"1020": 11.7e-6, "1040": 11.3e-6, "4140": 12.3e-6, "4340": 12.3e-6},
    "aluminium": {"cast 356.0": 21.5e-6, "2024": 22.9e-6, "6061": 23.6e-6, "7075": 23.4e-6},
    "steel": {"end gauges of JCGM 100:2008, H.1": 11.5e-6},
}
"""Mean expansion near room temperature of the grades printed; the last is seen in secondary texts."""

READ, NOMINAL, WARMER = 3.5040, 3.5000, 15.0


@pytest.mark.parametrize("material", TABLE)
def test_the_pack_takes_every_grade_of_the_table_into_its_range(material: str) -> None:
    low, high = shipped_book().materials[material].expansion
    assert [name for name, value in TABLE[material].items() if not low <= value <= high] == []


def middle(material: str) -> float:
    low, high = shipped_book().materials[material].expansion
    return (low + high) / 2


def of_bore(item: Evidence) -> bool:
    return isinstance(item, Reading) and item.quantity == "diameter" and item.place.startswith("bore ")


def warm(**temperatures: str) -> list[Evidence]:
    """Every bore reads 3.5040 in ring travel; below it nothing is read."""
    return [
        item.model_copy(update={"value": f"{READ:.4f}", **temperatures}) if of_bore(item) else item
        for item in [*six.looks_and_tests(), *six.readings()]
        if not (isinstance(item, Reading) and of_bore(item) and item.station == "below")
    ]


def judged(tmp_path: Path, block: str, **temperatures: str) -> Answer:
    mark = Mark(text="no stamp: standard", quantity="diameter", place="bore *", size="0 in")
    pieces = (*six.pieces(), Piece(id="block", position="block", marks=(mark,)))
    sheet = six.sheet(materials=six.sheet().materials | {"block": block})
    return judge_written(tmp_path, six.core(warm(**temperatures), pieces=pieces), sheet)


def wear(answer: Answer) -> float:
    closed = closed_by(part_at(answer, "block"), "bore-wear-past-hone", "bore 1")[0]
    assert closed.measured is not None
    assert closed.measured.unit == "in"
    return closed.measured.value


def test_without_temperatures_part_and_gauge_are_taken_as_soaked_near_twenty(tmp_path: Path) -> None:
    assert wear(judged(tmp_path, "cast iron")) == pytest.approx(READ - NOMINAL, abs=1e-9)


def test_a_gauge_kept_at_twenty_reads_warm_iron_too_large(tmp_path: Path) -> None:
    found = wear(judged(tmp_path, "cast iron", part_temperature="35 C", gauge_temperature="20 C"))
    assert found == pytest.approx(READ * (1 - middle("cast iron") * WARMER) - NOMINAL, abs=1e-9)
    assert READ - NOMINAL - found == pytest.approx(0.0006, abs=0.00005), "six tenths of a thou"


def test_a_gauge_soaked_with_iron_needs_next_to_nothing(tmp_path: Path) -> None:
    found = wear(judged(tmp_path, "cast iron", part_temperature="35 C"))
    assert found == pytest.approx(READ - NOMINAL, abs=0.00002)
    differ = middle("cast iron") - middle("steel")
    assert found == pytest.approx(READ * (1 - differ * WARMER) - NOMINAL, abs=1e-9)


def test_a_gauge_soaked_with_aluminium_still_reads_too_large(tmp_path: Path) -> None:
    found = wear(judged(tmp_path, "aluminium", part_temperature="35 C"))
    differ = middle("aluminium") - middle("steel")
    assert found == pytest.approx(READ * (1 - differ * WARMER) - NOMINAL, abs=1e-9)
    assert READ - NOMINAL - found > 0.0004, "soaking does not help where the metals differ"


@pytest.mark.parametrize(("part", "closed"), [("20 C", True), ("68 F", True), ("50 C", False)])
def test_warmth_can_be_all_the_wear(tmp_path: Path, part: str, closed: bool) -> None:
    """At 50 degrees an iron bore of 3.5 in is 0.0012 larger: 0.0040 read is 0.0028, inside 0.003."""
    answer = judged(tmp_path, "cast iron", part_temperature=part, gauge_temperature="20 C")
    block = part_at(answer, "block")
    assert bool(closed_by(block, "bore-wear-past-hone")) is closed
