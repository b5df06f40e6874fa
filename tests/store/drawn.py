"""Evidence about the gear pump drawn at random: sound as a whole, with corrections and withdrawals."""

from hypothesis import strategies as st

from inspect_app.model.evidence import Evidence
from tests.support import finding, look, reading, report, trial, withdrawal

from .pumps import photo

WHEN = st.integers(1, 28).map(lambda day: f"2026-03-{day:02}")
VALUES = st.integers(-3, 25).map(lambda hundredths: f"{40 + hundredths / 100:.3f}")
PLACES = st.sampled_from(["pocket driver", "pocket driven"])


@st.composite
def item(draw: st.DrawFn, name: str, before: tuple[str, ...]) -> Evidence:
    """One item with this id; it may correct or withdraw one of those before it."""
    common = {"id": name, "when": draw(WHEN), "who": draw(st.sampled_from(["A", "B"]))}
    kind = draw(
        st.sampled_from(["look", "finding", "reading", "reading", "test", "report", "photo", "withdraw"])
    )
    if before and kind == "reading" and draw(st.booleans()):
        common["supersedes"] = draw(st.sampled_from(before))
    match kind:
        case "look":
            return look(**common)
        case "finding":
            strength = draw(st.sampled_from(["suspected", "seen"]))
            return finding("crack", draw(PLACES), strength, **common)
        case "test":
            return trial("dye-penetrant", **common)
        case "report":
            return report("not worth boring", draw(st.sampled_from(["", "cracked"])), **common)
        case "photo":
            return photo(name, path=draw(st.sampled_from(["a.jpg", f"photos/{name}.jpg"])))
        case "withdraw" if before:
            return withdrawal(draw(st.sampled_from(before)), **common)
        case _:
            station = draw(st.sampled_from(["inlet", "outlet", "unworn"]))
            spot = draw(PLACES)
            return reading("diameter", spot, draw(VALUES), station, gauge="bore-gauge", **common)


@st.composite
def evidence(draw: st.DrawFn, most: int = 8, prefix: str = "e") -> tuple[Evidence, ...]:
    """Some items, each with an id of its own."""
    items: list[Evidence] = []
    for number in range(draw(st.integers(0, most))):
        items.append(draw(item(f"{prefix}{number}", tuple(found.id for found in items))))
    return tuple(items)
