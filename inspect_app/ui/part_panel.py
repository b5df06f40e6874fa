"""The panel of one part: what closes it, its sizes, its profile, and all that stands behind."""

from collections.abc import Callable, Sequence

from inspect_app.model.answer import Answer, CloseCall, Closed, Forced, PartAnswer
from inspect_app.model.answer_figures import FigureShown, SizeNeed, SizePlan
from inspect_app.model.frozen import Spread
from inspect_app.ui import (
    figure_table,
    figures,
    part_choice,
    part_drawings,
    size_words,
    where,
    why_not,
    words,
)
from inspect_app.ui.blocks import part_mark
from inspect_app.ui.markup import EMPTY, Html, join, lines, table, tag

FIGURES_OPEN = 24
"""Up to this many figures stand open in the panel."""


Photos = Callable[[Closed], Html]


def panel(part: PartAnswer, answer: Answer, photos: Photos = lambda _: EMPTY) -> Html:
    """Build the panel: the short of it first, the rest behind lines that open.

    `photos` builds the photos on which the findings of a reason are marked.
    """
    titles = {other.position: other.title for other in answer.parts}
    by_rule = words.reasons_by_rule(part.closed)
    return tag(
        "section",
        _head(part),
        _chosen(part, answer.currency),
        _ways_in(part, answer.core.id),
        _group("It turns on", _turns_on(part, titles)),
        _first_reason(part, by_rule, photos),
        _nearest(part),
        *(_plan(part, plan, answer.currency) for plan in part.size_plans),
        _profile(part),
        _group("Asked for by another part", [_forced(forced, titles) for forced in part.forced_by]),
        _group("Still open", _still_open(part, answer.core.id)),
        _group("Does not count", [words.left_out(one) for one in part.left_out]),
        _group("Close calls", [_close_call(part, call) for call in part.close_calls]),
        _group("Pieces that sat here before", [_former(piece.piece, piece.closed) for piece in part.former]),
        _figures(part),
        _half_known(part),
        _more(
            f"Why other ways are closed: {_rules(by_rule)}",
            [_reason(part, found, photos) for found in by_rule[1:]],
        ),
        _all_profiles(part),
        why_not.ways(part, answer.currency, titles),
        cls="ia-panel",
        data_panel=part.position,
        aria_label=f"{part.title}: {words.part_verdict(part)}",
    )


def _head(part: PartAnswer) -> Html:
    standing = f", {part.standing}" if part.verdict and part.standing else ""
    said = tag("span", tag("strong", words.verdict(part.verdict)), tag("span", standing, cls="ia-soft"))
    mark = tag("div", part_mark(part), said, cls="ia-panel-mark")
    return tag("div", tag("h2", part.title, cls="ia-part-name", tabindex="-1"), mark, cls="ia-panel-head")


def _chosen(part: PartAnswer, currency: str) -> Html:
    grounds = words.sentence(words.GROUNDS[part.grounds]) if part.grounds else ""
    ways = words.sentence(words.ways(part.ways))
    chosen = words.sentence(f"{words.source(part.source, part.kind)}") if part.source else ""
    spread = _spread(part.cost, currency) if part.cost else ""
    piece = f"Piece {part.piece}." if part.piece and part.piece != part.position else ""
    return lines(" ".join(filter(None, (chosen, ways, grounds, spread, piece))), _old_piece(part, currency))


def _ways_in(part: PartAnswer, core_id: str) -> Html:
    """The pages where more about this part is entered."""
    query = part_choice.query(core_id, part.position)
    pages = (
        ("Photos, looks, findings, tests", f"/part?{query}"),
        ("Measure", f"/bench?{query}"),
        ("Report or decision", f"/verdict?{query}&enter=report"),
    )
    return tag("p", *(tag("a", said, href=address) for said, address in pages), cls="ia-links")


def _still_open(part: PartAnswer, core_id: str) -> list[Html]:
    """The open points, each leading to where it is entered."""
    return [
        _led(said, where.of_point(core_id, part.position, point))
        for said, point in words.open_points_said(part)
    ]


def _led(said: str, address: str | None) -> Html:
    return tag("a", said, href=address) if address else join(said)


def _spread(cost: Spread, currency: str) -> str:
    low, likely, high = (figures.money(end, currency) for end in (cost.low, cost.likely, cost.high))
    return f"Likely {likely}, from {low} to {high}."


def _old_piece(part: PartAnswer, currency: str) -> str:
    old = part.old_piece
    if old is None or old.fate == "keep":
        return ""
    value = f", {figures.money(old.value, currency)}" if old.value else ""
    return f"Old piece: {words.FATES[old.fate]}{value}."


def _group(title: str, items: Sequence[str]) -> Html:
    if not items:
        return EMPTY
    return join(tag("h3", title, cls="ia-group"), tag("ul", *(tag("li", item) for item in items)))


def _more(title: str, items: Sequence[str], *, cls: str = "") -> Html:
    """Build a line that opens to a list; nothing without items."""
    if not items:
        return EMPTY
    return _behind(title, tag("ul", *(tag("li", item) for item in items), cls=cls))


def _behind(title: str, *inner: str, open_: bool = False) -> Html:
    told = (tag("summary", title), tag("div", *inner, cls="ia-behind"))
    return tag("details", *told, cls="ia-more", open="open" if open_ else None)


def _rules(by_rule: list[list[Closed]]) -> str:
    count = len(by_rule) - 1
    return f"{count} more rule{'' if count == 1 else 's'}"


def _first_reason(part: PartAnswer, by_rule: list[list[Closed]], photos: Photos) -> Html:
    return tag("div", _reason(part, by_rule[0], photos), cls="ia-first") if by_rule else EMPTY


def _reason(part: PartAnswer, reasons: list[Closed], photos: Photos) -> Html:
    reason, *others = reasons
    hard = ", hard rule" if reason.hard else ""
    evidence = f" Evidence: {', '.join(reason.evidence)}." if reason.evidence else ""
    basis = f"Rule {reason.rule}{hard}. Basis: {words.sentence(reason.basis)}{evidence}"
    return join(
        tag("p", tag("strong", f"Closes {words.closes(reason.closes)}. "), reason.why),
        part_drawings.bar_place(part, reason),
        *map(photos, reasons),
        lines(figures.against_limit(reason), cls="ia-figure"),
        lines(reason.plain),
        lines(_also(others)),
        lines(basis, cls="ia-soft"),
    )


def _also(others: list[Closed]) -> str:
    """The other places that the same rule closes, each with its figure."""
    said = [
        f"{words.place(other.place)}: {figures.measured(other.measured)}"
        if other.measured
        else words.place(other.place)
        for other in others
    ]
    return words.sentence(f"also {'; '.join(said)}") if said else ""


def _plan(part: PartAnswer, plan: SizePlan, currency: str) -> Html:
    return join(
        tag("h3", size_words.heading(plan), cls="ia-group"),
        lines(*size_words.told(plan, currency)),
        part_drawings.need_place(part, plan),
        _needs(plan),
    )


def _needs(plan: SizePlan) -> Html:
    head = (f"From standard, {plan.unit}", "needs", "from", "to", "next size")
    left = any(need.left for need in plan.needs)
    rows = [(*_need(need, plan.unit), *([_left(need)] if left else [])) for need in plan.needs]
    whole = (*head, *(["leaves"] if left else []))
    return table(whole, rows, numbers=frozenset(), cls="ia-figures", stacked=False)


def _need(need: SizeNeed, unit: str) -> tuple[str, ...]:
    steps = [
        "not known" if step is None else size_words.step(step, unit, named=False)
        for step in (need.usual, need.low, need.high)
    ]
    size = (need.next_size or "none").removesuffix(f" {unit}")
    return words.sentence(words.place(need.place))[:-1], *steps, size


def _left(need: SizeNeed) -> str:
    return figures.measured(need.left) if need.left else "not known"


def _profile(part: PartAnswer) -> Html:
    first = part_drawings.first_profile(part)
    return tag("div", part_drawings.profile_place(part, first), cls="ia-profile") if first else EMPTY


def _all_profiles(part: PartAnswer) -> Html:
    if len(part.profiles) < 2:
        return EMPTY
    named = words.places(profile.place for profile in part.profiles)
    return _behind(f"Profiles of {named}, at one scale", part_drawings.all_profiles_place(part))


def _figures(part: PartAnswer) -> Html:
    if not part.figures:
        return EMPTY
    few = len(part.figures) <= FIGURES_OPEN
    return _behind(figure_table.counted(part.figures), figure_table.tables(part.figures), open_=few)


def _nearest(part: PartAnswer) -> Html:
    figure = part_drawings.nearest(part)
    if figure is None:
        return EMPTY
    drawn = part_drawings.figure_place(part, figure)
    return join(
        tag("h3", "Nearest to its limit", cls="ia-group"), drawn, lines(_said(figure), cls="ia-figure")
    )


def _half_known(part: PartAnswer) -> Html:
    """The figures of which not all is read, without the one that is drawn above as the nearest."""
    found = [figure for figure in part_drawings.half_known(part) if figure != part_drawings.nearest(part)]
    if not found:
        return EMPTY
    count = f"{len(found)} figure{'' if len(found) == 1 else 's'}"
    bars = (
        join(part_drawings.figure_place(part, figure), lines(_said(figure), cls="ia-figure"))
        for figure in found
    )
    return _behind(f"Not all is read: {count}", *bars)


def _said(figure: FigureShown) -> str:
    """A figure against its limit, where the decision stands, and the odds."""
    if figure.limit is None:
        return ""
    stands = figure_table.stands(figure)
    return words.sentence(f"{figures.against(figure.measured, figure.limit)}, {stands}")


def _turns_on(part: PartAnswer, titles: dict[str, str]) -> list[str]:
    if part.fork is None:
        return []
    other = part.fork.else_
    source = f", {words.source(other.source)}" if other.source else ""
    conditions: list[str] = []
    for link, fork in words.fork_by_link(part.fork, part, titles):
        said = [words.sentence(one) for one in words.fork_conditions(fork)]
        conditions += [join(link, tag("ul", *(tag("li", one) for one in said)))] if link else said
    return [*conditions, f"Else: {words.verdict(other.verdict)}{source}."]


def _close_call(part: PartAnswer, call: CloseCall) -> Html:
    return join(figures.close_call(call), part_drawings.bar_place(part, call))


def _forced(forced: Forced, titles: dict[str, str]) -> str:
    return f"{_title(forced.position, titles)}, {forced.choice}: {words.sentence(forced.why)}"


def _title(position: str, titles: dict[str, str]) -> str:
    return titles.get(position, words.place(position))


def _former(piece: str, closed: tuple[str, ...]) -> str:
    if not closed:
        return f"Piece {piece}: nothing was closed."
    return f"Piece {piece}: closed {', '.join(map(words.closes, closed))}."
