"""The drawings of one part: bars of its reasons and close calls, of what a place needs, and its profiles."""

from collections.abc import Iterator
from typing import Literal, cast

from inspect_app.model.answer import CloseCall, Closed, PartAnswer
from inspect_app.model.answer_figures import FigureShown, Profile, SizePlan
from inspect_app.pictures import profile as drawn
from inspect_app.pictures.bore_profile import bore_profile
from inspect_app.pictures.figure_bars import figure_bar, need_bar, reason_bar
from inspect_app.pictures.journal_profile import journal_profile
from inspect_app.pictures.limit_bar import Bar, bar_of, limit_bar
from inspect_app.pictures.svg import Svg
from inspect_app.pictures.tokens import Ground
from inspect_app.ui import size_words, words
from inspect_app.ui.drawings import NARROW, PANEL, both_places
from inspect_app.ui.markup import EMPTY, Html, join

_DRAW = {"hole": bore_profile, "shaft": journal_profile}


def bar_place(part: PartAnswer, reason: Closed | CloseCall) -> Html:
    """Build the place of one figure's limit bar; nothing where there is no figure and limit to draw."""
    return both_places(_bar_name(part, reason)) if bar_of(reason, "") else EMPTY


def need_place(part: PartAnswer, plan: SizePlan) -> Html:
    """Build the place of the bar of what the deciding place needs; nothing where that is not known."""
    return both_places(_need_name(part, plan)) if _need_bar(plan) else EMPTY


def figure_place(part: PartAnswer, figure: FigureShown) -> Html:
    """Build the place of the bar of one figure that has a limit."""
    return both_places(_figure_name(part, figure))


def half_known(part: PartAnswer) -> list[FigureShown]:
    """Return the figures of which not all is read, beside a limit that they can still pass."""
    return [figure for figure in _barred(part) if figure.measured.bound != "exact"]


def nearest(part: PartAnswer) -> FigureShown | None:
    """Return the figure nearest to its limit, for a part of which no figure closes anything."""
    if any(reason.measured for reason in part.closed):
        return None
    return max(_barred(part), key=_share, default=None)


def _barred(part: PartAnswer) -> list[FigureShown]:
    return [figure for figure in part.figures if figure_bar(figure, "")]


def _share(figure: FigureShown) -> float:
    """How much of what its limit allows a figure takes up."""
    value, limit = figure.measured.value, figure.limit.value if figure.limit else 0.0
    above, below = (value, limit) if figure.worse == "above" else (limit, value)
    return above / below if below > 0 else 0.0


def profile_place(part: PartAnswer, profile: Profile) -> Html:
    """Build the place of one profile."""
    return both_places(_profile_name(part, profile))


def all_profiles_place(part: PartAnswer) -> Html:
    """Build the places of all profiles at one scale, holes and shafts apart."""
    return join(*(both_places(f"{part.position}|profiles|{body}") for body in _bodies(part)))


def first_profile(part: PartAnswer) -> Profile | None:
    """Return the profile to show first: of the place that decides a size, or of the strongest reason."""
    wanted = [plan.decided_by for plan in part.size_plans]
    wanted += [reason.place for reason in sorted(part.closed, key=words.strength, reverse=True)]
    of_place = {profile.place: profile for profile in part.profiles}
    return next((of_place[place] for place in wanted if place in of_place), None) or next(
        iter(part.profiles), None
    )


def part_drawings(part: PartAnswer, on: Ground) -> dict[str, str]:
    """Draw everything that the panel of this part keeps a place for, wide and narrow."""
    return {
        f"{name}|{width}": str(drawing)
        for width in (PANEL, NARROW)
        for name, drawing in _drawn(part, on, width)
    }


def _drawn(part: PartAnswer, on: Ground, width: int) -> Iterator[tuple[str, Svg]]:
    reasons: list[Closed | CloseCall] = [*part.closed, *part.close_calls]
    for reason in reasons:
        if bar := reason_bar(part, reason):
            yield _bar_name(part, reason), limit_bar(bar, on, width)
    for plan in part.size_plans:
        if needed := _need_bar(plan):
            yield _need_name(part, plan), limit_bar(needed, on, width)
    for figure in dict.fromkeys([*half_known(part), *filter(None, [nearest(part)])]):
        if shown := figure_bar(figure, words.titled(figure.title, figure.place)):
            yield _figure_name(part, figure), limit_bar(shown, on, width)
    first = first_profile(part)
    if first:
        yield _profile_name(part, first), _DRAW[first.body]([to_draw(first)], on, width=width)
    for body in _bodies(part) if len(part.profiles) > 1 else ():
        alike = [to_draw(profile) for profile in part.profiles if profile.body == body]
        yield f"{part.position}|profiles|{body}", _DRAW[body](alike, on, width=width)


def _bodies(part: PartAnswer) -> list[Literal["hole", "shaft"]]:
    return list(dict.fromkeys(profile.body for profile in part.profiles))


def to_draw(profile: Profile) -> drawn.Profile:
    """Return what is drawn of a profile: the sizes in rows of stations, the size to cut to by its name."""
    read = {(point.station, point.direction): point.value for point in profile.points}
    return drawn.Profile(
        title=words.sentence(words.place(profile.place))[:-1],
        stations=tuple(map(words.plain, profile.stations)),
        at=(),
        directions=tuple(map(words.plain, profile.directions)),
        sizes=tuple(tuple(read.get((s, d)) for d in profile.directions) for s in profile.stations),
        unworn=profile.unworn,
        listed=profile.cut_to,
        listed_name=profile.cut_name or "cut to",
        unit=cast(Literal["in", "mm"], profile.unit if profile.unit in ("in", "mm") else "mm"),
    )


def _need_bar(plan: SizePlan) -> Bar | None:
    need = size_words.decider(plan)
    return need_bar(need, plan.unit, f"What {words.place(need.place)} needs") if need else None


def _bar_name(part: PartAnswer, reason: Closed | CloseCall) -> str:
    closes = reason.closes if isinstance(reason, Closed) else "close call"
    return f"{part.position}|{reason.rule}|{closes}|{reason.place}"


def _need_name(part: PartAnswer, plan: SizePlan) -> str:
    return f"{part.position}|needs|{plan.concern}"


def _figure_name(part: PartAnswer, figure: FigureShown) -> str:
    return f"{part.position}|figure|{figure.quantity}|{figure.place}"


def _profile_name(part: PartAnswer, profile: Profile) -> str:
    return f"{part.position}|profile|{profile.quantity}|{profile.place}"
