"""Which rows of a sheet are read at all: a limit typed for nothing is told."""

import pytest

from inspect_app.bundle.sheet_csv import TypedSheet
from inspect_app.bundle.sheet_view import sheet_text
from inspect_app.rulebook.rows_read import rows_read
from tests.judge import six
from tests.support import pump_book

TOLD = "  no rule and no fit reads the limits of this row yet"


@pytest.mark.parametrize(
    ("row", "read"),
    [
        (("wear", "bore"), True),  # a rule
        (("diameter", "bore"), True),  # a size that a rule's figure takes its limit from
        (("diameter", "main_web"), True),  # by way of the largest and the smallest of it
        (("wall", "bore"), True),  # metal to keep
        (("stack_removed", "deck"), True),  # a sum of cuts
        (("oil_clearance", "big_end"), True),  # a fit
        (("exhaust_lash_cold", "chamber"), True),  # a setting
        (("volume", "chamber"), True),  # an effect
        (("score_depth", "bore"), False),  # depth only says how far to cut
        (("clean_up", "bore"), False),
        (("deck_height", "deck"), False),  # what is left after the cut is held against a limit
        (("sweep", "bore"), False),
    ],
)
def test_a_row_is_read_where_something_is_held_against_it(row: tuple[str, str], read: bool) -> None:
    assert (row in rows_read(six.book())) == read


def test_every_row_that_is_read_is_one_of_the_rulebook() -> None:
    for book in (six.book(), pump_book()):
        assert rows_read(book) <= set(book.quantities)


@pytest.mark.parametrize(
    ("key", "row", "told"),
    [
        ("bore.score_depth", {"wear_limit": "0.002 in"}, True),
        ("bore.score_depth", {"nominal": "0.002 in"}, False),
        ("bore.wall", {"wear_limit": "0.100 in"}, False),
        ("deck.deck_height", {"minimum": "8.990 in", "maximum": "9.010 in"}, True),
    ],
)
def test_a_limit_that_nothing_reads_is_told_with_its_row(key: str, row: dict[str, str], told: bool) -> None:
    sheet = six.sheet(quantities={key: row})
    text = sheet_text(TypedSheet(sheet, "six.json"), six.book())
    assert (TOLD in text.splitlines()) == told
