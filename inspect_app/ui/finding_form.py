"""The form of a finding: what it is, with its definition on the spot, where, and how sure."""

from collections.abc import Mapping
from typing import Any

import streamlit as st

from inspect_app.model.evidence import Evidence, Finding, Test
from inspect_app.model.places import parse_place
from inspect_app.rulebook.matrix import covers, damage_matrix
from inspect_app.ui import blocks, item_words, methods_at, part_page_at, part_places, words
from inspect_app.ui.markup import lines, tag
from inspect_app.ui.part_page_at import AtPart

NEW_TEST = "new"
_LABELS = {"damage": "What is it?", "place": "Where?", "strength": "How sure?", "test": "Confirmed by"}


def draw(at: AtPart, key: str, given: Mapping[str, str] | None = None) -> dict[str, Any]:
    """Draw the form with widgets of this key; what is chosen, beginning with what is `given`.

    Keys: damage, place, zone, strength, test, method, extent, note.
    """
    given = given or {}
    chosen: dict[str, Any] = {"damage": _damage(at, key, given.get("damage"))}
    place, _, zone = given.get("place", "").partition("/")
    chosen["place"] = _choice("Where?", part_places.places(at.engine, at.part), place, f"{key}_place", _place)
    chosen["zone"] = _zone(at, key, chosen["place"], zone)
    _consequence(at, chosen)
    sure = list(item_words.STRENGTHS)
    chosen["strength"] = st.segmented_control(
        "How sure?",
        sure,
        default=given.get("strength"),
        format_func=item_words.STRENGTHS.__getitem__,
        key=f"{key}_strength",
    )
    if chosen["strength"] == "confirmed":
        chosen |= _confirmed(at, key, given, "/".join(filter(None, (chosen["place"], chosen["zone"]))))
    chosen["extent"] = st.text_input(
        "Length, depth, number, if known", given.get("extent", ""), key=f"{key}_extent"
    )
    chosen["note"] = st.text_area("Note", given.get("note", ""), key=f"{key}_note", height=80)
    return chosen


def items(at: AtPart, chosen: Mapping[str, Any], **changes: Any) -> list[Evidence] | None:
    """The finding that was chosen, after the test recorded with it; None where something is missing.

    What is missing is told. `changes` replace fields of the finding.
    """
    wanted = [name for name in ("damage", "place", "strength") if not chosen[name]]
    needs_test = chosen["strength"] == "confirmed"
    if needs_test and not (chosen["test"] and (chosen["test"] != NEW_TEST or chosen["method"])):
        wanted.append("test")
    if not part_page_at.complete({_LABELS[name]: "" for name in wanted}):
        return None
    place = "/".join(filter(None, (chosen["place"], chosen["zone"])))
    tests = _new_test(at, chosen, place) if needs_test and chosen["test"] == NEW_TEST else []
    by = tests[0].id if tests else chosen["test"] if needs_test else None
    named = {name: chosen[name] for name in ("damage", "strength", "extent", "note")}
    finding = Finding(**(at.stamp("finding") | named | {"place": place, "test": by} | changes))
    return [*tests, finding]


def _damage(at: AtPart, key: str, given: str | None) -> str | None:
    book = at.engine.book
    asked = part_places.damage_at(book, at.part)
    chosen = _choice(
        "What is it?",
        [*asked, *(word for word in book.damage if word not in asked)],
        given,
        f"{key}_damage",
        _name,
    )
    if chosen:
        blocks.show(tag("div", lines(book.damage[chosen].plain, cls="ia-soft"), cls="ia-page"))
    return chosen


def _zone(at: AtPart, key: str, place: str | None, given: str) -> str:
    zones = part_places.zones(at.engine.book, at.part, place) if place else []
    if not zones:
        return ""
    offered = ["", *zones]
    return st.selectbox(
        "Where on it?",
        offered,
        index=offered.index(given) if given in offered else 0,
        format_func=part_places.zone_words,
        key=f"{key}_zone_{parse_place(place or '').kind}",
    )


def _choice(label: str, known: list[str], given: str | None, key: str, named: Any) -> str | None:
    at = known.index(given) if given in known else None
    return st.selectbox(label, known, index=at, format_func=named, key=key, placeholder="Choose")


def _place(text: str) -> str:
    return _name(words.place(text))


def _name(text: str) -> str:
    return text[:1].upper() + text[1:]


def _consequence(at: AtPart, chosen: Mapping[str, Any]) -> None:
    """Say on the spot where the rules close nothing for a word at a place, and why."""
    if not chosen["damage"] or not chosen["place"]:
        return
    place = "/".join(filter(None, (chosen["place"], chosen["zone"])))
    if chosen["damage"] in part_places.damage_at(at.engine.book, at.part, place):
        return
    why = unruled(at, chosen["damage"], place)
    said = f"It is kept, and closes nothing here. {why}".strip()
    blocks.show(tag("div", lines(said, cls="ia-soft"), cls="ia-page"))


def unruled(at: AtPart, damage: str, place: str) -> str:
    """The reason that the rules give for asking nothing about a word at a place; "" without one."""
    spot = parse_place(place)
    row = "/".join((spot.kind, *spot.zone))
    reasons = damage_matrix(at.engine.book, at.form).reasons
    found = (why for (at_row, word), why in reasons.items() if word == damage and covers(row, at_row))
    named = next(found, None)
    return at.engine.book.unruled[named].why if named else ""


def _confirmed(at: AtPart, key: str, given: Mapping[str, str], place: str) -> dict[str, Any]:
    """Draw the choice of the test that confirmed it: those that found something here, or a new one."""
    found = {
        test.id: test
        for test in at.evidence.tests.values()
        if test.outcome == "found" and place and any(part_places.touches(one, place) for one in test.places)
    }
    offered = [*found, NEW_TEST]
    said = words.told_apart({id_: item_words.said(at.engine.book, item) for id_, item in found.items()})
    asked = given.get("test", "")
    test = st.selectbox(
        "Confirmed by",
        offered,
        index=offered.index(asked) if asked in offered else 0,
        format_func=lambda id_: said.get(id_, "A test, entered here"),
        key=f"{key}_test",
    )
    if test != NEW_TEST:
        return {"test": test, "method": None}
    methods = {method.id: method for method in methods_at.tests(at)}
    method = st.selectbox(
        "Which test?",
        list(methods),
        format_func=lambda name: methods_at.titled(at, methods[name]),
        key=f"{key}_method",
    )
    return {"test": test, "method": method}


def _new_test(at: AtPart, chosen: Mapping[str, Any], place: str) -> list[Test]:
    """The test that found it, at the place of the finding alone: it speaks for no other."""
    return [Test(**at.stamp("test"), method=chosen["method"], places=(place,), outcome="found")]
