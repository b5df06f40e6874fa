"""The Rack: all cores, those that wait for something first."""

from collections.abc import Sequence
from urllib.parse import quote

import streamlit as st

from inspect_app.model.answer import Answer
from inspect_app.model.frozen import Spread
from inspect_app.pictures.money_bar import money_line
from inspect_app.pictures.tokens import Ground
from inspect_app.ui import drawings, figures, parts_view, shelf, words
from inspect_app.ui.blocks import heading, rules_and_prices, show, title_strip
from inspect_app.ui.markup import EMPTY, Html, join, lines, tag
from inspect_app.ui.shelf import Slot

AT_MOST = 200
_HEAD = ("Core", "Verdict and parts", "Waits for", "Money, likely")
_KEY = "Money: line low to high, pointer likely, ring mean, upright mark zero; all cores on one scale."
_ORDER = {None: 1, "provisional": 2, "settled": 3}


def page() -> None:
    """Draw the page: a row for each core that leads to its verdict."""
    cores = shelf.current()
    slots = sorted(filter(None, (cores.get(row.id) for row in cores.rows())), key=_waiting_first)
    if not slots:
        show(_empty())
        return
    wanted = st.text_input("Find a core by its title") if len(slots) > AT_MOST else ""
    found = [slot for slot in slots if wanted.casefold() in _title(slot).casefold()]
    shown = found[:AT_MOST]
    cut = f"{len(shown)} of {len(found)} shown. Type a part of the title to see fewer."
    head = tag(
        "div", *(tag("span", text) for text in _HEAD), cls="ia-rack-head ia-wide-only", aria_hidden="true"
    )
    rows = tag("div", head, *map(_row, shown), cls="ia-rack")
    show(
        tag(
            "div",
            _strip(slots),
            heading(_counted(slots)),
            rows,
            lines(cut if len(found) > AT_MOST else ""),
            lines(_KEY, cls="ia-soft"),
            cls="ia-page",
        )
    )
    drawings.show(money_lines([slot.answer for slot in shown if slot.answer], drawings.ground()))


def money_lines(answers: Sequence[Answer], on: Ground) -> dict[str, str]:
    """Draw what the choice made for each core leaves, those in one currency on one scale."""
    left = {answer.core.id: spread for answer in answers if (spread := _chosen(answer))}
    return {
        f"money|{answer.core.id}": str(
            money_line(
                left[answer.core.id],
                [
                    left[other.core.id]
                    for other in answers
                    if other.core.id in left and other.currency == answer.currency
                ],
                answer.currency,
                on,
            )
        )
        for answer in answers
        if answer.core.id in left
    }


def _chosen(answer: Answer) -> Spread | None:
    """What the choice that was made leaves; None where none was made or a figure is missing."""
    return next((c.value for c in answer.choices if c.choice == answer.core.verdict), None)


def _waiting_first(slot: Slot) -> tuple[int, str]:
    if slot.answer is None:
        return 0, slot.id
    return _ORDER[slot.answer.core.standing], slot.answer.core.title


def _title(slot: Slot) -> str:
    return slot.answer.core.title if slot.answer else slot.id


def _strip(slots: list[Slot]) -> Html:
    known = next((slot.answer for slot in slots if slot.answer), None)
    said = [("Rules and prices", rules_and_prices(known))] if known else []
    return title_strip(("View", "Rack"), ("Cores", f"{len(slots)}"), *said)


def _counted(slots: list[Slot]) -> str:
    waiting = sum(slot.answer is None or slot.answer.core.standing != "settled" for slot in slots)
    cores = "1 core" if len(slots) == 1 else f"{len(slots)} cores"
    if not waiting:
        return f"{cores}, none waits for anything"
    return f"{cores}, {waiting} {'waits' if waiting == 1 else 'wait'} for something"


def _row(slot: Slot) -> Html:
    answer = slot.answer
    cells = _told(answer) if answer else (_cell(tag("strong", "Cannot be judged")), _cell(slot.problem or ""))
    stage = words.STAGES[answer.core.stage] if answer else ""
    named = tag("span", tag("span", _title(slot), cls="ia-core-title"), tag("span", stage, cls="ia-soft"))
    return tag("a", named, *cells, cls="ia-core", href=f"/verdict?core={quote(slot.id, safe='')}")


def _told(answer: Answer) -> tuple[Html, Html, Html]:
    core = answer.core
    verdict = tag("strong", words.core_verdict(core))
    waits = core.waits_for or "nothing"
    return (
        _cell(verdict, parts_view.counted_with_marks(answer)),
        _cell(tag("span", "Waits for: ", cls="ia-narrow-only"), waits),
        tag("span", _money(answer), cls="ia-core-money"),
    )


def _cell(*pieces: str) -> Html:
    return tag("span", *pieces)


def _money(answer: Answer) -> Html:
    """What the choice that was made leaves, with its ends; and the bill."""
    cost, value = figures.money(answer.core.cost.likely, answer.currency), _chosen(answer)
    bill = tag("span", f"Bill {cost}", cls="ia-soft")
    if value is None or answer.core.verdict is None:
        return bill
    low, likely, high = (figures.money(end, answer.currency) for end in (value.low, value.likely, value.high))
    return join(
        tag("span", drawings.CHOICES[answer.core.verdict], cls="ia-soft"),
        tag("span", tag("strong", likely), tag("span", f", {low} to {high}", cls="ia-soft")),
        drawings.place(f"money|{answer.core.id}"),
        bill if answer.core.verdict == "build" else EMPTY,
    )


def _empty() -> Html:
    return tag(
        "div",
        heading("No core is here yet"),
        lines(
            "Each core is a folder of its own with a core.json in it.",
            "Next: put one into the folder that was named at the start, then load this page again.",
        ),
        cls="ia-page",
    )
