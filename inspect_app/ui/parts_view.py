"""The list of parts on the Verdict page: one line each, which leads to the part's panel."""

from collections import Counter

from inspect_app.model.answer import Answer, PartAnswer
from inspect_app.model.frozen import Verdict
from inspect_app.ui import figures, part_choice, words
from inspect_app.ui.blocks import part_mark, swatch
from inspect_app.ui.markup import EMPTY, Html, join, tag

_HEAD = ("", "Part", "Because, or turns on", "Likely")
_ORDER: tuple[Verdict | None, ...] = (*words.VERDICTS, None)


def parts(answer: Answer, shown: PartAnswer | None) -> Html:
    """Build the list of all parts; `shown` is the one in the panel."""
    names = (tag("span", text) for text in _HEAD)
    head = tag("div", *names, cls="ia-part-head ia-wide-only", aria_hidden="true")
    return tag("div", head, *(_part(part, answer, part == shown) for part in answer.parts), cls="ia-parts")


def _part(part: PartAnswer, answer: Answer, shown: bool) -> Html:
    likely = figures.money(part.cost.likely, answer.currency) if part.cost else "not known"
    named = tag("span", part.title, cls="ia-part-title")
    said = tag("span", words.part_verdict(part), cls="ia-part-verdict")
    cells = (
        tag("span", named, said, cls="ia-part-named"),
        tag("span", words.because(part), cls="ia-part-why"),
        tag("span", tag("span", "Likely ", cls="ia-narrow-only"), likely, cls="ia-part-cost"),
        tag("span", _old_piece(part, answer.currency), cls="ia-part-old"),
    )
    return tag(
        "a",
        part_mark(part),
        *cells,
        cls="ia-part ia-chosen" if shown else "ia-part",
        href=part_choice.link(answer.core.id, part.position),
        data_part=part.position,
        aria_current="true" if shown else None,
    )


def _old_piece(part: PartAnswer, currency: str) -> Html:
    old = part.old_piece
    if old is None:
        return EMPTY
    value = f", {figures.money(old.value, currency)}" if old.value else ""
    return join(tag("span", "Old piece: ", cls="ia-soft"), f"{words.FATES[old.fate]}{value}")


def counts(answer: Answer) -> list[tuple[Verdict | None, int]]:
    """Return how many parts there are of each verdict, those there are none of left out."""
    found = Counter(part.verdict for part in answer.parts)
    return [(verdict, found[verdict]) for verdict in _ORDER if found[verdict]]


def counted(answer: Answer) -> str:
    """Say how many parts there are of each verdict: "2 reuse, 1 not judged"."""
    return ", ".join(f"{count} {words.verdict(verdict).lower()}" for verdict, count in counts(answer))


def counted_with_marks(answer: Answer) -> Html:
    """Build the same with the mark of each verdict beside its count."""
    said = (
        tag(
            "span",
            swatch(verdict, "settled" if verdict else None),
            f"{count} {words.verdict(verdict).lower()}",
        )
        for verdict, count in counts(answer)
    )
    return tag("span", *said, cls="ia-counts")
