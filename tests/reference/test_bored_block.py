"""A block that was bored: what its readings, tests and pistons are worth afterwards. Common practice."""

from inspect_app.judge import judge
from inspect_app.model.evidence import Evidence
from inspect_app.model.pieces import OperationDone, Piece
from tests.judge import six

from .support import closed_by, part_at, way_of, worn_out

EVERYTHING = [*six.looks_and_tests(), *six.readings()]


def bored_block() -> tuple[Piece, list[Evidence]]:
    """The block bored 0.020 in over, tested and read again; the old readings stay in the record."""
    done = OperationDone(operation="bore", size="0.020 in", places=("bore *",))
    block = Piece(id="block", position="block", operations=(done,))
    after = [
        item.model_copy(
            update={
                "id": f"after-{item.id}",
                "state": "after 1",
                "value": {"below": "3.5200"}.get(item.station, "3.5201"),
            }
        )
        for item in six.readings()
        if item.piece == "block" and item.quantity == "diameter" and item.place.startswith("bore ")
    ]
    test = six.clean_test("crack-after", "block", "magnetic particle")
    return block, [*after, test.model_copy(update={"state": "after 1"})]


def test_readings_before_and_after_boring_are_two_states_not_a_conflict() -> None:
    piece, after = bored_block()
    core = six.core([*worn_bores(), *after], pieces=(*six.pieces(), piece))
    block = part_at(judge(core, six.engine()), "block")
    assert not [point for point in block.open_points if "contradict" in point.what]
    assert (block.standing, block.closed, block.open_points) == ("settled", (), ())
    assert way_of(block, "bores").way == "hone"


def worn_bores() -> list[Evidence]:
    """Before boring, every bore was worn 0.008 in at the top: far past any limit to rebuild."""
    return worn_out(range(1, six.CYLINDERS + 1), "3.5080")


def test_before_boring_the_same_bores_were_past_their_limit() -> None:
    block = part_at(six.answer(worn_bores()), "block")
    assert (way_of(block, "bores").way, way_of(block, "bores").size) == ("bore", "0.020 in")
    assert closed_by(block, "bore-wear-past-hone", "bore 1")


def test_boring_asks_for_the_crack_test_again() -> None:
    piece, after = bored_block()
    evidence = [*EVERYTHING, *(item for item in after if item.id != "crack-after")]
    block = part_at(judge(six.core(evidence, pieces=(*six.pieces(), piece)), six.engine()), "block")
    assert block.standing == "provisional"
    assert {point.what for point in block.open_points} == {"magnetic-particle test"}


def test_a_block_already_bored_still_wants_pistons_of_its_size() -> None:
    piece, after = bored_block()
    answer = judge(six.core([*worn_bores(), *after], pieces=(*six.pieces(), piece)), six.engine())
    assert part_at(answer, "piston 1").verdict == "replace"


def test_pistons_fitted_after_the_boring_stay() -> None:
    piece, after = bored_block()
    pistons = tuple(
        Piece(id=f"piston-new-{i}", position=f"piston {i}", origin="new") for i in range(1, six.CYLINDERS + 1)
    )
    looks = [six.look(f"look-{p.id}", p.id) for p in pistons]
    tests = [six.clean_test(f"crack-{p.id}", p.id, "dye penetrant") for p in pistons]
    evidence = [*worn_bores(), *after, *looks, *tests]
    answer = judge(six.core(evidence, pieces=(*six.pieces(), piece, *pistons)), six.engine())
    assert part_at(answer, "piston 1").verdict == "reuse"
    assert part_at(answer, "piston 1").piece == "piston-new-1"
