"""Sizes shown in inch and mm beside each other, fine enough that a wrong last digit is seen."""

from decimal import Decimal

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from inspect_app.bundle.sheet_view import counted, in_both
from inspect_app.metrology.misprints import inch_mm_disagree


@pytest.mark.parametrize(
    ("typed", "beside"),
    [
        ("62.942 mm", "2.4780 in"),
        ("87.20 mm", "3.4331 in"),
        ("87.25 mm", "3.4350 in"),
        ("0.0015 in", "0.038 mm"),
        ("0.00015 in", "0.0038 mm"),
        ("0.0025 mm", "0.00010 in"),
        ("86,02 mm", "3.3866 in"),
        ("10 thou", "0.0100 in 0.254 mm"),
    ],
)
def test_a_length_has_its_twin_beside_it(typed: str, beside: str) -> None:
    """The first three pairs stand in TM 10-3930-653-14&P."""
    assert in_both(typed).split(maxsplit=2)[2] == beside


@pytest.mark.parametrize(
    ("text", "dimension"), [("0", "length"), ("30 newton * meter", "torque"), ("9.5", "ratio")]
)
def test_what_has_no_twin_is_shown_as_typed(text: str, dimension: str) -> None:
    assert in_both(text, dimension) == text


@settings(max_examples=200, deadline=None)
@given(st.integers(1, 99_999), st.integers(0, 5), st.sampled_from(["in", "mm"]))
def test_what_is_shown_would_pass_as_the_twin_in_print(digits: int, decimals: int, unit: str) -> None:
    number = Decimal(digits).scaleb(-decimals)
    twin, other = in_both(f"{number:f} {unit}").split()[2:]
    inch, mm = (number, Decimal(twin)) if unit == "in" else (Decimal(twin), number)
    assert other == {"in": "mm", "mm": "in"}[unit]
    assert inch_mm_disagree(inch, mm) is None


@pytest.mark.parametrize(("number", "said"), [(1, "1 lid"), (2, "2 lids"), (0, "0 lids"), (11, "11 lids")])
def test_one_alone_is_counted_in_the_singular(number: int, said: str) -> None:
    assert counted(number, "lids") == said
