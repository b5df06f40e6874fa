"""The words, money and figures of the screens: from the Answer's ids and floats to what is read."""

import math

from inspect_app.model.answer import (
    BuildStandard,
    CloseCall,
    Closed,
    CoreAnswer,
    CoreChoice,
    ForkIf,
    LimitFrom,
    LimitShown,
    Measured,
    PartAnswer,
    Source,
    Stage,
    Verdict,
    WayState,
    WayTaken,
)

MINUS = "\u2212"
HARD_SPACE = "\u00a0"
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
WAY_STATES: dict[WayState, str] = {"closed": "closed", "open": "open", "proven": "proven"}
LIMITS_FROM: dict[LimitFrom, str] = {
    "maker": "the maker's limit",
    "shop": "the shop's limit",
    "pack": "the rule pack's limit",
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
_SYMBOLS = {"USD": "$", "EUR": "€", "GBP": "£"}
_DECIMALS = {"in": 4, "mm": 3}


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


def money(amount: float, currency: str) -> str:
    """Say an amount as a whole number of the currency: 1830.4 -> "$1,830"; cents only below 1."""
    size = abs(amount)
    digits = f"{size:,.2f}" if 0.005 <= size < 1 else f"{round(size):,}"
    symbol = _SYMBOLS.get(currency, f"{currency}{HARD_SPACE}")
    sign = MINUS if amount < 0 and digits != "0" else ""
    return f"{sign}{symbol}{digits}"


def number(value: float, decimals: int) -> str:
    """Write a figure with `decimals` places (0 or more) and a true minus; never "minus nothing"."""
    text = f"{value:.{decimals}f}"
    negative = text.startswith("-") and float(text) != 0
    return f"{MINUS if negative else ''}{text.lstrip('-')}"


def quantity(value: float) -> str:
    """Write a count or a small amount without needless places: 4.0 -> "4", 0.25 -> "0.25"."""
    return number(value, 0) if value == round(value) else f"{value:.3g}".replace("-", MINUS)


def measured(figure: Measured) -> str:
    """Write a figure with its uncertainty and unit, on one line: "0.0077 ± 0.0002 in"."""
    decimals = _decimals(figure.unit, figure.value)
    return HARD_SPACE.join([number(figure.value, decimals), *_give(figure.u, decimals), figure.unit]).strip()


def _give(u: float, decimals: int) -> list[str]:
    if u <= 0:
        return []
    least = 10.0**-decimals
    return ["±", f"under{HARD_SPACE}{number(least, decimals)}" if u < least / 2 else number(u, decimals)]


def limit(shown: LimitShown) -> str:
    """Write a limit with its unit: "0.0005 in"."""
    return f"{number(shown.value, _decimals(shown.unit, shown.value))}{HARD_SPACE}{shown.unit}".strip()


def _decimals(unit: str, value: float) -> int:
    """Places to show: those of the gauge for a length, else three figures in all."""
    if unit in _DECIMALS:
        return _DECIMALS[unit]
    return max(0, 2 - math.floor(math.log10(abs(value)))) if value else 0


def against_limit(reason: Closed) -> str:
    """Say the figure of a reason against its limit: by how much it is past, whose limit; "" without one."""
    if reason.measured is None:
        return ""
    said = f"Measured {measured(reason.measured)}"
    if reason.limit is None:
        return f"{said}."
    whose = f", {LIMITS_FROM[reason.limit_from]}" if reason.limit_from else ""
    past = f"; {_past(reason.margin, reason.measured.unit)}" if reason.margin is not None else ""
    return f"{said} against {limit(reason.limit)}{whose}{past}{_chance(reason.p_beyond)}."


def _past(margin: float, unit: str) -> str:
    size = f"{number(abs(margin), _decimals(unit, margin))}{HARD_SPACE}{unit}".strip()
    return f"{size} past it" if margin >= 0 else f"{size} short of it"


def _chance(p_beyond: float | None) -> str:
    return "" if p_beyond is None else f"; {odds(p_beyond)} beyond"


def close_call(call: CloseCall) -> str:
    """Say a close call: "taper..., rod journal 2: 0.0005 ± 0.0001 in against 0.0005 in, likely beyond."."""
    figures = f"{measured(call.measured)} against {limit(call.limit)}"
    return f"{sentence(plain(call.rule))[:-1]}, {place(call.place)}: {figures}, {odds(call.p_beyond)} beyond."


def odds(chance: float) -> str:
    """Say a probability from 0 to 1 as a word.

    Unlikely below 0.15, possible to 0.5, likely to 0.9, near certain above.
    """
    if chance < 0.15:
        return "unlikely"
    if chance <= 0.5:
        return "possible"
    return "likely" if chance <= 0.9 else "near certain"
