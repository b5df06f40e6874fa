"""The Shop book: prices, gauges and the engine sheet typed over, checked, and kept with who and when."""

from collections.abc import Iterator
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from streamlit.testing.v1 import AppTest

from inspect_app import store
from inspect_app.bundle.sheet_csv import TypedSheet
from inspect_app.model.problems import Problems
from inspect_app.rulebook.check_sheet import sheet_problems
from inspect_app.rulebook.load import load_rulebook
from inspect_app.rulebook.shop_rules import in_use
from inspect_app.shipped import shipped
from inspect_app.ui import sheet, sheet_rows, shelf, shop_entries
from inspect_app.ui.shelf import Shelf
from tests.ui.made import NASTY

FOUR, VEE = "brackwater-four", "brackwater-vee"


@pytest.fixture
def cores(tmp_path: Path) -> Iterator[Shelf]:
    folder = tmp_path / "shop-rules"
    with store.create_shop_file(tmp_path / "shop.sqlite") as shop:
        cores = Shelf(shop, lambda: load_rulebook(shipped("rules"), in_use(folder)))
        for name in (FOUR, VEE):
            store.import_bundle(shop, cores.book, shipped("demo_cores") / name, "A.T.")
        shelf.use(cores)
        yield cores
    shelf._current = None


def drawn(page: str, who: str = "B.W.", **query: str) -> AppTest:
    def script(name: str) -> None:
        from inspect_app.ui import sheet, shop_book, shop_page

        {
            "sheet": sheet.page,
            "prices": shop_page.prices,
            "gauges": shop_page.gauges,
            "shop": shop_book.page,
        }[name]()

    app = AppTest.from_function(script, args=(page,), default_timeout=20)
    app.session_state["who"] = who
    for key, value in query.items():
        app.query_params[key] = value
    return app.run()


def html(app: AppTest) -> str:
    assert not app.exception
    return "\n".join(element.proto.body for element in app.get("html")).replace("&#x27;", "'")


@pytest.mark.usefixtures("cores")
def test_every_page_draws_and_says_whose_entries_count() -> None:
    assert "0 entries are the shop's own" in html(drawn("shop"))
    assert "are the shop's own" in html(drawn("prices"))
    assert "Illustrative prices, autumn 2026" in html(drawn("prices"))
    assert "Calibrated within" in html(drawn("gauges"))
    page = html(drawn("sheet", core=FOUR))
    assert "Typed from: " in page
    assert "Written by A.T., " in page
    assert 'class="ia-proof"' in page


def test_a_price_typed_over_is_the_shops_with_who_and_when(cores: Shelf) -> None:
    row = shop_entries.rows(cores.book, "price")["used-crankshaft"]
    assert (row["low"], row["likely"], row["high"], row["whose"]) == ("40", "120", "350", "shipped")
    typed = {"used-crankshaft": row | {"likely": "99,50", "high": "1 200"}}
    (made,) = shop_entries.entries(cores.book, "price", typed, "B.W.")
    cores.change_rules("price", made)
    now = shop_entries.rows(cores.book, "price")["used-crankshaft"]
    assert (now["low"], now["likely"], now["high"]) == ("40", "99.5", "1200")
    assert now["whose"].startswith("the shop's, B.W., 20")
    assert "1 entry is the shop's own" in html(drawn("shop"))
    assert "1 of " in html(drawn("prices"))


@pytest.mark.parametrize("likely", ["1234567.5", "123456.75", "0.05", "1200", "100000000", "0"])
def test_a_price_keeps_all_its_figures_when_another_column_is_typed_over(cores: Shelf, likely: str) -> None:
    row = shop_entries.rows(cores.book, "price")["used-crankshaft"]
    for change in ({"low": "0", "likely": likely, "high": "100000000"}, {"title": "A crankshaft"}):
        (made,) = shop_entries.entries(cores.book, "price", {"used-crankshaft": row | change}, "B.W.")
        cores.change_rules("price", made)
        row = shop_entries.rows(cores.book, "price")["used-crankshaft"]
        assert (row["likely"], cores.book.prices["used-crankshaft"].likely) == (likely, float(likely))


def test_rows_are_saved_all_or_none(cores: Shelf) -> None:
    good, bad = (shop_entries.rows(cores.book, "gauge")[name] for name in list(cores.book.gauges)[:2])
    names = list(cores.book.gauges)[:2]
    typed = {names[0]: good | {"title": "Ours"}, names[1]: bad | {"half_width": "wide"}}
    made = shop_entries.entries(cores.book, "gauge", typed, "B.W.")
    before = cores.book
    with pytest.raises(Problems, match="wide"):
        cores.change_rules("gauge", *made)
    assert cores.book is before
    assert not list(cores.rules_folder.glob("*.toml"))


def test_everything_wrong_is_told_at_once_and_nothing_is_kept(cores: Shelf) -> None:
    rows = shop_entries.rows(cores.book, "price")
    typed = {
        "used-crankshaft": rows["used-crankshaft"] | {"low": "1,200", "high": "ten"},
        "strip-engine": rows["strip-engine"] | {"low": "900"},
        "wash-engine": rows["wash-engine"] | {"likely": ""},
    }
    with pytest.raises(Problems) as refused:
        shop_entries.entries(cores.book, "price", typed, "B.W.")
    assert str(refused.value).splitlines() == [
        'Used crankshaft, low: "1,200" is not an amount, or may be two. Write it as 1200, 85 or 85.50.',
        'Used crankshaft, high: "ten" is not an amount, or may be two. Write it as 1200, 85 or 85.50.',
        "Strip the engine: low 900, likely 300, high 480 are out of order.",
        "Wash and bake all castings, likely: this key is missing. Add it.",
    ]


@pytest.mark.parametrize(
    ("text", "number"),
    [
        ("85", 85.0), ("85,5", 85.5), ("85.50", 85.5), ("1 200", 1200.0), ("0", 0.0), ("1200,05", 1200.05),
        ("1,200", None), ("1.200", None), ("-5", None), ("", None), ("8 5 a", None), ("1.2.3", None),
        ("٣", None), ("1e3", None), ("nan", None), ("$5", None), (".5", 0.5), (".", None),
    ],
)  # fmt: skip
def test_amounts_as_people_type_them(text: str, number: float | None) -> None:
    assert shop_entries.amount(text) == number


def test_a_gauge_that_cannot_be_is_refused_and_the_old_one_stays(cores: Shelf) -> None:
    row = shop_entries.rows(cores.book, "gauge")["dial bore gauge"]
    app = drawn("gauges")
    assert not app.exception
    book = cores.book
    (made,) = shop_entries.entries(
        cores.book, "gauge", {"dial bore gauge": row | {"half_width": "wide"}}, "B"
    )
    with pytest.raises(Problems, match="wide"):
        cores.change_rules("gauge", made)
    assert cores.book is book
    (made,) = shop_entries.entries(
        cores.book, "gauge", {"dial bore gauge": row | {"half_width": "0.0004 in"}}, "B"
    )
    before = cores.get(FOUR)
    cores.change_rules("gauge", made)
    after = cores.get(FOUR)
    assert before is not after
    assert [one.id for one in after.answer.from_shop] == ["dial bore gauge"]  # type: ignore[union-attr]


def test_a_price_that_nobody_has_entered_is_added_from_its_open_point(cores: Shelf) -> None:
    app = drawn("prices", name="weld-nose")
    for label, text in (("What", f"Weld {NASTY}"), ("Low", "50"), ("Likely", "80"), ("High", "120")):
        next(w for w in app.text_input if w.label == label).set_value(text)
    app = next(b for b in app.button if b.label == "Add it").click().run()
    text = html(app)
    assert "Saved: price weld-nose." in text
    assert "<img" not in text
    assert cores.book.prices["weld-nose"].likely == 80
    app.text_input[[w.label for w in app.text_input].index("Likely")].set_value("85")
    app = next(b for b in app.button if b.label == "Add it").click().run()
    assert "is in the list already" in html(app)
    app = next(b for b in app.button if b.label == "Take it out").click().run()
    assert "Taken out: Weld " in html(app)
    assert "weld-nose" not in cores.book.prices


def test_initials_are_asked_before_anything_is_kept(cores: Shelf) -> None:
    app = drawn("prices", who="", name="weld-nose")
    app = next(b for b in app.button if b.label == "Add it").click().run()
    assert "Not saved. Give your initials above first." in html(app)
    assert "weld-nose" not in cores.book.prices


def test_a_sheet_as_rows_is_the_same_sheet(cores: Shelf) -> None:
    for core in (FOUR, VEE):
        held = cores.get(core).held  # type: ignore[union-attr]
        rows = sheet_rows.rows_of(held.sheet, cores.book)  # type: ignore[union-attr]
        assert sheet_rows.typed_sheet(rows).sheet == held.sheet  # type: ignore[union-attr]
        keys = {(row["section"], row["key"]) for row in rows.values()}
        assert len(keys) == len(rows)
        assert {("quantities", f"{kind}.{name}") for name, kind in cores.book.quantities} <= keys
        assert [row["line"] for row in rows.values()] == [str(n) for n in range(2, len(rows) + 2)]


def test_a_misprint_is_told_by_its_line_and_column(cores: Shelf) -> None:
    held = cores.get(FOUR).held  # type: ignore[union-attr]
    rows = sheet_rows.rows_of(held.sheet, cores.book)  # type: ignore[union-attr]
    line = next(n for n, row in rows.items() if row["key"] == "bore.diameter")
    typed = sheet_rows.typed_sheet(rows | {line: rows[line] | {"maximum": "3.4o in"}})
    told = [*typed.problems, *sheet_problems(cores.book, typed.sheet, typed.spot)]
    assert f"the sheet, line {rows[line]['line']}, column maximum" in {problem.where for problem in told}


def test_a_changed_sheet_is_saved_with_who_for_this_core_or_all_of_its_kind(cores: Shelf) -> None:
    slot = cores.get(FOUR)
    rows = sheet_rows.rows_of(slot.held.sheet, cores.book)  # type: ignore[union-attr]
    line = next(n for n, row in rows.items() if row["key"] == "bore.diameter")
    typed = sheet_rows.typed_sheet(rows | {line: rows[line] | {"note": "page 12"}})
    assert isinstance(typed, TypedSheet)
    copied = slot.held.core.model_copy(update={"id": "twin"})  # type: ignore[union-attr]
    cores.begin(copied, slot.held.sheet, "A.T.")  # type: ignore[union-attr]
    twin = cores.get("twin")
    assert [one.id for one in sheet._same_sheet(slot)] == ["twin"]  # type: ignore[arg-type]
    for one in (slot, twin):
        cores.revise(one.held.core, typed.sheet, "B.W.", one.held.records)  # type: ignore[union-attr]
    for core in (FOUR, "twin"):
        assert cores.get(core).held.sheet.quantities["bore.diameter"].note == "page 12"  # type: ignore[union-attr]
    assert "Written by B.W., " in html(drawn("sheet", core=FOUR))
    page = html(drawn("sheet", core=VEE))
    assert "Written by A.T., " in page, page[:900]


def test_what_is_typed_into_a_sheet_outlasts_what_others_change(cores: Shelf) -> None:
    app = drawn("sheet", core=FOUR)
    # What the browser sends for a cell that was typed over is kept under the key of its table.
    app.session_state[f"Sizes and limits_{FOUR}_0_typed"] = {"quantities bore.diameter": {"note": "page 12"}}
    app.session_state[f"Sizes and limits_{FOUR}_0_view"] = ""
    assert "1 row typed anew, not saved yet." in html(app.run())
    held = cores.get(FOUR).held  # type: ignore[union-attr]
    cores.revise(held.core.model_copy(update={"use": "light work"}), held.sheet, "A.T.", held.records)  # type: ignore[union-attr]
    text = html(app.run())
    assert "1 row typed anew, not saved yet." in text
    assert "meanwhile" not in text
    held = cores.get(FOUR).held  # type: ignore[union-attr]
    theirs = held.sheet.model_copy(update={"title": "Brackwater, theirs"})  # type: ignore[union-attr]
    cores.revise(held.core, theirs, "A.T.", held.records)  # type: ignore[union-attr]
    assert "Somebody else has changed this sheet meanwhile." in html(app.run())
    app = next(b for b in app.button if b.label == "Save the sheet").click().run()
    assert "Saved: the sheet of 1 core." in html(app)
    saved = cores.get(FOUR).held.sheet  # type: ignore[union-attr]
    assert (saved.title, saved.quantities["bore.diameter"].note) == ("Brackwater, theirs", "page 12")
    assert "meanwhile" not in html(app.run())


def test_nothing_is_called_saved_where_somebody_else_has_saved_the_same(cores: Shelf) -> None:
    app = drawn("sheet", core=FOUR)
    app.session_state[f"Sizes and limits_{FOUR}_0_typed"] = {"quantities bore.diameter": {"note": "page 12"}}
    app.session_state[f"Sizes and limits_{FOUR}_0_view"] = ""
    app.run()
    held = cores.get(FOUR).held  # type: ignore[union-attr]
    row = held.sheet.quantities["bore.diameter"].model_copy(update={"note": "page 12"})  # type: ignore[union-attr]
    rows = held.sheet.quantities | {"bore.diameter": row}  # type: ignore[union-attr]
    cores.revise(held.core, held.sheet.model_copy(update={"quantities": rows}), "A.T.", held.records)  # type: ignore[union-attr]
    app = next(b for b in app.button if b.label == "Save the sheet").click().run()
    assert "Saved" not in html(app)
    assert [record.who for record in cores.records(FOUR)] == ["A.T.", "A.T."]


def test_a_sheet_saved_at_one_core_leaves_what_is_typed_at_another(cores: Shelf) -> None:
    app = drawn("sheet", core=FOUR)
    for core in (FOUR, VEE):
        app.session_state[f"Sizes and limits_{core}_0_typed"] = {"quantities bore.diameter": {"note": "p. 9"}}
        app.session_state[f"Sizes and limits_{core}_0_view"] = ""
    app.run()
    next(b for b in app.button if b.label == "Save the sheet").click().run()
    app.selectbox(key="core_chosen").set_value(VEE)
    assert "1 row typed anew, not saved yet." in html(app.run())


def test_an_uploaded_sheet_is_shown_before_it_is_saved_and_a_bad_one_refused(cores: Shelf) -> None:
    slot = cores.get(FOUR)

    def taken(name: str, content: bytes) -> str:
        def script(name: str, content: bytes, core: str) -> None:
            from inspect_app.ui import entry, sheet, shelf

            sheet._take(shelf.current().get(core), name, content)
            entry.show_told()

        return html(AppTest.from_function(script, args=(name, content, FOUR)).run())

    from inspect_app.bundle.sheet_csv_out import csv_of_sheet

    assert "Read: mine.csv." in taken("mine.csv", csv_of_sheet(slot.held.sheet).encode())  # type: ignore[union-attr]
    for name, content in (
        ("x.csv", b"\xff\xfe\x00"),
        ("x.json", b"{"),
        ("../../x.csv", b"a,b\n"),
        ("e.csv", b""),
    ):
        text = taken(name, content)
        assert "Not saved." in text
        assert "/tmp" not in text


@settings(max_examples=60, deadline=None)
@given(st.text(max_size=40))
def test_whatever_is_typed_into_a_cell_is_a_sheet_or_words(text: str) -> None:
    rows = {
        "2": {"section": "sheet", "key": "id", "value": "a"},
        "3": {"section": "sheet", "key": "title", "value": text},
        "4": {"section": "sheet", "key": "source", "value": "b"},
        "5": {"section": "quantities", "key": "bore.diameter", "minimum": text, "unit": "mm"},
    }
    try:
        typed = sheet_rows.typed_sheet(rows)
    except Problems:
        return
    assert typed.problems or typed.sheet.title == text.strip()
