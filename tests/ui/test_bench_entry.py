"""From typed text to evidence: what is saved, asked, refused; corrections, withdrawals, what is settled."""

import csv
import re
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from inspect_app import store
from inspect_app.bundle.readings_csv import checked_readings, read_rows
from inspect_app.closing.read_values import typed_size
from inspect_app.model.evidence import Reading, Withdrawal, standing
from inspect_app.model.problems import Problems
from inspect_app.ui import shelf
from inspect_app.ui.bench_entry import Edit, Told, read_outbox, take
from inspect_app.ui.bench_groups import Box, Group, groups
from inspect_app.ui.bench_setup import Setup
from inspect_app.ui.bench_typed import LONGEST, Refused, typed
from inspect_app.ui.shelf import Shelf, Slot
from tests.ui.bench_support import BORES, Shop

SETUP = Setup(gauge="dial bore gauge", setting="3.4370 in", unit="in", session="one", state="washed")
NASTY = "<b>bore</b>\x07 *1* ${x}"


@pytest.fixture(scope="module")
def shop(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Shop]:
    file = tmp_path_factory.mktemp("bench") / "shop.sqlite"
    made = Shop(file)
    with store.create_shop_file(file) as opened:
        shelf.use(Shelf(opened, lambda: made.book))
        yield made
    shelf._current = None


class Bench:
    """One core and its group of bores, typed into without a browser."""

    def __init__(self, shop: Shop, key: str = BORES) -> None:
        self.core_id = shop.begin()
        self.key = key
        self.number = 0

    @property
    def slot(self) -> Slot:
        found = shelf.current().get(self.core_id)
        assert found is not None
        return found

    @property
    def group(self) -> Group:
        return next(one for one in groups(self.slot) if one.key == self.key)

    @property
    def box(self) -> Box:
        return self.group.boxes[0]

    @property
    def counting(self) -> list[Reading]:
        assert self.slot.held is not None
        return [i for i in standing(self.slot.held.core.evidence) if isinstance(i, Reading)]

    def edit(self, text: str = "", **changes: Any) -> Edit:
        self.number += 1
        fields = {"id": f"{self.number:016x}", "box": self.box.key, "text": text, "setup": SETUP}
        return Edit.model_validate(fields | changes)

    def take(self, *edits: Edit, who: str = "B.W.") -> list[Told]:
        told = take(self.slot, self.group, edits, who)
        assert list(told) == [edit.id for edit in edits]
        return list(told.values())

    def type(self, text: str, **changes: Any) -> Told:
        return self.take(self.edit(text, **changes))[0]


@pytest.fixture
def bench(shop: Shop) -> Bench:
    return Bench(shop)


def test_a_reading_carries_all_that_was_asked_once(bench: Bench) -> None:
    warm = SETUP.model_copy(update={"conditions": ("torque plate",), "part_temperature": "31 C"})
    assert bench.type("+8", setup=warm).state == "saved"
    (reading,) = bench.counting
    assert (reading.value, reading.setting, reading.unit) == ("+8", "3.4370 in", "in")
    assert (reading.gauge, reading.session, reading.state) == ("dial bore gauge", "one", "washed")
    assert (reading.conditions, reading.part_temperature) == (("torque plate",), "31 C")
    assert (reading.place, reading.station, reading.direction) == ("bore 1", "top", "across")
    assert (reading.who, reading.supersedes, reading.as_meant) == ("B.W.", None, False)


def test_an_edit_sent_twice_is_saved_once(bench: Bench) -> None:
    edit = bench.edit("+8")
    assert [told.state for told in (*bench.take(edit), *bench.take(edit))] == ["saved", "saved"]
    assert len(bench.counting) == 1


def test_one_bad_edit_keeps_no_other_from_being_saved(bench: Bench) -> None:
    second = bench.group.boxes[1].key
    told = bench.take(bench.edit("9,5o"), bench.edit("+8", box=second))
    assert [one.state for one in told] == ["refused", "saved"]
    assert told[0].words.startswith('"9,5o" is not a number.')
    assert [r.value for r in bench.counting] == ["+8"]


def test_a_changed_value_corrects_and_keeps_the_session_of_its_gauge(bench: Bench) -> None:
    bench.type("+8")
    (first,) = bench.counting
    other_day = SETUP.model_copy(update={"session": "two"})
    assert bench.type("+9", bases=(first.id,), setup=other_day).state == "saved"
    (second,) = bench.counting
    assert (second.supersedes, second.session) == (first.id, "one")


def test_reading_again_adds_a_second_reading_and_corrects_none(bench: Bench) -> None:
    bench.type("+8")
    again = SETUP.model_copy(update={"session": "two", "again": True})
    assert bench.type("+9", setup=again).state == "saved"
    second = bench.counting[-1]
    assert (second.supersedes, second.session) == (None, "two")
    bench.type("+7", setup=again, bases=(second.id,))
    assert [(r.value, r.session) for r in bench.counting] == [("+8", "one"), ("+7", "two")]


def test_the_same_value_again_changes_nothing(bench: Bench) -> None:
    bench.type("+8")
    (first,) = bench.counting
    assert bench.type("+8", bases=(first.id,)).state == "saved"
    assert bench.counting == [first]


def test_an_edit_that_followed_another_corrects_it_in_the_same_batch(bench: Bench) -> None:
    first = bench.edit("+8")
    second = bench.edit("+9", bases=(f"reading-{first.id}",))
    bench.take(first, second)
    (reading,) = bench.counting
    assert (reading.value, reading.supersedes) == ("+9", f"reading-{first.id}")


def test_a_base_that_was_never_saved_is_passed_over(bench: Bench) -> None:
    bench.type("+9", bases=("reading-ffffffffffffffff",))
    assert [(r.value, r.supersedes) for r in bench.counting] == [("+9", None)]


def test_an_emptied_box_asks_why_before_it_withdraws(bench: Bench) -> None:
    bench.type("+8")
    (first,) = bench.counting
    assert bench.type("", bases=(first.id,)).state == "refused"
    assert bench.type("  ", bases=(first.id,), reason="x" * 3000).state == "refused"
    assert bench.counting == [first]
    assert bench.type("", bases=(first.id,), reason=NASTY).state == "saved"
    assert bench.counting == []
    assert bench.slot.held is not None
    last = bench.slot.held.core.evidence[-1]
    assert isinstance(last, Withdrawal)
    assert last.reason == NASTY.strip()


def test_an_unlikely_size_is_asked_about_and_saved_once_it_is_meant(bench: Bench) -> None:
    asked = bench.type("34.370")
    assert asked.state == "question"
    assert asked.words == "34.370 in is 10 times the nominal 87.2998 mm. Is the decimal point right?"
    assert bench.counting == []
    assert bench.type("34.370", meant=True).state == "saved"
    assert bench.counting[0].as_meant


@pytest.mark.parametrize(("text", "state"), [("3.7806", "saved"), ("3.7808", "question")])
def test_the_bench_asks_exactly_where_the_check_of_a_core_does(bench: Bench, text: str, state: str) -> None:
    """3.7807 in is the nominal 3.4370 in and a tenth."""
    assert bench.type(text).state == state


def test_what_cannot_be_meant_is_refused_even_if_it_is_said_to_be(bench: Bench) -> None:
    told = bench.type("-3.4", meant=True, setup=SETUP.model_copy(update={"setting": ""}))
    assert told.state == "refused"
    assert "is negative, and diameter cannot be." in told.words


def test_what_waited_to_be_sent_is_by_whoever_typed_it(bench: Bench) -> None:
    first, second = bench.group.boxes[:2]
    late = bench.edit("+8", box=first.key, setup=SETUP.model_copy(update={"who": "A.T."}))
    unsigned = bench.edit("+9", box=second.key)
    assert [told.state for told in bench.take(late, unsigned, who="")] == ["saved", "retry"]
    assert bench.take(unsigned, who="B.W.")[0].state == "saved"
    assert [reading.who for reading in bench.counting] == ["A.T.", "B.W."]


def test_without_initials_or_into_a_locked_file_nothing_is_saved_and_it_may_be_sent_again(
    shop: Shop, bench: Bench
) -> None:
    edit = bench.edit("+8")
    assert bench.take(edit, who="")[0].state == "retry"
    here = shelf.current()
    other = store.open_shop_file(shop.file, wait_s=0.05)
    here.shop, kept = other, here.shop
    with kept.writing():
        told = bench.take(edit)[0]
    here.shop = kept
    other.close()
    assert told.state == "retry"
    assert "somebody else is writing to it. Nothing of this was saved." in told.words
    assert bench.take(edit)[0].state == "saved"
    assert len(bench.counting) == 1


def test_two_corrections_of_one_reading_both_stand_until_one_is_kept(bench: Bench) -> None:
    bench.type("+8")
    (first,) = bench.counting
    bench.type("+9", bases=(first.id,))
    bench.type("+7", bases=(first.id,))
    assert bench.slot.held is not None
    rivals = bench.slot.held.contested[first.id]
    keep = next(r.id for r in bench.counting if r.value == "+7")
    assert bench.take(bench.edit(keep=keep, bases=rivals))[0].state == "saved"
    assert [r.value for r in bench.counting] == ["+7"]
    assert not bench.slot.held.contested


def test_a_correction_against_a_withdrawal_is_settled_either_way(bench: Bench) -> None:
    bench.type("+8")
    (first,) = bench.counting
    bench.type("+9", bases=(first.id,))
    bench.type("", bases=(first.id,), reason="slipped")
    assert bench.slot.held is not None
    rivals = bench.slot.held.contested[first.id]
    gone = next(name for name in rivals if name.startswith("withdrawal"))
    bench.take(bench.edit(keep=next(name for name in rivals if name != gone), bases=rivals))
    assert [r.value for r in bench.counting] == ["+9"]
    assert not bench.slot.held.contested


def test_what_is_no_outbox_is_passed_over_and_half_a_letter_is_a_question_mark() -> None:
    for sent in (None, 7, {}, {"seq": "x"}, {"seq": 1, "core": "a", "group": "b", "edits": [{}]}):
        assert read_outbox(sent) is None
    edit = {"id": "0" * 16, "box": "b", "text": "+\ud800", "setup": SETUP.model_dump()}
    read = read_outbox({"seq": 1, "core": "a", "group": "b", "edits": [edit]})
    assert read is not None
    assert read.edits[0].text == "+?"


def test_long_and_strange_texts_are_refused_in_words(bench: Bench) -> None:
    told = bench.type("8" * 10_000)
    assert told.state == "refused"
    assert told.words == f'"{"8" * LONGEST}..." has 10,000 characters; no size is that long. Type it again.'
    for text in (NASTY, "\x00", "NaN", "1e9", "inf", "+", "3.43.70", "3,4,5", "0x10", "3.4 kg"):
        assert bench.type(text).state == "refused", text
    for field in ("session", "gauge", "setting", "state", "part_temperature"):
        told = bench.type("+8", setup=SETUP.model_copy(update={field: "x" * 200}))
        assert told.state == ("saved" if field == "session" else "refused"), field


@pytest.mark.parametrize(
    ("text", "value", "unit", "setting"),
    [
        ("+8", "+8", "in", "3.4370 in"),
        ("-2,5", "-2,5", "in", "3.4370 in"),
        ("−2.5", "−2.5", "in", "3.4370 in"),
        ("0", "0", "in", "3.4370 in"),
        (" 3.4378 ", "3.4378", "in", None),
        ("87,35 mm", "87,35", "mm", None),
        ("87,35mm", "87,35", "mm", None),
        ("3.4378in", "3.4378", "in", None),
        ("9,5o", "9,5o", "in", None),
    ],
)
def test_a_sign_or_zero_counts_divisions_and_anything_else_is_a_full_size(
    bench: Bench, text: str, value: str, unit: str, setting: str | None
) -> None:
    found = typed(text, SETUP, bench.group.form)
    assert (found.value, found.unit, found.setting) == (value, unit, setting)


def test_a_sign_needs_a_setting_and_takes_no_unit(bench: Bench) -> None:
    bare = SETUP.model_copy(update={"setting": ""})
    with pytest.raises(Refused, match="counts from a setting size"):
        typed("+8", bare, bench.group.form)
    with pytest.raises(Refused, match="has a sign and a unit"):
        typed("+0.2 mm", SETUP, bench.group.form)


def test_a_signed_quantity_takes_a_sign_without_a_setting(shop: Shop) -> None:
    heights = Bench(shop, "block/deck/height")
    bare = SETUP.model_copy(update={"setting": ""})
    for text in ("+0.001", "-0.002", "0"):
        assert typed(text, bare, heights.group.form).setting is None
        assert heights.type(text, setup=bare).state == "saved"


TEXTS = st.one_of(
    st.text(max_size=60),
    st.from_regex(re.compile(r"[+\-−]?[0-9]{1,4}([.,][0-9]{1,5})?", re.ASCII), fullmatch=True),
    st.sampled_from(["+8", "3.4380", "3,4380", "0", "87.35 mm", "34.38", "-3", "١٢", "3.4380 in"]),
)


@settings(max_examples=60, deadline=None)
@given(text=TEXTS)
def test_what_is_typed_is_kept_as_text_and_read_as_the_import_of_a_csv_reads_it(
    shop: Shop, text: str
) -> None:
    """Saved here, the CSV takes the same cells to the same size; refused or asked here, the CSV refuses."""
    bench = PROPERTY.setdefault(shop.file, Bench(shop))
    assert bench.slot.held is not None
    assert bench.slot.engine is not None
    before = len(bench.slot.held.core.evidence)
    told = bench.type(text)
    try:
        cells = typed(text, SETUP, bench.group.form)
    except Refused:
        assert told.state == "refused"
        return
    row = {
        "piece": "block", "quantity": "diameter", "place": "bore 1", "value": cells.value, "unit": cells.unit,
        "who": "B.W.", "when": "2026-11-25", "station": "top", "direction": "across", "state": "washed",
        "setting": cells.setting or "", "gauge": "dial bore gauge", "id": "from-csv",
    }  # fmt: skip
    source = shop.file.with_name("readings.csv")
    with source.open("w", encoding="utf-8", newline="") as file:
        csv.writer(file).writerows([row.keys(), row.values()])
    core, engine = bench.slot.held.core, bench.slot.engine
    new = bench.slot.held.core.evidence[before:]
    if not text.strip():
        assert new == ()
    elif told.state == "saved":
        (saved,) = new
        assert isinstance(saved, Reading)
        ((_, read),) = read_rows(source, core)
        assert saved.value == read.value == cells.value
        assert cells.value in text
        assert typed_size(saved, engine, "bore") == typed_size(read, engine, "bore")
    else:
        assert new == ()
        with pytest.raises(Problems):
            checked_readings(source, core, engine)


PROPERTY: dict[Path, Bench] = {}
