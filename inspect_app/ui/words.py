"""The words of the screens: from the Answer's ids to what is read."""

from inspect_app.model.answer import (
    BuildStandard,
    Closed,
    CoreAnswer,
    CoreChoice,
    ForkIf,
    PartAnswer,
    Source,
    Stage,
    Verdict,
    WayTaken,
)

NOT_JUDGED = "Not judged"

STAGES: dict[Stage, str] = {
    "yard_look": "Yard look",
    "teardown": "Teardown",
    "bench": "Bench",
    "machine_shop": "Machine shop",
    "fit_check": "Fit check",
    "closed": "Closed",
}
BUILD_STANDARDS: dict[BuildStandard, str] = {
    "run": "Put back to run",
    "freshen": "Freshen",
    "rebuild": "Rebuild",
}
CORE_CHOICES: dict[CoreChoice, str] = {
    "build": "Build it",
    "break": "Break it for parts",
    "let_go": "Let it go",
}
VERDICTS: dict[Verdict, str] = {
    "reuse": "Reuse",
    "recondition": "Recondition",
    "replace": "Replace",
    "scrap": "Scrap",
}
SOURCES: dict[Source, str] = {
    "own": "own piece",
    "another_core": "from another core",
    "used": "used",
    "exchange": "exchange",
    "new": "new",
}
GROUNDS = {
    "evidence": "evidence closed the other ways",
    "money": "it is the cheapest way left",
    "coupling": "another part's way asks for it",
}
FATES = {
    "keep": "keep",
    "sell": "sell",
    "core_credit": "return for core credit",
    "hand_back": "hand back",
    "scrap": "scrap",
}


def core_verdict(core: CoreAnswer) -> str:
    """Say the verdict of a core, "Build it, provisional", or that it is not judged."""
    if core.verdict is None:
        return NOT_JUDGED
    return _with_standing(CORE_CHOICES[core.verdict], core.standing)


def part_verdict(part: PartAnswer) -> str:
    """Say the verdict of one part, "Recondition, provisional", or that it is not judged."""
    return _with_standing(verdict(part.verdict), part.standing)


def verdict(judged: Verdict | None) -> str:
    """Say a verdict without its standing: "Recondition"; null is "Not judged"."""
    return VERDICTS[judged] if judged else NOT_JUDGED


def _with_standing(said: str, standing: str | None) -> str:
    return f"{said}, {standing}" if standing else said


def because(part: PartAnswer) -> str:
    """Say in one line what a part's verdict turns on, or the strongest reason for it."""
    if part.verdict is None:
        return not_judged_because(part)
    if part.fork is not None:
        return fork(part)
    if part.closed:
        return strongest(part.closed).why
    if part.forced_by:
        return sentence(part.forced_by[0].why)
    if part.verdict == "reuse":
        return "Nothing closes the own piece."
    return sentence(GROUNDS[part.grounds]) if part.grounds else ""


def not_judged_because(part: PartAnswer) -> str:
    """Say what is missing before a part can be judged: its first open point, and how many follow."""
    if not part.open_points:
        return "Nobody has looked at it."
    first, *rest = part.open_points
    more = f"; {len(rest)} more open" if rest else ""
    return sentence(f"{first.what}, {place(first.place)}{more}")


def fork(part: PartAnswer) -> str:
    """Say a provisional verdict's fork: "If the crack test is clean, else Replace, used"; "" without one."""
    if part.fork is None:
        return ""
    conditions = " and ".join(_condition(item) for item in part.fork.if_)
    other = part.fork.else_
    origin = f", {SOURCES[other.source]}" if other.source and other.source != "own" else ""
    return sentence(f"if {conditions}, else {verdict(other.verdict)}{origin}")


def _condition(item: ForkIf) -> str:
    where = f" ({place(item.place)})" if item.place else ""
    return f"{item.what}{where}: {item.answer}"


def strongest(closed: tuple[Closed, ...]) -> Closed:
    """Pick the reason to show first: a hard rule, then one that closes the own piece, then the surest."""
    return max(closed, key=lambda reason: (reason.hard, reason.closes == "own", reason.p_beyond or 0.0))


def closes(what: str) -> str:
    """Say what a reason closes: "own" -> "the own piece", "mains.polish" -> "mains: polish"."""
    if what in SOURCES:
        return "the own piece" if what == "own" else f"the source {plain(what)}"
    concern, _, way = what.partition(".")
    return f"{plain(concern)}: {plain(way)}" if way else plain(concern)


def way(taken: WayTaken) -> str:
    """Say the way taken for one concern: "bores: bore 0.020, but sleeve at bore 3"."""
    size = f" {taken.size}" if taken.size else ""
    besides = f", otherwise at {', '.join(map(place, taken.except_at))}" if taken.except_at else ""
    return f"{plain(taken.concern)}: {plain(taken.way)}{size}{besides}"


def source(origin: Source, kind: str | None = None) -> str:
    """Say where a part comes from and of which kind: "used, forged"."""
    return f"{SOURCES[origin]}, {plain(kind)}" if kind else SOURCES[origin]


def place(name: str) -> str:
    """Say a place without the marks of its id: "rod_journal 2/fillet" -> "rod journal 2, fillet"."""
    head, *zone = plain(name).split("/")
    if head.endswith("*"):
        head = f"every {head[:-1].strip()}" if head[:-1].strip() else "the whole piece"
    return ", ".join([head, *zone])


def plain(name: str) -> str:
    """Take the joining marks out of an id: "deck_mill" -> "deck mill"."""
    return name.replace("_", " ").replace("-", " ")


def sentence(text: str) -> str:
    """Begin with a capital and end with a full stop, leaving the rest as it is."""
    text = text.strip()
    return text[:1].upper() + text[1:] + ("" if text.endswith((".", "?")) else ".") if text else ""
