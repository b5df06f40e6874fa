"""Where on the screens an open point is entered: the address that leads there."""

from urllib.parse import quote, urlencode

from inspect_app.model.answer import Entered, OpenPoint
from inspect_app.model.frozen import EntryKind

_PAGES: dict[EntryKind, str] = {
    "sign": "part",
    "look": "part",
    "finding": "part",
    "test": "part",
    "piece": "part",
    "reading": "bench",
    "sheet": "sheet",
    "price": "prices",
    "report": "verdict",
    "decision": "verdict",
}


def address(core_id: str, position: str, enter: Entered) -> str:
    """The address of the page where it is entered, with the entry chosen on it.

    Its query holds `core`, `part`, `enter` (the kind of entry), and `name` and `place` where they are known.
    """
    asked = {"core": core_id, "part": position, "enter": enter.by, "name": enter.name}
    asked["place"] = enter.places[0] if enter.places else ""
    query = urlencode({key: value for key, value in asked.items() if value}, quote_via=quote)
    return f"/{_PAGES[enter.by]}?{query}"


def of_point(core_id: str, position: str, point: OpenPoint) -> str | None:
    """The same for an open point; None where it does not say how it is entered."""
    return address(core_id, position, point.enter) if point.enter else None
