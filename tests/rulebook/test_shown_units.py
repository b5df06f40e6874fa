import json
import re
from decimal import Decimal
from typing import Any

import pytest

from inspect_app.closing.shown import profiles
from inspect_app.judge import judge
from inspect_app.judge.fit_check import fit_check
from inspect_app.model.evidence import Reading
from inspect_app.model.sheet import EngineSheet, SheetQuantity
from inspect_app.rulebook.engine import Engine
from inspect_app.rulebook.limits_told import limits_told
from inspect_app.rulebook.shown_units import usual_length
from tests.judge import six
from tests.rulebook.measured_six import EVERYTHING
from tests.support import pocket, pump_book, pump_sheet, state_of

INCHES = re.compile(r'"(-?[\d.]+) in"')


def engine(**rows: dict[str, Any]) -> Engine:
    typed = {name.replace("__", "."): SheetQuantity(**row) for name, row in rows.items()}
    return Engine(pump_book(), pump_sheet(quantities=typed))


@pytest.mark.parametrize(
    ("row", "unit"),
    [
        ({"nominal": "1.5748 in"}, "in"),
        ({"nominal": "40.00 mm"}, "mm"),
        ({"nominal": "4.0 cm"}, "mm"),
        ({"nominal": "40000 um"}, "mm"),
        ({"nominal": "1575 thou"}, "in"),
        ({"sizes": ("0.010 in", "0.020 in")}, "in"),
        ({"note": "not told"}, "mm"),
    ],
)
def test_a_size_is_shown_in_the_unit_of_its_row(row: dict[str, Any], unit: str) -> None:
    assert engine(pocket__diameter=row).shown("diameter", "pocket").shown_in == unit


def test_what_is_computed_is_shown_as_the_row_it_is_computed_from() -> None:
    both = engine(pocket__diameter={"nominal": "1.5748 in"}, journal__diameter={"nominal": "18 mm"})
    assert both.shown("wear", "pocket").shown_in == "in"
    assert both.shown("out_of_round", "journal").shown_in == "mm"
    own = engine(pocket__diameter={"nominal": "1.5748 in"}, pocket__wear={"wear_limit": "0.1 mm"})
    assert own.shown("wear", "pocket").shown_in == "mm"


def test_without_a_row_most_lengths_of_the_sheet_decide_and_as_many_of_each_leave_it_to_the_pack() -> None:
    inches = engine(
        pocket__diameter={"minimum": "1.574 in", "maximum": "1.576 in"},
        journal__diameter={"nominal": "18 mm"},
    )
    assert inches.shown("rim", "pocket").shown_in == "in"
    even = engine(pocket__diameter={"nominal": "1.575 in"}, journal__diameter={"nominal": "18 mm"})
    assert even.usual_length is None
    assert even.shown("rim", "pocket").shown_in == "mm"
    assert usual_length(pump_sheet(quantities={})) is None


def test_a_profile_is_in_the_unit_it_names() -> None:
    bound = engine(pocket__diameter={"nominal": "1.5748 in"})
    state = state_of("housing", *pocket("pocket driver", "40.64"), engine=bound)
    found = next(iter(profiles(state, {})))
    assert found.unit == "in"
    assert found.points[0].value == pytest.approx(1.6)
    assert found.unworn == pytest.approx(40 / 25.4)


def metric_sheet() -> EngineSheet:
    """The sheet of the six with every length typed in mm."""
    typed = json.dumps(six.sheet().model_dump(mode="json"))
    return EngineSheet.model_validate_json(
        INCHES.sub(lambda m: f'"{Decimal(m[1]) * Decimal("25.4")} mm"', typed)
    )


def metric(item: Any) -> Any:
    if not isinstance(item, Reading) or item.unit != "in":
        return item
    setting = {"setting": str(Decimal(item.setting) * Decimal("25.4"))} if item.setting else {}
    value = {"value": str(Decimal(item.value) * Decimal("25.4"))}
    return item.model_copy(update={"unit": "mm", **value, **setting})


def test_a_metric_engine_is_answered_in_mm_throughout_and_judged_as_in_inches() -> None:
    items = [metric(item) for item in EVERYTHING]
    bound = Engine(six.book(), metric_sheet())
    core = six.core(items)
    answer = judge(core, bound)
    plain = judge(six.core(EVERYTHING), six.engine())
    assert [(p.position, p.verdict, p.standing) for p in answer.parts] == [
        (p.position, p.verdict, p.standing) for p in plain.parts
    ]
    text = answer.model_dump_json()
    assert '"unit":"mm"' in text
    assert '"unit":"in"' not in text
    assert '"unit":"in"' in plain.model_dump_json()
    assert '"unit":"in"' not in fit_check(core, bound).model_dump_json()
    assert "in" not in {limit.unit for limit in limits_told(bound, "rebuild").counting}
