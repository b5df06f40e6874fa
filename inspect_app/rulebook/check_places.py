"""Checks of places named in a core: kind, number, zone."""

from collections.abc import Iterator

from inspect_app.model.places import WHOLE, Place, parse_place, zone_path
from inspect_app.model.problems import Problem

from .check_sheet import use_one_of
from .engine import Engine, Position


def place_problems(
    engine: Engine, position: Position, text: str, here: str, pattern: bool
) -> Iterator[Problem]:
    """What is wrong with a place on a position's part; `pattern` allows "*"."""
    try:
        place = parse_place(text)
    except ValueError as error:
        yield Problem(here, str(error), "")
        return
    if place.kind == WHOLE and pattern:
        return
    form = engine.book.place_form(position.part, place.kind)
    if form is None:
        meant = _meant(engine, position, text, pattern)
        if meant is not None:
            yield Problem(here, f'"{text}" is no place of {position.title.lower()}.', f'Write "{meant}".')
            return
        kinds = [p.kind for p in engine.book.parts[position.part].places]
        yield Problem(here, f'"{place.kind}" is no place of {position.title.lower()}.', use_one_of(kinds))
        return
    known = [p.index for p in engine.places(position.part, place.kind)]
    if place.index not in known and not (pattern and place.index == WHOLE):
        yield Problem(here, *_index_words(place, known))
    zones = [zone_path(zone) for zone in form.zones]
    if place.zone and not any(zone[: len(place.zone)] == place.zone for zone in zones):
        what = f'"{"/".join(place.zone)}" is no zone of {place.kind}.'
        yield Problem(here, what, use_one_of(form.zones) if zones else "It has no zones: leave it out.")


def _meant(engine: Engine, position: Position, text: str, pattern: bool) -> str | None:
    """The place whose title, or id with blanks, was typed: "Main web 1" is main_web 1; None for none."""
    head, slash, zones = text.strip().partition("/")
    typed = " ".join(head.replace("_", " ").split()).lower()
    for form in engine.book.parts[position.part].places:
        for name in (form.kind.replace("_", " "), form.title.lower()):
            index = typed.removeprefix(name).strip()
            known = [place.index for place in engine.places(position.part, form.kind)]
            if name and typed.startswith(name) and (index in known or (pattern and index == WHOLE)):
                return f"{form.kind} {index}".strip() + slash + zones
    return None


def _index_words(place: Place, known: list[str]) -> tuple[str, str]:
    if known == [""]:
        return f'"{place}": there is only one {place.kind}.', f'Write "{place.kind}".'
    if place.index and place.index != WHOLE:
        return f'there is no "{place}".', f"The numbers of {place.kind} are: {', '.join(known)}."
    return f'"{place}": which {place.kind}?', f"Add one of: {', '.join(known)}."
