"""Evidence goes in checked, once, and is never overwritten; records too."""

from dataclasses import replace

import pytest

from inspect_app.model.evidence import Evidence, Withdrawal
from inspect_app.model.pieces import OperationDone, Piece
from inspect_app.model.problems import Problems
from inspect_app.store import (
    ShopFile,
    add_core,
    add_evidence,
    load_core,
    records_of,
    revise_core,
)
from tests.support import finding, look, pump_book, pump_sheet, withdrawal

from .pumps import OTHER, PICTURE, begin, photo, pump, worn


def add(shop: ShopFile, *items: Evidence, pictures: tuple[bytes, ...] = ()) -> int:
    return add_evidence(shop, pump_book(), "pump-1", items, pictures)


def told(shop: ShopFile, *items: Evidence, pictures: tuple[bytes, ...] = ()) -> list[str]:
    """What is said against these items; nothing of them is in the file then."""
    before = load_core(shop, "pump-1")
    with pytest.raises(Problems) as caught:
        add(shop, *items, pictures=pictures)
    assert load_core(shop, "pump-1") == before
    return [str(problem) for problem in caught.value.items]


def test_what_goes_in_comes_out_in_its_order(shop: ShopFile) -> None:
    items = [worn("r1"), look(id="l1"), photo("p1"), withdrawal("r1", id="w1")]
    assert begin(shop, *items) > 0
    assert load_core(shop, "pump-1").core.evidence == tuple(items)


def test_the_revision_grows_with_every_item_and_is_0_before(shop: ShopFile) -> None:
    assert begin(shop) == 0 == load_core(shop, "pump-1").revision
    first = add(shop, worn("r1"))
    second = add(shop, worn("r2"))
    assert 0 < first < second == load_core(shop, "pump-1").revision


def test_the_same_item_twice_is_once(shop: ShopFile) -> None:
    revision = begin(shop, worn("r1"), photo("p1"))
    assert add(shop, worn("r1"), photo("p1")) == revision
    assert add(shop, worn("r1"), worn("r2"), worn("r2")) == revision + 1
    assert [item.id for item in load_core(shop, "pump-1").core.evidence] == ["r1", "p1", "r2"]


def test_the_same_id_with_another_content_is_told(shop: ShopFile) -> None:
    begin(shop, worn("r1"))
    assert told(shop, worn("r1", "40.010")) == [
        'evidence r1: another item with the id "r1" is held, and it says something else. '
        "Give this one its own id; to correct, supersede it."
    ]
    assert len(told(shop, worn("r2", "40.010"), worn("r2", "40.011"))) == 1


def test_a_photo_is_its_bytes_wherever_a_folder_keeps_them(shop: ShopFile) -> None:
    revision = begin(shop, photo("p1"))
    assert add(shop, photo("p1", path="elsewhere/a.jpg")) == revision
    assert "says something else" in told(shop, photo("p1", OTHER), pictures=(OTHER,))[0]


def test_everything_wrong_is_told_at_once(shop: ShopFile) -> None:
    begin(shop, worn("r1"))
    bad = [
        worn("r1", "40.010"),
        finding("rot", "pocket driver", id="f1"),
        worn("r2", piece="valve"),
        photo("p1", OTHER),
        photo("p2", path="../p2.jpg"),
    ]
    spoken = told(shop, *bad, pictures=(PICTURE,))
    assert len(spoken) == 5
    assert any("evidence r1" in text for text in spoken)
    assert any('evidence f1: "rot" is no damage word' in text for text in spoken)
    assert any('evidence r2: "valve" is no piece of this core.' in text for text in spoken)
    assert any("did not come with it. Send the photo again, together with its picture." in t for t in spoken)
    assert any("evidence p2, path: the path leaves the core's folder." in text for text in spoken)


def test_an_old_fault_stops_no_new_entry(shop: ShopFile) -> None:
    """A word that the rules no longer know stays told where it is judged, and is not ours to block on."""
    begin(shop, finding("crack", "pocket driver", id="f1"))
    book = pump_book()
    less = {word: form for word, form in book.damage.items() if word != "crack"}
    changed = replace(book, damage=less)
    add_evidence(shop, changed, "pump-1", [worn("r1")])
    with pytest.raises(Problems, match='evidence f2: "crack" is no damage word'):
        add_evidence(shop, changed, "pump-1", [finding("crack", "pocket driver", id="f2")])


def test_two_sessions_that_correct_one_reading_are_both_kept(shop: ShopFile) -> None:
    begin(shop, worn("r1"))
    add(shop, worn("a", "40.021", who="A", supersedes="r1"))
    assert load_core(shop, "pump-1").contested == {}
    add(shop, worn("b", "40.031", who="B", supersedes="r1"))
    held = load_core(shop, "pump-1")
    assert [item.id for item in held.core.evidence] == ["r1", "a", "b"]
    assert held.contested == {"r1": ("a", "b")}


def test_a_conflict_is_settled_by_withdrawing_one_of_the_two(shop: ShopFile) -> None:
    begin(shop, worn("r1"), worn("a", supersedes="r1"), worn("b", "40.031", supersedes="r1"))
    add(shop, withdrawal("b", id="w"))
    assert load_core(shop, "pump-1").contested == {}


def test_one_who_corrects_what_another_withdrew_is_a_conflict_too(shop: ShopFile) -> None:
    begin(shop, worn("r1"), withdrawal("r1", id="w"), worn("a", "40.021", supersedes="r1"))
    assert load_core(shop, "pump-1").contested == {"r1": ("a", "w")}
    add(shop, withdrawal("w", id="w2"))
    assert load_core(shop, "pump-1").contested == {}


@pytest.mark.parametrize("text", ["<b>x</b> *y* [z](q)", "\x00\x07\x1b[31m", "x" * 10_000, "ä€😀\u202e"])
def test_text_of_any_kind_comes_back_as_it_was(shop: ShopFile, text: str) -> None:
    items = (
        worn("r" + text, note=text, who=text),
        Withdrawal(id="x", who=text, when="2026-03-02", stage="bench", of="r" + text, reason=text, note=text),
    )
    begin(shop, *items)
    assert load_core(shop, "pump-1").core.evidence == items


def test_an_unknown_core_is_told(shop: ShopFile) -> None:
    with pytest.raises(Problems, match=r'"pump-1": no core here has this id\. Look for it on the rack\.'):
        add(shop, worn("r1"))


def test_a_core_with_an_id_that_is_taken_is_told(shop: ShopFile) -> None:
    begin(shop)
    with pytest.raises(Problems, match='a core with the id "pump-1" is here already'):
        add_core(shop, pump_book(), pump(title="Other"), pump_sheet(), "B")
    assert load_core(shop, "pump-1").core.title == "Pump 1"


def revise(shop: ShopFile, who: str, *seen: int, **changes: object) -> tuple[int, ...]:
    core = load_core(shop, "pump-1").core.model_copy(update=changes)
    return revise_core(shop, pump_book(), core, pump_sheet(), who, seen)


def test_a_changed_record_follows_the_one_before_and_both_are_kept(shop: ShopFile) -> None:
    begin(shop, worn("r1"), photo("p1"))
    (first,) = load_core(shop, "pump-1").records
    (second,) = revise(shop, "B", first, title="Pump, washed")
    held = load_core(shop, "pump-1")
    assert (held.core.title, held.records, len(held.core.evidence)) == ("Pump, washed", (second,), 2)
    assert [(r.core.title, r.who) for r in records_of(shop, "pump-1")] == [
        ("Pump 1", "A. Tester"),
        ("Pump, washed", "B"),
    ]


def test_a_record_that_says_the_same_is_not_written_again(shop: ShopFile) -> None:
    begin(shop, photo("p1"))
    (first,) = load_core(shop, "pump-1").records
    assert revise(shop, "B", first) == (first,)
    assert len(records_of(shop, "pump-1")) == 1


def test_two_who_change_one_record_are_both_kept_until_somebody_settles_it(shop: ShopFile) -> None:
    begin(shop)
    (first,) = load_core(shop, "pump-1").records
    revise(shop, "A", first, title="A's")
    both = revise(shop, "B", first, title="B's")
    assert len(both) == 2
    assert load_core(shop, "pump-1").records == both
    (settled,) = revise(shop, "C", *both, title="A's after all")
    assert load_core(shop, "pump-1").records == (settled,)
    assert [r.core.title for r in records_of(shop, "pump-1")] == ["Pump 1", "A's", "B's", "A's after all"]


def test_of_two_records_the_later_stage_counts_until_then(shop: ShopFile) -> None:
    begin(shop)
    (first,) = load_core(shop, "pump-1").records
    revise(shop, "A", first, stage="machine_shop")
    revise(shop, "B", first, stage="yard_look")
    assert load_core(shop, "pump-1").core.stage == "machine_shop"


def test_going_back_to_what_was_is_a_record_of_its_own(shop: ShopFile) -> None:
    begin(shop)
    (first,) = load_core(shop, "pump-1").records
    (second,) = revise(shop, "A", first, title="Other")
    (third,) = revise(shop, "A", second, title="Pump 1")
    assert load_core(shop, "pump-1").core.title == "Pump 1"
    assert len({first, second, third}) == 3


def test_a_record_that_takes_away_what_evidence_hangs_on_is_told(shop: ShopFile) -> None:
    begin(shop)
    (first,) = load_core(shop, "pump-1").records
    done = (OperationDone(operation="bore-pocket"),)
    bored = Piece(id="old", position="housing", sits=False, operations=done)
    core = pump().model_copy(update={"pieces": (bored,)})
    (second,) = revise_core(shop, pump_book(), core, pump_sheet(), "A", [first])
    add(shop, look(id="l1", piece="old", state="after 1"))
    with pytest.raises(Problems, match='evidence l1: "old" is no piece of this core'):
        revise_core(shop, pump_book(), pump(), pump_sheet(), "A", [second])
    assert load_core(shop, "pump-1").records == (second,)


def test_a_changed_sheet_is_kept_with_its_file(shop: ShopFile) -> None:
    begin(shop)
    held = load_core(shop, "pump-1")
    sheet = pump_sheet(source="page 12")
    revise_core(shop, pump_book(), held.core, sheet, "A", held.records)
    after = load_core(shop, "pump-1")
    assert after.sheet == sheet
    assert [entry.path for entry in after.core.files] == ["sheet.json"]
    assert after.core.files != held.core.files


def test_a_record_that_follows_one_that_never_was_is_told(shop: ShopFile) -> None:
    begin(shop)
    with pytest.raises(Problems, match=r'core "pump-1": it has no record 77\. Load the core again'):
        revise(shop, "A", 77, title="x")
