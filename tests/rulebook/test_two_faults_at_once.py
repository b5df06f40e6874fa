"""Two faults of one concern: the way taken cures both, and none that cures only one is left."""

import pytest

from inspect_app.model.evidence import Evidence
from tests.reference.support import closed_by, way_of
from tests.rulebook.test_head_figures import FACE, HEAD, IN_ALUMINIUM, IN_BLOCK, aluminium, hard, warped

from .measured_six import EVERYTHING, judged, seen

EAR, THREAD = seen("block", "broken", "outside/ears"), seen("block", "pulled thread", "threads")


@pytest.mark.parametrize(
    ("faults", "way"),
    [([EAR], "weld"), ([THREAD], "insert"), ([EAR, THREAD], "weld_and_insert"), ([], "as_is")],
)
def test_a_welded_ear_does_not_mend_a_pulled_thread(faults: list[Evidence], way: str) -> None:
    block = judged("block", [*EVERYTHING, *faults])
    assert (way_of(block, "fixings").way, block.standing) == (way, "settled")


EATEN = seen(HEAD, "erosion", f"{FACE}/fire_ring")


@pytest.mark.parametrize(
    ("sign", "closed"),
    [
        (IN_ALUMINIUM, {"face.as_is", "face.mill", "face.straighten", "face.weld"}),
        (IN_BLOCK, {"face.as_is", "face.mill", "face.straighten", "face.weld_and_straighten"}),
    ],
)
def test_a_face_both_eaten_and_warped_is_welded_and_where_the_camshaft_turns_in_it_straightened_too(
    sign: Evidence, closed: set[str]
) -> None:
    part = aluminium([*warped("0.005", "0.006"), sign, EATEN, *hard("100")])
    assert {c.closes for c in part.closed if c.closes.startswith("face")} == closed
    assert bool(closed_by(part, "head-warped-with-its-camshaft", FACE)) == (sign is IN_ALUMINIUM)
