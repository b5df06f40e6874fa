"""One item of evidence in words: what it says, and who says it, when, of which state."""

from inspect_app.model.evidence import (
    BillPaid,
    Decision,
    Evidence,
    Finding,
    Look,
    OutsideReport,
    Photo,
    Reading,
    Region,
    Sign,
    Test,
    Withdrawal,
)
from inspect_app.model.places import parse_place
from inspect_app.pictures.item_words import STRENGTHS as STRENGTHS
from inspect_app.pictures.item_words import state as state
from inspect_app.pictures.item_words import when as when
from inspect_app.rulebook.book import Rulebook
from inspect_app.ui import words

OUTCOMES = {"nothing_found": "nothing found", "found": "found something", "cannot_tell": "cannot tell"}
SHAPES = {
    "rectangle": "rectangle",
    "ellipse": "ellipse",
    "polygon": "polygon",
    "crack_line": "crack line",
    "point": "point",
    "scale_line": "scale line",
}


def kind(item: Evidence) -> str:
    """What an item is called: "finding", "outside report"."""
    return {"report": "outside report", "region": "mark"}.get(item.kind, item.kind)


def said(book: Rulebook, item: Evidence) -> str:
    """What an item says, in one line."""
    match item:
        case Finding():
            sure = STRENGTHS[item.strength].lower()
            extent = f", {item.extent}" if item.extent else ""
            return f"{_capital(item.damage)}, {words.place(item.place)}, {sure}{extent}"
        case Look():
            dark = "" if item.lit else ", in poor light"
            return f"Looked, nothing seen: {words.places(item.places)}, {_method(book, item.method)}{dark}"
        case Test():
            covered = words.places(item.places)
            return f"{_capital(_method(book, item.method))}, {OUTCOMES[item.outcome]}: {covered}"
        case Reading():
            spot = ", ".join(filter(None, (words.place(item.place), *map(words.plain, item.slot))))
            return f"{_quantity(book, item)}, {spot}: {item.value} {item.unit}".strip()
        case Photo():
            return f"Photo: {item.caption}" if item.caption else "Photo"
        case Region():
            return f"On a photo: {SHAPES[item.shape]}"
        case _:
            return _said_otherwise(book, item)


def _said_otherwise(book: Rulebook, item: Evidence) -> str:
    match item:
        case Sign():
            form = book.signs.get(item.sign)
            return f"{form.question if form else item.sign} {_capital(item.answer)}"
        case OutsideReport():
            grounds = f"; grounds: {item.grounds}" if item.grounds else "; no grounds given"
            return f"Somebody else says: {words.plain(item.says)}{grounds}"
        case Decision():
            about = words.plain(item.rule or item.answer or "")
            return f"{_capital(words.plain(item.decision))}: {about}. {item.reason}"
        case BillPaid():
            return f"Paid: {words.plain(item.line)}, {item.amount:g}"
        case Withdrawal():
            return f"Withdrawn: {item.reason}"
        case _:
            return kind(item).capitalize()


def told_by(item: Evidence, state: str = "") -> str:
    """Who says it and when, in which state of the piece: "K.O., 24 Nov 2026, washed"."""
    return ", ".join(filter(None, (item.who, when(item.when), state.lower())))


def _method(book: Rulebook, name: str) -> str:
    form = book.methods.get(name)
    return form.title if form else name


def _quantity(book: Rulebook, item: Reading) -> str:
    form = book.quantities.get((item.quantity, parse_place(item.place).kind))
    return _capital(form.title if form else words.plain(item.quantity))


def _capital(text: str) -> str:
    return text[:1].upper() + text[1:]
