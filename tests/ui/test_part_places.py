"""The places of a part as they are picked, and what the rules ask there."""

from collections.abc import Iterator
from pathlib import Path

import pytest

from inspect_app.model.evidence import Test
from inspect_app.model.pieces import Piece
from inspect_app.ui import entry, methods_at, part_page_at, part_places
from inspect_app.ui.part_page_at import AtPart
from inspect_app.ui.shelf import Shelf
from tests.ui.own_core import shop_with_own
from tests.ui.shop_core import VEE, html, part_page


@pytest.fixture
def cores(tmp_path: Path) -> Iterator[Shelf]:
    with shop_with_own(tmp_path) as made:
        yield made


def at(cores: Shelf, position: str = "crankshaft") -> AtPart:
    slot = cores.get(VEE)
    assert slot is not None
    return part_page_at.at_part(slot, position)


def test_places_zones_and_patterns_are_those_of_the_rules(cores: Shelf) -> None:
    engine = at(cores).engine
    found = part_places.places(engine, "crankshaft")
    assert found[:3] == ["outside", "main_journal 1", "main_journal 2"]
    assert part_places.zones(engine.book, "crankshaft", "rod_journal 2") == [
        "surface",
        "fillet",
        "fillet/front",
        "fillet/rear",
        "oil_hole",
    ]
    patterns = part_places.patterns(engine, "crankshaft")
    assert {"rod_journal *", "rod_journal 6", "rod_journal */fillet/front", "nose", "nose/thread"} <= {
        *patterns
    }
    assert len(patterns) == len(set(patterns))


def test_the_words_asked_at_a_place_are_those_of_its_zones(cores: Shelf) -> None:
    book = at(cores).engine.book
    whole = part_places.damage_at(book, "crankshaft")
    at_journal = part_places.damage_at(book, "crankshaft", "rod_journal 2")
    at_fillet = part_places.damage_at(book, "crankshaft", "rod_journal 2/fillet")
    assert set(at_fillet) <= set(at_journal) <= set(whole) <= set(book.damage)
    assert "crack" in at_fillet
    assert "leak" not in whole


def test_a_crack_is_never_settled_by_eye(cores: Shelf) -> None:
    book = at(cores).engine.book
    for part in book.parts.values():
        for form in part.places:
            assert "crack" not in part_places.settled_by(book, part.id, form.kind, "eye")


@pytest.mark.parametrize(
    ("pattern", "place", "shared"),
    [
        ("*", "nose", True),
        ("rod_journal *", "rod_journal 2", True),
        ("rod_journal */fillet", "rod_journal 2/fillet/front", True),
        ("rod_journal 2/fillet/front", "rod_journal 2", True),
        ("rod_journal 2/fillet/front", "rod_journal 2/fillet/rear", False),
        ("rod_journal 1", "rod_journal 2", False),
        ("main_journal *", "rod_journal 2", False),
    ],
)
def test_a_test_and_a_place_share_metal_or_not(pattern: str, place: str, shared: bool) -> None:
    assert part_places.touches(pattern, place) is shared


def test_why_a_method_shows_nothing(cores: Shelf) -> None:
    shaft, head = at(cores), at(cores, "cylinder_head left")
    magnetic = shaft.engine.book.methods["magnetic particle"]
    assert methods_at.why_not(shaft, magnetic) == ""
    raw = part_page_at.at_part(shaft.slot, "crankshaft", "as_found")
    assert methods_at.why_not(raw, magnetic) == "it shows nothing before the part is washed"
    aluminium = AtPart(
        head.slot,
        head.core,
        head.engine,
        head.position,
        head.piece.model_copy(update={"material": "aluminium"}),
        "washed",
    )
    assert methods_at.why_not(aluminium, magnetic) == "it shows nothing on aluminium"


def test_only_a_test_that_found_something_there_can_confirm(cores: Shelf) -> None:
    stamp = entry.stamp(at(cores).slot, "K.O.") | {"piece": "crankshaft", "state": "washed"}
    made = [
        Test(**stamp, id="here", method="dye penetrant", places=("rod_journal *",), outcome="found"),
        Test(**stamp, id="there", method="dye penetrant", places=("main_journal 1",), outcome="found"),
        Test(**stamp, id="clean", method="dye penetrant", places=("rod_journal 2",), outcome="nothing_found"),
    ]
    cores.add(VEE, made)
    app = part_page("crankshaft", enter="finding", place="rod_journal 2", name="crack").run()
    next(group for group in app.button_group if group.label == "How sure?").set_value("confirmed").run()
    offered = next(box for box in app.selectbox if box.label == "Confirmed by").options
    assert offered == ["Dye-penetrant test, found something: every rod journal", "A test, entered here"]


def test_an_item_about_a_piece_that_sat_here_before_is_corrected_on_that_piece(cores: Shelf) -> None:
    now = at(cores)
    assert now.slot.held is not None
    found = Test(
        **entry.stamp(now.slot, "K.O."),
        id="t1",
        piece="crankshaft",
        state="washed",
        method="dye penetrant",
        places=("nose",),
        outcome="cannot_tell",
    )
    cores.add(VEE, [found])
    before = Piece(id="crankshaft", position="crankshaft", sits=False)
    after = Piece(id="another shaft", position="crankshaft", origin="used")
    others = tuple(piece for piece in now.core.pieces if piece.position != "crankshaft")
    changed = now.core.model_copy(update={"pieces": (*others, before, after)})
    cores.revise(changed, now.slot.held.sheet, "K.O.", now.slot.held.records)
    app = part_page("crankshaft", item="t1").run()
    assert "about piece crankshaft, which sat here before" in html(app)
    next(button for button in app.button if button.label == "Save correction").click().run()
    again = at(cores).core.evidence[-1]
    assert isinstance(again, Test)
    assert (again.piece, again.supersedes, again.state) == ("crankshaft", "t1", "washed")
