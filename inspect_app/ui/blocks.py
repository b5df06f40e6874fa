"""Pieces that several pages share: the title block, the answer as a heading, the mark of a verdict."""

import streamlit as st

from inspect_app.model.answer import Answer, PartAnswer
from inspect_app.model.frozen import Standing, Verdict
from inspect_app.rulebook.book import Rulebook
from inspect_app.ui import words
from inspect_app.ui.markup import Html, join, lines, tag


def title_block(answer: Answer, view: str) -> Html:
    """Build the ruled strip at the head of a page: core, view, built to, evidence, rules and prices."""
    core = answer.core
    last = f", last {core.evidence.last.replace('T', ' ')}" if core.evidence.last else ""
    counted = f"{core.evidence.count} item{'' if core.evidence.count == 1 else 's'}{last}"
    return title_strip(
        ("Core", core.title),
        ("View", f"{view}, {words.STAGES[core.stage].lower()}"),
        ("Built to", words.BUILD_STANDARDS[core.build_standard]),
        ("Evidence", counted),
        ("Rules and prices", words.rules_and_prices(answer)),
    )


def title_strip(*cells: tuple[str, str]) -> Html:
    """Build a ruled strip of labels and values; a phone shows the first two."""
    return tag(
        "div", *(_cell(label, text, first=at < 2) for at, (label, text) in enumerate(cells)), cls="ia-title"
    )


def rules_in_use(book: Rulebook) -> str:
    """Say which rules and prices are in use, as an answer made by them would."""
    rules = ", ".join([book.pack.version, *(f"with {used.id}" for used in book.overlays)])
    return f"{rules}; {book.price_book.title}, {book.price_book.date}"


def _cell(label: str, text: str, *, first: bool = False) -> Html:
    return tag(
        "div",
        tag("div", label, cls="ia-label"),
        tag("div", text, cls="ia-value"),
        cls="ia-cell" if first else "ia-cell ia-wide-only",
    )


def heading(text: str) -> Html:
    """Build the one heading of a page; it is the answer."""
    return tag("h1", text, cls="ia-answer")


def section(text: str) -> Html:
    """Build the heading of a section."""
    return tag("h2", text, cls="ia-section")


def swatch(verdict: Verdict | None, standing: Standing | None) -> Html:
    """Build the mark of a verdict: wash and hatch, bordered by how sure it is. The word stands beside it."""
    return tag(
        "span", cls=f"ia-swatch ia-{verdict or 'unjudged'} ia-{standing or 'unjudged'}", aria_hidden="true"
    )


def part_mark(part: PartAnswer) -> Html:
    """Build the mark of one part's verdict."""
    return swatch(part.verdict, part.standing)


def show(*pieces: str) -> None:
    """Put pieces of HTML on the page, if there is anything in them; text among them is escaped."""
    html = join(*pieces)
    if html:
        st.html(html)


def show_problem(heading_text: str, problem: str) -> None:
    """Show what is wrong, a line for each problem, under a heading that says what it prevents."""
    show(tag("div", heading(heading_text), lines(*problem.splitlines()), cls="ia-page"))
