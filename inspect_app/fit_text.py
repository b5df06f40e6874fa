"""A fit check as text for the terminal: what is out first, then close calls, inside, open, and effects."""

import textwrap
from collections.abc import Iterator

from inspect_app.model.fit_answer import Fit, FitAnswer, FitState
from inspect_app.ui import fit_words as say
from inspect_app.ui import words

_WIDTH = 110


def fit_text(answer: FitAnswer) -> str:
    """The whole fit check for a reader, lines joined by newlines."""
    return "\n".join(_lines(answer))


def _lines(answer: FitAnswer) -> Iterator[str]:
    yield f"{answer.title} ({answer.id}): {say.heading(answer)}"
    built = words.BUILD_STANDARDS[answer.build_standard].lower()
    yield f"Built to: {built}. Stage: {words.STAGES[answer.stage].lower()}."
    for state in ("out", "close", "inside"):
        yield from _section(answer, state)
    yield from _open(answer)
    yield from _effects(answer)


def _section(answer: FitAnswer, state: FitState) -> Iterator[str]:
    fits = say.alike(fit for fit in answer.fits if fit.state == state)
    if not fits:
        return
    yield ""
    yield f"{say.STATES[state]}:"
    for fit in fits:
        yield from _fit(fit)


def _fit(fit: Fit) -> Iterator[str]:
    """A line for a fit; more below it while there is something to do."""
    assert fit.known_by
    known = f"{say.measured(fit.measured)} ({say.KNOWN_BY[fit.known_by]})"
    told = [
        known,
        f"window {say.window(fit.window)}",
        f"at {say.percent(fit.position_percent)} of it" if fit.position_percent is not None else "",
        f"inside with {say.chance(fit.p_inside)}",
    ]
    line = f"{fit.title}, {fit.place}: {', '.join(filter(None, told))}."
    yield from textwrap.wrap(line, _WIDTH, initial_indent="  ", subsequent_indent="    ")
    if fit.state == "inside":
        return
    spread = words.sentence(say.both_ends(fit))
    told = [spread, say.whose(fit.window), say.set_to(fit.set_to), fit.says]
    for text in (*told, *map(say.change, fit.changes)):
        if text:
            yield from textwrap.wrap(text, _WIDTH, initial_indent="    ", subsequent_indent="      ")


def _open(answer: FitAnswer) -> Iterator[str]:
    rows = say.waiting(fit for fit in answer.fits if fit.state == "open")
    if rows:
        yield ""
        yield "Open:"
    for title, places, window, missing in rows:
        text = f"{title}, {places} (window {window}): {missing}"
        yield from textwrap.wrap(text, _WIDTH, initial_indent="  ", subsequent_indent="    ")


def _effects(answer: FitAnswer) -> Iterator[str]:
    if answer.effects:
        yield ""
        yield f"What the {answer.machine} becomes:"
    for item in answer.effects:
        before, after, says = say.effect(item)
        was = f"{before} before, " if before else ""
        sizes = f"{was}{after} by the ways chosen. " if after else ""
        text = f"{item.title}: {sizes}{says}"
        yield from textwrap.wrap(text, _WIDTH, initial_indent="  ", subsequent_indent="    ")
