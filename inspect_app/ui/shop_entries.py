"""The shop's own prices and gauges as rows that a person types, and back: every fault at once."""

from collections.abc import Mapping
from datetime import date
from decimal import Decimal
from typing import Any

from pydantic import ValidationError

from inspect_app.model.frozen import Frozen
from inspect_app.model.problems import Problem, from_validation, raise_if_any
from inspect_app.rulebook.book import TABLES, Rulebook, Where
from inspect_app.ui.typed_rows import Row

NUMBERS = {"price": ("low", "likely", "high", "days"), "gauge": ()}
_TYPED = {
    "price": ("title", "low", "likely", "high", "days", "supplier"),
    "gauge": ("title", "resolution", "half_width", "half_width_is", "repeatability", "division"),
}


def rows(book: Rulebook, table: str) -> dict[str, Row]:
    """Every entry of a table by id as text, with whose it is."""
    entries: Mapping[str, Frozen] = book.prices if table == "price" else book.gauges
    return {name: _row(book, table, name, form) for name, form in entries.items()}


def _row(book: Rulebook, table: str, name: str, form: Frozen) -> Row:
    held = form.model_dump()
    typed = {field: _text(held[field]) for field in _TYPED[table]}
    return typed | {"whose": whose(book, table, name, held)}


def _text(value: Any) -> str:
    if value is None:
        return ""
    # What is shown is saved again when another column is typed over, so it must say all of the number.
    return f"{Decimal(repr(value)).normalize():f}" if isinstance(value, float) else str(value)


def whose(book: Rulebook, table: str, name: str, held: Mapping[str, Any]) -> str:
    """Whose an entry is: "shipped", or the shop's, with who and when."""
    if not book.from_shop(table, name):
        return "shipped"
    said = [str(held.get("by") or ""), str(held.get("date") or "")]
    where: Where = book.where[(table, name)]
    return ", ".join(filter(None, ("the shop's", *said))) if any(said) else f"the shop's, {where.file}"


def entries(book: Rulebook, table: str, typed: Mapping[str, Row], who: str) -> list[Frozen]:
    """The rows typed as entries of the shop, stamped with who and today. Raises Problems with every fault."""
    made, problems = list[Frozen](), list[Problem]()
    held: Mapping[str, Frozen] = book.prices if table == "price" else book.gauges
    for name, row in typed.items():
        here = f"{row.get('title') or name}"
        kept = held[name].model_dump() if name in held else {}
        fields = {field: row.get(field, "") for field in _TYPED[table]}
        numbers, wrong = _numbers(fields, NUMBERS[table], here)
        problems += wrong
        empty = {field: None for field, text in fields.items() if text == ""}
        whole = kept | fields | numbers | empty | {"id": name, "by": who, "date": date.today().isoformat()}
        if not wrong:
            try:
                made.append(TABLES[table].model_validate({k: v for k, v in whole.items() if v is not None}))
            except ValidationError as error:
                problems += from_validation(error, here)
    raise_if_any(problems)
    return made


def _numbers(fields: Row, names: tuple[str, ...], here: str) -> tuple[dict[str, float], list[Problem]]:
    found = dict[str, float]()
    problems = list[Problem]()
    for name in names:
        text = fields[name]
        if text == "":
            continue
        number = amount(text)
        if number is None:
            what = f'"{text}" is not an amount, or may be two.'
            problems.append(Problem(f"{here}, {name}", what, "Write it as 1200, 85 or 85.50."))
        else:
            found[name] = number
    return found, problems


def amount(text: str) -> float | None:
    """An amount typed with comma or point, spaces between thousands; None if it is none.

    Three digits after a single comma or point may be thousandths or thousands, so nobody may guess.
    """
    plain = text.replace("\u00a0", "").replace(" ", "").replace(",", ".")
    whole, _, part = plain.partition(".")
    if not plain.isascii() or not (whole + part).isdigit() or len(part) == 3:
        return None
    return float(plain)
