"""Looks: what was looked at and what was not; one tap for "looked, nothing seen"."""

from time import time

import streamlit as st

from inspect_app.model.evidence import Finding, Look, Withdrawal
from inspect_app.model.places import Place, listing, parse_place
from inspect_app.rulebook.forms_parts import PlaceForm
from inspect_app.ui import (
    blocks,
    coverage_forms,
    entry,
    item_words,
    methods_at,
    part_page_at,
    part_places,
    who,
    words,
)
from inspect_app.ui.markup import lines, tag
from inspect_app.ui.part_page_at import AtPart

UNDO_S = 60
_LAST = "look_to_undo"
_SAVED = "looks_saved"


def section(at: AtPart) -> None:
    """Draw a line for each kind of place, with its tap, and the form for other ways to look."""
    blocks.show(tag("div", blocks.section("Looked at"), lines(_settles_nothing(at)), cls="ia-page"))
    for form in order(at):
        _row(at, form)
    asked = st.query_params.get("enter") == "look"
    with st.expander("Look at single places, or in another way", expanded=asked):
        _other(at)


def order(at: AtPart) -> list[PlaceForm]:
    """The kinds of place: first looks that nobody has made, then others not looked at, then the rest."""
    return sorted(at.form.places, key=lambda form: _turn(at, form))


def _turn(at: AtPart, form: PlaceForm) -> int:
    if not unseen(at, form):
        return 2
    return 0 if form.kind in at.form.first_looks else 1


def unseen(at: AtPart, form: PlaceForm) -> list[Place]:
    """The places of a kind, zone by zone where it has some, that nobody has looked at or tested."""
    found = []
    for place in at.engine.places(at.part, form.kind):
        spots = [Place(place.kind, place.index, leaf) for leaf in at.engine.leaves(at.part, form.kind)]
        open_ = [spot for spot in spots if not at.evidence.looked_at(spot)]
        found += [place] if len(open_) == len(spots) else open_
    return found


def told(at: AtPart, form: PlaceForm) -> list[str]:
    """Say of a kind of place what is not looked at, and who looked or tested, when and how."""
    missing = unseen(at, form)
    said = []
    if len(missing) == len(at.engine.places(at.part, form.kind)) and not any(p.zone for p in missing):
        said.append("Nobody has looked.")
    elif missing:
        said.append(f"Nobody has looked at {words.place(listing(missing))}.")
    return [*said, *(_looked(at, look, form) for look in _looks_at(at, form))]


def _looks_at(at: AtPart, form: PlaceForm) -> list[Look]:
    looks = [item for item in at.evidence.items if isinstance(item, Look)]
    return [look for look in looks if any(_touches(text, form) for text in look.places)][::-1]


def _touches(pattern: str, form: PlaceForm) -> bool:
    return parse_place(pattern).kind in ("*", form.kind)


def _looked(at: AtPart, look: Look, form: PlaceForm) -> str:
    named = words.places(text for text in look.places if _touches(text, form))
    method = at.engine.book.methods[look.method].title
    dark = ", in poor light: that settles nothing" if not look.lit else ""
    return words.sentence(f"{item_words.told_by(look, item_words.state(look))}: {named}, {method}{dark}")


def settles(at: AtPart, form: PlaceForm) -> str:
    """Say what "nothing seen" by eye settles at a kind of place as the piece is now; "" if nothing."""
    method = at.engine.book.methods["eye"]
    if methods_at.why_not(at, method):
        return ""
    found = part_places.settled_by(at.engine.book, at.part, form.kind, method.id)
    return f"Nothing seen settles: {', '.join(found)}." if found else ""


def _settles_nothing(at: AtPart) -> str:
    why = methods_at.why_not(at, at.engine.book.methods["eye"])
    return f"A look now tells that somebody looked, and settles no damage word: {why}." if why else ""


def _row(at: AtPart, form: PlaceForm) -> None:
    first = form.kind in at.form.first_looks and bool(unseen(at, form))
    with st.container(key=f"look_row_{form.kind}", horizontal=True, vertical_alignment="center"):
        blocks.show(
            tag(
                "div",
                tag("strong", part_places.kind_words(form)),
                tag("span", " first look", cls="ia-soft") if first else "",
                lines(*told(at, form), cls="ia-soft"),
                lines(settles(at, form), cls="ia-soft"),
                cls="ia-page ia-look",
            )
        )
        last = _undoable(at, form)
        if last is None:
            found = any(
                isinstance(item, Finding) and parse_place(item.place).kind == form.kind
                for item in at.evidence.items
            )
            label = "Looked, nothing else seen" if found else "Looked, nothing seen"
            st.button(label, key=f"look_{form.kind}", on_click=_look, args=(at, form))
        else:
            st.button("Undo this look", key=f"undo_{form.kind}", on_click=_undo, args=(at, form, last))


def _look(at: AtPart, form: PlaceForm) -> None:
    pattern = part_places.whole_kind(at.engine, at.part, form.kind)
    if not part_page_at.complete({}):
        return
    look = Look(**at.stamp("look"), places=(pattern,))
    if part_page_at.save(at, [look], f"{item_words.said(at.engine.book, look)}."):
        st.session_state[_LAST] = {"id": look.id, "kind": form.kind, "until": time() + UNDO_S}


def _undoable(at: AtPart, form: PlaceForm) -> str | None:
    """The look just made at a kind of place, while it can be undone by one tap."""
    last = st.session_state.get(_LAST)
    if last is None or last["kind"] != form.kind or time() > last["until"]:
        return None
    return last["id"] if any(item.id == last["id"] for item in at.evidence.items) else None


def _undo(at: AtPart, form: PlaceForm, look: str) -> None:
    if not part_page_at.complete({}):
        return
    fields = entry.stamp(at.slot, who.who()) | {"id": entry.new_id("withdrawal")}
    withdrawal = Withdrawal(**fields, of=look, reason="Tapped by mistake")
    part_page_at.save(at, [withdrawal], f"the look at {words.plain(form.kind)} is withdrawn.")
    st.session_state.pop(_LAST, None)


@st.fragment
def _other(at: AtPart) -> None:
    key = f"other_look_{at.key}_{st.session_state.get(_SAVED, 0)}"
    asked = part_places.asked(at.engine, at.position)
    given = {"places": (asked,), "method": st.query_params.get("name", "")} if asked else {}
    chosen = coverage_forms.draw_look(at, key, given)
    if not st.button("Save look", key=f"do_save_{key}", type="primary", width="stretch"):
        return
    look = coverage_forms.look(at, chosen)
    if look and part_page_at.save(at, [look], f"{item_words.said(at.engine.book, look)}."):
        st.session_state[_SAVED] = st.session_state.get(_SAVED, 0) + 1
    st.rerun()
