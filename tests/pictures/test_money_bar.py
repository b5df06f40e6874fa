import pytest

from inspect_app.model.frozen import Spread
from inspect_app.pictures.money_bar import LABEL_EDGE, LINE_WIDTH, Amount, money_bar, money_line, money_scale
from inspect_app.pictures.scale import scale
from inspect_app.pictures.tokens import LIGHT
from tests.pictures.support import NASTY, SPACE, at, of_class, outside, parsed, texts


def amount(label: str, low: float, likely: float, high: float) -> Amount:
    return Amount(label, Spread(low=low, likely=likely, high=high, mean=(low + likely + high) / 3))


TWO = [amount("In parts it brings", 240, 310, 390), amount("Built, it leaves", 110, 520, 830)]


def test_two_choices_stand_on_one_scale() -> None:
    drawing = money_bar(TWO, "USD", LIGHT, note="eight times in ten")
    drawn = texts(drawing)
    assert drawn[0] == "In parts it brings: $310"
    assert {"Built, it leaves: $520", "$0", "$1,000"} <= set(drawn)
    assert drawn[-1] == "eight times in ten, the two can come out either way"
    assert outside(drawing) == []


def test_pointers_and_caps_stand_where_the_scale_says() -> None:
    root, on = parsed(money_bar(TWO, "USD", LIGHT)), money_scale(TWO)
    tips = [node.get("points", "").split()[2].split(",")[0] for node in root.iter(f"{SPACE}polygon")]
    assert [float(tip) for tip in tips] == pytest.approx([on.at(310), on.at(520)], abs=0.01)
    lines = {at(node, "x1", "x2") for node in root.iter(f"{SPACE}line")}
    for amount_ in TWO:
        assert amount_.spread is not None
        ends = (on.at(amount_.spread.low), on.at(amount_.spread.high))
        assert any(found == pytest.approx(ends, abs=0.01) for found in lines)


def test_losses_missing_prices_and_nothing_at_all() -> None:
    amounts = [amount("Break it", -300, -120, 40), Amount("Build it", None), amount("Let it go", 0, 0, 0)]
    drawing = money_bar(amounts, "EUR", LIGHT)
    assert {"Break it: \u2212€120", "Build it: not known, a price is missing", "€0"} <= set(texts(drawing))
    assert outside(drawing) == []
    assert outside(money_bar([Amount("Build it", None)], "USD", LIGHT)) == []


def test_amounts_apart_do_not_say_that_they_can_change_places() -> None:
    apart = [amount("One", 0, 1, 2), amount("Two", 10, 11, 12)]
    assert not any("come out" in said for said in texts(money_bar(apart, "USD", LIGHT)))


def test_a_long_label_is_cut_and_escaped() -> None:
    drawing = money_bar([amount(NASTY * 40, 1, 2, 3)], "USD", LIGHT)
    assert outside(drawing) == []
    assert "<b>" not in drawing


@pytest.mark.parametrize("width", [340, 480])
def test_the_mean_is_a_ring_on_the_line_at_any_width(width: int) -> None:
    drawing, on = money_bar(TWO, "USD", LIGHT, width=width), money_scale(TWO, width)
    rings = [at(node, "cx")[0] for node in of_class(drawing, "mean")]
    assert rings == pytest.approx([on.at((240 + 310 + 390) / 3), on.at((110 + 520 + 830) / 3)], abs=0.01)
    assert outside(drawing) == []


def test_small_lines_share_a_scale_with_a_mark_at_zero() -> None:
    spreads = [one.spread for one in (*TWO, amount("Loss", -300, -120, 40)) if one.spread]
    on = scale([-300, 830], LABEL_EDGE, LINE_WIDTH - LABEL_EDGE, from_zero=True)
    for spread in spreads:
        drawing = money_line(spread, spreads, "USD", LIGHT)
        assert outside(drawing) == []
        (zero,), (ring,) = of_class(drawing, "zero"), of_class(drawing, "mean")
        assert at(zero, "x1")[0] == pytest.approx(on.at(0), abs=0.01)
        assert at(ring, "cx")[0] == pytest.approx(on.at(spread.mean), abs=0.01)
    assert "$520, from $110 to $830" in money_line(spreads[1], spreads, "USD", LIGHT)
