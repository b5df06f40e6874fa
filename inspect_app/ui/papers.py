"""The Papers: which can be handed out as things stand, each as it will be printed, and why others cannot."""

import hashlib
from pathlib import Path

import streamlit as st

from inspect_app.model.answer import Answer
from inspect_app.model.problems import Problems
from inspect_app.papers import TITLES, NotOffered, Offer, Paper, offers
from inspect_app.ui import blocks, paper_routes
from inspect_app.ui.choice import chosen_core
from inspect_app.ui.markup import EMPTY, Html, join, lines, table, tag
from inspect_app.ui.shelf import Slot

_STYLE = Path(__file__).with_name("papers.css").read_text(encoding="utf-8")


def page() -> None:
    """Draw the page for the core named by `?core=ID`, with the paper for `?part=POSITION` open."""
    slot = chosen_core()
    if slot is None or slot.answer is None:
        return
    st.html(f"<style>{_STYLE}</style>")
    told = offers(slot.answer)
    offered = [one for one in told if isinstance(one, Offer)]
    blocks.show(tag("div", _head(slot.answer, len(offered)), cls="ia-page"))
    if offered:
        chosen = _chosen(slot, offered)
        if chosen is not None:
            blocks.show(tag("div", _paper(slot, chosen), cls="ia-page"))
    blocks.show(tag("div", _not_offered([one for one in told if isinstance(one, NotOffered)]), cls="ia-page"))


def _head(answer: Answer, count: int) -> Html:
    said = f"{count} paper{'' if count == 1 else 's'} to hand out" if count else "No paper to hand out yet"
    hint = (
        "A rejection sheet says to the customer why a part is not kept and what the ways forward cost, and "
        "asks for an answer to each. It is offered once Replace or Scrap is settled."
    )
    return join(blocks.title_block(answer, "Papers"), blocks.heading(said), lines(hint))


def _chosen(slot: Slot, offered: list[Offer]) -> Offer | None:
    """The box of the papers there are; the part in the address first."""
    positions = {one.position: one for one in offered}
    asked = st.query_params.get("part", "")
    key = f"paper_{slot.id}"
    if asked in positions and st.session_state.get(f"{key}_asked") != asked:
        st.session_state[key] = asked
        st.session_state[f"{key}_asked"] = asked
    if st.session_state.get(key) not in positions:
        st.session_state.pop(key, None)
    chosen = st.selectbox(
        "Paper",
        list(positions),
        format_func=lambda position: f"{TITLES[positions[position].kind]}: {positions[position].title}",
        key=key,
        width=420,
    )
    return positions.get(chosen) if chosen else None


def _paper(slot: Slot, offer: Offer) -> Html:
    try:
        paper = paper_routes.paper_of(slot, offer)
    except Problems as problems:
        return tag(
            "div", lines("This paper could not be made.", *str(problems).splitlines()), cls="ia-refused"
        )
    name = f"{slot.id}--{offer.file_name}"
    link = tag(
        "a", "Download the PDF", href=paper_routes.address(slot.id, offer), download=name, cls="ia-fetch"
    )
    missing = tag("p", paper.missing, role="status") if paper.missing else EMPTY
    return join(tag("p", link), missing, *_pages(slot, offer, paper))


def _pages(slot: Slot, offer: Offer, paper: Paper) -> list[Html]:
    version = hashlib.sha256(paper.pdf).hexdigest()[:12]
    count = len(paper.pages)
    pages = []
    for number in range(1, count + 1):
        at = paper_routes.page_address(slot.id, offer, number, version)
        said = f"{TITLES[offer.kind]}, {offer.title}, page {number} of {count}"
        # On a phone a page is too small to read in its column: opened alone it can be drawn apart.
        pages.append(tag("a", tag("img", src=at, alt=said, cls="ia-paper-page"), href=at, target="_blank"))
    return pages


def _not_offered(told: list[NotOffered]) -> Html:
    if not told:
        return EMPTY
    rows = [(one.title, one.why) for one in told]
    return join(blocks.section("Not offered"), table(("Part", "Why"), rows, numbers=frozenset()))
