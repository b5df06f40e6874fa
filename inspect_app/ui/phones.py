"""The Phones page: at the shop's computer, make the code that pairs a phone, and see and end sessions."""

from datetime import datetime, timedelta
from html import escape

import segno
import streamlit as st

from inspect_app.model.problems import Problems
from inspect_app.ui import blocks, entry, pairing
from inspect_app.ui.markup import Html, join, lines, tag
from inspect_app.ui.pair_code import GUESSES, Code
from inspect_app.ui.pair_page import PATH
from inspect_app.ui.pairing import IDLE, LIFETIME, Pairing
from inspect_app.ui.sessions import Paired

_LOOK_AGAIN = timedelta(seconds=2)
_STYLE = Html(
    "<style>.ia-pair { display: flex; flex-wrap: wrap; gap: 24px; align-items: center; } "
    ".ia-pair img { width: 232px; height: 232px; } .ia-pair > div { flex: 1 1 280px; } "
    ".ia-page p.ia-code { font-size: 34px; font-weight: 600; letter-spacing: 0.08em; } "
    ".st-key-do_make_code button, .st-key-end_code button, [class*='st-key-unpair_'] button "
    "{ min-height: 48px; }</style>"
)


def page() -> None:
    """Draw the page; it works at this machine alone, and says so elsewhere."""
    if st.context.headers.get(pairing.FROM) != pairing.MACHINE:
        blocks.show_problem(
            "Phones are paired at the shop's computer", "Open this page there: it shows the code."
        )
        return
    here = pairing.current()
    phones = here.phones()
    blocks.show(_STYLE, tag("div", blocks.title_strip(("View", "Phones"), ("Paired", f"{len(phones)}"))))
    blocks.show(tag("div", blocks.heading(_counted(len(phones))), cls="ia-page"))
    entry.show_told()
    _pair(here)
    if phones:
        lasts = f"Each counts for {LIFETIME.days} days, and no longer than {IDLE.days} days unused."
        blocks.show(tag("div", blocks.section("Paired phones"), lines(lasts), cls="ia-page"))
        for phone in phones:
            _phone(here, phone)


def _counted(count: int) -> str:
    return {0: "No phone is paired", 1: "1 phone is paired"}.get(count, f"{count} phones are paired")


def _pair(here: Pairing) -> None:
    blocks.show(tag("div", blocks.section("Pair a phone"), cls="ia-page"))
    if not here.addresses:
        how = "To let phones in, stop it and start it with: inspect-app serve --share"
        blocks.show(tag("div", lines("This server answers this machine alone.", how), cls="ia-page"))
        return
    standing = here.code()
    if standing is None:
        said = "A code pairs one phone and counts for 10 minutes. The phone must be in the same network."
        blocks.show(tag("div", lines(said), cls="ia-page"))
        if st.button("Make a code", key="do_make_code", type="primary"):
            here.make_code()
            st.rerun()
        return
    address = here.addresses[0]
    if len(here.addresses) > 1:
        address = st.selectbox("Address that the phone reaches", here.addresses, width=420)
    _shown(here, standing[0], address)
    if st.button("End this code", key="end_code"):
        here.end_code()
        st.rerun()


def _shown(here: Pairing, code: Code, address: str) -> None:
    @st.fragment(run_every=_LOOK_AGAIN)
    def waiting() -> None:
        standing = here.code()
        if standing is None or standing[0] != code:
            st.rerun(scope="app")
        else:
            blocks.show(code_block(code, standing[1], address))

    waiting()


def code_block(code: Code, left: timedelta, address: str) -> Html:
    """Build the code as a picture to scan, beside the address and the code to type."""
    minutes = max(1, -(-int(left.total_seconds()) // 60))
    ends = f"It counts for {minutes} more minute{'' if minutes == 1 else 's'} or {GUESSES} wrong tries."
    typed = tag(
        "div",
        lines("Point the phone's camera at the picture, or open on the phone"),
        tag("p", tag("strong", f"{address}{PATH}")),
        lines("and type this code:"),
        tag("p", code.grouped, cls="ia-code"),
        lines(ends, cls="ia-soft"),
    )
    return tag("div", join(_picture(f"{address}{PATH}#{code.text}"), typed), cls="ia-page ia-pair")


def _picture(address: str) -> Html:
    """A QR picture, black on white on every ground: a camera may not read it the other way round."""
    drawn = segno.make(address, micro=False, error="m").svg_data_uri(dark="#000", light="#fff", border=4)
    return Html(f'<img src="{escape(drawn)}" alt="QR picture of the address with the code">')


def _phone(here: Pairing, phone: Paired) -> None:
    with st.container(horizontal=True, vertical_alignment="center", key=f"phone_{phone.token_sha256[:16]}"):
        said = (
            f"Paired {_day(phone.made)}, last seen {_day(phone.seen, '%Y-%m-%d %H:%M')}, "
            f"counts until {_day(pairing.ends(phone))}"
        )
        blocks.show(
            tag("div", tag("p", tag("strong", phone.name)), lines(said, cls="ia-soft"), cls="ia-page")
        )
        if st.button("Unpair", key=f"unpair_{phone.token_sha256[:16]}"):
            _unpair(here, phone)
            st.rerun()


def _unpair(here: Pairing, phone: Paired) -> None:
    try:
        here.revoke(phone.token_sha256)
    except Problems as problems:
        entry.tell(
            f"The phone of {phone.name} is out now, but that could not be written: it is let in again when "
            "the program starts anew. Unpair it once more then.",
            *str(problems).splitlines(),
        )
    else:
        entry.tell(f"The phone of {phone.name} is unpaired: what it had open is closed.")


def _day(moment: datetime, written: str = "%Y-%m-%d") -> str:
    return moment.astimezone().strftime(written)
