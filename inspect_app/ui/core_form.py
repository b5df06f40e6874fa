"""The boxes of a core's record, shared by beginning a core and changing its record."""

from collections.abc import Mapping
from typing import Any, Literal, cast

import streamlit as st

from inspect_app.model.core import Alternative, Claim, Core, CoreRecord, NumberRead
from inspect_app.model.problems import Problem
from inspect_app.ui import words
from inspect_app.ui.typed_text import LONG, Reader, written

CONTENTS = {
    "complete": "Complete, with all that belongs to it",
    "long": "Long: with heads",
    "short": "Short: without heads",
    "bare": "Bare",
}
CLAIMS = {"unchecked": "Not checked", "agrees": "Evidence agrees", "contradicted": "Evidence contradicts"}
PARTS = {"there": "There", "missing": "Missing", "foreign": "Not of this engine"}
ClaimState = Literal["unchecked", "agrees", "contradicted"]
_MONEY = {
    "asking_price": "Asking price",
    "value_built": "Value when built",
    "value_in_parts": "Value in parts",
}
_AN_AMOUNT = "One number, or low, likely and high: 400 450 600"


def head(reader: Reader, core: Core | None, key: str) -> dict[str, Any]:
    """Draw title, build standard, use and stage; what was typed, by the fields of a core."""
    title = st.text_input("Title", core.title if core else "", key=f"{key}_title", autocomplete="off")
    standard = st.selectbox(
        "Built to",
        list(words.BUILD_STANDARDS),
        index=list(words.BUILD_STANDARDS).index(core.build_standard) if core else 0,
        format_func=lambda one: words.BUILD_STANDARDS[one],
        key=f"{key}_standard",
    )
    use = st.text_input(
        "Used for", core.use if core else "", key=f"{key}_use", placeholder="What the built engine is for"
    )
    stage = st.selectbox(
        "Stage",
        list(words.STAGES),
        index=list(words.STAGES).index(core.stage) if core else 0,
        format_func=lambda one: words.STAGES[one],
        key=f"{key}_stage",
    )
    return {
        "title": reader.text("Title", title, needed=True),
        "build_standard": standard,
        "use": reader.text("Used for", use),
        "stage": stage,
    }


def money(reader: Reader, record: CoreRecord, key: str, currency: str) -> dict[str, Any]:
    """Draw the amounts and alternatives; what was typed, by the fields of a record."""
    typed = {
        field: st.text_input(
            f"{title}, {currency}",
            written(getattr(record, field)),
            key=f"{key}_{field}",
            placeholder=_AN_AMOUNT,
            autocomplete="off",
        )
        for field, title in _MONEY.items()
    }
    others = st.text_area(
        f"Alternatives, {currency}",
        "\n".join(f"{one.name}: {written(one.price)}" for one in record.alternatives),
        key=f"{key}_alternatives",
        placeholder="What else could be bought, one in a line: exchange engine: 1900",
    )
    made: dict[str, Any] = {field: reader.amount(title, typed[field]) for field, title in _MONEY.items()}
    return made | {"alternatives": reader.lines("Alternatives", others, _alternative(reader))}


def _alternative(reader: Reader) -> Any:
    def read(where: str, line: str) -> Alternative | None:
        pair = reader.pair(where, line, "Type a name, a colon and its price: exchange engine: 1900.")
        price = reader.amount(where, pair[1]) if pair else None
        return Alternative(name=pair[0], price=price) if pair and price else None

    return read


def claims(reader: Reader, record: CoreRecord, key: str) -> tuple[Claim, ...]:
    """Draw what the seller says, one in a line, each with whether the evidence agrees."""
    typed = st.text_area(
        "Seller's claims",
        "\n".join(claim.text for claim in record.claims),
        key=f"{key}_claims",
        placeholder="One in a line: ran until it was taken out",
    )
    said = reader.lines("Seller's claims", typed, lambda where, line: reader.text(where, line, LONG))
    known = {claim.text: claim.state for claim in record.claims}
    states = list(CLAIMS)
    if not record.claims:
        return tuple(Claim(text=text) for text in said)
    found = []
    for at, text in enumerate(said):
        st.text(text)
        state = st.selectbox(
            f"Claim {at + 1}",
            states,
            index=states.index(known.get(text, "unchecked")),
            format_func=lambda one: CLAIMS[one],
            key=f"{key}_claim_{at}_{text}",
        )
        found.append(Claim(text=text, state=cast(ClaimState, state)))
    return tuple(found)


def numbers(reader: Reader, record: CoreRecord, key: str) -> tuple[NumberRead, ...]:
    """Draw the numbers read, one in a line; a photo stays with the number that it shows."""
    typed = st.text_area(
        "Numbers read",
        "\n".join(f"{one.what}: {one.text}" for one in record.numbers_read),
        key=f"{key}_numbers",
        placeholder="One in a line, as read: casting number on the side: 4417",
    )
    photos = {(one.what, one.text): one.photo for one in record.numbers_read}

    def read(where: str, line: str) -> NumberRead | None:
        pair = reader.pair(where, line, "Type what it is, a colon and the number: casting number: 4417.")
        if pair is None:
            return None
        text = reader.text(where, pair[1])
        return NumberRead(what=pair[0], text=text, photo=photos.get((pair[0], text)))

    return reader.lines("Numbers read", typed, read)


def content(record: CoreRecord, key: str) -> str:
    """Draw how much of the engine is there."""
    options = list(CONTENTS)
    return st.selectbox(
        "What is there",
        options,
        index=options.index(record.content),
        format_func=lambda one: CONTENTS[one],
        key=f"{key}_content",
    )


def parts(reader: Reader, record: CoreRecord, titles: Mapping[str, str], key: str) -> dict[str, str]:
    """Draw which parts are there, missing or foreign; `titles` by position. One is in one list at most."""
    said: dict[str, str] = {}
    for state, title in PARTS.items():
        before = [position for position, told in record.parts.items() if told == state and position in titles]
        chosen = st.multiselect(
            title,
            list(titles),
            before,
            format_func=lambda position: titles[position],
            key=f"{key}_parts_{state}",
            placeholder="Parts",
        )
        for position in chosen:
            if position in said:
                both = f"{PARTS[said[position]].lower()} and {title.lower()}"
                what = f'"{titles[position]}" is told to be both {both}.'
                reader.problems.append(Problem("Parts", what, "Take it out of one of the two."))
            said[position] = state
    unknown = {position: told for position, told in record.parts.items() if position not in titles}
    return unknown | said
