"""Places and slots in words for people: "rod journal 2, fillet, front"."""

from inspect_app.model.places import Place


def place_words(place: Place) -> str:
    """A place as a person says it; "" for the whole part."""
    head = f"{place.kind} {place.index}".strip()
    return ", ".join((head, *place.zone)).replace("_", " ")


def slot_words(station: str, direction: str) -> str:
    """Where on a place a reading belongs, as the tail of its name."""
    named = [word.replace("_", " ") for word in (station, direction) if word]
    return f", {', '.join(named)}" if named else ""
