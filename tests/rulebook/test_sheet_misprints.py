"""Misprints that published limit tables really hold are told when a sheet is checked."""

from pathlib import Path

import pytest

from inspect_app.model.sheet import EngineSheet
from inspect_app.rulebook.check_sheet import sheet_problems
from inspect_app.rulebook.load import load_rulebook
from tests.judge import six
from tests.support import changed_pack, problems_of, pump_book, pump_sheet


def problems(**row: str) -> list[str]:
    sheet = pump_sheet(quantities={"pocket.diameter": {"nominal": "40.00 mm"} | row})
    return [str(problem) for problem in sheet_problems(pump_book(), sheet)]


def test_a_new_range_upside_down_is_told() -> None:
    """As in TM 9-6115-604-34, which prints a bore as 74.915 to 7.4935 in."""
    assert problems(minimum="74.915 in", maximum="7.4935 in") == [
        "engine sheet pump-40, quantities.pocket.diameter: the minimum 74.915 in is above the maximum "
        "7.4935 in. One of them is misprinted: look at the manual again."
    ]


@pytest.mark.parametrize(("limit", "told"), [("40.02 mm", True), ("40.03 mm", False), ("40.05 mm", False)])
def test_a_wear_limit_below_at_and_above_the_end_of_the_new_range(limit: str, told: bool) -> None:
    """As in TM 10-3930-653-14&P, whose limit of 0.03 mm lies under a new maximum of 0.066 mm."""
    found = problems(minimum="40.00 mm", maximum="40.03 mm", wear_limit=limit)
    words = (
        f"engine sheet pump-40, quantities.pocket.diameter: the wear limit {limit} lies inside the new range "
        "40.00 mm to 40.03 mm. One of them is misprinted: leave out the one you cannot trust."
    )
    assert found == ([words] if told else [])


def test_a_limit_without_a_range_is_taken_as_it_is() -> None:
    assert problems(wear_limit="40.02 mm") == []


@pytest.mark.parametrize("name", ["left/right", "*", " ", "a, b"])
def test_a_name_that_would_read_as_a_place_is_told(name: str) -> None:
    sheet = pump_sheet(names={"gears": (name, "driven")})
    assert [str(problem) for problem in sheet_problems(pump_book(), sheet)] == [
        f'engine sheet pump-40, names: "{name}" is no name for one of the gears. '
        "Write a word without / * or a comma."
    ]


def test_a_machine_of_absurd_size_is_refused() -> None:
    with pytest.raises(ValueError, match="less than or equal to 64"):
        pump_sheet(counts={"gears": 65, "bushings": 4, "journals": 2})


HERE = "engine sheet pump-40, quantities."


def words_of(found: list[str], row: str = "pocket.diameter") -> list[str]:
    """The problems of one row without the words that they all begin with."""
    assert all(text.startswith(f"{HERE}{row}") for text in found), found
    return [text.removeprefix(f"{HERE}{row}: ") for text in found]


@pytest.mark.parametrize(
    ("limit", "where"),
    [("39.995 mm", "on the wrong side of"), ("40.00 mm", "inside"), ("40.029 mm", "inside")],
)
def test_a_limit_says_on_which_side_of_the_new_range_it_lies(limit: str, where: str) -> None:
    assert words_of(problems(minimum="40.00 mm", maximum="40.03 mm", wear_limit=limit)) == [
        f"the wear limit {limit} lies {where} the new range 40.00 mm to 40.03 mm. "
        "One of them is misprinted: leave out the one you cannot trust."
    ]


@pytest.mark.parametrize(("limit", "told"), [("0.009 mm", True), ("0.010 mm", False), ("0.011 mm", False)])
def test_a_limit_below_at_and_above_a_new_maximum_that_has_no_minimum(limit: str, told: bool) -> None:
    sheet = pump_sheet(quantities={"pocket.wear": {"maximum": "0.010 mm", "wear_limit": limit}})
    found = [str(problem) for problem in sheet_problems(pump_book(), sheet)]
    assert words_of(found, "pocket.wear") == (
        [
            f"the wear limit {limit} lies on the wrong side of the new maximum 0.010 mm. "
            "One of them is misprinted: leave out the one you cannot trust."
        ]
        if told
        else []
    )


@pytest.mark.parametrize(("limit", "told"), [("6.1 mm", True), ("6.0 mm", False), ("5.9 mm", False)])
def test_where_less_is_worse_the_limit_lies_below_the_new_minimum(limit: str, told: bool) -> None:
    sheet = pump_sheet(quantities={"pocket.rim": {"minimum": "6.0 mm", "wear_limit": limit}})
    found = [str(problem) for problem in sheet_problems(pump_book(), sheet)]
    assert ["new minimum 6.0 mm" in text for text in found] == ([True] if told else [])


def test_an_end_that_says_nothing_of_the_limit_is_not_held_against_it() -> None:
    sheet = pump_sheet(quantities={"pocket.rim": {"maximum": "6.0 mm", "wear_limit": "5.0 mm"}})
    assert sheet_problems(pump_book(), sheet) == []


MIXED = "Some manuals mix sizes and allowances in one column: type the size that is meant, or leave it out."


@pytest.mark.parametrize(
    ("limit", "allowance"), [("0.05 mm", True), ("3.9 mm", True), ("4.0 mm", True), ("4.1 mm", False)]
)
def test_an_allowance_in_a_column_of_sizes_is_told(limit: str, allowance: bool) -> None:
    """As in TM 5-6115-584-34, Table 1-2: one column of limits holds 1.0455 and, for a journal, 0.002."""
    (found,) = words_of(problems(minimum="40.00 mm", maximum="40.03 mm", wear_limit=limit))
    as_allowance = (
        f"the wear limit {limit} looks like an allowance beside the new range 40.00 mm to 40.03 mm."
    )
    assert found.startswith(as_allowance if allowance else f"the wear limit {limit} lies on the wrong side")


def test_a_size_in_a_column_of_allowances_is_told() -> None:
    row = {"minimum": "0.02 mm", "maximum": "0.05 mm", "wear_limit": "40.1 mm"}
    sheet = pump_sheet(quantities={"pocket.wear": row})
    found = [str(problem) for problem in sheet_problems(pump_book(), sheet)]
    assert words_of(found, "pocket.wear") == [
        f"the wear limit 40.1 mm looks like a size beside the new range 0.02 mm to 0.05 mm. {MIXED}"
    ]


def test_an_allowance_is_told_beside_a_nominal_alone() -> None:
    assert words_of(problems(wear_limit="0.1 mm")) == [
        f"the wear limit 0.1 mm looks like an allowance beside the nominal 40.00 mm. {MIXED}"
    ]


def test_a_range_of_allowances_beside_a_nominal_size_is_told() -> None:
    assert words_of(problems(minimum="0.01 mm", maximum="0.03 mm")) == [
        f"the minimum 0.01 mm looks like an allowance beside 40.00 mm. {MIXED}",
        f"the maximum 0.03 mm looks like an allowance beside 40.00 mm. {MIXED}",
    ]


def test_an_allowance_may_begin_far_below_its_nominal_or_at_nothing() -> None:
    """Only sizes lie close to their nominal; a limit may be many times an allowance that starts at 0."""
    wide = {"nominal": "0.10 mm", "minimum": "0.01 mm", "maximum": "0.15 mm", "wear_limit": "0.2 mm"}
    from_nothing = {"minimum": "0 mm", "maximum": "0.01 mm", "wear_limit": "0.1 mm"}
    for row in (wide, from_nothing):
        assert sheet_problems(pump_book(), pump_sheet(quantities={"pocket.wear": row})) == []


def test_a_slipped_point_beside_the_nominal_is_told() -> None:
    assert words_of(problems(maximum="400.3 mm")) == [
        f"the maximum 400.3 mm looks like a slipped point beside 40.00 mm. {MIXED}"
    ]


@pytest.mark.parametrize(
    ("step", "told"), [("0.25 mm", False), ("19.99 mm", False), ("20.0 mm", True), ("40.25 mm", True)]
)
def test_a_listed_size_is_a_step_and_no_full_size(step: str, told: bool) -> None:
    sheet = pump_sheet(quantities={"pocket.diameter": {"nominal": "40.00 mm", "sizes": ("0.25 mm", step)}})
    found = [str(problem) for problem in sheet_problems(pump_book(), sheet)]
    assert words_of(found) == (
        [
            f"the listed size {step} looks like a full size beside 40.00 mm. "
            "Type how far each listed size is from standard."
        ]
        if told
        else []
    )


# ---- a gap beside its bore ----


def gap_problems(row: dict[str, str], bore: dict[str, str] | None = None) -> list[str]:
    rows = {} if bore is None else {"bore.diameter": bore}
    sheet = six.sheet(quantities={**rows, "bore.ring_gap_top": row})
    return [str(problem) for problem in sheet_problems(six.book(), sheet)]


FOUR_BORE = {"minimum": "87.20 mm", "maximum": "87.25 mm"}
"""The bore of TM 10-3930-653-14&P."""


@pytest.mark.parametrize(
    ("gap", "told"),
    [("0.40 mm", False), ("1.0 mm", False), ("1.745 mm", False), ("1.746 mm", True), ("4.0 mm", True)],
)
def test_a_gap_below_at_and_above_a_fiftieth_of_its_bore(gap: str, told: bool) -> None:
    """0.02 of 87.25 mm is 1.745 mm; 0.40 is printed as the new maximum and 1.0 as the limit."""
    assert gap_problems({"maximum": gap}, FOUR_BORE) == (
        [
            f"engine sheet six, quantities.bore.ring_gap_top: the maximum {gap} is more than 0.02 of "
            "bore.diameter, 87.25 mm. Look for a slipped point in either."
        ]
        if told
        else []
    )


def test_a_gap_of_nothing_is_told() -> None:
    assert gap_problems({"minimum": "0 mm"}, FOUR_BORE) == [
        "engine sheet six, quantities.bore.ring_gap_top: the minimum 0 mm is not above 0. "
        "Leave it out if the manual gives none."
    ]


def test_a_gap_without_a_bore_to_hold_it_against_is_taken_as_it_is() -> None:
    assert gap_problems({"maximum": "4.0 mm"}) == []
    assert gap_problems({"maximum": "4.0 mm"}, {"wear_limit": "87.45 mm"}) == []


def test_a_bore_that_is_no_size_is_told_once() -> None:
    (found,) = gap_problems({"maximum": "4.0 mm"}, {"nominal": "about 87 mm"})
    assert found.startswith('engine sheet six, quantities.bore.diameter.nominal: "about" is not a number.')


def test_a_gap_of_another_kind_is_held_against_the_bore_of_that_kind() -> None:
    rows = {"wide": {"bore.diameter": {"nominal": "250 mm"}, "bore.ring_gap_top": {"maximum": "4 mm"}}}
    kinds = {"block": {"fitted": "usual", "others": ("wide",), "rows": rows}}

    def found(rows: dict[str, object]) -> list[str]:
        sheet = six.sheet(kinds={"block": kinds["block"] | {"rows": {"wide": rows}}})
        return [str(problem) for problem in sheet_problems(six.book(), sheet)]

    assert found(rows["wide"]) == []
    (told,) = found({"bore.ring_gap_top": {"maximum": "4 mm"}})
    assert told.startswith(
        "engine sheet six, kinds.block.rows.wide.bore.ring_gap_top: the maximum 4 mm is more than 0.02 of "
    )


SHARE = 'id = "rim"\nshare_of = { quantity = "%s", at_most = %s }\n'


@pytest.mark.parametrize(
    ("share", "told"),
    [
        (("pocket.diameter", "0.5"), []),
        (
            ("pocket.size", "0.5"),
            ['sizes.toml, quantity pocket.rim, share_of: "pocket.size" is no quantity of this rulebook.'],
        ),
        (
            ("pocket.diameter", "0"),
            ["sizes.toml, quantity rim, share_of.at_most: Input should be greater than 0. It says 0."],
        ),
        (
            ("pocket.diameter", "1"),
            ["sizes.toml, quantity rim, share_of.at_most: Input should be less than 1. It says 1."],
        ),
    ],
)
def test_a_share_names_a_quantity_of_the_pack_and_a_part_of_it(
    tmp_path: Path, share: tuple[str, str], told: list[str]
) -> None:
    folder = changed_pack(tmp_path, {'id = "rim"\n': SHARE % share})
    found = [str(problem) for problem in problems_of(folder)]
    assert len(found) == len(told)
    assert all(text.startswith(words) for text, words in zip(found, told, strict=True)), found


def test_a_share_of_another_dimension_is_refused(tmp_path: Path) -> None:
    share = SHARE % ("pocket.diameter", "0.5") + 'dimension = "mass"\n'
    folder = changed_pack(tmp_path, {'id = "rim"\n': share, 'min = "6 mm"': 'min = "6 gram"'})
    assert (
        'sizes.toml, quantity pocket.rim, share_of: "pocket.diameter" is a length, this is a mass. '
        "Name a quantity of the same dimension."
    ) in [str(problem) for problem in problems_of(folder)]


def test_any_pack_may_say_what_is_a_share_of_what(tmp_path: Path) -> None:
    folder = changed_pack(tmp_path, {'id = "rim"\n': SHARE % ("pocket.diameter", "0.25")})
    sheet: EngineSheet = pump_sheet(
        quantities={"pocket.diameter": {"nominal": "40.00 mm"}, "pocket.rim": {"nominal": "10.1 mm"}}
    )
    (found,) = sheet_problems(load_rulebook(folder), sheet)
    assert found.what == "the nominal 10.1 mm is more than 0.25 of pocket.diameter, 40.00 mm."
