"""The tables of a part's figures."""

import re

from inspect_app.model import answer as a
from inspect_app.ui import figure_table
from tests.ui import made

S = "\u00a0"


def cells(html: str) -> list[str]:
    """What each cell of the body says, in order."""
    found = re.findall(r"<td>(.*?)</td>", html)
    return [re.sub(r"<[^>]*>", " ", cell).strip() for cell in found]


def test_places_are_rows_figures_are_columns_and_the_head_says_limit_and_whose() -> None:
    wear = made.figure(quantity="wear", title="wear on diameter", limit_from="pack", state="inside")
    wear = wear.model_copy(update={"limit_basis": "judgement"})
    html = figure_table.tables((made.figure(), made.figure(place="bore 2"), wear))
    assert html.count("<table") == 1
    assert '<th scope="col">Bore</th>' in html
    assert "Taper (two-point)" in html
    assert f"±{S}0.0001{S}in" in html
    assert "at most 0.0005, the maker&#x27;s limit" in html
    assert "at most 0.0005, the rule pack&#x27;s limit (judgement)" in html
    assert cells(html) == ["0.0051    beyond", "0.0051   inside", "0.0051    beyond", "not read"]


def test_half_known_figures_say_at_least_and_close_calls_their_odds() -> None:
    half = a.Measured(value=0.0063, unit="in", u=0.0002, bound="at_least")
    html = figure_table.tables((made.figure(measured=half, close_call=True, p_beyond=0.6),))
    assert "<strong>at least 0.0063</strong>" in html
    assert "beyond, close call: likely beyond" in html


def test_limits_and_uncertainties_that_differ_stand_in_the_cells() -> None:
    other = made.figure(
        place="bore 2",
        limit=a.LimitShown(value=0.00085, unit="in"),
        measured=a.Measured(value=0.0007, unit="in", u=0.0003),
    )
    html = figure_table.tables((made.figure(), other))
    first, second = cells(html)
    assert "at most 0.0005, the maker" in first
    assert "at most 0.00085, the maker" in second
    assert f"±{S}0.0003" in second


def test_a_limit_below_is_at_least_and_none_is_said() -> None:
    assert figure_table.limit_said(made.figure(worse="below")).startswith("at least 0.0005")
    assert figure_table.limit_said(made.figure(limit=None)) == "no limit of its own"


def test_kinds_of_places_have_a_table_each_and_the_whole_part_has_its_name() -> None:
    html = figure_table.tables((made.figure(), made.figure(place="deck"), made.figure(place="")))
    assert html.count("<table") == 3
    assert "The whole part" in html


def test_figures_are_counted_by_where_they_stand() -> None:
    found = (
        made.figure(),
        made.figure(state="inside", close_call=True),
        made.figure(state="open"),
        made.figure(state="no limit"),
    )
    said = "4 figures: 1 beyond, 1 inside, 1 still open, 1 close call, 1 without a limit"
    assert figure_table.counted(found) == said
    assert figure_table.counted(found[:1]) == "1 figure: 1 beyond"
