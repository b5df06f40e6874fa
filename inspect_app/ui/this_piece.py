"""The piece that sits in a position: kind, stamps and work done, and another piece in its place."""

from collections.abc import Callable
from datetime import date
from typing import get_args

import streamlit as st
from pydantic import ValidationError

from inspect_app.model.core import Core
from inspect_app.model.pieces import Mark, OperationDone, Origin, Piece
from inspect_app.model.problems import Problems, from_validation
from inspect_app.rulebook.check_sheet import materials_of
from inspect_app.ui import asks, blocks, entry, part_page_at, part_places, piece_changes, shelf, words
from inspect_app.ui.markup import lines, plain_label, tag
from inspect_app.ui.part_page_at import AtPart
from inspect_app.ui.who import who

_ORIGINS: dict[Origin, str] = {
    "this_core": "came with this core",
    "another_core": "from another core",
    "used": "bought used",
    "exchange": "exchange",
    "new": "new",
}
_FORMS = ("Stamp or mark", "Work done", "Kind and material", "Another piece")


def section(at: AtPart) -> None:
    """Draw what is known of the piece itself, and the forms for more."""
    blocks.show(tag("div", blocks.section("This piece"), lines(*said(at)), cls="ia-page"))
    with st.expander("Write down a stamp, work done, the material, or another piece", expanded=_asked()):
        chosen = st.segmented_control("What?", _FORMS, default=_FORMS[0], key=f"piece_{at.position}")
        forms = dict(zip(_FORMS, (_stamp, _work, _kind, _another), strict=True))
        if chosen is not None:
            forms[chosen](at)


def _asked() -> bool:
    return st.query_params.get("enter") == "piece"


def said(at: AtPart) -> list[str]:
    """The piece in words: which, from where, of what, what is stamped on it and was done to it."""
    piece = at.piece
    made = [piece.kind or at.engine.fitted_kind(at.part), piece.material or at.engine.material(at.part)]
    head = ", ".join([_name(at), _ORIGINS[piece.origin], *(text for text in made if text)])
    marks = "; ".join(_mark(mark) for mark in piece.marks)
    work = "; ".join(_done(at, number, done) for number, done in enumerate(piece.operations, 1))
    return [
        words.sentence(head),
        f"Stamped: {marks}." if marks else "No stamp or mark is written down.",
        f"Work done: {work}." if work else "No work on it is written down.",
    ]


def _name(at: AtPart) -> str:
    """What the piece is called: as its part is, where nobody gave it a name of its own."""
    position = at.engine.positions[at.position]
    return position.title if at.piece.id == position.id else at.piece.id


def _mark(mark: Mark) -> str:
    where = "" if mark.place == "*" else f" at {words.place(mark.place)}"
    size = f", which is {mark.size} from standard" if mark.size and mark.quantity else ""
    return f"{mark.text}{where}{size}"


def _done(at: AtPart, number: int, done: OperationDone) -> str:
    form = at.engine.book.operations.get(done.operation)
    size = f" to {done.size}" if done.size else ""
    where = "" if done.places == ("*",) else f", {words.places(done.places)}"
    by = "".join(f", {text}" for text in (done.by, done.when) if text)
    return f"{number}, {form.title if form else done.operation}{size}{where}{by}"


def _stamp(at: AtPart) -> None:
    key = f"mark_{at.key}_{len(at.piece.marks)}"
    text = st.text_input("As it is stamped", max_chars=60, key=f"{key}_text")
    place = st.selectbox("Where it counts", _places(at), format_func=_capital, key=f"{key}_place")
    quantities = _quantities(at)
    quantity = st.selectbox(
        "What it says",
        [None, *quantities],
        format_func=lambda name: quantities[name] if name else "It says no size",
        key=f"{key}_what",
    )
    size = ""
    if not quantities:
        to_sheet = tag("a", "Engine sheet", href=asks.address("/sheet", core=at.slot.id), target="_self")
        why = "The engine sheet lists no size to which this part is cut. Typed there, a stamp can say it: "
        blocks.show(tag("p", why, to_sheet))
    if quantity is not None:
        size = st.text_input(
            "Step from standard, such as 0.010 in, or 0 for standard", max_chars=40, key=f"{key}_size"
        )
    _button(
        "Save the stamp",
        at,
        lambda: piece_changes.stamped(
            at.piece, Mark(text=text.strip(), quantity=quantity, place=place, size=size.strip() or None)
        ),
        {"As it is stamped": text, "Step from standard": size or quantity is None},
        key,
    )
    for number, mark in enumerate(at.piece.marks):
        if st.button(f"Take out: {plain_label(mark.text)}", key=f"{key}_out_{number}_{mark.text}"):
            if part_page_at.complete({}):
                without = piece_changes.without_mark(at.piece, number)
                _write(at, piece_changes.with_piece(at.core, without), f"{mark.text} is taken out")
            st.rerun()


def _work(at: AtPart) -> None:
    key = f"work_{at.key}_{len(at.piece.operations)}"
    known = piece_changes.work_of(at.engine, at.part)
    # Nothing is chosen at first: a second click on the button would save the first work in the list.
    name = st.selectbox(
        "What was done",
        list(known),
        index=None,
        format_func=known.__getitem__,
        key=f"{key}_what",
        placeholder="Choose",
    )
    chosen = st.multiselect("Where", _places(at), ["*"], format_func=_capital, key=f"{key}_places")
    sets = at.engine.book.operations[name].sets if name else None
    size = ""
    if sets:
        size = st.text_input("To which step from standard, such as 0.020 in", max_chars=40, key=f"{key}_size")
    when = st.text_input("When", date.today().isoformat(), max_chars=40, key=f"{key}_when")
    by = st.text_input("By whom", placeholder="The machine shop", max_chars=80, key=f"{key}_by")
    blocks.show(lines("What was read before does not hold where it changed; enter new readings after it."))
    _button(
        "Save the work",
        at,
        lambda: piece_changes.worked(
            at.piece,
            OperationDone(
                operation=name or "",
                size=size.strip() or None,
                places=tuple(chosen),
                when=when.strip(),
                by=by.strip(),
            ),
        ),
        {"What was done": name, "Where": chosen},
        key,
    )


def _kind(at: AtPart) -> None:
    kinds = at.engine.sheet.kinds.get(at.part)
    names = [None, *((kinds.fitted, *kinds.others) if kinds else ())]
    materials = [None, *sorted(materials_of(at.engine.book))]
    # What these rules no longer name is offered too: the piece says it.
    names, materials = (
        list(dict.fromkeys([*known, now]))
        for known, now in ((names, at.piece.kind), (materials, at.piece.material))
    )
    key = f"kind_{at.key}_{at.piece.kind}_{at.piece.material}"

    def worded(text: str | None) -> str:
        return text or "as the engine sheet says"

    kind = st.selectbox("Kind", names, names.index(at.piece.kind), format_func=worded, key=f"{key}_kind")
    material = st.selectbox(
        "Material", materials, materials.index(at.piece.material), format_func=worded, key=f"{key}_material"
    )
    _button("Save kind and material", at, lambda: piece_changes.described(at.piece, kind, material), {}, key)


def _another(at: AtPart) -> None:
    blocks.show(lines("What is known of the old piece stays with it; the new one begins unseen."))
    key = f"another_{at.key}"
    free = piece_changes.free_id(at.core, at.engine, at.position)
    name = st.text_input("Its name in this core", free, max_chars=80, key=f"{key}_name")
    origins = [origin for origin in get_args(Origin) if origin != "this_core"]
    origin = st.segmented_control(
        "Where from", origins, format_func=_ORIGINS.__getitem__, key=f"{key}_origin"
    )
    kinds = at.engine.sheet.kinds.get(at.part)
    names = [None, *((kinds.fitted, *kinds.others) if kinds else ())]
    kind = st.selectbox("Its kind", names, format_func=lambda text: text or "as fitted", key=f"{key}_kind")
    if st.button("It sits here now", key=f"do_{key}", type="primary"):
        if part_page_at.complete({"Its name": name.strip(), "Where from": origin}):
            assert origin is not None
            today = date.today().isoformat()
            core = piece_changes.replaced(at.core, at.piece, name.strip(), origin, kind, today)
            _write(at, core, name.strip())
        st.rerun()


def _places(at: AtPart) -> list[str]:
    return ["*", *part_places.patterns(at.engine, at.part)]


def _quantities(at: AtPart) -> dict[str, str]:
    kinds = {place.kind for place in at.form.places}
    return {
        name: form.title
        for (name, kind), form in at.engine.book.quantities.items()
        if kind in kinds and at.engine.row(name, kind).sizes
    }


def _capital(text: str) -> str:
    return words.sentence(words.place(text))[:-1]


def _button(label: str, at: AtPart, made: Callable[[], Piece], asked: dict[str, object], key: str) -> None:
    if not st.button(label, key=f"do_{key}", type="primary"):
        return
    if part_page_at.complete({name: str(answer or "").strip() for name, answer in asked.items()}):
        try:
            piece = made()
        except ValidationError as error:
            entry.refuse(Problems(from_validation(error, at.piece.id)))
        else:
            _write(at, piece_changes.with_piece(at.core, piece), f"{_name(at)}, {label.lower()[9:]}")
    st.rerun()


def _write(at: AtPart, core: Core, said: str) -> None:
    assert at.slot.held is not None
    try:
        standing = shelf.current().revise(core, at.slot.held.sheet, who(), at.slot.held.records)
    except Problems as problems:
        entry.refuse(problems)
        return
    twice = "Somebody else has changed the record meanwhile: both stand, settle it on the Record page."
    entry.tell(f"Saved: {said}.", twice if len(standing) > 1 else "")
