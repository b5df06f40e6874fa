"""The words of a plan of sizes, and of it the whole on screen and in the terminal."""

import pytest

from inspect_app import answer_text
from inspect_app.model import answer_figures as af
from inspect_app.ui import part_panel, size_words
from tests.ui import made

S = "\u00a0"


def test_a_plan_says_what_to_cut_who_decides_what_is_left_and_what_would_change_it() -> None:
    plan = made.size_plan()
    assert size_words.heading(plan) == "Bore to 0.020 in, all four"
    assert size_words.told(plan, "USD") == [
        f"Bore 2 decides: it needs 0.0152{S}in, between 0.0118 and 0.0185{S}in because the wear may sit "
        "on one side.",
        f"0.0001 + 1.5{S}×{S}0.0067 + 2{S}×{S}0.001 + 0.003 = 0.01515 in.",
        "Left for the next time: 0.030 in, 0.040 in.",
        "Next best: bore to 0.030 in, all four, $12 more.",
        f"What would change it: a trial cut is asked for once the most that bore 2 may need, 0.0185{S}in, is "
        f"past 0.0200{S}in (0.0015{S}in more); 0.0200{S}in certainly does not serve only once the least, "
        f"0.0118{S}in, is past it (0.0082{S}in more); then bore to 0.030 in, all four.",
    ]


def test_places_done_otherwise_are_named() -> None:
    sleeved = made.bored(except_at=("bore 2",), except_way="sleeve")
    assert size_words.heading(made.size_plan(best=sleeved)) == "Bore to 0.020 in, bore 1, 3, 4; sleeve bore 2"
    every = af.WayTaken(
        concern="bores",
        way="sleeve",
        except_at=("bore 1", "bore 2", "bore 3", "bore 4"),
        except_way="sleeve",
    )
    assert size_words.heading(made.size_plan(best=every)) == "Sleeve bore 1 to 4"


@pytest.mark.parametrize(
    ("count", "said"), [(1, "the only one"), (2, "both"), (3, "all three"), (10, "all ten"), (12, "all 12")]
)
def test_a_whole_set_is_counted_in_words(count: int, said: str) -> None:
    assert size_words.all_of(count) == said


def test_the_same_price_and_no_next_best_are_said() -> None:
    said = " ".join(size_words.told(made.size_plan(costs_more=0.0), "USD"))
    assert "at the same price; 0.020 in leaves more for the next time." in said
    smaller = made.size_plan(costs_more=0.0, runner_up=made.bored("0.010 in"))
    assert "at the same price." in " ".join(size_words.told(smaller, "USD"))
    none = made.size_plan(runner_up=None, costs_more=None, why_not="no other listed size cleans every place")
    assert "Next best: none, as no other listed size cleans every place." in size_words.told(none, "USD")


def test_nothing_left_for_the_next_time_is_said() -> None:
    said = size_words.told(made.size_plan(left_over=()), "USD")
    assert "No listed size is left for the next time." in said


def test_a_need_that_is_not_wholly_read_is_not_made_up() -> None:
    unread = made.need("bore 2", 0.0, 0.0, 0.0).model_copy(update=dict.fromkeys(("low", "usual", "high")))
    said = size_words.told(made.size_plan(needs=(unread,)), "USD")
    assert said[1].startswith("Left for")
    assert said[0] == "Bore 2 decides, but what it needs is not known: not all of it is read."


def test_a_need_without_spread_has_no_between_and_metal_left_is_told() -> None:
    wall = af.Measured(value=0.171, unit="in", u=0.002)
    need = made.need("bore 2", 0.01, 0.01, 0.01, left=wall)
    (first, *_) = size_words.told(made.size_plan(needs=(need,)), "USD")
    assert "between" not in first
    assert first.endswith(f"It leaves 0.1710{S}±{S}0.0020{S}in.")


@pytest.mark.parametrize(
    ("flip", "said"),
    [
        (
            af.SizeChange(of="need", what="bore 2", by=-0.002, then=None),
            f"What would change it: 0.0020{S}in less than the least that bore 2 needs; then no plan on this "
            "list of sizes.",
        ),
        (
            af.SizeChange(of="need", what="bore 2", by=-0.0018, at=0.010, then=made.bored("0.010 in")),
            f"What would change it: a trial cut at 0.0100{S}in tells once the least that bore 2 needs, "
            f"0.0118{S}in, is no more than that (0.0018{S}in less), then bore to 0.010 in, all four; it is "
            f"certain once the most, 0.0185{S}in, is no more either (0.0085{S}in less).",
        ),
        (
            af.SizeChange(of="need", what="bore 2", by=0.0042, at=0.016, then=None),
            f"What would change it: a trial cut is asked for as it is, for bore 2 may need up to 0.0185{S}in"
            f"; 0.0160{S}in certainly does not serve only once the least, 0.0118{S}in, is past it "
            f"(0.0042{S}in more); then no plan on this list of sizes.",
        ),
        (
            af.SizeChange(of="price", what="each at 0.020 in", by=30, then=made.bored("0.030 in")),
            'What would change it: $30 more for "each at 0.020 in"; then bore to 0.030 in, all four.',
        ),
    ],
)
def test_each_sort_of_change_is_said(flip: af.SizeChange, said: str) -> None:
    assert size_words.told(made.size_plan(flips=(flip,)), "USD")[-1] == said


def test_a_need_without_spread_has_one_threshold() -> None:
    flip = af.SizeChange(of="need", what="bore 2", by=0.01, at=0.02, then=made.bored("0.030 in"))
    plan = made.size_plan(needs=(made.need("bore 2", 0.01, 0.01, 0.01),), flips=(flip,))
    assert size_words.told(plan, "USD")[-1].startswith(
        f"What would change it: 0.0100{S}in more than the 0.0100{S}in that bore 2 needs; then"
    )


def test_panel_and_terminal_tell_the_plan_in_the_same_words() -> None:
    answer = made.answer()
    html, text = part_panel.panel(made.block(), answer), " ".join(answer_text.answer_text(answer).split())
    assert "Block, bores: Bore to 0.020 in, all four." in text
    for said in size_words.told(made.size_plan(), "USD"):
        assert said in html
        assert " ".join(said.split()) in text


def test_terminal_lists_figures_of_which_not_all_is_read() -> None:
    text = answer_text.answer_text(made.answer())
    assert f"  Block, bore 2, taper (two-point): at{S}least{S}0.0063" in text
    assert "bore 1, taper" not in text
