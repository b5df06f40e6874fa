"""The bars of an answer's figures: each beside its limit, and a need beside the next listed size."""

from inspect_app.model.answer import CloseCall, Closed, PartAnswer
from inspect_app.model.answer_figures import FigureShown, SizeNeed
from inspect_app.pictures import words
from inspect_app.pictures.answer_words import plain, sentence, titled
from inspect_app.pictures.limit_bar import Bar, bar_of

NEEDS_FROM = "wear shared to wear on one side"


def reason_bar(part: PartAnswer, reason: Closed | CloseCall) -> Bar | None:
    """Return the bar of a reason or close call of a part; None where it has no figure or no limit."""
    figure = figure_of(part, reason)
    named = titled(figure.title if figure else "", reason.place) or sentence(plain(reason.rule))[:-1]
    return bar_of(reason, named, worse=figure.worse if figure else None)


def figure_of(part: PartAnswer, reason: Closed | CloseCall) -> FigureShown | None:
    """Return the figure of the part that a reason speaks of."""
    same = (f for f in part.figures if f.place == reason.place and f.measured == reason.measured)
    return next(same, None)


def figure_bar(figure: FigureShown, title: str) -> Bar | None:
    """Return the bar of one figure; None where it has no limit in its unit."""
    read, limit = figure.measured, figure.limit
    if limit is None or limit.unit != read.unit:
        return None
    return Bar(
        title=title,
        unit=read.unit,
        value=read.value,
        u=read.u,
        lower=limit.value if figure.worse == "below" else None,
        upper=limit.value if figure.worse == "above" else None,
        known=read.bound,
        note=words.LIMITS_FROM[figure.limit_from] if figure.limit_from else "",
        places=read.places,
    )


def need_bar(need: SizeNeed, unit: str, title: str) -> Bar | None:
    """Return the bar of what one place needs from standard; None where something is not read.

    The next listed size stands where a limit would; without one no size on the list is enough.
    """
    if need.low is None or need.usual is None or need.high is None:
        return None
    return Bar(
        title=title,
        unit=unit,
        value=words.rounded(need.usual, unit),
        upper=size_value(need.next_size, unit),
        limit_word="next size",
        value_word="needs",
        note="from standard",
        span=(need.low, need.high),
        span_word=NEEDS_FROM,
    )


def size_value(size: str | None, unit: str) -> float | None:
    """Read a listed size as written, "0.020 in"; None without one or in another unit."""
    amount, _, written = (size or "").partition(" ")
    try:
        return float(amount) if written == unit else None
    except ValueError:
        return None
