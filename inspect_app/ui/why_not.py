"""All ways for a part: what each costs and asks of others, and of the closed ones why not."""

from inspect_app.model.answer import Closed, Option, PartAnswer
from inspect_app.ui import figures, words
from inspect_app.ui.markup import EMPTY, Html, join, lines, tag


def ways(part: PartAnswer, currency: str, titles: dict[str, str]) -> Html:
    """Build the list of every way, one behind a line that opens for each reason why it is closed."""
    if not part.options:
        return EMPTY
    items = (tag("li", _way(option, part, currency, titles)) for option in part.options)
    told = tag("summary", f"All ways for this part: {len(part.options)}")
    behind = tag("div", tag("ul", *items, cls="ia-options"), cls="ia-behind")
    return tag("details", told, behind, cls="ia-more")


def _way(option: Option, part: PartAnswer, currency: str, titles: dict[str, str]) -> Html:
    likely = figures.money(option.cost.likely, currency) if option.cost else "no price"
    origin = words.sentence(words.source(option.source, option.kind))[:-1]
    said = words.ways(option.ways)
    head = f", {likely}, {option.state}." + (f" {words.sentence(said)}" if said else "")
    asked = lines(words.asks(option.forces, titles), cls="ia-soft")
    return join(tag("strong", origin), head, asked, _why_not(option, part.closed))


def _why_not(option: Option, closed: tuple[Closed, ...]) -> Html:
    reasons = closing(option, closed) if option.state == "closed" else []
    if not reasons:
        return EMPTY
    said = (tag("li", _reason(reason)) for reason in reasons)
    return tag("details", tag("summary", "Why not?"), tag("ul", *said), cls="ia-more ia-why-not")


def closing(option: Option, closed: tuple[Closed, ...]) -> list[Closed]:
    """The reasons that close a way, the strongest of each rule."""
    names: set[str] = {option.source}
    for taken in option.ways:
        names |= {f"{taken.concern}.{taken.way}", f"{taken.concern}.{taken.size}"}
    first: dict[str, Closed] = {}
    for reason in sorted(closed, key=words.strength, reverse=True):
        if reason.closes in names:
            first.setdefault(reason.rule, reason)
    return list(first.values())


def _reason(reason: Closed) -> str:
    measured = figures.against_limit(reason)
    return " ".join(filter(None, (reason.why, measured, f"Rule {reason.rule}.")))
