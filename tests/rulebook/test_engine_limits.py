"""The pack bound to a sheet: whose limit counts for which build standard, places, names and sizes."""

from pathlib import Path
from typing import Any

import pytest

from inspect_app.model.frozen import BuildStandard
from inspect_app.model.places import Place
from inspect_app.model.problems import Problems
from inspect_app.rulebook.conditions import Threshold
from inspect_app.rulebook.engine import Engine
from inspect_app.rulebook.load import load_rulebook
from tests.support import PUMP, pump_book, pump_engine, pump_sheet

# The pump's pack limits pocket wear to 0.10 mm to run, 0.08 to freshen, 0.05 to rebuild.
SHOP = """[[limit]]
quantity = "wear"
each = ["pocket"]
max = "0.03 mm"
basis = "judgement"
"""


def bound(row: dict[str, Any] | None = None, overlay: Path | None = None) -> Engine:
    """The pump with this row of pocket wear typed from the maker's manual."""
    book = load_rulebook(PUMP, [overlay]) if overlay else pump_book()
    return Engine(book, pump_sheet(quantities={"pocket.wear": row} if row else {}))


def limit_of(engine: Engine, standard: BuildStandard) -> tuple[float, str]:
    limit = engine.limit("wear", "pocket", standard)
    assert limit is not None
    return limit.value, limit.origin


@pytest.fixture
def shop(tmp_path: Path) -> Path:
    folder = tmp_path / "shop"
    folder.mkdir()
    (folder / "limits.toml").write_text(SHOP)
    return folder


@pytest.mark.parametrize(("standard", "value"), [("run", 0.10), ("freshen", 0.08), ("rebuild", 0.05)])
def test_without_a_sheet_row_the_pack_gives_the_limit(standard: BuildStandard, value: float) -> None:
    assert limit_of(bound(), standard) == (value, "pack")


@pytest.mark.parametrize("standard", ["run", "freshen", "rebuild"])
def test_the_shop_goes_before_the_pack(shop: Path, standard: BuildStandard) -> None:
    assert limit_of(bound(overlay=shop), standard) == (0.03, "shop")


@pytest.mark.parametrize(
    ("standard", "value"),
    # Freshen keeps a quarter of the wear band in hand: 0.12 - 0.25 * (0.12 - 0.04) = 0.10.
    [("run", 0.12), ("freshen", 0.10), ("rebuild", 0.04)],
)
@pytest.mark.parametrize("with_shop", [False, True])
def test_the_maker_goes_before_all_even_where_the_maker_is_milder(
    shop: Path, standard: BuildStandard, value: float, with_shop: bool
) -> None:
    row = {"wear_limit": "0.12 mm", "maximum": "0.04 mm"}
    assert limit_of(bound(row, shop if with_shop else None), standard) == (value, "maker")


@pytest.mark.parametrize(("standard", "value"), [("run", 0.03), ("freshen", 0.025), ("rebuild", 0.01)])
def test_a_printed_table_of_standard_and_limit_gives_all_three(standard: BuildStandard, value: float) -> None:
    # TM 10-3930-653-14&P, journal out-of-round: standard 0.01 mm, limit 0.03 mm. A quarter kept: 0.025.
    sheet = pump_sheet(quantities={"journal.out_of_round": {"maximum": "0.01 mm", "wear_limit": "0.03 mm"}})
    limit = Engine(pump_book(), sheet).limit("out_of_round", "journal", standard)
    assert limit is not None
    assert (limit.value, limit.origin) == (value, "maker")


def test_to_run_only_the_wear_limit_of_the_maker_counts() -> None:
    assert limit_of(bound({"maximum": "0.04 mm"}), "run") == (0.10, "pack")


def test_a_rebuild_with_only_a_wear_limit_takes_a_stricter_pack_and_says_so() -> None:
    assert limit_of(bound({"wear_limit": "0.12 mm"}), "rebuild") == (0.05, "pack")


def test_a_rebuild_with_only_a_wear_limit_keeps_it_where_it_is_the_stricter() -> None:
    assert limit_of(bound({"wear_limit": "0.045 mm"}), "rebuild") == (0.045, "maker")


def test_of_two_equal_limits_the_maker_is_named() -> None:
    assert limit_of(bound({"wear_limit": "0.05 mm"}), "rebuild") == (0.05, "maker")


@pytest.mark.parametrize(
    ("standard", "value", "origin"),
    # Rim is worse below: the reserve is added, and the stricter is the larger. The pack says 6 mm.
    [("run", 5.0, "maker"), ("freshen", 5.5, "maker"), ("rebuild", 7.0, "maker")],
)
def test_a_limit_that_is_worse_below_mirrors(standard: BuildStandard, value: float, origin: str) -> None:
    sheet = pump_sheet(quantities={"pocket.rim": {"wear_limit": "5 mm", "minimum": "7 mm"}})
    limit = Engine(pump_book(), sheet).limit("rim", "pocket", standard)
    assert limit is not None
    assert (limit.value, limit.origin) == (value, origin)


def test_a_rebuild_with_only_a_lower_wear_limit_takes_the_larger() -> None:
    sheet = pump_sheet(quantities={"pocket.rim": {"wear_limit": "5 mm"}})
    limit = Engine(pump_book(), sheet).limit("rim", "pocket", "rebuild")
    assert limit is not None
    assert (limit.value, limit.origin) == (6.0, "pack")


def test_a_quantity_that_nobody_limits_has_no_limit() -> None:
    assert pump_engine().limit("diameter", "pocket", "run") is None


def test_a_guarded_limit_carries_the_95_percent_quantile_and_a_simple_one_nothing() -> None:
    rim, wear = (pump_engine().limit(name, "pocket", "run") for name in ("rim", "wear"))
    assert rim is not None
    assert wear is not None
    assert rim.threshold == Threshold(6.0, "below", guarded=True)
    assert wear.threshold == Threshold(0.10, "above")


def test_positions_take_their_names_from_the_sheet_else_numbers() -> None:
    assert list(pump_engine().positions) == [
        "housing",
        "gear driver",
        "gear driven",
        "shaft driver",
        "shaft driven",
        "bushing 1",
        "bushing 2",
        "bushing 3",
        "bushing 4",
        "cover",
    ]


def test_what_is_bought_as_a_set_is_one_group() -> None:
    positions = pump_engine().positions
    groups = [pump_engine().group(positions[name]) for name in ("bushing 1", "bushing 4", "gear driven")]
    assert groups == ["bushing", "bushing", "gear driven"]


def test_places_are_named_like_the_count_they_follow() -> None:
    assert pump_engine().places("housing", "pocket") == (Place("pocket", "driver"), Place("pocket", "driven"))


def test_a_part_without_such_a_place_has_none_of_it() -> None:
    assert pump_engine().places("cover", "pocket") == ()


@pytest.mark.parametrize(
    ("row", "nominal"),
    [
        ({"nominal": "40 mm"}, 40.0),
        ({"minimum": "40.00 mm", "maximum": "40.02 mm"}, 40.01),
        ({"minimum": "40 mm"}, None),
    ],
)
def test_standard_size_is_the_nominal_else_the_middle_of_the_new_range(
    row: dict[str, str], nominal: float | None
) -> None:
    sheet = pump_sheet(quantities={"pocket.diameter": row})
    assert Engine(pump_book(), sheet).nominal("diameter", "pocket") == nominal


def test_listed_sizes_come_from_the_sheet_in_rising_order_whatever_their_unit() -> None:
    sheet = pump_sheet(quantities={"pocket.diameter": {"sizes": ["0.5 mm", "0.010 in"]}})
    listed = Engine(pump_book(), sheet).sizes("diameter", "pocket", ("0.1 mm",))
    assert listed == (("0.010 in", 0.254), ("0.5 mm", 0.5))


SHEETS: dict[str, tuple[dict[str, Any], str]] = {
    "unknown count": (
        {"counts": {"gears": 2, "bushings": 4, "journals": 2, "teeth": 9}},
        'engine sheet pump-40, counts: "teeth" is no count of this pack. '
        "Use one of: bushings, gears, journals.",
    ),
    "missing count": (
        {"counts": {"gears": 2, "journals": 2}},
        'engine sheet pump-40, counts: "bushings" is missing. Add the number of bushings.',
    ),
    "too few names": (
        {"names": {"gears": ["driver"]}},
        'engine sheet pump-40, names: "gears" has the names driver for a count of 2. '
        "Give one name to each, all different.",
    ),
    "one name twice": (
        {"names": {"gears": ["driver", "driver"]}},
        'engine sheet pump-40, names: "gears" has the names driver, driver for a count of 2. '
        "Give one name to each, all different.",
    ),
    "unknown part": (
        {"materials": {"lid": "steel"}},
        'engine sheet pump-40, materials: "lid" is no part of this pack. '
        "Use one of: bushing, cover, gear, housing, shaft.",
    ),
    "unknown material": (
        {"materials": {"shaft": "brass"}},
        'engine sheet pump-40, materials.shaft: "brass" is no material that a test of this pack suits. '
        "Use one of: aluminium, steel.",
    ),
    "kind of an unknown part": (
        {"kinds": {"lid": {"fitted": "cast"}}},
        'engine sheet pump-40, kinds: "lid" is no part of this pack. '
        "Use one of: bushing, cover, gear, housing, shaft.",
    ),
    "size without unit": (
        {"quantities": {"journal.diameter": {"nominal": "18.00"}}},
        "engine sheet pump-40, quantities.journal.diameter.nominal: "
        '"18.00" has no unit. Write it after the number, as in "3.3868 in".',
    ),
    "listed size that is no number": (
        {"quantities": {"journal.diameter": {"sizes": ["0.25 mm", "half mm"]}}},
        "engine sheet pump-40, quantities.journal.diameter.sizes.1: "
        '"half" is not a number. Type +8, -2.5 or a full size such as 3.3868.',
    ),
    "negative size": (
        {"quantities": {"journal.diameter": {"minimum": "-18 mm"}}},
        'engine sheet pump-40, quantities.journal.diameter.minimum: "-18 mm" is negative. '
        "Write the size itself.",
    ),
}


@pytest.mark.parametrize("mistake", SHEETS)
def test_a_sheet_that_does_not_fit_the_pack_is_told_why(mistake: str) -> None:
    changes, problem = SHEETS[mistake]
    with pytest.raises(Problems) as error:
        Engine(pump_book(), pump_sheet(**changes))
    assert [str(item) for item in error.value.items] == [problem]


def test_an_unknown_row_is_told_with_those_that_are_known() -> None:
    with pytest.raises(Problems) as error:
        Engine(pump_book(), pump_sheet(quantities={"journal.length": {"nominal": "30 mm"}}))
    (problem,) = error.value.items
    assert problem.where == "engine sheet pump-40, quantities.journal.length"
    assert problem.what == "this pack has no such quantity."
    assert "journal.diameter" in problem.advice


def test_every_problem_of_a_sheet_is_told_at_once() -> None:
    with pytest.raises(Problems) as error:
        Engine(pump_book(), pump_sheet(counts={"gears": 2}, names={}, materials={"lid": "steel"}))
    assert len(error.value.items) == 3
