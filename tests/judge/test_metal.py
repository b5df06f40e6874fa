"""A cut deeper than the usual one counts with its own depth, in sums of cuts and in what they move."""

from pathlib import Path

import pytest

from inspect_app.judge import fit_check, judge
from inspect_app.model.answer import Answer
from inspect_app.model.evidence import Evidence
from inspect_app.model.pieces import Mark, Piece
from tests.judge import six
from tests.reference.support import part_at, way_of
from tests.support import changed_pack, problems_of

HEAD = "cylinder_head 1"
LINES = ("front", "rear", "left", "right", "diagonal_1", "diagonal_2")


def gap(piece: str, place: str, passes: str, stops: str) -> list[Evidence]:
    """Every line of a face between the same two leaves."""
    return [
        six.reading(
            f"{piece} {line} {direction}", piece, "edge_gap", place, leaf, station=line, direction=direction,
            gauge="straightedge and feeler",
        )
        for line in LINES
        for direction, leaf in (("passes", passes), ("stops", stops))
    ]  # fmt: skip


def warped(deck: str) -> list[Evidence]:
    """The block's face out of flat by this leaf and less than a thousandth more; the head's by 0.006."""
    kept = [item for item in six.readings() if getattr(item, "quantity", "") != "edge_gap"]
    more = f"{float(deck) + 0.001:.3f}"
    faces = gap("block", "deck 1", deck, more) + gap(HEAD, "head_face", "0.005", "0.006")
    return [*six.looks_and_tests(), *kept, *faces]


def judged(deck: str) -> Answer:
    return judge(six.core(warped(deck)), six.engine())


# With 0.001 in of stock the block loses the leaf and a thousandth; 0.030 in may come off it and the head,
# which loses 0.008 in.
@pytest.mark.parametrize(("deck", "both"), [("0.020", True), ("0.021", True), ("0.022", False)])
def test_what_comes_off_both_faces_counts_by_the_depth_that_is_needed(deck: str, both: bool) -> None:
    answer = judged(deck)
    assert way_of(part_at(answer, "block"), "deck").way == "mill"
    assert (part_at(answer, HEAD).verdict == "recondition") == both


@pytest.mark.parametrize(("deck", "lower"), [("0.005", 0.006), ("0.012", 0.013)])
def test_the_stack_sits_lower_by_the_cut_that_is_needed_never_less_than_the_usual_one(
    deck: str, lower: float
) -> None:
    effects = {effect.effect: effect for effect in fit_check(six.core(warped(deck)), six.engine()).effects}
    assert effects["stack-height"].after == pytest.approx(-(lower + 0.008))


def milled_before(removed: str | None, *, by: str) -> Answer:
    """The block loses 0.006 in now and the head 0.008 in; so much was taken off before."""
    items, pieces = warped("0.005"), six.pieces()
    if removed and by == "reading":
        items = [*items, six.reading("gone", "block", "stack_removed", "deck 1", removed)]
    block = next((p for p in pieces if p.position == "block"), Piece(id="block", position="block"))
    if removed and by == "mark":
        mark = Mark(text=f"-{removed}", quantity="stack_removed", place="deck 1", size=f"{removed} in")
        block = block.model_copy(update={"marks": (*block.marks, mark)})
    others = tuple(p for p in pieces if p.position != "block")
    return judge(six.core(items, pieces=(*others, block)), six.engine())


@pytest.mark.parametrize("by", ["reading", "mark"])
@pytest.mark.parametrize(
    ("removed", "block", "head"),
    [
        (None, "recondition", "recondition"),
        ("0.016", "recondition", "recondition"),
        ("0.017", "recondition", "replace"),
        ("0.024", "recondition", "replace"),
        ("0.025", "replace", "replace"),
    ],
    ids=["unknown", "both at the limit", "one too many", "block alone at it", "past it"],
)
def test_metal_that_was_milled_off_before_counts(removed: str | None, block: str, head: str, by: str) -> None:
    """Of 0.030 in that may come off in all."""
    answer = milled_before(removed, by=by)
    assert part_at(answer, "block").verdict == block
    assert (part_at(answer, HEAD).verdict == "recondition") == (head == "recondition" or block == "replace")


def test_what_was_milled_off_before_closes_nothing_where_nothing_is_milled() -> None:
    gone = six.reading("gone", "block", "stack_removed", "deck 1", "0.040")
    answer = judge(six.core([*six.looks_and_tests(), *six.readings(), gone]), six.engine())
    assert way_of(part_at(answer, "block"), "deck").way == "as_is"
    assert part_at(answer, "block").standing == "settled"


def test_the_figure_that_deepens_a_cut_is_one_of_its_part(tmp_path: Path) -> None:
    way = 'title = "lapped", does = ["lap-face"]'
    told = [
        str(problem) for problem in problems_of(changed_pack(tmp_path, {way: f'{way}, at_least = "lobes"'}))
    ]
    assert any('"lobes" is no quantity of' in line for line in told)
    assert any(
        'at_least is given, but not what the way takes. Write takes = "0.006 in".' in line for line in told
    )
