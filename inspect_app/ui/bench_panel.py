"""What the readings come to so far: verdict, profile, bars and figures of the place in hand."""

from collections.abc import Iterator

from inspect_app.model.answer import Answer, PartAnswer
from inspect_app.model.answer_figures import FigureShown, Profile
from inspect_app.model.places import parse_place
from inspect_app.pictures.bore_profile import bore_profile
from inspect_app.pictures.figure_bars import figure_bar, need_bar
from inspect_app.pictures.journal_profile import journal_profile
from inspect_app.pictures.limit_bar import Bar, limit_bar
from inspect_app.pictures.svg import Svg
from inspect_app.pictures.tokens import Ground
from inspect_app.ui import blocks, figure_table, figures, part_drawings, size_words, words
from inspect_app.ui.bench_groups import Box, Group, kind_of, place_name
from inspect_app.ui.drawings import NARROW, PANEL, both_places
from inspect_app.ui.markup import EMPTY, Html, join, lines, tag

_DRAW = {"hole": bore_profile, "shaft": journal_profile}
MOST_BARS = 3
NOTHING = "No figure yet: it takes more readings, in the conditions and the state that are asked for."


class InHand:
    """The place in hand and what the answer says of it."""

    def __init__(self, answer: Answer, group: Group, box: Box) -> None:
        self.answer = answer
        self.group = group
        self.box = box
        self.part = next(part for part in answer.parts if part.position == box.position)
        self.titles = {part.position: part.title for part in answer.parts}

    @property
    def figures(self) -> list[FigureShown]:
        """The figures of the group's kind of place, on every piece of the part that is read here."""
        return [
            f for f in self.part.figures if f.place and parse_place(f.place).kind == kind_of(self.box.place)
        ]

    @property
    def barred(self) -> list[FigureShown]:
        """Those of the place in hand that stand beside a limit: the nearest to theirs first."""
        here = [f for f in self.figures if f.place == self.box.place and figure_bar(f, "")]
        return sorted(here, key=lambda f: f.state != "beyond")[:MOST_BARS]

    @property
    def profile(self) -> Profile | None:
        """The section through the place in hand."""
        return next((p for p in self.part.profiles if p.place == self.box.place), None)

    @property
    def need(self) -> Bar | None:
        """What the place in hand needs from standard, beside the next listed size."""
        found = (
            need_bar(need, plan.unit, f"What {words.place(need.place)} needs")
            for plan in self.part.size_plans
            for need in plan.needs
            if need.place == self.box.place
        )
        return next(found, None)


def panel(hand: InHand) -> Html:
    """Build the panel."""
    part = hand.part
    standing = f", {part.standing}" if part.verdict and part.standing else ""
    said = tag("span", tag("strong", words.verdict(part.verdict)), tag("span", standing, cls="ia-soft"))
    head = tag("h2", _title(hand), cls="ia-part-name")
    return tag(
        "section",
        tag("div", head, tag("div", blocks.part_mark(part), said, cls="ia-panel-mark"), cls="ia-panel-head"),
        lines(words.sentence(words.because(part)), *_sizes(part, hand.answer.currency)),
        both_places("profile") if hand.profile else EMPTY,
        *(join(both_places(_name(figure)), lines(_said(figure), cls="ia-figure")) for figure in hand.barred),
        both_places("need") if hand.need else EMPTY,
        figure_table.tables(hand.figures) if hand.figures else lines(NOTHING, cls="ia-soft"),
        cls="ia-panel ia-page",
        aria_label=f"{part.title}: {words.part_verdict(part)}",
    )


def _title(hand: InHand) -> str:
    place = place_name(hand.box.place)
    return hand.part.title if hand.part.title == place else f"{hand.part.title}, {place.lower()}"


def _sizes(part: PartAnswer, currency: str) -> Iterator[str]:
    for plan in part.size_plans:
        yield f"{size_words.heading(plan)}. {' '.join(size_words.told(plan, currency)[:1])}"


def _said(figure: FigureShown) -> str:
    if figure.limit is None:
        return figures.measured(figure.measured)
    return f"{figures.against(figure.measured, figure.limit)}, {figure_table.stands(figure)}"


def drawings_of(hand: InHand, on: Ground) -> dict[str, str]:
    """Draw everything that the panel keeps a place for, wide and narrow."""
    return {
        f"{name}|{width}": str(drawing)
        for width in (PANEL, NARROW)
        for name, drawing in _drawn(hand, on, width)
    }


def _drawn(hand: InHand, on: Ground, width: int) -> Iterator[tuple[str, Svg]]:
    if hand.profile:
        yield "profile", _DRAW[hand.profile.body]([part_drawings.to_draw(hand.profile)], on, width=width)
    for figure in hand.barred:
        title = words.sentence(f"{figure.title}, {words.place(figure.place)}")[:-1]
        if bar := figure_bar(figure, title):
            yield _name(figure), limit_bar(bar, on, width)
    if hand.need:
        yield "need", limit_bar(hand.need, on, width)


def _name(figure: FigureShown) -> str:
    return f"figure|{figure.quantity}"
