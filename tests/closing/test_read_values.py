"""Which readings count: in the conditions asked for, washed, not voided; at 20 degrees; by which gauge."""

from math import sqrt
from pathlib import Path
from typing import Any

import pytest

from inspect_app.closing.figure_state import FigureState
from inspect_app.closing.missing import of_row
from inspect_app.model.evidence import Evidence, Reading
from inspect_app.model.pieces import OperationDone, Piece
from inspect_app.model.places import Place
from inspect_app.rulebook.check_core import core_problems
from inspect_app.rulebook.engine import Engine
from inspect_app.rulebook.load import load_rulebook
from tests.support import changed_pack, make_core, pocket, pump_sheet, reading, state_of

DRIVER = Place("pocket", "driver")
OWN = sqrt(0.001**2 / 12 + 0.001**2)
"""Of the bore gauge: resolution and repeatability."""
MORE = """
[[material]]
id = "aluminium"
title = "aluminium"
expansion = [19.0e-6, 23.6e-6]
basis = "x"

[[material]]
id = "steel"
title = "steel"
expansion = [11.0e-6, 12.0e-6]
basis = "x"

[[condition]]
id = "cover bolted"
title = "with its cover bolted on"

[[condition]]
id = "cover off"
title = "with its cover off"
excludes = ["cover bolted"]

[[condition]]
id = "torque plate"
title = "with a torque plate"
"""
ASKED = {
    'title = "pocket diameter"': 'title = "pocket diameter"\nconditions = ["cover bolted"]\nwashed = true',
    'division = "0.01 mm"': 'division = "0.01 mm"\nmaterial = "steel"',
}


def engine(tmp_path: Path, changes: dict[str, str] | None = None, **sheet: Any) -> Engine:
    """The pump, in whose pack pockets are read with the cover bolted on, by a steel gauge."""
    folder = changed_pack(tmp_path, ASKED | (changes or {}), more=MORE)
    return Engine(load_rulebook(folder), pump_sheet(**sheet))


def figures(bound: Engine, *items: Evidence, piece: Piece | None = None) -> FigureState:
    return state_of("housing", *items, engine=bound, piece=piece).scene.figures


def sized(value: str, *conditions: str, **more: Any) -> list[Reading]:
    return pocket("pocket driver", value, conditions=conditions or ("cover bolted",), **more)


def inlet(value: str, **more: Any) -> Reading:
    given = {"gauge": "bore-gauge", "conditions": ("cover bolted",)} | more
    return reading("diameter", "pocket driver", value, "inlet", **given)


def told(bound: Engine, *items: Evidence, **core: Any) -> list[str]:
    return [str(problem) for problem in core_problems(bound, make_core(*items, **core))]


# ---- conditions ----


def test_a_reading_in_the_condition_asked_for_counts(tmp_path: Path) -> None:
    assert figures(engine(tmp_path), *sized("40.050")).figure("diameter", DRIVER).lo == 40.05


def test_a_reading_in_more_conditions_than_asked_counts_too(tmp_path: Path) -> None:
    read = sized("40.050", "torque plate", "cover bolted")
    assert figures(engine(tmp_path), *read).figure("diameter", DRIVER).known


@pytest.mark.parametrize("conditions", [(), ("cover off",), ("torque plate",)])
def test_a_reading_in_another_condition_does_not_count_and_says_what_it_lacks(
    tmp_path: Path, conditions: tuple[str, ...]
) -> None:
    given = figures(engine(tmp_path), *pocket("pocket driver", "40.200", conditions=conditions))
    assert not given.figure("diameter", DRIVER).evidence
    assert given.read.unread("diameter", DRIVER)
    assert given.read.left_out("diameter", DRIVER) == ("with its cover bolted on",)


def test_a_condition_that_the_sheet_adds_is_asked_for_as_well(tmp_path: Path) -> None:
    row = {"pocket.diameter": {"nominal": "40.00 mm", "conditions": ["torque plate"]}}
    bound = engine(tmp_path, quantities=row)
    assert figures(bound, *sized("40.050")).read.left_out("diameter", DRIVER) == ("with a torque plate",)
    both = figures(bound, *sized("40.050", "cover bolted", "torque plate"))
    assert both.figure("diameter", DRIVER).known


def test_only_a_washed_part_counts_where_that_is_asked(tmp_path: Path) -> None:
    dirty = figures(engine(tmp_path), *sized("40.050", state="as_found"))
    assert dirty.read.unread("diameter", DRIVER)
    assert dirty.read.left_out("diameter", DRIVER) == ("washed",)


def test_what_is_missing_says_in_which_condition_to_read_again(tmp_path: Path) -> None:
    state = state_of("housing", *pocket("pocket driver", "40.050", conditions=()), engine=engine(tmp_path))
    asked = {
        (item.what, str(item.place))
        for row in state.rows
        if row.rule.id == "pocket-worn"
        for item in of_row(state, row)
    }
    assert ("pocket diameter, read again with its cover bolted on", "pocket driver") in asked
    # Where nobody read anything there is nothing to read again.
    assert ("pocket diameter", "pocket driven") in asked


def test_conditions_that_cannot_both_be_true_are_refused(tmp_path: Path) -> None:
    item = inlet("40.050", id="r", conditions=("cover bolted", "cover off"))
    assert told(engine(tmp_path), item) == [
        'evidence r: "cover off" and "cover bolted" cannot both be true of one reading. Take one out.'
    ]


def test_a_condition_that_nobody_knows_is_told(tmp_path: Path) -> None:
    item = inlet("40.050", id="r", conditions=("cover bolted", "lid on"))
    assert told(engine(tmp_path), item) == [
        'evidence r: "lid on" is no condition of this rulebook. '
        "Use one of: cover bolted, cover off, torque plate."
    ]


@pytest.mark.parametrize(("states", "size"), [(("washed", "after 1"), 40.2), (("washed", "washed"), None)])
def test_later_work_voids_what_was_read_before_it(
    tmp_path: Path, states: tuple[str, str], size: float | None
) -> None:
    bored = Piece(
        id="housing", position="housing", operations=(OperationDone(operation="bore-pocket", size="0.20 mm"),)
    )
    items = [*sized("40.050", state=states[0]), *sized("40.200", state=states[1])]
    figure = figures(engine(tmp_path), *items, piece=bored).figure("diameter", DRIVER)
    assert (figure.lo if figure.known else None) == size


# ---- temperatures ----


def test_aluminium_soaked_with_a_steel_gauge_reads_too_large(tmp_path: Path) -> None:
    """Worked by hand: 40.08 * (21.3 - 11.5)e-6 * 11 = 0.0043206, so 40.0756794 at 20 degrees.

    Its doubt: 40.08 * hypot(1.358922e-6 * 11, 9.8e-6 * 0.57735, 1.358922e-6 * 0.57735) = 0.00064137, with
    the range of both coefficients, hypot(2.3e-6, 0.5e-6) / sqrt(3), and a thermometer within 1 degree.
    """
    figure = figures(engine(tmp_path), inlet("40.080", part_temperature="31 C")).figure("diameter", DRIVER)
    assert figure.lo == pytest.approx(40.0756794, abs=1e-7)
    assert figure.u == pytest.approx(sqrt(2.4166667e-6 + 0.00064137**2), rel=1e-4)


def test_fahrenheit_is_the_same_temperature(tmp_path: Path) -> None:
    # 87.8 F = 31 C.
    figure = figures(engine(tmp_path), inlet("40.080", part_temperature="87.8 F")).figure("diameter", DRIVER)
    assert figure.lo == pytest.approx(40.0756794, abs=1e-7)


def test_a_warm_part_and_a_gauge_kept_at_20_take_the_whole_expansion(tmp_path: Path) -> None:
    # 40.08 * 21.3e-6 * 11 = 0.0093907.
    item = inlet("40.080", part_temperature="31 C", gauge_temperature="20 C")
    assert figures(engine(tmp_path), item).figure("diameter", DRIVER).lo == pytest.approx(
        40.0706093, abs=1e-7
    )


def test_a_gauge_warmer_than_the_part_reads_too_small(tmp_path: Path) -> None:
    # 40.08 * (21.3e-6 * 2 - 11.5e-6 * 11) = -0.0033627: the steel gauge has grown by more.
    item = inlet("40.080", part_temperature="22 C", gauge_temperature="31 C")
    assert figures(engine(tmp_path), item).figure("diameter", DRIVER).lo == pytest.approx(
        40.0833627, abs=1e-7
    )


def test_without_temperatures_nothing_is_corrected(tmp_path: Path) -> None:
    figure = figures(engine(tmp_path), inlet("40.080")).figure("diameter", DRIVER)
    assert (figure.lo, figure.u) == (40.08, pytest.approx(0.0015546, rel=1e-4))


def test_a_piece_of_another_material_than_the_sheet_says_expands_as_its_own(tmp_path: Path) -> None:
    steel = Piece(id="housing", position="housing", material="steel")
    item = inlet("40.080", part_temperature="31 C")
    assert told(engine(tmp_path, materials={}), item, pieces=(steel,)) == []
    # Steel read by steel, soaked together: nothing to correct.
    figure = figures(engine(tmp_path / "again"), item, piece=steel).figure("diameter", DRIVER)
    assert figure.lo == pytest.approx(40.08)


def test_what_one_session_shares_at_two_temperatures_does_not_cancel(tmp_path: Path) -> None:
    """The thermometer's error moves the warm reading alone."""
    bound = engine(tmp_path)
    warm = {"part_temperature": "31 C", "session": "s"}
    cold = inlet("40.000", session="s").model_copy(update={"station": "unworn"})
    rest = inlet("40.050", session="s").model_copy(update={"station": "outlet"})
    alike = figures(bound, inlet("40.080", **warm), rest, cold.model_copy(update=warm)).figure("wear", DRIVER)
    apart = figures(bound, inlet("40.080", **warm), rest, cold).figure("wear", DRIVER)
    assert alike.u == pytest.approx(sqrt(2) * OWN, rel=1e-6)
    # sqrt(2 * own^2 + 2 * common^2 + warm^2).
    calibration = 0.002 / sqrt(3)
    assert apart.u == pytest.approx(sqrt(2 * OWN**2 + 2 * calibration**2 + 0.00064137**2), rel=1e-4)


NO_METAL = "Give its material on the engine sheet: housing."


@pytest.mark.parametrize(
    ("more", "words"),
    [
        (
            {"gauge_temperature": "20 C"},
            ["the gauge's temperature is given, but not the part's. Add part_temperature."],
        ),
        (
            {"part_temperature": "31 C", "gauge": None},
            [
                "a temperature is given, but nobody knows what the gauge is made of. "
                "Name a gauge whose material the rulebook gives."
            ],
        ),
        (
            {"part_temperature": "31 C", "gauge": "outside-micrometer"},
            [
                "a temperature is given, but nobody knows what the gauge is made of. "
                "Name a gauge whose material the rulebook gives."
            ],
        ),
    ],
)
def test_a_temperature_that_cannot_be_used_is_told(
    tmp_path: Path, more: dict[str, Any], words: list[str]
) -> None:
    assert told(engine(tmp_path), inlet("40.080", id="r", **more)) == [
        f"evidence r: {text}" for text in words
    ]


@pytest.mark.parametrize(("sheet", "own"), [({}, None), ({"housing": "aluminium"}, "brass")])
def test_a_piece_of_unknown_expansion_is_told(tmp_path: Path, sheet: dict[str, str], own: str | None) -> None:
    tested = {'suits = ["steel", "aluminium"]': 'suits = ["steel", "aluminium", "brass"]'}
    bound, piece = (
        engine(tmp_path, tested, materials=sheet),
        Piece(id="housing", position="housing", material=own),
    )
    assert told(bound, inlet("40.080", id="r", part_temperature="31 C"), pieces=(piece,)) == [
        "evidence r: a temperature is given, but nobody knows how much the part expands. " + NO_METAL
    ]


@pytest.mark.parametrize("text", ["warm", "31", "31 K", "31 mm"])
def test_a_temperature_that_is_none_is_told(tmp_path: Path, text: str) -> None:
    (problem,) = told(engine(tmp_path), inlet("40.080", id="r", part_temperature=text))
    assert problem.startswith("evidence r: ")
    assert text.split()[-1] in problem


# ---- gauges ----


@pytest.mark.parametrize(
    ("meaning", "common"), [(None, 0.002 / sqrt(3)), ("95 percent", 0.001), ("standard", 0.002)]
)
def test_the_half_width_counts_by_what_it_means(tmp_path: Path, meaning: str | None, common: float) -> None:
    says = "" if meaning is None else f'\nhalf_width_is = "{meaning}"'
    more = {'title = "Bore gauge"': 'title = "Bore gauge"' + says}
    figure = figures(engine(tmp_path, more), inlet("40.080")).figure("diameter", DRIVER)
    assert figure.u == pytest.approx(sqrt(OWN**2 + common**2))


def test_a_shop_that_writes_its_own_gauge_over_the_packs_changes_the_uncertainty(tmp_path: Path) -> None:
    shop = tmp_path / "shop"
    shop.mkdir()
    (shop / "gauges.toml").write_text(
        '[[gauge]]\nid = "bore-gauge"\ntitle = "Ours"\nresolution = "0.01 mm"\nhalf_width = "0.012 mm"\n'
        'half_width_is = "95 percent"\n'
    )
    book = load_rulebook(changed_pack(tmp_path, ASKED, more=MORE), (shop,))
    figure = figures(Engine(book, pump_sheet()), inlet("40.08")).figure("diameter", DRIVER)
    # sqrt(0.01^2 / 12 + 0.006^2) = 0.0066583.
    assert figure.u == pytest.approx(0.0066583, abs=1e-7)
