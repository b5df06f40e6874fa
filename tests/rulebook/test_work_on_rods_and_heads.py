"""What work does to earlier readings, findings and tests of rods, pistons and heads."""

import pytest

from .measured_six import EVERYTHING, after, asked, seen

BIG_END = ("diameter of the big end, without shells", "big end")
CRACK_TEST = "magnetic-particle test"


@pytest.mark.parametrize(
    ("position", "operation", "place", "wanted"),
    [
        ("rod 2", "resize", "big_end", {BIG_END}),
        (
            "rod 2",
            "bush small end",
            "small_end",
            {("diameter of the small end, in its bush if it has one", "small end")},
        ),
        (
            "rod 2",
            "straighten rod",
            "beam",
            {(CRACK_TEST, "beam"), ("bend over six inches", "beam"), ("twist over six inches", "beam")},
        ),
        ("piston 3", "new pin", "pin_boss", {("pin where it turns in the piston", "pin boss")}),
        (
            "cylinder_head 1",
            "mill head",
            "head_face",
            {("gap under the straightedge, by the leaf", "gasket face")},
        ),
        (
            "cylinder_head 1",
            "straighten head",
            "head_face",
            {("gap under the straightedge, by the leaf", "gasket face"), (CRACK_TEST, "gasket face")},
        ),
    ],
)
def test_what_must_be_read_again_after_work(
    position: str, operation: str, place: str, wanted: set[tuple[str, str]]
) -> None:
    part = after(position, operation, place, EVERYTHING)
    assert part.standing == "provisional"
    assert asked(part) == wanted


def test_a_dressed_beam_wants_a_new_look_and_a_new_crack_test() -> None:
    part = after("rod 2", "dress beam", "beam", [*EVERYTHING, seen("rod 2", "dent", "beam")])
    assert part.standing == "provisional"
    assert (CRACK_TEST, "beam") in asked(part)
    assert "surface" not in {closed.closes.partition(".")[0] for closed in part.closed}
