"""Bars made from an answer's own figures and from what a place needs."""

import pytest

from inspect_app.model.answer_figures import FigureShown, LimitShown, Measured, SizeNeed
from inspect_app.pictures.figure_bars import figure_bar, need_bar, size_value
from inspect_app.pictures.limit_bar import bar_scale, limit_bar
from inspect_app.pictures.tokens import LIGHT
from tests.pictures.support import at, of_class, outside, texts


def figure(**changes: object) -> FigureShown:
    fields = {
        "quantity": "wear",
        "title": "wear on diameter",
        "place": "bore 2",
        "measured": Measured(value=0.0077, unit="in", u=0.0002, bound="at_least"),
        "worse": "above",
        "limit": LimitShown(value=0.006, unit="in"),
        "limit_from": "shop",
    }
    return FigureShown(**(fields | changes))  # type: ignore[arg-type]


NEED = SizeNeed(
    place="bore 2", low=0.0118, usual=0.01515, high=0.0185, shown="a sum", next_size="0.020 in", left=None
)


def test_a_figure_stands_beside_its_limit_and_says_whose() -> None:
    bar = figure_bar(figure(), "Wear, bore 2")
    assert bar is not None
    assert (bar.upper, bar.lower, bar.known, bar.note) == (0.006, None, "at_least", "the shop's limit")
    below = figure_bar(figure(worse="below"), "Wall")
    assert below is not None
    assert (below.upper, below.lower) == (None, 0.006)


@pytest.mark.parametrize("limit", [None, LimitShown(value=1, unit="mm")])
def test_a_figure_without_a_limit_in_its_unit_has_no_bar(limit: LimitShown | None) -> None:
    assert figure_bar(figure(limit=limit), "Wear") is None


def test_a_need_is_drawn_from_least_to_largest_before_the_next_size() -> None:
    bar = need_bar(NEED, "in", "Bore 2")
    assert bar is not None
    drawing, on = limit_bar(bar, LIGHT), bar_scale(bar)
    (needle,), (limit,) = (of_class(drawing, name) for name in ("needle", "limit"))
    assert at(needle, "x1")[0] == pytest.approx(on.at(0.0152), abs=0.01)
    assert at(limit, "x1")[0] == pytest.approx(on.at(0.020), abs=0.01)
    assert f'x1="{on.at(0.0118):.2f}"' in drawing
    assert f'x2="{on.at(0.0185):.2f}"' in drawing
    assert "next size 0.0200" in texts(drawing)
    assert "needs 0.0152" in texts(drawing)
    assert not any(said.startswith("limit") for said in texts(drawing))
    assert outside(drawing) == []


def test_a_need_past_every_size_has_no_limit_drawn() -> None:
    bar = need_bar(NEED.model_copy(update={"next_size": None}), "in", "Bore 2")
    assert bar is not None
    assert of_class(limit_bar(bar, LIGHT), "limit") == []


def test_a_need_of_which_something_is_not_read_has_no_bar() -> None:
    assert need_bar(NEED.model_copy(update={"usual": None}), "in", "Bore 2") is None


@pytest.mark.parametrize(
    ("size", "value"),
    [("0.020 in", 0.02), ("0.50 mm", None), (None, None), ("oversize in", None), ("", None)],
)
def test_a_listed_size_is_read_as_written(size: str | None, value: float | None) -> None:
    assert size_value(size, "in") == value
