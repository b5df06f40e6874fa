"""What work does to earlier readings, findings and tests."""

import pytest

from tests.judge import six
from tests.reference.support import part_at

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


def test_a_head_found_too_thin_is_not_saved_by_another_cut() -> None:
    """The cut ends the old reading, but not the question: how thick it is now must be read."""
    thin = [
        six.reading(f"thick {end}", "cylinder_head 1", "thickness", "head_face", "3.4900", station=end)
        for end in ("front", "rear")
    ]
    limit = {"head_face.thickness": {"wear_limit": "3.500 in"}}
    part = after("cylinder_head 1", "mill head", "head_face", [*EVERYTHING, *thin], limit)
    assert part.standing == "provisional"
    assert ("least thickness of the head", "gasket face") in asked(part)


def test_a_fillet_that_was_too_sharp_is_read_again_after_grinding() -> None:
    sharp = [
        six.reading(f"fillet {end}", "crankshaft", "fillet_radius", "rod_journal 1", "0.020", station=end)
        for end in ("front", "rear")
    ]
    limit = {"rod_journal.fillet_radius": {"wear_limit": "0.040 in"}}
    part = after("crankshaft", "grind", "rod_journal 1", [*EVERYTHING, *sharp], limit)
    assert {("fillet radius", "rod journal 1")} <= asked(part)


def test_a_second_way_of_measuring_that_does_not_count_is_asked_for_again() -> None:
    """A leaf slid along unwashed seats proves nothing, but whoever tried it wants to know."""
    leaf = six.reading("leaf", "block", "edge_gap", "main_web 2", "0.0040", direction="passes")
    part = part_at(six.answer([*EVERYTHING, leaf.model_copy(update={"state": "as_found"})]), "block")
    title = "gap under the straightedge along the seats, by the leaf"
    assert asked(part) == {(f"{title}, read again washed", "main web 2")}


@pytest.mark.parametrize(
    ("operation", "quantity", "kind"),
    [
        ("hone", "ring_gap_top", "bore"),
        ("bore", "skirt_clearance", "bore"),
        ("sleeve", "ring_gap_second", "bore"),
        ("line hone", "oil_clearance", "main_web"),
        ("resize", "oil_clearance", "big_end"),
        ("resize", "centre_length", "beam"),
        ("bush small end", "pin_clearance", "small_end"),
        ("weld thrust face", "end_play", "thrust_face"),
    ],
)
def test_work_on_a_seat_ends_the_fits_that_were_read_in_it(operation: str, quantity: str, kind: str) -> None:
    form = six.book().operations[operation]
    assert quantity in form.voids
    assert kind in form.reaches
