"""The piece that sits in a position: stamps, work done and another piece, written and read by the judge."""

from collections.abc import Iterator
from html import escape
from pathlib import Path

import pytest
from streamlit.testing.v1 import AppTest

from inspect_app.model.pieces import Mark, OperationDone, Piece
from inspect_app.ui import piece_changes
from inspect_app.ui.markup import plain_label
from inspect_app.ui.shelf import Shelf
from tests.ui.made import NASTY
from tests.ui.shop_core import VEE, html, shop_with


@pytest.fixture
def cores(tmp_path: Path) -> Iterator[Shelf]:
    with shop_with(tmp_path, VEE) as made:
        yield made


def page(position: str, form: str, who: str = "B.W.") -> AppTest:
    def script(position: str) -> None:
        from inspect_app.ui import entry, shelf, this_piece
        from inspect_app.ui.part_page_at import at_part

        entry.show_told()
        this_piece.section(at_part(shelf.current().get("brackwater-vee"), position))

    app = AppTest.from_function(script, args=(position,), default_timeout=20)
    app.session_state["who"] = who
    app.session_state[f"piece_{position}"] = form
    return app.run()


def field(app: AppTest, label: str):
    widgets = (*app.text_input, *app.selectbox, *app.multiselect)
    return next(w for w in widgets if w.label.startswith(label))


def press(app: AppTest, label: str) -> AppTest:
    return next(button for button in app.button if button.label == label).click().run()


def piece_of(cores: Shelf, position: str) -> Piece:
    slot = cores.get(VEE)
    assert slot is not None
    assert slot.held is not None
    sits = [p for p in slot.held.core.pieces if p.position == position and p.sits]
    return sits[-1]


def test_a_stamp_says_the_step_that_the_piece_was_cut_to(cores: Shelf) -> None:
    app = page("crankshaft", "Stamp or mark")
    field(app, "As it is stamped").set_value(f"010 {NASTY}")
    field(app, "What it says").set_value("diameter")
    app.run()
    field(app, "Where it counts").set_value("rod_journal *")
    app.run()
    app = press(app, "Save the stamp")
    assert "Step from standard: nothing is chosen." in html(app)
    field(app, "Step from standard").set_value("0.010 in")
    app = press(app, "Save the stamp")
    *shipped, mark = piece_of(cores, "crankshaft").marks
    assert (mark.quantity, mark.place, mark.size) == ("diameter", "rod_journal *", "0.010 in")
    text = html(app)
    assert "which is 0.010 in from standard" in text
    assert "<img" not in text
    app = press(app, f"Take out: {plain_label(mark.text)}")
    assert f"Saved: {escape(mark.text)} is taken out." in html(app)
    assert piece_of(cores, "crankshaft").marks == tuple(shipped)


def test_work_done_begins_a_state_and_ends_what_was_read_before(cores: Shelf) -> None:
    before = cores.get(VEE)
    app = page("cylinder_head left", "Work done")
    field(app, "What was done").set_value("mill head")
    app.run()
    app = press(app, "Save the work")
    assert "Saved: " in html(app)
    assert [done.operation for done in piece_of(cores, "cylinder_head left").operations] == ["mill head"]
    after = cores.get(VEE)

    def figures(slot) -> set[str]:
        part = next(p for p in slot.answer.parts if p.position == "cylinder_head left")
        return {f.quantity for f in part.figures if f.measured is not None and f.state != "open"}

    assert figures(after) < figures(before)
    assert "Work done: 1, mill the gasket face of the head, 20" in html(app)


def test_a_step_that_is_none_is_refused_in_words_and_nothing_is_kept(cores: Shelf) -> None:
    app = page("crankshaft", "Stamp or mark")
    field(app, "As it is stamped").set_value("010")
    field(app, "What it says").set_value("diameter")
    app.run()
    field(app, "Step from standard").set_value("ten thou")
    app = press(app, "Save the stamp")
    text = html(app)
    assert "Not saved." in text
    assert "piece crankshaft, mark &quot;010&quot;, size: &quot;ten&quot;" in text
    assert all(mark.text != "010" for mark in piece_of(cores, "crankshaft").marks)


def test_another_piece_begins_unseen_and_the_old_one_keeps_its_record(cores: Shelf) -> None:
    app = page("crankshaft", "Another piece")
    app = press(app, "It sits here now")
    assert "Where from: nothing is chosen." in html(app)
    next(group for group in app.button_group if group.label == "Where from").set_value("used").run()
    app = press(app, "It sits here now")
    new = piece_of(cores, "crankshaft")
    assert (new.id, new.origin) == ("crankshaft, piece 2", "used")
    part = next(p for p in cores.get(VEE).answer.parts if p.position == "crankshaft")  # type: ignore[union-attr]
    assert part.piece == new.id
    assert part.verdict is None
    assert [former.piece for former in part.former] == ["crankshaft"]


def test_nobody_writes_without_initials(cores: Shelf) -> None:
    app = page("crankshaft", "Work done", who="")
    assert "Who enters: nobody is named." in html(press(app, "Save the work"))
    app = page("crankshaft", "Stamp or mark", who="")
    out = next(button for button in app.button if button.label.startswith("Take out: "))
    assert "Who enters: nobody is named." in html(out.click().run())
    assert len(cores.records(VEE)) == 1


def test_what_is_pressed_twice_is_saved_once(cores: Shelf) -> None:
    app = page("cylinder_head left", "Work done")
    field(app, "What was done").set_value("mill head")
    app.run()
    app = press(app, "Save the work")
    assert "What was done: nothing is chosen." in html(press(app, "Save the work"))
    assert len(piece_of(cores, "cylinder_head left").operations) == 1
    app = page("crankshaft", "Another piece")
    next(group for group in app.button_group if group.label == "Where from").set_value("used").run()
    app = press(app, "It sits here now")
    assert "Where from: nothing is chosen." in html(press(app, "It sits here now"))
    assert piece_of(cores, "crankshaft").id == "crankshaft, piece 2"


def test_a_second_click_is_for_a_button_that_is_gone(cores: Shelf) -> None:
    """What a browser sends twice names the button it drew; the form after saving has another."""
    app = page("cylinder_head left", "Work done")
    before = {button.key for button in app.button if button.label == "Save the work"}
    field(app, "What was done").set_value("mill head")
    app.run()
    app = press(app, "Save the work")
    assert before.isdisjoint({button.key for button in app.button})


def test_changes_touch_the_one_piece_and_keep_the_order(cores: Shelf) -> None:
    core = cores.get(VEE).held.core  # type: ignore[union-attr]
    pieces = (Piece(id="a", position="block"), Piece(id="b", position="crankshaft"))
    core = core.model_copy(update={"pieces": pieces})
    b = piece_changes.stamped(pieces[1], Mark(text="010"))
    assert piece_changes.with_piece(core, b).pieces == (pieces[0], b)
    assert piece_changes.without_mark(b, 0) == pieces[1]
    new = Piece(id="c", position="crankshaft")
    assert piece_changes.with_piece(core, new).pieces == (*pieces, new)
    done = OperationDone(operation="mill deck")
    assert piece_changes.worked(pieces[0], done).operations == (done,)
    swapped = piece_changes.replaced(core, pieces[1], "c", "new", None, "2026-11-25")
    assert swapped.pieces[-1].since == "2026-11-25"
    assert [(p.id, p.sits) for p in swapped.pieces] == [("a", True), ("b", False), ("c", True)]


def test_only_work_that_is_done_on_the_part_is_offered(cores: Shelf) -> None:
    engine = cores.get(VEE).engine  # type: ignore[union-attr]
    head, block = (piece_changes.work_of(engine, part) for part in ("cylinder_head", "block"))
    assert "mill head" in head
    assert "mill head" not in block
    assert "mill deck" in block


def test_a_piece_is_called_as_everywhere_else_on_the_screens(cores: Shelf) -> None:
    assert "Cylinder head left, came with this core" in html(page("cylinder_head left", "Stamp or mark"))
    assert "cylinder_head" not in html(page("cylinder_head left", "Stamp or mark")).lower()


def test_a_stamp_that_can_say_no_size_leads_to_the_engine_sheet(cores: Shelf) -> None:
    sizeless = html(page("rod 1", "Stamp or mark"))
    assert f'href="/sheet?core={VEE}"' in sizeless
    assert "lists no size to which this part is cut" in sizeless
    assert "/sheet?core=" not in html(page("crankshaft", "Stamp or mark"))
