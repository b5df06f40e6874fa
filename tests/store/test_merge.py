"""Merging bundles: in any order, any number of times, the same core comes out."""

from collections.abc import Sequence
from itertools import count
from pathlib import Path
from tempfile import TemporaryDirectory

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from inspect_app.bundle import read_core
from inspect_app.model.evidence import Evidence
from inspect_app.model.pieces import Piece
from inspect_app.model.problems import Problems
from inspect_app.store import (
    ShopFile,
    check_shop_file,
    create_shop_file,
    export_core,
    import_bundle,
    judge_core,
    load_core,
    rack,
    revise_core,
)
from tests.support import look, pump_book, pump_sheet

from . import drawn
from .pumps import OTHER, PICTURE, folder_of, photo, worn

UNHURRIED = {"deadline": None, "suppress_health_check": list(HealthCheck)}
_folders = count(1)


def bundle(parent: Path, items: Sequence[Evidence], **changes: object) -> Path:
    """A folder with these items and the pictures of the photos among them."""
    pictures = {item.path: PICTURE for item in items if item.kind == "photo"}
    return folder_of(parent / f"bundle-{next(_folders)}", items, pictures, **changes)


def merged(parent: Path, *bundles: Path) -> object:
    """All that a shop file says of the core after these imports, whatever order it was written in."""
    with create_shop_file(parent / f"shop-{next(_folders)}.sqlite") as shop:
        for source in bundles:
            import_bundle(shop, pump_book(), source, "A")
        held = load_core(shop, "pump-1")
        answer = judge_core(shop, pump_book(), "pump-1")
        assert check_shop_file(shop) == []
    items = sorted(held.core.evidence, key=lambda item: item.id)
    files = sorted(held.core.files, key=lambda entry: entry.path)
    return items, files, held.core.title, len(held.records), held.contested, answer


@given(st.data())
@settings(max_examples=8, **UNHURRIED)
def test_the_order_and_the_number_of_imports_make_no_difference(data: st.DataObject) -> None:
    order_and_number_make_no_difference(data)


@pytest.mark.long
@given(st.data())
@settings(max_examples=150, **UNHURRIED)
def test_the_order_and_the_number_of_imports_make_no_difference_for_many(data: st.DataObject) -> None:
    order_and_number_make_no_difference(data)


def order_and_number_make_no_difference(data: st.DataObject) -> None:
    common = data.draw(drawn.evidence(most=4))
    known = tuple(item.id for item in common)
    sides = []
    for side in ("left", "right"):
        own: list[Evidence] = []
        for number in range(data.draw(st.integers(0, 3))):
            own.append(data.draw(drawn.item(f"{side}{number}", known)))
        title = data.draw(st.sampled_from(["Pump 1", f"Pump, {side}"]))
        sides.append(((*common, *own), title))
    with TemporaryDirectory() as name:
        parent = Path(name)
        one, other = (bundle(parent, items, title=title) for items, title in sides)
        once = merged(parent, one, other)
        assert merged(parent, other, one) == once
        assert merged(parent, one, one, other, one, other) == once


def test_twice_is_once(shop: ShopFile, tmp_path: Path) -> None:
    source = bundle(tmp_path, [worn("r1"), photo("p1")])
    first = import_bundle(shop, pump_book(), source, "A")
    assert (first.core, first.added, first.already, first.record) == ("pump-1", 2, 0, "new")
    before = load_core(shop, "pump-1")
    second = import_bundle(shop, pump_book(), source, "A")
    assert (second.added, second.already, second.record) == (0, 2, "same")
    assert load_core(shop, "pump-1") == before


def test_two_that_diverged_are_merged_by_the_ids_of_their_evidence(shop: ShopFile, tmp_path: Path) -> None:
    import_bundle(shop, pump_book(), bundle(tmp_path, [worn("r1"), worn("yard")]), "A")
    done = import_bundle(shop, pump_book(), bundle(tmp_path, [worn("r1"), worn("bench"), photo("p1")]), "B")
    assert (done.added, done.already, done.record) == (2, 1, "same")
    assert [i.id for i in load_core(shop, "pump-1").core.evidence] == ["r1", "yard", "bench", "p1"]


def test_two_that_correct_one_reading_are_a_conflict_to_settle(shop: ShopFile, tmp_path: Path) -> None:
    for who, value in (("A", "40.021"), ("B", "40.031")):
        items = [worn("r1"), worn(f"by-{who}", value, who=who, supersedes="r1")]
        import_bundle(shop, pump_book(), bundle(tmp_path, items), who)
    assert load_core(shop, "pump-1").contested == {"r1": ("by-A", "by-B")}


def test_one_id_with_two_contents_is_refused_as_a_whole(shop: ShopFile, tmp_path: Path) -> None:
    import_bundle(shop, pump_book(), bundle(tmp_path, [worn("r1")]), "A")
    before = load_core(shop, "pump-1")
    items = [worn("r1", "40.010"), worn("r2"), photo("p1")]
    with pytest.raises(Problems, match='another item with the id "r1" is held, and it says something else'):
        import_bundle(shop, pump_book(), bundle(tmp_path, items), "B")
    assert load_core(shop, "pump-1") == before


def test_another_engine_of_the_same_id_is_not_mixed_in(shop: ShopFile, tmp_path: Path) -> None:
    import_bundle(shop, pump_book(), bundle(tmp_path, [worn("r1")]), "A")
    before = load_core(shop, "pump-1")
    other = folder_of(tmp_path / "other", [worn("r2")], sheet=pump_sheet(id="pump-60"))
    with pytest.raises(Problems) as caught:
        import_bundle(shop, pump_book(), other, "A")
    assert str(caught.value) == (
        'core "pump-1": another engine is here under this id: its sheet is "pump-40", that of the bundle '
        '"pump-60", and they have no evidence in common. Give one of the two another id.'
    )
    assert load_core(shop, "pump-1") == before
    shared = folder_of(tmp_path / "shared", [worn("r1"), worn("r2")], sheet=pump_sheet(id="pump-60"))
    assert import_bundle(shop, pump_book(), shared, "A").record == "differs"


def test_another_record_stands_beside_the_one_here_until_it_is_settled(
    shop: ShopFile, tmp_path: Path
) -> None:
    import_bundle(shop, pump_book(), bundle(tmp_path, [worn("r1")]), "A")
    done = import_bundle(shop, pump_book(), bundle(tmp_path, [worn("r2")], title="Other"), "B")
    assert done.record == "differs"
    held = load_core(shop, "pump-1")
    assert len(held.records) == 2
    (settled,) = revise_core(shop, pump_book(), held.core, held.sheet, "C", held.records)
    assert (
        import_bundle(shop, pump_book(), bundle(tmp_path, [worn("r2")], title="Other"), "B").record == "same"
    )
    assert load_core(shop, "pump-1").records == (settled,)


def test_evidence_on_what_only_the_other_record_tells_of_waits_for_the_two_to_be_settled(
    shop: ShopFile, tmp_path: Path
) -> None:
    """Whichever of the two records counts, the evidence that the other is needed for is kept and told of."""
    for name in ("left", "right"):
        piece = {"id": f"housing-{name}", "position": "housing", "sits": False}
        items = [look(id=f"look-{name}", piece=f"housing-{name}")]
        import_bundle(shop, pump_book(), bundle(tmp_path, items, pieces=[piece]), "A")
    with pytest.raises(Problems, match=r'evidence look-\w+: "housing-\w+" is no piece of this core'):
        judge_core(shop, pump_book(), "pump-1")
    (row,) = rack(shop, pump_book())
    assert row.records == 2
    assert row.problem is not None
    held = load_core(shop, "pump-1")
    pieces = tuple(Piece(id=f"housing-{name}", position="housing", sits=False) for name in ("left", "right"))
    both = held.core.model_copy(update={"pieces": pieces})
    revise_core(shop, pump_book(), both, held.sheet, "B", held.records)
    assert judge_core(shop, pump_book(), "pump-1").core.evidence.count == 2
    assert rack(shop, pump_book())[0].problem is None


def test_two_photos_of_one_path_are_both_kept_and_go_out_under_two(shop: ShopFile, tmp_path: Path) -> None:
    for name, picture in (("p1", PICTURE), ("p2", OTHER)):
        one = photo(name, picture, path="photos/img_1.jpg")
        source = folder_of(tmp_path / name, [one], {"photos/img_1.jpg": picture})
        import_bundle(shop, pump_book(), source, "A")
    export_core(shop, "pump-1", tmp_path / "out")
    core = read_core(tmp_path / "out").core
    paths = {item.id: item.path for item in core.evidence if item.kind == "photo"}
    assert len(set(paths.values())) == 2
    assert (tmp_path / "out" / paths["p1"]).read_bytes() == PICTURE
    assert (tmp_path / "out" / paths["p2"]).read_bytes() == OTHER
    again = import_bundle(shop, pump_book(), tmp_path / "out", "A")
    assert (again.added, again.already, again.record) == (0, 2, "same")
