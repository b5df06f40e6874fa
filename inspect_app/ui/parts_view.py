"""The list of parts on the Verdict page: one line each, and all that stands behind it on opening."""

from inspect_app.model.answer import Answer, CloseCall, Closed, Forced, Option, PartAnswer
from inspect_app.model.frozen import Spread
from inspect_app.ui import drawings, figures, words
from inspect_app.ui.blocks import part_mark
from inspect_app.ui.markup import EMPTY, Html, join, lines, table, tag

_HEAD = ("", "Part", "Verdict", "Because, or turns on", "Likely", "Old piece")


def parts(answer: Answer) -> Html:
    """Build the list of all parts; each line opens to its reasons, open points and options."""
    names = (tag("span", text) for text in _HEAD)
    head = tag("div", *names, cls="ia-part-head ia-wide-only", aria_hidden="true")
    return tag("div", head, *(_part(part, answer) for part in answer.parts), cls="ia-parts")


def _part(part: PartAnswer, answer: Answer) -> Html:
    likely = figures.money(part.cost.likely, answer.currency) if part.cost else "not known"
    cells = (
        tag("span", part.title, cls="ia-part-title"),
        tag("span", words.part_verdict(part), cls="ia-part-verdict"),
        tag("span", words.because(part), cls="ia-part-why"),
        tag("span", tag("span", "Likely ", cls="ia-narrow-only"), likely, cls="ia-part-cost"),
        tag("span", _old_piece(part, answer.currency), cls="ia-part-old"),
    )
    line = tag("summary", part_mark(part), *cells)
    return tag(
        "details",
        line,
        tag("div", *_behind(part, answer), cls="ia-behind"),
        cls="ia-part",
        data_part=part.position,
    )


def _old_piece(part: PartAnswer, currency: str) -> Html:
    old = part.old_piece
    if old is None:
        return EMPTY
    value = f", {figures.money(old.value, currency)}" if old.value else ""
    return join(tag("span", "Old piece: ", cls="ia-narrow-only"), f"{words.FATES[old.fate]}{value}")


def _behind(part: PartAnswer, answer: Answer) -> list[Html]:
    titles = {other.position: other.title for other in answer.parts}
    return [
        _chosen(part, answer.currency),
        _group("What it turns on", _turns_on(part)),
        _group(
            "Why the other ways are closed", [_reason(part, reasons) for reasons in _by_rule(part.closed)]
        ),
        _group("Asked for by another part", [_forced(forced, titles) for forced in part.forced_by]),
        _group("Still open", words.open_points(part)),
        _group("Close calls", [_close_call(part, call) for call in part.close_calls]),
        _options(part.options, answer.currency, titles),
        _group("Pieces that sat here before", [_former(piece.piece, piece.closed) for piece in part.former]),
    ]


def _group(title: str, items: list[str]) -> Html:
    if not items:
        return EMPTY
    return join(tag("h3", title, cls="ia-group"), tag("ul", *(tag("li", item) for item in items)))


def _chosen(part: PartAnswer, currency: str) -> Html:
    grounds = words.sentence(words.GROUNDS[part.grounds]) if part.grounds else ""
    ways = words.sentence(words.ways(part.ways))
    chosen = words.sentence(f"{words.source(part.source, part.kind)}") if part.source else ""
    spread = _spread(part.cost, currency) if part.cost else ""
    piece = f"Piece {part.piece}." if part.piece and part.piece != part.position else ""
    return lines(" ".join(filter(None, (chosen, ways, grounds, spread, piece))))


def _spread(cost: Spread, currency: str) -> str:
    low, likely, high = (figures.money(end, currency) for end in (cost.low, cost.likely, cost.high))
    return f"Likely {likely}, from {low} to {high}."


def _turns_on(part: PartAnswer) -> list[str]:
    if part.fork is None:
        return []
    other = part.fork.else_
    source = f", {words.source(other.source)}" if other.source else ""
    conditions = [words.sentence(said) for said in words.fork_conditions(part.fork)]
    return [*conditions, f"Else: {words.verdict(other.verdict)}{source}."]


def _by_rule(closed: tuple[Closed, ...]) -> list[list[Closed]]:
    """Reasons of one rule that close the same way, together; the strongest first, in and among them."""
    groups: dict[tuple[str, str], list[Closed]] = {}
    for reason in sorted(closed, key=words.strength, reverse=True):
        groups.setdefault((reason.rule, reason.closes), []).append(reason)
    return list(groups.values())


def _reason(part: PartAnswer, reasons: list[Closed]) -> Html:
    reason, *others = reasons
    also = (f"Also {words.place(other.place)}. {figures.against_limit(other)}" for other in others)
    figure = figures.against_limit(reason)
    hard = ", hard rule" if reason.hard else ""
    evidence = f" Evidence: {', '.join(reason.evidence)}." if reason.evidence else ""
    basis = f"Rule {reason.rule}{hard}. Basis: {words.sentence(reason.basis)}{evidence}"
    return join(
        tag("p", tag("strong", f"Closes {words.closes(reason.closes)}. "), reason.why),
        drawings.bar_place(part, reason),
        lines(figure, cls="ia-figure"),
        lines(reason.plain),
        lines(*also),
        lines(basis, cls="ia-soft"),
    )


def _close_call(part: PartAnswer, call: CloseCall) -> Html:
    return join(figures.close_call(call), drawings.bar_place(part, call))


def _forced(forced: Forced, titles: dict[str, str]) -> str:
    return f"{_title(forced.position, titles)}, {forced.choice}: {words.sentence(forced.why)}"


def _asks(forces: tuple[Forced, ...], titles: dict[str, str]) -> str:
    """What one way asks of other parts, parts that are asked the same for the same reason together."""
    groups: dict[tuple[str, str], list[str]] = {}
    for forced in forces:
        groups.setdefault((forced.choice, forced.why), []).append(_title(forced.position, titles))
    return " ".join(
        f"{words.titles(named)}, {choice}: {words.sentence(why)}" for (choice, why), named in groups.items()
    )


def _title(position: str, titles: dict[str, str]) -> str:
    return titles.get(position, words.place(position))


def _options(options: tuple[Option, ...], currency: str, titles: dict[str, str]) -> Html:
    rows = [
        (
            words.sentence(words.source(option.source, option.kind))[:-1],
            words.ways(option.ways),
            option.state,
            figures.money(option.cost.likely, currency) if option.cost else "no price",
            _asks(option.forces, titles),
        )
        for option in options
    ]
    if not rows:
        return EMPTY
    head = ("From", "Ways", "State", "Likely", "Asks of other parts")
    title = tag("h3", "All ways for this part", cls="ia-group")
    return join(title, table(head, rows, numbers=frozenset({3})))


def _former(piece: str, closed: tuple[str, ...]) -> str:
    if not closed:
        return f"Piece {piece}: nothing was closed."
    return f"Piece {piece}: closed {', '.join(map(words.closes, closed))}."
