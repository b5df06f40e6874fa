"""Markup, control characters and 10,000 characters in text fields: kept as typed, or refused in words."""

from collections.abc import Iterator
from pathlib import Path

import pytest
from streamlit.testing.v1 import AppTest

from inspect_app.ui.photo_opened import scale_problems
from inspect_app.ui.shelf import Shelf
from tests.ui.made import NASTY
from tests.ui.own_core import shop_with_own
from tests.ui.shop_core import VEE

BAD = (NASTY, "a\0b\x07\x1b[31m\u202e", "x" * 10_000)
FORMS = (
    ("part", "piece_crankshaft", "Stamp or mark"),
    ("part", "piece_crankshaft", "Work done"),
    ("part", "piece_crankshaft", "Another piece"),
    ("verdict", "decide_crankshaft", "Report from outside"),
    ("verdict", "decide_crankshaft", "Customer's answer"),
    ("verdict", "decide_crankshaft", "Waive a check"),
)


@pytest.fixture
def cores(tmp_path: Path) -> Iterator[Shelf]:
    with shop_with_own(tmp_path) as made:
        yield made


def page(name: str, key: str, form: str) -> AppTest:
    def script(name: str) -> None:
        from inspect_app.ui import part, verdict

        {"part": part.page, "verdict": verdict.page}[name]()

    app = AppTest.from_function(script, args=(name,), default_timeout=60)
    app.query_params["core"], app.query_params["part"] = VEE, "crankshaft"
    app.session_state["who"], app.session_state[key] = "B.W.", form
    return app.run()


def html(app: AppTest) -> str:
    assert not app.exception, app.exception
    return "\n".join(element.proto.body for element in app.get("html"))


@pytest.mark.parametrize(("name", "key", "form"), FORMS)
@pytest.mark.parametrize("text", BAD, ids=["markup", "control", "long"])
def test_it_is_kept_or_refused_and_the_core_is_judged_as_before(
    cores: Shelf, name: str, key: str, form: str, text: str
) -> None:
    app = page(name, key, form)
    fields = [w for w in (*app.text_input, *app.text_area) if w.label != "Who enters"]
    assert fields
    for widget in fields:
        widget.set_value(text)
    for box in app.selectbox:
        if box.value is None and box.options:
            box.select_index(0)
    app.run()
    for label in [button.label for button in app.button if button.key and button.key.startswith("do_")]:
        pressed = next((button for button in app.button if button.label == label), None)
        if pressed is not None and not pressed.disabled:
            shown = html(pressed.click().run())
            assert "<img" not in shown
            assert "Saved: " in shown or "Not saved." in shown, label
    slot = cores.get(VEE)
    assert slot is not None
    assert slot.problem is None
    assert slot.held is not None
    assert max(map(len, (str(piece) for piece in slot.held.core.pieces)), default=0) < 3000


@pytest.mark.parametrize(
    ("length", "said"),
    [
        ("50 mm", ""), ("2 in", ""), ("0,5 in", ""), ("", "it is empty."),
        ("x" * 10_000, "10,000 characters."),
        ("50", '"50" has no unit.'), ("1.200,5 mm", "it has two marks"), ("0 mm", "is no length."),
        ("-5 mm", "is no length."), ("banana", "is not a number"), ("5 kg", "kg"),
        ("nan mm", "is not a number"),
    ],
)  # fmt: skip
def test_a_scale_line_has_a_length(length: str, said: str) -> None:
    problems = scale_problems(length)
    assert bool(problems) == bool(said)
    assert all(said in str(problem) for problem in problems)
