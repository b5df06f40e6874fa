"""The engine sheet of a core: typed as a table, checked against misprints, read against the manual."""

import tempfile
from pathlib import Path

import streamlit as st

from inspect_app.bundle.sheet_csv import TypedSheet
from inspect_app.bundle.sheet_csv_out import csv_of_sheet
from inspect_app.bundle.sheet_file import read_typed_sheet
from inspect_app.bundle.sheet_view import sheet_text
from inspect_app.model.problems import Problem, Problems, raise_if_any
from inspect_app.model.sheet import EngineSheet
from inspect_app.rulebook.check_sheet import sheet_problems
from inspect_app.ui import blocks, entry, sheet_rows, shelf, typed_rows
from inspect_app.ui.choice import chosen_core
from inspect_app.ui.markup import Html, join, lines, tag
from inspect_app.ui.shelf import Slot
from inspect_app.ui.who import box, who

_UPLOADED = "sheet_uploaded"
_FIXED = ("line", "section", "key", "what")
_ENGINE = typed_rows.Look(
    {"line": "Line", "section": "Section", "key": "Key", "value": "Value", "note": "Note"},
    _FIXED,
    {"line": 60, "section": 120, "key": 200, "value": 420},
)
_SIZES = typed_rows.Look(
    {
        "line": "Line", "what": "What it is", "nominal": "Nominal", "minimum": "Minimum",
        "maximum": "Maximum", "wear_limit": "Wear limit", "unit": "Unit", "sizes": "Listed sizes",
        "conditions": "Conditions", "note": "Note", "key": "Key",
    },
    _FIXED,
    {"line": 60, "what": 260, "unit": 60, "key": 200},
)  # fmt: skip


def page() -> None:
    """Draw the page for the chosen core."""
    slot = chosen_core(judged=False)
    if slot is None or slot.held is None:
        return
    blocks.show(_head(slot))
    entry.show_told()
    box()
    try:
        rows = sheet_rows.rows_of(_shown(slot), shelf.current().book)
    except Problems as problems:
        blocks.show_problem("This sheet does not fit into a table", str(problems))
        return
    key = f"{slot.id}_{_version(slot)}"
    changes = _tables(rows, _found(rows), key)
    blocks.show(lines(_meanwhile(slot, key, bool(changes)), cls="ia-refused"))
    _checked(slot, rows | changes, len(changes))
    _files(slot)
    _proof(slot)


def _tables(rows: dict[str, typed_rows.Row], found: list[str], key: str) -> dict[str, typed_rows.Row]:
    """What the engine is, and its sizes: two tables, for they share no column but the note."""
    sizes = [name for name in found if _has_sizes(rows[name])]
    engine = [name for name in found if name not in sizes]
    changes = dict[str, typed_rows.Row]()
    for title, seen, look in (("The engine", engine, _ENGINE), ("Sizes and limits", sizes, _SIZES)):
        if seen:
            blocks.show(blocks.section(title))
        changes |= typed_rows.typed(rows, seen, look, f"{title}_{key}")
    return changes


def _has_sizes(row: typed_rows.Row) -> bool:
    return row["section"] == "quantities" or row["key"].count(" / ") > 1


def _shown(slot: Slot) -> EngineSheet:
    """The sheet that was uploaded and is not saved yet, else the core's own."""
    assert slot.held is not None
    uploaded: tuple[str, EngineSheet] | None = st.session_state.get(_UPLOADED)
    return uploaded[1] if uploaded and uploaded[0] == slot.id else slot.held.sheet


def _version(slot: Slot) -> int:
    return int(st.session_state.get(f"sheet_version_{slot.id}", 0))


def _next_version(slot: Slot) -> None:
    st.session_state[f"sheet_version_{slot.id}"] = _version(slot) + 1


def _meanwhile(slot: Slot, key: str, typed: bool) -> str:
    """Words where somebody else has changed the sheet that something was typed over."""
    assert slot.held is not None
    seen = st.session_state.setdefault(f"sheet_seen_{key}", slot.held.sheet)
    if seen == slot.held.sheet:
        return ""
    if not typed and _shown(slot) is slot.held.sheet:
        st.session_state[f"sheet_seen_{key}"] = slot.held.sheet
        return ""
    return "Somebody else has changed this sheet meanwhile. What you typed stands over theirs: look it over."


def _head(slot: Slot) -> Html:
    assert slot.held is not None
    sheet, records = slot.held.sheet, shelf.current().records(slot.id)
    # The record in which the sheet became what it is.
    first = next(record for record in records if record.sheet == sheet)
    written = first.written[:16].replace("T", " ")
    said = f"Typed from: {sheet.source or 'nothing named'}. Written by {first.who}, {written}."
    strip = blocks.title_strip(("Core", slot.held.core.title), ("View", "Engine sheet"), ("Sheet", sheet.id))
    waits = "Not saved yet: the sheet below comes from your file." if _shown(slot) is not sheet else ""
    told = lines(said, waits, "Every number may be left out. The unit may stand once in its column.")
    return tag("div", strip, blocks.heading(sheet.title), told, cls="ia-page")


def _found(rows: dict[str, typed_rows.Row]) -> list[str]:
    asked = st.query_params.get("name", "")
    left, right = st.columns([2, 1], vertical_alignment="bottom")
    wanted = left.text_input("Find a row", value=asked, key="find_row").strip().casefold()
    only = right.toggle("Typed rows only", key="typed_rows_only")
    return [
        name
        for name, row in rows.items()
        if wanted in f"{row['key']} {row['what']} {row['note']}".casefold()
        and (not only or any(row[cell] for cell in sheet_rows.CELLS))
    ]


def _checked(slot: Slot, rows: dict[str, typed_rows.Row], changes: int) -> None:
    """Say what is wrong with what was typed, while it is typed; and save what is right."""
    try:
        typed = sheet_rows.typed_sheet(rows)
        raise_if_any([*typed.problems, *sheet_problems(shelf.current().book, typed.sheet, typed.spot)])
    except Problems as problems:
        told = ("Not right yet; nothing of it is saved:", *str(problems).splitlines())
        blocks.show(tag("div", lines(*told), cls="ia-refused", role="status"))
        return
    assert slot.held is not None
    fresh = typed.sheet != slot.held.sheet
    others = _same_sheet(slot)
    count = f"{changes} row{'' if changes == 1 else 's'} typed anew, not saved yet."
    blocks.show(lines(count if changes else "", cls="ia-soft"))
    also = bool(others) and st.checkbox(
        f"Also for the {len(others)} other cores with this very sheet", key="sheet_also"
    )
    if st.button("Save the sheet", key="do_save_sheet", type="primary", disabled=not fresh) and fresh:
        _save([slot, *(others if also else [])], typed)
        st.rerun()


def _same_sheet(slot: Slot) -> list[Slot]:
    assert slot.held is not None
    cores = shelf.current()
    slots = (cores.get(core_id) for core_id in cores.cores_of_sheet(slot.held.sheet.id) if core_id != slot.id)
    return [one for one in slots if one and one.held and one.held.sheet == slot.held.sheet]


def _save(slots: list[Slot], typed: TypedSheet) -> None:
    if not who():
        entry.tell("Not saved. Give your initials above first.")
        return
    saved = 0
    try:
        for slot in slots:
            assert slot.held is not None
            shelf.current().revise(slot.held.core, typed.sheet, who(), slot.held.records)
            saved += 1
    except Problems as problems:
        done = f"Saved for {saved} of {len(slots)} cores." if saved else "Not saved."
        entry.tell(done, *str(problems).splitlines())
        return
    st.session_state.pop(_UPLOADED, None)
    _next_version(slots[0])
    entry.tell(f"Saved: the sheet of {saved} core{'' if saved == 1 else 's'}.")


def _files(slot: Slot) -> None:
    assert slot.held is not None
    with st.expander("From a file, to a file"):
        up = st.file_uploader("A sheet as CSV or JSON; it is shown above first", type=["csv", "json"])
        if up is not None and st.button("Show it above", key="sheet_show"):
            _take(slot, up.name, up.getvalue())
            st.rerun()
        try:
            text = csv_of_sheet(slot.held.sheet)
        except Problems as problems:
            blocks.show(lines(*str(problems).splitlines()))
        else:
            st.download_button("Download as CSV", text.encode("utf-8-sig"), "sheet.csv", "text/csv")


def _take(slot: Slot, name: str, content: bytes) -> None:
    end = ".json" if name.lower().endswith(".json") else ".csv"
    with tempfile.TemporaryDirectory(prefix="sheet-") as folder:
        path = Path(folder) / f"{Path(name).stem[:60] or 'sheet'}{end}"
        try:
            path.write_bytes(content)
            typed = read_typed_sheet(path)
            raise_if_any(typed.problems)
        except Problems as problems:
            here = [Problem(p.where.replace(f"{folder}/", ""), p.what, p.advice) for p in problems.items]
            entry.refuse(Problems(here))
            return
    st.session_state[_UPLOADED] = (slot.id, typed.sheet)
    _next_version(slot)
    entry.tell(f"Read: {name}. Look it over, then save it.")


def _proof(slot: Slot) -> None:
    assert slot.held is not None
    with st.expander("Read it against the manual: every size in inch and mm"):
        sheet = slot.held.sheet
        try:
            text = sheet_text(TypedSheet(sheet, sheet_rows.FILE), shelf.current().book)
        except (KeyError, Problems):
            text = "It names what these rules do not know: mend the lines named above first."
        blocks.show(join(tag("pre", text, cls="ia-proof")))
