"""What the whole becomes by the ways chosen: volumes and ratio worked by hand, what milled faces move."""

from functools import cache
from math import pi, sqrt
from typing import Any

import pytest

from inspect_app.bundle import Bundle, read_core
from inspect_app.judge import fit_check, judge
from inspect_app.model.answer_figures import WayTaken
from inspect_app.model.fit_answer import Effect
from inspect_app.model.units import size
from inspect_app.rulebook.engine import Engine
from inspect_app.shipped import shipped
from tests.judge.fit_engine import book, checked, read

VOLUMES = {
    "centre_line.stroke": {"nominal": "3.6 in"},
    "chamber.volume": {"nominal": "72 cc"},
    "chamber.face_area": {"nominal": "5100 mm**2"},
    "crown.deck_clearance": {"minimum": "0.0125 in", "maximum": "0.0225 in"},
    "crown.dish_volume": {"nominal": "0 cc"},
    "head_face.gasket_bore": {"nominal": "3.6 in"},
    "head_face.gasket_thickness": {"nominal": "0.040 in"},
}


@cache
def demo(name: str) -> Bundle:
    return read_core(shipped("demo_cores") / name)


def engine_of(name: str, rows: dict[str, Any]) -> Engine:
    sheet = demo(name).sheet
    fields = sheet.model_dump()
    fields["quantities"] = fields["quantities"] | rows
    return Engine(book(), type(sheet).model_validate(fields))


def effects_of(name: str, rows: dict[str, Any]) -> dict[str, Effect]:
    answer = fit_check(demo(name).core, engine_of(name, rows))
    return {effect.effect: effect for effect in answer.effects}


def way_of(name: str, rows: dict[str, Any], position: str, concern: str) -> WayTaken:
    answer = judge(demo(name).core, engine_of(name, rows))
    (part,) = [part for part in answer.parts if part.position == position]
    return next(way for way in part.ways if way.concern == concern)


def litres(bore_in: float, stroke_in: float, count: int) -> float:
    """Swept volume in cc, by the formula of a cylinder."""
    return count * pi / 4 * (bore_in * 2.54) ** 2 * stroke_in * 2.54


def test_swept_volume_goes_with_the_size_chosen() -> None:
    rows = {"centre_line.stroke": {"nominal": "3.618 in"}}
    way = way_of("brackwater-four", rows, "block", "bores")
    assert way.size is not None
    over = size(way.size) / 25.4
    swept = effects_of("brackwater-four", rows)["swept-volume"]
    assert swept.before == pytest.approx(litres(3.437, 3.618, 4))
    assert swept.after == pytest.approx(litres(3.437 + over, 3.618, 4))
    assert swept.unit == "cc"


def test_bores_that_stay_count_as_they_are_read() -> None:
    items = [
        read("block", "diameter", "bore 1", "3.5010", station=s, direction=d)
        for s in ("top", "middle", "bottom")
        for d in ("across", "along")
    ]
    (swept,) = [e for e in checked(*items, rows=VOLUMES).effects if e.effect == "swept-volume"]
    assert swept.before == pytest.approx(litres(3.5, 3.6, 4))
    assert swept.after == pytest.approx(litres(3.501, 3.6, 1) + litres(3.5, 3.6, 3))


def test_compression_ratio_before_anything_is_cut() -> None:
    # One bore: swept 567.58 cc; 72 + 2.759 (crown 0.4445 mm low) + 6.672 (gasket) = 81.43 cc; 7.970.
    (ratio,) = [e for e in checked(rows=VOLUMES).effects if e.effect == "compression-ratio"]
    assert ratio.before == pytest.approx(7.970, abs=5e-4)
    assert ratio.after == pytest.approx(ratio.before)


def test_a_milled_head_raises_the_ratio_by_what_leaves_the_chamber() -> None:
    rows = VOLUMES | {"centre_line.stroke": {"nominal": "3.618 in"}}
    assert way_of("brackwater-four", rows, "cylinder_head 1", "face").way == "mill"
    told = effects_of("brackwater-four", rows)
    over = size(way_of("brackwater-four", rows, "block", "bores").size or "0") / 25.4
    stack, ratio = told["stack-height"], told["compression-ratio"]
    assert stack.after is not None
    assert way_of("brackwater-four", rows, "block", "deck").way == "as_is"
    lower_mm = -stack.after * 25.4
    left = 72 - 5100 * lower_mm / 1000
    left += pi / 4 * ((3.437 + over) * 2.54) ** 2 * 0.0175 * 2.54
    left += pi / 4 * (3.6 * 2.54) ** 2 * 0.040 * 2.54
    assert lower_mm > 0
    assert ratio.after == pytest.approx(litres(3.437 + over, 3.618, 1) / left + 1)


def test_what_stands_on_the_stack_is_too_long_by_as_much_as_it_sits_lower() -> None:
    stack = effects_of("brackwater-four", {})["stack-height"]
    assert (stack.before, stack.missing) == (0.0, ())
    assert stack.after == pytest.approx(-0.008)
    assert "too long by as much as it sits lower" in stack.says


def test_a_thicker_gasket_gives_back_what_was_milled() -> None:
    gasket = read("cylinder_head 1", "gasket_thickness", "head_face", "0.048")
    rows = {"head_face.gasket_thickness": {"nominal": "0.045 in"}}
    (stack,) = [e for e in checked(gasket, rows=rows).effects if e.effect == "stack-height"]
    assert stack.after == pytest.approx(0.003)


def test_what_the_sheet_lacks_is_named() -> None:
    effects = {e.effect: e for e in checked().effects}
    assert effects["swept-volume"].missing == ("stroke on the engine sheet (centre_line.stroke)",)
    assert (effects["swept-volume"].before, effects["swept-volume"].after) == (None, None)
    lacking = effects["compression-ratio"].missing
    assert "volume of the chamber on the engine sheet (chamber.volume)" in lacking


def test_a_v_of_90_degrees_loses_at_its_side_faces_what_the_heads_came_down() -> None:
    # side = lower * sin 45 / sin 45; it sinks by lower * (cos 45 + sin 45) = lower * sqrt 2.
    rows = {"deck.bank_angle": {"nominal": "90 degree"}, "head_face.side_angle": {"nominal": "0 degree"}}
    told = effects_of("brackwater-vee", rows)
    lower, side = told["stack-height"].after, told["intake-side-faces"]
    assert lower is not None
    assert side.after == pytest.approx(-lower)
    assert f"sinks by {-lower * sqrt(2):.4f} in" in side.says


def test_only_a_v_has_side_faces_and_names_the_angles_it_lacks() -> None:
    assert "intake-side-faces" not in effects_of("brackwater-four", {})
    assert len(effects_of("brackwater-vee", {})["intake-side-faces"].missing) == 2


def test_a_camshaft_in_the_head_lags_where_the_sheet_gives_its_wheel() -> None:
    assert "cam-timing-lag" not in effects_of("brackwater-four", {})
    # 0.008 in on a radius of 2 in: 0.004 rad at the wheel, twice that at the crankshaft.
    told = effects_of("brackwater-four", {"head_face.drive_pitch_radius": {"nominal": "2 in"}})
    assert told["cam-timing-lag"].after == pytest.approx(2 * 0.004 * 180 / pi)
