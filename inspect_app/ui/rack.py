"""The Rack: all cores, those that wait for something first."""

from collections.abc import Sequence
from urllib.parse import quote

import streamlit as st

from inspect_app.pictures.money_bar import money_line
from inspect_app.pictures.tokens import Ground
from inspect_app.ui import blocks, bring_in, drawings, entry, figures, shelf, words
from inspect_app.ui.blocks import heading, show, title_strip
from inspect_app.ui.markup import EMPTY, Html, join, lines, tag
from inspect_app.ui.rack_order import CLOSED, SETTLED, has, place, waits_on
from inspect_app.ui.shelf import Counted, RackRow

AT_MOST = 200
LOOK_AGAIN_S = 2
_HEAD = ("Core", "Verdict and parts", "Waits for", "Money, likely")
_KEY = "Money: line low to high, pointer likely, ring mean, upright mark zero; all cores on one scale."


def page() -> None:
    """Draw the page: a row for each core that leads to its verdict."""
    entry.show_told()
    rows = sorted(shelf.current().rows(), key=place)
    if not rows:
        show(_empty())
        bring_in.panel()
        return
    show(tag("div", _strip(rows), heading(_counted(rows)), _ways_in(), cls="ia-page"))
    with st.container(key="rack_find"):
        wanted = st.text_input(
            "Find a core",
            key="find",
            live=True,
            placeholder="Title, id, engine, or what it waits for",
            autocomplete="off",
        )
    found = [row for row in rows if has(row, wanted)]
    shown = found[:AT_MOST]
    _list(shown, _cut(wanted, len(shown), len(found), len(rows)))
    bring_in.panel()
    _keep_fresh(shown, rows)


def _list(shown: Sequence[RackRow], cut: str) -> None:
    head = tag(
        "div", *(tag("span", text) for text in _HEAD), cls="ia-rack-head ia-wide-only", aria_hidden="true"
    )
    rows = tag("div", head, *map(_row, shown), cls="ia-rack") if shown else EMPTY
    key = lines(_KEY, cls="ia-soft") if any(row.money for row in shown) else EMPTY
    show(tag("div", tag("p", cut, cls="ia-soft", role="status") if cut else EMPTY, rows, key, cls="ia-page"))
    drawings.show(money_lines(shown, drawings.ground()))


def _cut(wanted: str, shown: int, found: int, cores: int) -> str:
    """How many of the cores were found, and that not all of them are on the page."""
    more = f" {shown} of {found:,} shown. Type more to see fewer." if shown < found else ""
    if not wanted.strip():
        return more.strip()
    nothing = " Look for a part of its title, its id, its engine, or what it waits for." if not found else ""
    return f"{found:,} of {cores:,}.{more}{nothing}"


def _keep_fresh(shown: Sequence[RackRow], rows: Sequence[RackRow]) -> None:
    """Have what is not fresh judged, those on the page first; look again only while one of these is not."""
    stale = [row for row in shown if not row.fresh]
    on_page = {row.id for row in stale}
    others = [row for row in rows if not row.fresh and row.id not in on_page]
    if stale or others:
        shelf.current().judge_again([*stale, *others])
    if stale:
        _look_again(frozenset(on_page))


@st.fragment(run_every=LOOK_AGAIN_S)
def _look_again(stale: frozenset[str]) -> None:
    if any(row.fresh for row in shelf.current().rows() if row.id in stale):
        st.rerun()


def money_lines(rows: Sequence[RackRow], on: Ground) -> dict[str, str]:
    """Draw what the choice made for each core leaves, those in one currency on one scale."""
    return {
        f"money|{row.id}": str(
            money_line(
                row.money,
                [other.money for other in rows if other.money and other.currency == row.currency],
                row.currency or "",
                on,
            )
        )
        for row in rows
        if row.money is not None
    }


def _strip(rows: Sequence[RackRow]) -> Html:
    by = blocks.rules_in_use(shelf.current().book)
    return title_strip(("View", "Rack"), ("Cores", f"{len(rows):,}"), ("Rules and prices", by))


def _counted(rows: Sequence[RackRow]) -> str:
    waiting = sum(waits_on(row) not in (SETTLED, CLOSED) for row in rows)
    cores = "1 core" if len(rows) == 1 else f"{len(rows):,} cores"
    if not waiting:
        return f"{cores}, none waits for anything"
    return f"{cores}, {waiting:,} {'waits' if waiting == 1 else 'wait'} for something"


def _ways_in() -> Html:
    return tag("p", tag("a", "Begin a core", href="/new"), cls="ia-links")


def _row(row: RackRow) -> Html:
    named = tag(
        "span",
        tag("span", row.title, cls="ia-core-title"),
        tag("span", words.STAGES[row.stage], cls="ia-soft"),
    )
    page = "record" if row.records > 1 else "verdict"
    href = f"/{page}?core={quote(row.id, safe='')}"
    return tag("a", named, *_told(row), cls="ia-core", href=href, data_core=row.id)


def _told(row: RackRow) -> tuple[Html, ...]:
    if row.problem is not None:
        return _cell(tag("strong", "Cannot be judged"), _doubt(row)), _cell(row.problem)
    if not row.judged:
        return _cell("Being judged"), _cell(_conflict(row))
    waits = tag("span", tag("span", "Waits for: ", cls="ia-narrow-only"), row.waits_for or "nothing")
    return (
        _cell(tag("strong", _verdict(row)), _doubt(row), _parts(row)),
        _cell(_conflict(row), waits),
        tag("span", _money(row), cls="ia-core-money"),
    )


def _verdict(row: RackRow) -> str:
    if row.verdict is None:
        return words.NOT_JUDGED
    said = words.CORE_CHOICES[row.verdict]
    return f"{said}, {row.standing}" if row.standing else said


def _doubt(row: RackRow) -> Html:
    return EMPTY if row.fresh else tag("span", " As last known; being judged again.", cls="ia-soft")


def _conflict(row: RackRow) -> Html:
    if row.records < 2:
        return EMPTY
    counted = "Two" if row.records == 2 else f"{row.records}"
    return tag("strong", f"{counted} records: settle which counts. ")


def _parts(row: RackRow) -> Html:
    return tag(
        "span",
        *(
            tag(
                "span",
                blocks.swatch(one.verdict, one.standing),
                f"{one.parts} {words.verdict(one.verdict).lower()}"
                f"{', provisional' if one.standing == 'provisional' else ''}",
            )
            for one in sorted(row.parts, key=_firm_first)
        ),
        cls="ia-counts",
    )


_ORDER = (*words.VERDICTS, None)


def _firm_first(counted: Counted) -> tuple[int, bool]:
    return _ORDER.index(counted.verdict), counted.standing != "settled"


def _cell(*pieces: str) -> Html:
    return tag("span", *pieces)


def _money(row: RackRow) -> Html:
    """What the choice that was made leaves, with its ends; and the bill."""
    currency, cost = row.currency or "", row.cost_likely
    bill = tag("span", f"Bill {figures.money(cost, currency)}", cls="ia-soft") if cost is not None else EMPTY
    if row.money is None or row.verdict is None:
        return bill
    left = row.money
    low, likely, high = (figures.money(end, currency) for end in (left.low, left.likely, left.high))
    return join(
        tag("span", drawings.CHOICES[row.verdict], cls="ia-soft"),
        tag("span", tag("strong", likely), tag("span", f", {low} to {high}", cls="ia-soft")),
        drawings.place(f"money|{row.id}"),
        bill if row.verdict == "build" else EMPTY,
    )


def _empty() -> Html:
    return tag(
        "div",
        heading("No core is here yet"),
        lines("A core is one used engine with all that is known of it."),
        tag("p", "Next: ", tag("a", "begin a core", href="/new"), ", or bring in one that was exported."),
        cls="ia-page",
    )
