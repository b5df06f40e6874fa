"""Places and slots in words for people: "rod journal 2, fillet, front"."""

from inspect_app.model.places import Place, listing
from inspect_app.rulebook.engine import Engine


def titled(engine: Engine, part: str, place: Place) -> Place:
    """The place under the title of its kind, without a number where there is only one."""
    form = engine.book.place_form(part, place.kind)
    title = (form.title if form else "") or place.kind
    alone = len(engine.places(part, place.kind)) == 1
    return Place(title, "" if alone else place.index, place.zone)


def place_words(engine: Engine, part: str, place: Place) -> str:
    """A place as a person says it; "" for the whole part."""
    told = titled(engine, part, place)
    head = f"{told.kind} {told.index}".strip()
    return ", ".join((head, *told.zone)).replace("_", " ")


def places_words(engine: Engine, part: str, places: list[Place]) -> str:
    """Places in one line: zones that together are all of a place give the place, numbers in a row a run."""
    whole = _collapsed(engine, part, places)
    text = listing([titled(engine, part, place) for place in whole])
    return text.replace("_", " ").replace("/", " ")


def _collapsed(engine: Engine, part: str, places: list[Place]) -> list[Place]:
    wanted = list(dict.fromkeys(places))
    found: dict[Place, None] = {}
    for place in wanted:
        spot = Place(place.kind, place.index)
        leaves = [Place(spot.kind, spot.index, zone) for zone in engine.leaves(part, spot.kind)]
        everything = all(any(other.covers(leaf) for other in wanted) for leaf in leaves)
        found[spot if everything else place] = None
    return [p for p in found if not any(q != p and q.covers(p) for q in found)]


def slot_words(station: str, direction: str) -> str:
    """Where on a place a reading belongs, as the tail of its name."""
    named = [word.replace("_", " ") for word in (station, direction) if word]
    return f", {', '.join(named)}" if named else ""
