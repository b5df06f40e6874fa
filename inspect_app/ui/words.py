"""The words of the screens: what they share with the papers, and what only a screen says."""

from collections import Counter
from collections.abc import Mapping

from inspect_app.model.answer import CoreAnswer, OpenPoint, PartAnswer
from inspect_app.model.frozen import CoreChoice, Stage
from inspect_app.pictures.answer_words import BUILD_STANDARDS as BUILD_STANDARDS
from inspect_app.pictures.answer_words import FATES as FATES
from inspect_app.pictures.answer_words import SOURCES as SOURCES
from inspect_app.pictures.answer_words import asks as asks
from inspect_app.pictures.answer_words import closes as closes
from inspect_app.pictures.answer_words import fork as fork
from inspect_app.pictures.answer_words import fork_by_link as fork_by_link
from inspect_app.pictures.answer_words import fork_conditions as fork_conditions
from inspect_app.pictures.answer_words import grouped_points
from inspect_app.pictures.answer_words import left_out as left_out
from inspect_app.pictures.answer_words import not_judged_because as not_judged_because
from inspect_app.pictures.answer_words import place as place
from inspect_app.pictures.answer_words import places as places
from inspect_app.pictures.answer_words import plain as plain
from inspect_app.pictures.answer_words import reasons_by_rule as reasons_by_rule
from inspect_app.pictures.answer_words import rules_and_prices as rules_and_prices
from inspect_app.pictures.answer_words import sentence as sentence
from inspect_app.pictures.answer_words import source as source
from inspect_app.pictures.answer_words import strength as strength
from inspect_app.pictures.answer_words import strongest as strongest
from inspect_app.pictures.answer_words import titled as titled
from inspect_app.pictures.answer_words import titles as titles
from inspect_app.pictures.answer_words import way as way
from inspect_app.pictures.answer_words import ways as ways
from inspect_app.pictures.words import NOT_JUDGED as NOT_JUDGED
from inspect_app.pictures.words import VERDICTS as VERDICTS
from inspect_app.pictures.words import verdict as verdict
from inspect_app.pictures.words import verdict_standing

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


def open_points(part: PartAnswer) -> list[str]:
    """Say a part's open points, those that differ only in their place in one: "Look, gears 1 and 2"."""
    return [said for said, _ in open_points_said(part)]


def open_points_said(part: PartAnswer) -> list[tuple[str, OpenPoint]]:
    """The same, each with the first of the points that it says."""
    return [(sentence(said) + _needed_for(point.needed_for), point) for said, point in grouped_points(part)]


def _needed_for(ways: tuple[str, ...]) -> str:
    return f" Needed for {', '.join(map(closes, ways))}." if ways else ""


def told_apart(said: Mapping[str, str]) -> dict[str, str]:
    """What is said of each id, with the id where two say the same: a box of choices takes like for one."""
    often = Counter(said.values())
    return {id_: f"{text} ({id_})" if often[text] > 1 else text for id_, text in said.items()}
