"""The pages of prices and gauges: every entry with whose it is, typed over as the shop's own."""

from dataclasses import dataclass

import streamlit as st

from inspect_app.model.frozen import Frozen
from inspect_app.model.problems import Problems
from inspect_app.rulebook.book import Rulebook
from inspect_app.ui import blocks, entry, shelf, shop_entries, typed_rows, words
from inspect_app.ui.markup import Html, lines, tag
from inspect_app.ui.typed_rows import Row
from inspect_app.ui.who import box, who


@dataclass(frozen=True)
class Kind:
    """One table of the rules as a page: its words, its columns and those that nobody types in."""

    table: str
    view: str
    one: str
    many: str
    columns: dict[str, str]
    told: tuple[str, ...]


PRICES = Kind(
    "price",
    "Prices",
    "price",
    "prices",
    {
        "title": "What", "low": "Low", "likely": "Likely", "high": "High",
        "days": "Days", "supplier": "Who supplies", "whose": "Whose",
    },
    (
        "Low and high are the least and the most that it may cost. Type over what differs in your shop.",
        "Once saved, a price counts for every core; the shipped one stays behind it.",
    ),
)  # fmt: skip
GAUGES = Kind(
    "gauge",
    "Gauges",
    "gauge",
    "gauges",
    {
        "title": "Gauge", "resolution": "Reads to", "half_width": "Calibrated within, plus or minus",
        "half_width_is": "Which means", "repeatability": "Repeats within", "division": "One division",
        "whose": "Whose",
    },
    (
        "Calibrated within: what certificate or maker leaves open; it means limits, 95 percent or standard.",
        "Repeats within: one standard deviation of the same place read again and again.",
    ),
)  # fmt: skip


def page(kind: Kind) -> None:
    """Draw the page."""
    book = shelf.current().book
    blocks.show(_head(book, kind))
    entry.show_told()
    box()
    rows = shop_entries.rows(book, kind.table)
    wanted = st.text_input(f"Find a {kind.one}", key=f"find_{kind.table}").strip().casefold()
    found = [name for name, row in rows.items() if wanted in " ".join(row.values()).casefold()]
    look = typed_rows.Look(kind.columns, ("whose",), {"title": 320, "whose": 240})
    _save(kind, typed_rows.typed(rows, found, look, _key(kind.table)))
    _add(kind)
    _drop(kind, book, rows)


def _head(book: Rulebook, kind: Kind) -> Html:
    own = [name for table, name in book.where if table == kind.table and book.from_shop(kind.table, name)]
    count = len(book.prices if kind.table == "price" else book.gauges)
    one = f"{len(own)} of {count} {kind.many} are the shop's own"
    source = f"Shipped: {book.price_book.title}, {book.price_book.date}, in {book.price_book.currency}."
    strip = blocks.title_strip(("View", kind.view), ("Rules", book.pack.version))
    told = lines(source if kind.table == "price" else "", *kind.told)
    return tag("div", strip, blocks.heading(one), told, cls="ia-page")


def _save(kind: Kind, changes: dict[str, Row]) -> None:
    count = len(changes)
    said = f"Save {count} {kind.one if count == 1 else kind.many}" if count else "Nothing typed anew"
    if st.button(said, key=f"do_save_{kind.table}", type="primary", disabled=not count):
        put(kind.table, changes, f"{count} {kind.one if count == 1 else kind.many} of the shop.")
        st.rerun()


def put(table: str, typed: dict[str, Row], said: str) -> None:
    """Write typed rows as entries of the shop, or have everything wrong with them told."""
    if not who():
        entry.tell("Not saved. Give your initials above first.")
        return
    cores = shelf.current()
    try:
        made: list[Frozen] = shop_entries.entries(cores.book, table, typed, who())
        cores.change_rules(table, *made)
    except Problems as problems:
        entry.refuse(problems)
        return
    typed_rows.forget(_key(table))
    entry.tell(f"Saved: {said}")


def _key(table: str) -> str:
    return f"{table}_rows"


def _add(kind: Kind) -> None:
    asked = st.query_params.get("name", "")
    with st.expander(f"A {kind.one} that is not in the list", expanded=bool(asked)):
        with st.form(f"new_{kind.table}", border=False):
            name = st.text_input("Id, as the rules name it", value=asked, max_chars=60)
            row = {
                field: st.text_input(head, key=f"new_{kind.table}_{field}", max_chars=200)
                for field, head in kind.columns.items()
                if field != "whose"
            }
            pressed = st.form_submit_button("Add it", key=f"do_add_{kind.table}", type="primary")
        if pressed:
            held = name.strip() in shop_entries.rows(shelf.current().book, kind.table)
            if held:
                entry.tell(f'Not saved. "{name.strip()}" is in the list already: type over it there.')
            else:
                put(kind.table, {name.strip(): {k: v.strip() for k, v in row.items()}}, f"{kind.one} {name}.")
            st.rerun()


def _drop(kind: Kind, book: Rulebook, rows: dict[str, Row]) -> None:
    own = [name for name in rows if book.from_shop(kind.table, name)]
    if not own:
        return
    with st.expander(f"Back to the shipped {kind.one}"):
        titles = words.told_apart({one: rows[one]["title"] for one in own})
        name = st.selectbox(
            f"The shop's {kind.one} to take out; one that was not shipped is gone then",
            own,
            format_func=titles.__getitem__,
            key=f"drop_{kind.table}",
        )
        if st.button("Take it out", key=f"take_out_{kind.table}"):
            try:
                shelf.current().change_rules(kind.table, drop=name)
            except Problems as problems:
                entry.refuse(problems)
            else:
                typed_rows.forget(_key(kind.table))
                entry.tell(f"Taken out: {rows[name]['title']}.")
            st.rerun()


def prices() -> None:
    """Draw the page of prices."""
    page(PRICES)


def gauges() -> None:
    """Draw the page of gauges."""
    page(GAUGES)
