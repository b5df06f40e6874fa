"""The Help page: the manual, and with its page on limits the limits of the rules in use and of one core.

The manual's pages are our own text and the only Markdown of the screens. Notes of an engine sheet and
whatever else a person typed stand in escaped tables.
"""

import re
from pathlib import Path

import streamlit as st

from inspect_app.pictures.words import LIMITS_FROM, number
from inspect_app.rulebook.limits_told import STANDARDS, CountingLimit, LimitsTold, UsualLimit
from inspect_app.shipped import manual_page
from inspect_app.ui import blocks, shelf, words
from inspect_app.ui.choice import chosen_core
from inspect_app.ui.markup import EMPTY, Html, join, lines, table, tag

PAGES = (
    "index",
    "tour-buyer",
    "tour-technician",
    "tour-advisor",
    "questions",
    "at-the-part",
    "at-the-bench",
    "papers",
    "how-a-reading-becomes-a-verdict",
    "where-each-limit-comes-from",
    "words",
)
LIMITS = "where-each-limit-comes-from"
_LINK = re.compile(r"\[([^\]]+)\]\(([a-z-]+)\.md\)")
_USUAL = ("Limit", "Of", *(words.BUILD_STANDARDS[standard] for standard in STANDARDS), "Decided", "Rests on")
_COUNTING = ("Limit", "Of", "Value", "Decided", "Whose", "From")
_STYLE = Path(__file__).with_name("help.css").read_text("utf-8")


def page() -> None:
    """Draw the page of the manual named by `?page=NAME`, else its first, under a list of all."""
    asked = st.query_params.get("page", PAGES[0])
    name = asked if asked in PAGES else PAGES[0]
    blocks.show(Html(f"<style>{_STYLE}</style>"), _contents(name))
    with st.container(key="help"):
        st.markdown(text(name), unsafe_allow_html=True)
    if name == LIMITS:
        _limits()


def text(name: str) -> str:
    """Return one of our own pages as Markdown, its links in HTML, so that they open in the same tab."""
    return _LINK.sub(r'<a href="help?page=\2" target="_self">\1</a>', manual_page(name).read_text("utf-8"))


def title(name: str) -> str:
    """Return the title of a page: its first line."""
    return manual_page(name).read_text("utf-8").partition("\n")[0].removeprefix("# ")


def _contents(now: str) -> Html:
    links = (
        tag(
            "li",
            tag("a", title(name), href=f"help?page={name}", target="_self")
            if name != now
            else tag("strong", title(name), aria_current="page"),
        )
        for name in PAGES
    )
    return tag("nav", tag("ul", *links), cls="ia-page ia-help-contents", aria_label="Pages of the manual")


def _limits() -> None:
    told = shelf.current().limits()
    if told is None:
        return
    if shelf.current().rows():
        blocks.show(tag("div", blocks.section("Limits that count for one core"), cls="ia-page"))
        slot = chosen_core()
        of_core = shelf.current().limits(slot.id) if slot is not None and slot.answer is not None else None
        blocks.show(tag("div", counting(of_core) if of_core else EMPTY, cls="ia-page"))
    summary = tag("summary", f"All {len(told.usual)} limits of shop and rule pack, by build standard")
    blocks.show(tag("div", tag("details", summary, usual(told), cls="ia-more"), cls="ia-page"))


def usual(told: LimitsTold) -> Html:
    """Build the table of the limits of shop and pack, a row for each, by build standard."""
    rows = [_usual_row(limit) for limit in told.usual]
    return table(_USUAL, rows, numbers=frozenset({2, 3, 4}), cls="ia-limits")


def _usual_row(limit: UsualLimit) -> tuple[str, ...]:
    values = tuple(f"{limit.side} {value}" if value else "none" for value in limit.values)
    whose = f"{LIMITS_FROM['shop']}: " if limit.whose == "shop" else ""
    return words.sentence(limit.title)[:-1], limit.where, *values, limit.decision, whose + limit.basis


def counting(told: LimitsTold) -> Html:
    """Build the table of the limits that count for a core, under what its sheet was typed from."""
    if told.standard is None:
        return EMPTY
    said = (
        f"{words.BUILD_STANDARDS[told.standard]}. Engine sheet: {told.sheet}; typed from: {told.source}.",
        "A row is named as the sheet has it, with the note typed beside it.",
    )
    rows = list(map(_counting_row, told.counting))
    return join(lines(*said), table(_COUNTING, rows, numbers=frozenset({2}), cls="ia-limits"))


def _counting_row(limit: CountingLimit) -> tuple[str, ...]:
    came = f"row {limit.row}" + (f": {limit.note}" if limit.note else "") if limit.row else limit.basis
    return (
        words.sentence(limit.title)[:-1],
        limit.where,
        f"{limit.side} {_value(limit.value)} {limit.unit}",
        limit.decision,
        LIMITS_FROM[limit.whose],
        came,
    )


def _value(value: float) -> str:
    """Six places at most, none that is nothing: a limit is shown as exactly as it was typed."""
    return number(value, 6).rstrip("0").removesuffix(".")
