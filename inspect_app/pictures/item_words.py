"""What screens and papers say alike of an item of evidence: when, in which state, how sure."""

from datetime import datetime

from inspect_app.model.evidence import Evidence, OnPiece

STRENGTHS = {"suspected": "Suspected", "seen": "Seen", "confirmed": "Confirmed"}


def when(text: str) -> str:
    """A date as stored: "24 Nov 2026", with the time where it is known: "24 Nov 2026, 14:05"."""
    told = datetime.fromisoformat(text)
    day = f"{told.day} {told:%b %Y}"
    return f"{day}, {told:%H:%M}" if len(text) > len("2026-11-24") else day


def state(item: Evidence) -> str:
    """The state an item speaks of, as stored, in words; "" where it has none."""
    if not isinstance(item, OnPiece):
        return ""
    return (
        item.state.replace("_", " ") if not item.state.startswith("after") else f"after work {item.state[6:]}"
    )
