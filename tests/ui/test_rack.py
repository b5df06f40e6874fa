"""The Rack over a real shop file: its rows without judging, their order, the search, what is judged again."""

import threading
from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path
from time import monotonic, sleep

import pytest
from streamlit.testing.v1 import AppTest

from inspect_app import store
from inspect_app.model.evidence import Finding
from inspect_app.store import Counted
from inspect_app.ui import rack as rack_page
from inspect_app.ui import rack_order
from inspect_app.ui.again import Again
from inspect_app.ui.shelf import RackRow, Shelf
from tests.ui.rack_shop import FOUR, VEE, html, shop_with


def rack() -> AppTest:
    def script() -> None:
        from inspect_app.ui import rack

        rack.page()

    app = AppTest.from_function(script, default_timeout=20)
    app.session_state["who"] = "B.W."
    return app


@pytest.fixture
def cores(tmp_path: Path) -> Iterator[Shelf]:
    with shop_with(tmp_path, FOUR, VEE) as made:
        yield made


def fresh(cores: Shelf) -> bool:
    return all(row.fresh for row in cores.rows())


def until_fresh(cores: Shelf) -> None:
    end = monotonic() + 20
    while not fresh(cores):
        assert monotonic() < end, "nothing was judged"
        sleep(0.02)


def seen(at: str = "rod_journal 1/fillet/front") -> Finding:
    return Finding(
        id=f"new-{at}",
        who="B.W.",
        when="2026-11-25",
        stage="bench",
        piece="crankshaft",
        damage="crack",
        place=at,
        strength="seen",
    )


ROW = RackRow(
    "one",
    "Core one",
    "bench",
    1,
    fresh=True,
    judged=True,
    verdict="build",
    standing="provisional",
    waits_for="block: press the jacket",
)


@pytest.mark.parametrize(
    ("change", "waits"),
    [
        ({"problem": "its sheet is empty."}, rack_order.CANNOT),
        ({"problem": "its sheet is empty.", "stage": "closed"}, rack_order.CANNOT),
        ({"records": 2}, rack_order.LOOK),
        ({"records": 2, "stage": "closed"}, rack_order.LOOK),
        ({"verdict": None, "standing": None}, rack_order.LOOK),
        ({"verdict": None, "standing": None, "stage": "machine_shop"}, rack_order.LOOK),
        ({"judged": False, "verdict": None, "fresh": False}, rack_order.LOOK),
        ({}, rack_order.OPEN),
        ({"waits_by": "test"}, rack_order.OPEN),
        ({"waits_by": "price"}, rack_order.ASKED),
        ({"waits_by": "report"}, rack_order.ASKED),
        ({"verdict": None, "standing": None, "waits_by": "price"}, rack_order.ASKED),
        ({"stage": "machine_shop"}, rack_order.ASKED),
        ({"standing": "settled"}, rack_order.SETTLED),
        ({"standing": "settled", "stage": "machine_shop"}, rack_order.SETTLED),
        ({"stage": "closed"}, rack_order.CLOSED),
        ({"stage": "closed", "standing": "settled"}, rack_order.CLOSED),
    ],
)
def test_who_has_to_act_on_a_core(change: dict[str, object], waits: int) -> None:
    assert rack_order.waits_on(replace(ROW, **change)) == waits  # type: ignore[arg-type]


def test_within_the_same_the_latest_evidence_comes_first() -> None:
    rows = [replace(ROW, id=name, revision=at) for name, at in (("old", 3), ("none", 0), ("new", 9))]
    closed = replace(ROW, id="closed", stage="closed", revision=99)
    assert [row.id for row in sorted([closed, *rows], key=rack_order.place)] == [
        "new",
        "old",
        "none",
        "closed",
    ]


@pytest.mark.parametrize(
    ("wanted", "found"),
    [
        ("", True),
        ("  ", True),
        ("CORE", True),
        ("one core", True),
        ("jacket", True),
        ("bench", True),
        ("harrow", True),
        ("core two", False),
        ("<b>", False),
    ],
)
def test_what_is_typed_is_found_in_every_word_of_a_row(wanted: str, found: bool) -> None:
    assert rack_order.has(replace(ROW, sheet_title="Harrow Six, 2.6 litre"), wanted) == found


@pytest.mark.usefixtures("cores")
def test_the_rack_judges_nothing_itself(monkeypatch: pytest.MonkeyPatch, cores: Shelf) -> None:
    asked: list[str] = []
    monkeypatch.setattr(cores, "judge_again", lambda rows: asked.extend(row.id for row in rows))
    monkeypatch.setattr(store, "judge_core", None)
    page = html(rack().run())
    assert page.count("Being judged") == 2
    assert sorted(asked) == [FOUR, VEE]


def test_a_worker_judges_what_is_not_fresh_and_the_page_says_so_meanwhile(cores: Shelf) -> None:
    app = rack()
    html(app.run())
    until_fresh(cores)
    page = html(app.run())
    assert "Being judged" not in page
    assert "being judged again" not in page
    cores.add(VEE, [seen()])
    page = html(app.run())
    assert page.count("As last known; being judged again.") == 1
    until_fresh(cores)
    assert "being judged again" not in html(app.run())
    row = next(row for row in cores.rows() if row.id == VEE)
    slot = cores.get(VEE)
    assert slot is not None
    assert slot.answer is not None
    assert row.verdict == slot.answer.core.verdict
    assert sum(one.parts for one in row.parts) == len(slot.answer.parts)


def test_a_fault_on_one_core_is_told_and_the_others_are_judged(
    cores: Shelf, monkeypatch: pytest.MonkeyPatch
) -> None:
    judge, tried = store.judge_core, []

    def fails(shop: object, book: object, core_id: str) -> object:
        tried.append(core_id)
        if core_id == FOUR:
            raise KeyError("bore 9")
        return judge(shop, book, core_id)  # type: ignore[arg-type]

    monkeypatch.setattr(store, "judge_core", fails)
    app = rack()
    app.run()
    until_fresh(cores)
    page = html(app.run())
    assert page.index("The program failed on this core (KeyError)") < page.index(f"core={VEE}")
    assert tried.count(FOUR) == 1, "it is not tried again in the same state"


def test_rows_are_right_where_the_file_cannot_keep_them(
    cores: Shelf, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("inspect_app.store.judgements._keep", lambda *_: None)
    cores.judge_again(cores.rows())
    until_fresh(cores)
    assert all(row.parts for row in cores.rows())
    assert not any(row.fresh for row in store.rack(cores.shop, cores.book))


def test_those_on_the_screen_are_judged_first_and_the_worker_ends() -> None:
    rows = [replace(ROW, id=f"c{at}", fresh=False) for at in range(6)]
    begun, go, order = threading.Event(), threading.Event(), list[str]()

    def judge(row: RackRow) -> RackRow:
        order.append(row.id)
        begun.set()
        assert go.wait(10)
        return replace(row, fresh=True)

    again = Again(judge, lambda row: row.revision)
    again.want(rows)
    assert begun.wait(10)
    again.want([rows[4], rows[5]])
    go.set()
    end = monotonic() + 10
    while any(not again.known(row).fresh for row in rows) and monotonic() < end:
        sleep(0.01)
    assert order == ["c0", "c4", "c5", "c1", "c2", "c3"]
    again.stop()
    assert not any(thread.name == "judging again" for thread in threading.enumerate())
    again.want([replace(rows[0], revision=5)])
    assert not any(thread.name == "judging again" for thread in threading.enumerate())


def test_a_conflict_of_records_is_said_and_leads_to_where_it_is_settled(cores: Shelf) -> None:
    held = store.load_core(cores.shop, VEE)
    for title in ("One", "Other"):
        changed = held.core.model_copy(update={"title": title})
        cores.revise(changed, held.sheet, "A.T.", held.records)
    cores.get(VEE)
    page = html(rack().run())
    assert "Two records: settle which counts." in page
    assert f'href="/record?core={VEE}"' in page


def test_the_search_counts_and_says_what_to_do_where_nothing_is_found(cores: Shelf) -> None:
    cores.judge_again(cores.rows())
    until_fresh(cores)
    app = rack()
    app.run()
    page = html(app.text_input(key="find").set_value("v6").run())
    assert "1 of 2." in page
    assert f"core={FOUR}" not in page
    page = html(app.text_input(key="find").set_value("<script>x").run())
    assert "0 of 2. Look for a part of its title" in page
    assert "<script>" not in page


@pytest.mark.parametrize("title", ["<img src=x onerror=alert(1)>", "x" * 10_000, "**bold** `code` $x$"])
def test_titles_stay_text(cores: Shelf, title: str) -> None:
    held = store.load_core(cores.shop, VEE)
    cores.revise(held.core.model_copy(update={"title": title}), held.sheet, "A.T.", held.records)
    page = html(rack().run())
    assert "<img" not in page
    assert title.replace("<", "&lt;").replace(">", "&gt;") in page


def test_counts_of_parts_say_what_is_provisional() -> None:
    parts = (Counted(None, None, 1), Counted("reuse", "provisional", 2), Counted("reuse", "settled", 3))
    told = rack_page._parts(replace(ROW, parts=parts))
    assert told.index("3 reuse<") < told.index("2 reuse, provisional<") < told.index("1 not judged<")


def test_the_page_looks_again_only_while_a_shown_row_is_not_fresh(
    cores: Shelf, monkeypatch: pytest.MonkeyPatch
) -> None:
    looked: list[frozenset[str]] = []
    monkeypatch.setattr(rack_page, "_look_again", looked.append)
    monkeypatch.setattr(rack_page, "AT_MOST", 1)
    monkeypatch.setattr(cores, "judge_again", lambda rows: None)
    app = rack()
    app.run()
    first = sorted(cores.rows(), key=rack_order.place)[0]
    assert looked == [frozenset({first.id})]
    for row in cores.rows():
        cores.get(row.id)
    app.run()
    assert len(looked) == 1
