"""The Fit check: how the parts of a core go together, what is out and what brings it in, what it becomes."""

from collections.abc import Iterator, Sequence

from inspect_app.model.answer import Answer
from inspect_app.model.fit_answer import Fit, FitAnswer, FitState
from inspect_app.pictures.limit_bar import NARROW, WIDTH, Bar, limit_bar
from inspect_app.pictures.tokens import Ground
from inspect_app.ui import blocks, drawings, shelf, words
from inspect_app.ui import fit_words as say
from inspect_app.ui.choice import chosen_core
from inspect_app.ui.markup import EMPTY, Html, join, lines, table, tag

_DRAWN: tuple[FitState, ...] = ("out", "close")
_INSIDE = ("Fit", "Place", "Measured", "Window", "Position", "Inside with")
_OPEN = ("Fit", "Place", "Window", "Missing")
_BECOMES = ("What", "Before", "After", "Goes with it")


def page() -> None:
    """Draw the page for the core named by `?core=ID`, else for the first on the shelf."""
    slot = chosen_core()
    if slot is None or slot.answer is None:
        return
    fits = shelf.current().fits(slot.id)
    if fits is None:
        blocks.show_problem("No fit check here", "This server was started without the rules of fits.")
        return
    blocks.show(_page(slot.answer, fits))
    drawings.show(bars(fits, drawings.ground()))


def _page(answer: Answer, fits: FitAnswer) -> Html:
    return tag(
        "div",
        blocks.title_block(answer, "Fit check"),
        blocks.heading(say.heading(fits)),
        lines(_hint(fits)),
        *(_drawn(fits, state) for state in _DRAWN),
        _inside(fits),
        _open(fits),
        _becomes(fits),
        cls="ia-page",
    )


def _hint(fits: FitAnswer) -> str:
    if all(fit.measured is None for fit in fits.fits):
        return "Fits are measured when the finished parts go together. What to read, and where, stands below."
    return (
        "Position: 0 % at the low end of the window, 100 % at its high end. A close call is inside by 5 to "
        "95 %: measure it again before it goes together."
    )


def _drawn(fits: FitAnswer, state: FitState) -> Html:
    """The fits of one state, each with its bar and what brings it inside."""
    found = say.alike(fit for fit in fits.fits if fit.state == state)
    if not found:
        return EMPTY
    return join(blocks.section(say.STATES[state]), *map(_fit, found))


def _fit(fit: Fit) -> Html:
    known = say.KNOWN_BY[fit.known_by] if fit.known_by else ""
    figure = (
        f"{say.measured(fit.measured)} ({known}), window {say.window(fit.window)}; "
        f"inside with {say.chance(fit.p_inside)}."
    )
    changes = tag("ul", *(tag("li", say.change(item)) for item in fit.changes)) if fit.changes else EMPTY
    basis = " ".join(filter(None, (say.whose(fit.window), _evidence(fit))))
    drawn = tag("div", *(drawings.place(f"{_name(fit)}|{width}", cls) for width, cls in _WIDTHS))
    told = tag(
        "div",
        lines(figure, cls="ia-figure"),
        lines(words.sentence(say.both_ends(fit)), say.set_to(fit.set_to), fit.says),
        changes,
        lines(basis, cls="ia-soft"),
    )
    title = tag("h3", f"{fit.title}, {fit.place}", cls="ia-group")
    return join(title, tag("div", drawn, told, cls="ia-two"))


_WIDTHS = ((WIDTH, "ia-wide-only"), (NARROW, "ia-drawn-narrow"))


def _evidence(fit: Fit) -> str:
    return f"Evidence: {', '.join(fit.evidence)}." if fit.evidence else ""


def _inside(fits: FitAnswer) -> Html:
    rows = [
        (
            fit.title,
            fit.place,
            say.measured(fit.measured),
            say.window(fit.window),
            say.percent(fit.position_percent),
            say.chance(fit.p_inside),
        )
        for fit in say.alike(fit for fit in fits.fits if fit.state == "inside")
    ]
    return _table("Inside", _INSIDE, rows, frozenset({4, 5}))


def _open(fits: FitAnswer) -> Html:
    rows = say.waiting(fit for fit in fits.fits if fit.state == "open")
    return _table("Still open", _OPEN, rows, frozenset())


def _becomes(fits: FitAnswer) -> Html:
    rows = [(item.title, *say.effect(item)) for item in fits.effects]
    return _table(f"What the {fits.machine} becomes", _BECOMES, rows, frozenset({1, 2}))


def _table(title: str, head: tuple[str, ...], rows: Sequence[Sequence[str]], numbers: frozenset[int]) -> Html:
    return join(blocks.section(title), table(head, rows, numbers=numbers)) if rows else EMPTY


def bars(fits: FitAnswer, on: Ground) -> dict[str, str]:
    """Draw the bar of every fit that the page keeps a place for, wide and narrow."""
    return {
        f"{_name(fit)}|{width}": str(limit_bar(bar, on, width))
        for fit, bar in _bars(fits)
        for width, _ in _WIDTHS
    }


def _bars(fits: FitAnswer) -> Iterator[tuple[Fit, Bar]]:
    for fit in say.alike(fit for fit in fits.fits if fit.state in _DRAWN):
        if fit.measured is not None and fit.window is not None:
            bar = Bar(
                title=_bar_title(fit),
                unit=say.unit(fit.measured.unit),
                value=fit.measured.value,
                u=fit.measured.u,
                lower=fit.window.low,
                upper=fit.window.high,
                limit_word="window",
                note=say.WHOSE[fit.window.whose],
            )
            yield fit, bar


def _bar_title(fit: Fit) -> str:
    """Where in its window the fit stands; the place, where the window has no two ends."""
    if fit.position_percent is None:
        return words.sentence(fit.place)[:-1]
    return f"At {say.percent(fit.position_percent)} of its window"


def _name(fit: Fit) -> str:
    return f"fit|{fit.fit}|{fit.place}"
