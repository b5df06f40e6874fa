"""Sizes as typed: one number whatever the unit, and plain words for what is no number."""

from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from inspect_app.model.units import (
    NotANumber,
    UnknownUnit,
    clean,
    decimal_of,
    from_canonical,
    size,
)


@pytest.mark.parametrize(
    ("inch", "millimetre"),
    [
        ("0.010 in", "0.254 mm"),
        ("3.4331 in", "87.20074 mm"),
        ("1 thou", "0.0254 mm"),
        ("-0.5 in", "-12.7 mm"),
    ],
)
def test_inch_and_millimetre_give_the_same_number(inch: str, millimetre: str) -> None:
    assert size(inch) == size(millimetre)


@given(st.integers(-(10**7), 10**7))
def test_any_ten_thousandth_of_an_inch_is_exactly_its_millimetres(tenths: int) -> None:
    inch = f"{tenths / 10_000:.4f} in"
    # 0.0001 in = 0.00254 mm, so the text in mm needs five decimals and no rounding.
    sign, rest = ("-" if tenths < 0 else ""), abs(tenths) * 254
    assert size(inch) == size(f"{sign}{rest // 100_000}.{rest % 100_000:05d} mm")


@pytest.mark.parametrize(
    ("millimetre", "inch"), [("62.942 mm", "2.4780 in"), ("87.20 mm", "3.4331 in"), ("87.25 mm", "3.4350 in")]
)
def test_sizes_printed_in_both_units_agree_to_the_last_digit_printed(millimetre: str, inch: str) -> None:
    # TM 10-3930-653-14&P prints both; half of the last digit is 0.00005 in = 0.00127 mm.
    assert size(millimetre) == pytest.approx(size(inch), abs=0.00127)


def test_a_comma_is_a_decimal_point() -> None:
    assert size("86,02 mm") == size("86.02 mm") == 86.02


def test_a_true_minus_counts_as_a_minus() -> None:
    assert decimal_of("−2.5") == decimal_of("-2.5")


@pytest.mark.parametrize(
    "text",
    ["NaN", "nan", "inf", "-Infinity", "1e3", "1E-4", "", " ", ".", "1.", "1 000", "9,5o", "0x10", "--1"],
)
def test_what_is_no_plain_number_is_refused_and_quoted(text: str) -> None:
    with pytest.raises(NotANumber) as error:
        decimal_of(text)
    assert str(error.value) == f'"{text}" is not a number. Type +8, -2.5 or a full size such as 3.3868.'


@pytest.mark.parametrize(
    ("text", "plain"),
    [("1.234,5", "1234.5"), ("1,234.5", "1234.5"), ("1,000,5", "1000.5"), ("-1.234.5", "-1234.5")],
)
def test_a_number_with_two_marks_is_refused_with_the_plain_one(text: str, plain: str) -> None:
    with pytest.raises(NotANumber) as error:
        decimal_of(text)
    assert str(error.value) == (
        f'"{text}" is not a number: it has two marks. Type one mark only, as in {plain}.'
    )
    assert decimal_of(plain)


@pytest.mark.parametrize(
    ("text", "full"), [(".0005", "0.0005"), ("-.5", "-0.5"), ("+.8", "0.8"), (",5", "0.5"), ("−,25", "-0.25")]
)
def test_a_number_may_lack_its_leading_nought(text: str, full: str) -> None:
    assert decimal_of(text) == Decimal(full)
    assert decimal_of(text).as_tuple().exponent == Decimal(full).as_tuple().exponent
    assert size(f"{text} in") == size(f"{full} in")


def test_a_size_without_a_unit_is_refused_with_an_example() -> None:
    with pytest.raises(UnknownUnit) as error:
        size("3.3868")
    assert str(error.value) == '"3.3868" has no unit. Write it after the number, as in "3.3868 in".'


@pytest.mark.parametrize("text", ["0", "+0", "0.000"])
def test_nothing_is_nothing_in_every_unit(text: str) -> None:
    assert size(text) == 0.0


@pytest.mark.parametrize("unit", ["kg", "furlong per", "mm**2", "10 mm", "__class__"])
def test_a_unit_that_measures_something_else_is_refused(unit: str) -> None:
    with pytest.raises(UnknownUnit) as error:
        size(f"3 {unit}")
    assert str(error.value) == f'"{unit}" is not a unit of length. Use mm, in or thou.'


@pytest.mark.parametrize(
    ("text", "dimension", "value"),
    [
        ("1 lbf ft", "torque", 1.3558179483314004),
        ("1 psi", "pressure", 6.894757293168361),
        ("5 cc", "volume", 5.0),
        ("2.5", "ratio", 2.5),
    ],
)
def test_other_dimensions_have_one_unit_each(text: str, dimension: str, value: float) -> None:
    assert size(text, dimension) == pytest.approx(value, rel=1e-12)


def test_a_size_goes_out_in_the_unit_it_came_in() -> None:
    assert from_canonical(size("3.4331 in"), "in") == pytest.approx(3.4331, abs=1e-12)


def test_the_unit_typed_cannot_flip_a_comparison() -> None:
    # 0.1 + 0.2 - 0.3 leaves 5.6e-17 in floats: less than a picometre, so it is nothing.
    assert clean(0.1 + 0.2 - 0.3) == 0.0


def test_a_picometre_is_still_something() -> None:
    assert clean(1e-9) > 0.0


def test_brinell_hardness_converts_to_nothing_else() -> None:
    assert size("65 HB", "hardness") == 65.0
    assert from_canonical(size("70 HB", "hardness"), "HB", "hardness") == 70.0
    for text, dimension in (("20 HRC", "hardness"), ("65 mm", "hardness"), ("65 HB", "length")):
        with pytest.raises(UnknownUnit, match=f"is not a unit of {dimension}"):
            size(text, dimension)


def test_roughness_is_a_length() -> None:
    assert size("100 microinch") == pytest.approx(0.00254)
