"""The head-milling table of a club's newsletter (a secondary text) by the whole program, cubic inches.

Swept 44.2, the piston's top proud by 2.86, gasket 0.92; heads of 17.9, 15.6 and 13.7 give 3.77, 4.24 and
4.76. The first two differ by 1/8 in of milling: 18.4 square inches of chamber at the face. The bore is
that of the inline-six of the tests, the stroke what then sweeps 44.2.
"""

from functools import cache
from math import pi
from pathlib import Path

import pytest

from inspect_app.judge import fit_check
from inspect_app.model.evidence import Evidence, Reading
from inspect_app.model.fit_answer import Effect
from inspect_app.rulebook.book import Rulebook
from inspect_app.rulebook.engine import Engine
from inspect_app.rulebook.load import load_rulebook
from inspect_app.shipped import shipped
from tests.judge import six

BORE, SWEPT, PROUD, GASKET, AREA = 3.5, 44.2, 2.86, 0.92, (17.9 - 15.6) / 0.125
DISC = pi / 4 * BORE**2
CUBIC_CM, SQUARE_CM = 2.54**3, 2.54**2
SOUND = [*six.looks_and_tests(), *six.readings()]


@cache
def book() -> Rulebook:
    return load_rulebook(shipped("rules"), [Path(__file__).parent / "volumes"])


def ratio(head: float, evidence: list[Evidence]) -> Effect:
    sizes = {
        "bore.stated_stroke": f"{SWEPT / DISC:.9f} in",
        "bore.stated_top": "0 in",
        "bore.stated_gasket": f"{GASKET / DISC:.9f} in",
        "bore.stated_dish": f"{-PROUD * CUBIC_CM:.9f} cm^3",
        "chamber.stated_volume": f"{head * CUBIC_CM:.9f} cm^3",
        "chamber.stated_area": f"{AREA * SQUARE_CM:.9f} cm^2",
    }
    rows = six.sheet().model_dump()["quantities"] | {key: {"nominal": text} for key, text in sizes.items()}
    answer = fit_check(six.core(evidence), Engine(book(), six.sheet(quantities=rows)))
    return next(effect for effect in answer.effects if effect.effect == "stated-ratio")


@pytest.mark.parametrize(("head", "printed"), [(17.9, 3.77), (15.6, 4.24), (13.7, 4.76)])
def test_each_row_of_the_table(head: float, printed: float) -> None:
    found = ratio(head, SOUND)
    assert (found.missing, found.before) == ((), pytest.approx(printed, abs=0.005))
    assert found.after == pytest.approx(printed, abs=0.01), "nothing is milled and hardly anything worn"


def test_milling_the_face_raises_it() -> None:
    """A warp of 0.007 in is milled by the 0.008 in that the way takes: 0.147 cubic inches off 17.9."""
    leaf = next(
        i for i in SOUND if isinstance(i, Reading) and (i.place, i.station) == ("head_face", "diagonal_1")
    )
    passing = leaf.model_copy(update={"id": "through", "direction": "passes", "value": "0.007"})
    stopped = leaf.model_copy(update={"value": "0.008"})
    found = ratio(17.9, [*(i for i in SOUND if i.id != leaf.id), passing, stopped])
    left = 17.9 - PROUD + GASKET - AREA * 0.008
    assert found.after == pytest.approx(1 + SWEPT / left, abs=0.002)
    assert found.before is not None
    assert found.after is not None
    assert found.after - found.before > 0.02
