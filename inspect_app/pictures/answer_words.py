"""The words that screens and papers share: from the Answer's ids to what is read."""

from collections.abc import Iterable, Iterator

from inspect_app.model.answer import Answer, Closed, Forced, Fork, ForkIf, LeftOut, OpenPoint, PartAnswer
from inspect_app.model.answer_figures import WayTaken
from inspect_app.model.frozen import BuildStandard, Source
from inspect_app.model.places import listing, parse_place, runs
from inspect_app.pictures.item_words import when
from inspect_app.pictures.words import verdict

SHOWN_CONDITIONS = 2
FEW_WORDS = 48
_AS_IS = ": as is"

BUILD_STANDARDS: dict[BuildStandard, str] = {
    "run": "Put back to run",
    "freshen": "Freshen",
    "rebuild": "Rebuild",
}
SOURCES: dict[Source, str] = {
    "own": "own piece",
    "another_core": "from another core",
    "used": "used",
    "exchange": "exchange",
    "new": "new",
}
FATES = {
    "keep": "keep",
    "sell": "sell",
    "core_credit": "return for core credit",
    "hand_back": "hand back",
    "scrap": "scrap",
}


def not_judged_because(part: PartAnswer) -> str:
    """Say what is missing before a part can be judged: its first open point, and how many follow."""
    points = list(grouped_points(part))
    if not points:
        return "Nobody has looked at it."
    more = f"; {len(points) - 1} more open" if len(points) > 1 else ""
    return sentence(points[0][0] + more)


def grouped_points(part: PartAnswer) -> Iterator[tuple[str, OpenPoint]]:
    """A part's open points, those that differ only in their place in one, each with the first it says."""
    groups: dict[tuple[str, tuple[str, ...]], list[OpenPoint]] = {}
    for point in part.open_points:
        groups.setdefault((point.what, point.needed_for), []).append(point)
    for (what, _), points in groups.items():
        yield what + _at([point.place for point in points], ", "), points[0]


def _at(names: list[str], before: str, after: str = "") -> str:
    said = places(names)
    return f"{before}{said}{after}" if said else ""


def fork(part: PartAnswer) -> str:
    """Say a provisional verdict's fork: "If crack test (pin 1 to 4): clean, else Replace."; "" without one.

    Of more than two conditions the rest is counted; `fork_conditions` has them all.
    """
    if part.fork is None:
        return ""
    said = fork_conditions(part.fork, brief=True)
    shown = (
        said
        if len(said) <= SHOWN_CONDITIONS
        else [*said[:SHOWN_CONDITIONS], f"{len(said) - SHOWN_CONDITIONS} more"]
    )
    conditions = " and ".join(shown)
    other = part.fork.else_
    origin = f", {SOURCES[other.source]}" if other.source and other.source != "own" else ""
    return sentence(f"if {conditions}, else {verdict(other.verdict)}{origin}")


def fork_conditions(turns_on: Fork, brief: bool = False) -> list[str]:
    """Say what a fork turns on, conditions that differ only in their place in one.

    In `brief`, of places that would take more than a few words only the other part is named.
    """
    groups: dict[tuple[str, str], list[str]] = {}
    for item in turns_on.if_:
        groups.setdefault((item.what, item.answer), []).append(item.place)
    return [
        f"{what}{_brief_at(names) if brief else _at(names, ' (', ')')}: {answer}"
        for (what, answer), names in groups.items()
    ]


def fork_by_link(turns_on: Fork, part: PartAnswer, named: dict[str, str]) -> list[tuple[str, Fork]]:
    """Draw a fork's own conditions together, under "", then those of other parts under why they count here.

    `named` gives the title of each position.
    """
    groups: dict[str, list[ForkIf]] = {}
    for item in sorted(turns_on.if_, key=lambda item: bool(item.because)):
        groups.setdefault(item.because, []).append(item)
    return [
        (_link(because, items, part, named), turns_on.model_copy(update={"if_": tuple(items)}))
        for because, items in groups.items()
    ]


def _link(because: str, items: list[ForkIf], part: PartAnswer, named: dict[str, str]) -> str:
    if not because:
        return ""
    others = [other for item in items for other in item.positions if other != part.position]
    return f"{titles(named.get(other, place(other)) for other in others)}, because: {sentence(because)}"


def _brief_at(names: list[str]) -> str:
    at = _at(names, " (", ")")
    if len(at) <= FEW_WORDS:
        return at
    parts = dict.fromkeys(name.partition(": ")[0] for name in names if ": " in name)
    return f" ({', '.join(parts)})" if parts else ""


def left_out(one: LeftOut) -> str:
    """Say which look or test does not count, and why: "Look by K.O., 20 Nov 2026 (pin 1): not washed."."""
    at = _at(list(one.places), " (", ")")
    return sentence(f"{one.kind} by {one.who}, {when(one.when)}{at}: {one.why}")


def strongest(closed: tuple[Closed, ...]) -> Closed:
    """Pick the reason to show first: a hard rule, then one that closes the own piece, then the surest."""
    return max(closed, key=strength)


def strength(reason: Closed) -> tuple[bool, bool, float]:
    """Return what reasons are ordered by, the strongest greatest."""
    return reason.hard, reason.closes == "own", reason.p_beyond or 0.0


def reasons_by_rule(closed: tuple[Closed, ...]) -> list[list[Closed]]:
    """Return reasons of one rule that close the same way together; the strongest first, in and among them."""
    groups: dict[tuple[str, str], list[Closed]] = {}
    for reason in sorted(closed, key=strength, reverse=True):
        groups.setdefault((reason.rule, reason.closes), []).append(reason)
    return list(groups.values())


def asks(forces: tuple[Forced, ...], named: dict[str, str]) -> str:
    """What one way asks of other parts, parts that are asked the same for the same reason together."""
    groups: dict[tuple[str, str], list[str]] = {}
    for forced in forces:
        title = named.get(forced.position, place(forced.position))
        groups.setdefault((forced.choice, forced.why), []).append(title)
    return " ".join(f"{titles(parts)}, {choice}: {sentence(why)}" for (choice, why), parts in groups.items())


def rules_and_prices(answer: Answer) -> str:
    """Say by which rules and prices an answer was made."""
    return f"{rules_used(answer)}; {answer.prices.title}, {answer.prices.date}"


def rules_used(answer: Answer) -> str:
    """Say by which rules an answer was made, the shop's own among them."""
    return ", ".join([answer.rulebook.version, *(f"with {used.id}" for used in answer.rulebook.overlays)])


def closes(what: str) -> str:
    """Say what a reason closes: "own" -> "the own piece", "mains.polish" -> "mains: polish"."""
    if what in SOURCES:
        return "the own piece" if what == "own" else f"the source {plain(what)}"
    concern, _, way = what.partition(".")
    return f"{plain(concern)}: {plain(way)}" if way else plain(concern)


def way(taken: WayTaken) -> str:
    """Say the way taken for one concern: "bores: bore 0.020, sleeve at bore 3"."""
    size = f" {taken.size}" if taken.size else ""
    apart = plain(taken.except_way) if taken.except_way else "otherwise"
    besides = f", {apart} at {places(taken.except_at)}" if taken.except_at else ""
    return f"{plain(taken.concern)}: {plain(taken.way)}{size}{besides}"


def ways(taken: Iterable[WayTaken]) -> str:
    """Say the ways taken, those that change nothing last and in one: "bores: hone; the rest as is"."""
    said = [way(one) for one in taken]
    changed = [text for text in said if not text.endswith(_AS_IS)]
    if len(said) - len(changed) < 2:
        return "; ".join(said)
    return "; ".join([*changed, "the rest as is"]) if changed else "all as is"


def source(origin: Source, kind: str | None = None) -> str:
    """Say where a part comes from and of which kind: "used, forged"."""
    return f"{SOURCES[origin]}, {plain(kind)}" if kind else SOURCES[origin]


def place(name: str) -> str:
    """Say a place without the marks of its id: "main_journal 2/fillet" -> "main journal 2, fillet"."""
    head, *zone = plain(name).split("/")
    if head.endswith("*"):
        head = f"every {head[:-1].strip()}" if head[:-1].strip() else "the whole piece"
    return ", ".join([head, *zone])


def places(names: Iterable[str]) -> str:
    """Say several places, runs of a number drawn together: "pin 1 to 4, snout"; "" for the whole part."""
    named = [name for name in dict.fromkeys(names) if name]
    patterns = [place(name) for name in named if "*" in name]
    return ", ".join(
        filter(None, [*patterns, place(listing([parse_place(n) for n in named if "*" not in n]))])
    )


def titles(names: Iterable[str]) -> str:
    """Say several titles, numbers of one name drawn together: "Block, Gear 1 to 4"."""
    groups: dict[str, list[str]] = {}
    for name in dict.fromkeys(names):
        stem, _, number = name.rpartition(" ")
        key, index = (stem, number) if stem and number.isdigit() else (name, "")
        groups.setdefault(key, []).append(index)
    return ", ".join(f"{stem} {runs(numbers)}".strip() for stem, numbers in groups.items())


def plain(name: str) -> str:
    """Take the joining marks out of an id: "deck_mill" -> "deck mill"."""
    return name.replace("_", " ").replace("-", " ")


def sentence(text: str) -> str:
    """Begin with a capital and end with a full stop, leaving the rest as it is."""
    text = text.strip()
    return text[:1].upper() + text[1:] + ("" if text.endswith((".", "?")) else ".") if text else ""


def titled(title: str, at: str) -> str:
    """Say what a figure is and where, without a full stop: "Taper, main journal 2"."""
    return sentence(", ".join(filter(None, (title, place(at)))))[:-1]
