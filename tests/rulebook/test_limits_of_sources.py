"""A computed figure without a row of its own takes its limit from the row of what it is computed from."""

from collections.abc import Mapping
from pathlib import Path
from typing import Any

import pytest

from inspect_app.model.frozen import BuildStandard
from inspect_app.rulebook.engine import BoundLimit, Engine
from inspect_app.rulebook.load import load_rulebook
from tests.support import PUMP, pump_book, pump_sheet

STANDARDS: tuple[BuildStandard, ...] = ("run", "freshen", "rebuild")
# The shop measures more of a journal: its largest and smallest size, wear, half a reading, and a difference.
MORE = """[[quantity]]
id = "{name}"
title = "{name}"
each = ["journal"]
worse = "{worse}"
shown_in = "mm"
calc = {{ name = "{calc}", of = "diameter"{rest} }}

"""
FIGURES = (
    ("largest", "above", "worst", ""),
    ("smallest", "below", "worst", ""),
    ("lost", "above", "wear", ""),
    ("half", "below", "times", ", times = 0.5"),
    ("turned", "above", "times", ", times = -1"),
    ("rest", "below", "minus", ', less = "out_of_round"'),
)
ROW = {"nominal": "18.00 mm", "minimum": "17.98 mm", "maximum": "18.01 mm", "wear_limit": "17.90 mm"}


@pytest.fixture(scope="module")
def shop(tmp_path_factory: pytest.TempPathFactory) -> Path:
    folder = tmp_path_factory.mktemp("shop")
    texts = [MORE.format(name=n, worse=w, calc=c, rest=r) for n, w, c, r in FIGURES]
    (folder / "more.toml").write_text("".join(texts))
    return folder


def limits(shop: Path, quantity: str, rows: Mapping[str, Any]) -> list[float | None]:
    """The maker's limit of a figure of the journal to run, to freshen and to rebuild."""
    engine = Engine(load_rulebook(PUMP, [shop]), pump_sheet(quantities=dict(rows)))
    bound: list[BoundLimit | None] = [engine.limit(quantity, "journal", name) for name in STANDARDS]
    assert {limit.origin for limit in bound if limit} <= {"maker"}
    return [limit.value if limit else None for limit in bound]


@pytest.mark.parametrize(
    ("quantity", "expected"),
    [
        # Worst below, as the diameter: wear limit, a quarter of the band kept (17.90 + 0.25 * 0.08), new end.
        ("smallest", [17.90, 17.92, 17.98]),
        # The other end has no wear limit: it stays in the new range for every standard.
        ("largest", [18.01, 18.01, 18.01]),
        # 18.00 - 17.90 at most; the new range is of sizes and says nothing of wear.
        ("lost", [0.10, 0.10, 0.10]),
        ("half", [8.95, 8.96, 8.99]),
        ("turned", [None, None, None]),
        ("rest", [None, None, None]),
    ],
)
def test_each_calculator_takes_what_it_can_from_the_row_of_its_source(
    shop: Path, quantity: str, expected: list[float | None]
) -> None:
    assert limits(shop, quantity, {"journal.diameter": ROW}) == expected


@pytest.mark.parametrize("quantity", [name for name, *_ in FIGURES])
def test_a_source_without_limits_gives_none(shop: Path, quantity: str) -> None:
    assert limits(shop, quantity, {"journal.diameter": {"nominal": "18.00 mm"}}) == [None] * 3


def test_wear_wants_the_nominal_size_too(shop: Path) -> None:
    row = {"wear_limit": "17.90 mm"}
    assert limits(shop, "lost", {"journal.diameter": row}) == [None] * 3
    # The middle of the new range stands for it: 17.995 - 17.90.
    middle = row | {"minimum": "17.98 mm", "maximum": "18.01 mm"}
    assert limits(shop, "lost", {"journal.diameter": middle}) == [0.095] * 3


def test_a_row_of_its_own_goes_first(shop: Path) -> None:
    rows = {"journal.diameter": ROW, "journal.lost": {"wear_limit": "0.05 mm"}}
    assert limits(shop, "lost", rows) == [0.05] * 3


def test_a_row_without_a_limit_does_not_stand_in_the_way(shop: Path) -> None:
    rows = {"journal.diameter": ROW, "journal.lost": {"note": "read with care"}}
    assert limits(shop, "lost", rows) == [0.10] * 3


@pytest.mark.parametrize(
    ("least", "expected", "origin"),
    [("40.09 mm", 0.09, "maker"), ("40.11 mm", 0.11, "maker"), (None, 0.10, "pack")],
)
def test_a_limit_from_the_size_goes_before_the_packs_to_run(
    least: str | None, expected: float, origin: str
) -> None:
    """The pump's pack limits pocket wear to 0.10 mm to run; a greatest diameter of the maker says more."""
    row = {"nominal": "40.00 mm"} | ({"wear_limit": least} if least else {})
    limit = Engine(pump_book(), pump_sheet(quantities={"pocket.diameter": row})).limit(
        "wear", "pocket", "run"
    )
    assert limit is not None
    assert (limit.value, limit.origin) == (expected, origin)


def test_a_rebuild_keeps_the_stricter_of_the_packs_wear_and_the_makers_size() -> None:
    for size, expected, origin in (("40.09 mm", 0.05, "pack"), ("40.04 mm", 0.04, "maker")):
        rows = {"pocket.diameter": {"nominal": "40.00 mm", "wear_limit": size}}
        limit = Engine(pump_book(), pump_sheet(quantities=rows)).limit("wear", "pocket", "rebuild")
        assert limit is not None
        assert (limit.value, limit.origin) == (expected, origin)
