"""The words of the screens: what they share with the papers, and what only a screen says."""

from collections.abc import Iterator

from inspect_app.model.answer import CoreAnswer, Fork, OpenPoint, PartAnswer
from inspect_app.model.frozen import CoreChoice, Stage
from inspect_app.pictures.answer_words import BUILD_STANDARDS as BUILD_STANDARDS
from inspect_app.pictures.answer_words import FATES as FATES
from inspect_app.pictures.answer_words import SOURCES as SOURCES
from inspect_app.pictures.answer_words import closes as closes
from inspect_app.pictures.answer_words import place as place
from inspect_app.pictures.answer_words import places as places
from inspect_app.pictures.answer_words import plain as plain
from inspect_app.pictures.answer_words import sentence as sentence
from inspect_app.pictures.answer_words import source as source
from inspect_app.pictures.answer_words import strength as strength
from inspect_app.pictures.answer_words import strongest as strongest
from inspect_app.pictures.answer_words import titles as titles
from inspect_app.pictures.answer_words import way as way
from inspect_app.pictures.answer_words import ways as ways
from inspect_app.pictures.words import NOT_JUDGED as NOT_JUDGED
from inspect_app.pictures.words import VERDICTS as VERDICTS
from inspect_app.pictures.words import verdict as verdict
from inspect_app.pictures.words import verdict_standing

SHOWN_CONDITIONS = 2
FEW_WORDS = 48
STAGES: dict[Stage, str] = {
    "yard_look": "Yard look",
    "teardown": "Teardown",
    "bench": "Bench",
    "machine_shop": "Machine shop",
    "fit_check": "Fit check",
    "closed": "Closed",
}
CORE_CHOICES: dict[CoreChoice, str] = {
    "build": "Build it",
    "break": "Break it for parts",
    "let_go": "Let it go",
}
GROUNDS = {
    "evidence": "evidence closed the other ways",
    "money": "it is the cheapest way left",
    "coupling": "another part's way asks for it",
}


def core_verdict(core: CoreAnswer) -> str:
    """Say the verdict of a core, "Build it, provisional", or that it is not judged."""
    if core.verdict is None:
        return NOT_JUDGED
    return _with_standing(CORE_CHOICES[core.verdict], core.standing)


def part_verdict(part: PartAnswer) -> str:
    """Say the verdict of one part, "Recondition, provisional", or that it is not judged."""
    return verdict_standing(part.verdict, part.standing)


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
        return "Everything asked for was checked; nothing speaks against it."
    return sentence(GROUNDS[part.grounds]) if part.grounds else ""


def not_judged_because(part: PartAnswer) -> str:
    """Say what is missing before a part can be judged: its first open point, and how many follow."""
    points = list(_grouped(part))
    if not points:
        return "Nobody has looked at it."
    more = f"; {len(points) - 1} more open" if len(points) > 1 else ""
    return sentence(points[0][0] + more)


def open_points(part: PartAnswer) -> list[str]:
    """Say a part's open points, those that differ only in their place in one: "Look, gears 1 and 2"."""
    return [said for said, _ in open_points_said(part)]


def open_points_said(part: PartAnswer) -> list[tuple[str, OpenPoint]]:
    """The same, each with the first of the points that it says."""
    return [(sentence(said) + _needed_for(point.needed_for), point) for said, point in _grouped(part)]


def _grouped(part: PartAnswer) -> Iterator[tuple[str, OpenPoint]]:
    groups: dict[tuple[str, tuple[str, ...]], list[OpenPoint]] = {}
    for point in part.open_points:
        groups.setdefault((point.what, point.needed_for), []).append(point)
    for (what, _), points in groups.items():
        yield what + _at([point.place for point in points], ", "), points[0]


def _needed_for(ways: tuple[str, ...]) -> str:
    return f" Needed for {', '.join(map(closes, ways))}." if ways else ""


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


def _brief_at(names: list[str]) -> str:
    at = _at(names, " (", ")")
    if len(at) <= FEW_WORDS:
        return at
    parts = dict.fromkeys(name.partition(": ")[0] for name in names if ": " in name)
    return f" ({', '.join(parts)})" if parts else ""
