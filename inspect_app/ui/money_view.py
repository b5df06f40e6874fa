"""What the choices for a core leave in hand, and the bill line by line."""

from inspect_app.model.answer import Answer, BillLine, ChoiceValue
from inspect_app.model.frozen import Spread
from inspect_app.ui import drawings, figures, words
from inspect_app.ui.markup import Html, join, lines, table, tag

_HEAD = ("Likely", "Low", "High", "Mean")


def choices(answer: Answer) -> Html:
    """Build the drawing of what each choice leaves, and the same as a table behind a line that opens."""
    rows = [_choice(choice, answer) for choice in answer.choices]
    unknown = any(choice.value is None for choice in answer.choices)
    figured = table(("Choice", *_HEAD), rows, numbers=frozenset({1, 2, 3, 4}), cls="ia-choices")
    note = "Line: low to high. Pointer: likely. Ring: mean, by which the choice is made."
    return join(
        drawings.money_place(),
        lines(note, "Not known: a figure it needs is not entered." if unknown else "", cls="ia-soft"),
        tag("details", tag("summary", "The same in figures"), figured, cls="ia-more"),
    )


def hope(answer: Answer) -> str:
    """Say how many parts nobody has judged, to stand beside what the bill leaves; "" for none."""
    count, total = len(answer.core.not_judged), len(answer.parts)
    if not count:
        return ""
    verb = "is" if count == 1 else "are"
    return f"{count} of {total} parts {verb} not judged; the bill takes each at its cheapest way not closed."


def in_a_line(answer: Answer) -> str:
    """Say the bill in a line: likely, and from where to where."""
    cost = answer.core.cost
    likely, low, high = (figures.money(end, answer.currency) for end in (cost.likely, cost.low, cost.high))
    often = ", eight times in ten" if cost.basis == "sampled" else ""
    return f"Bill: likely {likely}{often} from {low} to {high}."


def _choice(choice: ChoiceValue, answer: Answer) -> tuple[str, ...]:
    said = drawings.CHOICES[choice.choice]
    name: str = said
    if choice.choice == answer.core.verdict:
        name = join(tag("strong", said), " (chosen)")
    if choice.value is None:
        return (name, "not known", "", "", "")
    return (name, *_spread(choice.value, answer.currency))


def _spread(spread: Spread, currency: str) -> tuple[str, ...]:
    return tuple(
        figures.money(amount, currency) for amount in (spread.likely, spread.low, spread.high, spread.mean)
    )


def bill(answer: Answer) -> Html:
    """Build the bill with its total, and beside the total what is not judged."""
    titles = {part.position: part.title for part in answer.parts}
    rows = [_line(line, answer.currency, titles) for line in answer.bill]
    total = ("", "", *map(_strong, _spread(answer.core.cost, answer.currency)), "", "")
    rows.append((tag("strong", "Total"), *total[1:]))
    head = ("Line", "Quantity", *_HEAD, "Days", "Needed by")
    return join(
        table(head, rows, numbers=frozenset(range(1, 7)), cls="ia-bill"),
        lines(_ends(answer), _chances(answer), _not_judged(answer, titles)),
    )


def _strong(text: str) -> Html:
    return tag("strong", text)


def _line(line: BillLine, currency: str, titles: dict[str, str]) -> tuple[str, ...]:
    needed = words.titles(titles.get(position, words.place(position)) for position in line.needed_by)
    name = words.sentence(words.plain(line.line))[:-1]
    days = figures.quantity(line.days) if line.days else ""
    return (name, figures.quantity(line.quantity), *_spread(line, currency), days, needed or "the whole core")


def _ends(answer: Answer) -> str:
    if answer.core.cost.basis == "sampled":
        return "Eight times in ten the total lies between its low and its high."
    return "The total's low is all lines at their low, its high all at their high; seldom does either happen."


def _chances(answer: Answer) -> str:
    if all(line.quantity == int(line.quantity) for line in answer.bill):
        return ""
    return "A quantity that is not whole counts work or a piece by the chance that it is needed."


def _not_judged(answer: Answer, titles: dict[str, str]) -> str:
    if not answer.core.not_judged:
        return ""
    named = words.titles(titles.get(position, words.place(position)) for position in answer.core.not_judged)
    return f"Not judged, and in the total at the cheapest way not closed: {named}."
