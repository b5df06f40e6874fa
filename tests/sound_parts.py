"""Readings of a rod and a piston with nothing wrong, and the sheet rows they are held against."""

from collections.abc import Iterator
from typing import Any

BIG_END, SMALL_END, SKIRT, PIN = 2.2250, 0.9275, 3.4980, 0.9272

SHEET_ROWS: dict[str, dict[str, Any]] = {
    "big_end.diameter": {"minimum": "2.2245 in", "maximum": "2.2255 in"},
    "small_end.diameter": {"minimum": "0.9270 in", "maximum": "0.9280 in"},
    "skirt.diameter": {"nominal": "3.4980 in"},
    "pin_boss.diameter": {"nominal": "0.9277 in"},
    "pin_boss.pin_diameter": {"nominal": "0.9272 in"},
}

BOLTED = ("bolts torqued", "no shells")


def _slot(quantity: str, place: str, value: float, gauge: str, **slot: Any) -> dict[str, Any]:
    return {"quantity": quantity, "place": place, "value": f"{value:.4f}", "gauge": gauge, **slot}


def rod_readings() -> Iterator[dict[str, Any]]:
    """Every slot that the rules ask of a rod, in the middle of its range; fields of a reading, in inches."""
    for station in ("front", "rear"):
        for direction in ("vertical", "plus_30", "minus_30"):
            yield _slot("diameter", "big_end", BIG_END, "dial bore gauge",
                        station=station, direction=direction, conditions=BOLTED)  # fmt: skip
        for direction in ("vertical", "horizontal"):
            yield _slot("diameter", "small_end", SMALL_END, "dial bore gauge",
                        station=station, direction=direction)  # fmt: skip
    for quantity in ("bend", "twist"):
        yield _slot(quantity, "beam", 0.0003, "rod alignment fixture")


def piston_readings() -> Iterator[dict[str, Any]]:
    """The same of a piston at standard size, hardly worn."""
    yield _slot("diameter", "skirt", SKIRT - 0.0003, "outside micrometer")
    new_ring = {"conditions": ("new ring",)}
    for station in ("top", "second"):
        yield _slot("side_clearance", "ring_lands", 0.002, "feeler leaves", station=station, **new_ring)
    yield _slot("oil_side_clearance", "ring_lands", 0.005, "feeler leaves", **new_ring)
    for station in ("front", "rear"):
        yield _slot("diameter", "pin_boss", PIN + 0.0005, "dial bore gauge", station=station)
        yield _slot("pin_diameter", "pin_boss", PIN, "outside micrometer", station=station)


def piston_mark() -> dict[str, Any]:
    """The stamp of a piston at standard size."""
    return {"text": "STD", "quantity": "diameter", "place": "skirt", "size": "0 in"}
