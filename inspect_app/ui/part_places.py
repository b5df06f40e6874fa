"""The places of a part as a person picks them, and what the rules ask there."""

import streamlit as st

from inspect_app.model.places import WHOLE, Place, overlap, parse_place, zone_path
from inspect_app.rulebook.book import Rulebook
from inspect_app.rulebook.check_places import place_problems
from inspect_app.rulebook.engine import Engine
from inspect_app.rulebook.forms_parts import PlaceForm
from inspect_app.rulebook.matrix import damage_matrix
from inspect_app.ui import words


def places(engine: Engine, part: str) -> list[str]:
    """Every place of a part without zones, in the order of its rules: "rod_journal 2"."""
    kinds = (form.kind for form in engine.book.parts[part].places)
    return [str(place) for kind in kinds for place in engine.places(part, kind)]


def zones(book: Rulebook, part: str, place: str) -> list[str]:
    """The zones that can be named on a place, coarse before fine: "fillet", "fillet/front"."""
    form = book.place_form(part, parse_place(place).kind)
    paths = [zone_path(zone) for zone in form.zones] if form else []
    heads = ("/".join(path[:end]) for path in paths for end in range(1, len(path) + 1))
    return list(dict.fromkeys(heads))


def patterns(engine: Engine, part: str) -> list[str]:
    """What a look or test can cover: each kind as a whole, then each place, then each zone of a kind."""
    found = []
    for form in engine.book.parts[part].places:
        whole = whole_kind(engine, part, form.kind)
        found += [whole, *(str(place) for place in engine.places(part, form.kind))]
        found += [f"{whole}/{zone}" for zone in zones(engine.book, part, form.kind)]
    return list(dict.fromkeys(found))


def asked(engine: Engine, position: str) -> str:
    """The place that the address asks for by `?place=`; "" without one, or if the part has none such."""
    named = st.query_params.get("place", "")
    at = engine.positions[position]
    return named if named and not [*place_problems(engine, at, named, "", pattern=True)] else ""


def whole_kind(engine: Engine, part: str, kind: str) -> str:
    """The pattern that covers every place of a kind: "rod_journal *", or "nose" where there is one."""
    several = engine.places(part, kind) != (Place(kind),)
    return f"{kind} *" if several else kind


def touches(pattern: str, place: str) -> bool:
    """Whether what a test covered and a place share metal."""
    one, other = parse_place(pattern), parse_place(place)
    same = one.kind == WHOLE or (one.kind == other.kind and one.index in (WHOLE, other.index))
    return same and overlap(one.zone, other.zone)


def kind_words(form: PlaceForm) -> str:
    """A kind of place, with what the shop calls it where that says more: "Deck (top face)"."""
    name = words.plain(form.kind)
    more = f" ({form.title})" if form.title and form.title != name else ""
    return name[:1].upper() + name[1:] + more


def zone_words(zone: str) -> str:
    """A zone: "fillet/front" -> "fillet, front"; of none, that the place is not said more closely."""
    return ", ".join(map(words.plain, zone_path(zone))) if zone else "Not said more closely"


def damage_at(book: Rulebook, part: str, place: str | None = None) -> list[str]:
    """The damage words that rules of the part ask at or below a place, or anywhere on it, in their order."""
    matrix = damage_matrix(book, book.parts[part])
    if place is None:
        asked = {damage for _, damage in matrix.ruled}
    else:
        at = parse_place(place)
        wanted = (at.kind, *at.zone)
        asked = {
            damage
            for row, damage in matrix.ruled
            if (path := zone_path(row))[: len(wanted)] == wanted[: len(path)]
        }
    return [damage for damage in book.damage if damage in asked]


def settled_by(book: Rulebook, part: str, kind: str, method: str) -> list[str]:
    """The damage words, of those asked at a kind of place, that "nothing seen" by a method settles."""
    return [word for word in damage_at(book, part, kind) if method in book.damage[word].settled_by]
