"""Only tests that can settle something on a part are offered for it."""

from collections.abc import Iterator
from pathlib import Path

import pytest

from inspect_app.ui import methods_at
from inspect_app.ui.part_page_at import AtPart, at_part
from inspect_app.ui.shelf import Shelf
from tests.ui.shop_core import VEE, shop_with


@pytest.fixture
def cores(tmp_path: Path) -> Iterator[Shelf]:
    with shop_with(tmp_path, VEE) as made:
        yield made


def at(cores: Shelf, position: str) -> AtPart:
    slot = cores.get(VEE)
    assert slot is not None
    return at_part(slot, position)


def names(at: AtPart) -> set[str]:
    return {method.id for method in methods_at.tests(at)}


def test_a_pressure_test_is_offered_where_there_is_coolant_only(cores: Shelf) -> None:
    shaft, head = names(at(cores, "crankshaft")), names(at(cores, "cylinder_head left"))
    assert "magnetic particle" in shaft
    assert "pressure test" not in shaft
    assert "pressure test" in head


def test_what_shows_something_comes_before_what_does_not(cores: Shelf) -> None:
    for position in ("crankshaft", "piston 1", "block"):
        here = at(cores, position)
        shows = [not methods_at.why_not(here, method) for method in methods_at.tests(here)]
        assert shows == sorted(shows, reverse=True)
        assert any(shows)


def test_every_method_that_an_open_point_asks_for_is_offered(cores: Shelf) -> None:
    slot = cores.get(VEE)
    assert slot is not None
    assert slot.answer is not None
    for part in slot.answer.parts:
        asked = {p.enter.name for p in part.open_points if p.enter and p.enter.by == "test"}
        assert asked <= names(at(cores, part.position))
