"""HTML made from parts: every text is escaped, so nothing typed by a person is ever read as HTML."""

from collections.abc import Sequence
from html import escape


class Html(str):
    """Finished HTML; only this module and the pieces built from it make it."""

    __slots__ = ()


EMPTY = Html("")
_MARKDOWN = frozenset("\\`*_{}[]()#+-.!:|~$<>")


def tag(name: str, *children: str, **attributes: str | None) -> Html:
    """Build one element. Children that are not `Html` are text and are escaped, as attributes are.

    `cls` stands for the attribute `class`, other names are taken as written with `_` for `-`;
    an attribute that is None or "" is left out.
    """
    written = "".join(
        f' {"class" if key == "cls" else key.replace("_", "-")}="{escape(value)}"'
        for key, value in attributes.items()
        if value
    )
    return Html(f"<{name}{written}>{join(*children)}</{name}>")


def plain_label(text: str) -> str:
    """The text as a label of a widget, which would else be read as Markdown."""
    return "".join(f"\\{letter}" if letter in _MARKDOWN else letter for letter in text)


def join(*children: str) -> Html:
    """Put pieces one after the other; text among them is escaped."""
    return Html("".join(child if isinstance(child, Html) else escape(child) for child in children))


def lines(*texts: str, cls: str = "") -> Html:
    """Build one paragraph for each text that is not empty."""
    return join(*(tag("p", text, cls=cls) for text in texts if text))


def table(
    head: Sequence[str],
    rows: Sequence[Sequence[str]],
    *,
    numbers: frozenset[int],
    cls: str = "",
    stacked: bool = True,
) -> Html:
    """Build a table; the columns in `numbers` (from 0) stand right.

    Each cell carries its column's head, which the narrow layout shows beside it where rows are `stacked`
    there; a table of few and short columns need not be.
    """
    named = "ia-table" if stacked else ""
    top = (tag("th", text, cls=_side(at, numbers), scope="col") for at, text in enumerate(head))
    body = (
        tag(
            "tr",
            *(tag("td", cell, cls=_side(at, numbers), data_head=head[at]) for at, cell in enumerate(row)),
        )
        for row in rows
    )
    return tag("table", tag("thead", tag("tr", *top)), tag("tbody", *body), cls=f"{named} {cls}".strip())


def _side(column: int, numbers: frozenset[int]) -> str:
    return "ia-num" if column in numbers else ""
