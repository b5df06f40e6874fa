import pytest

from inspect_app.closing.shown import limit_shown, places_of
from inspect_app.metrology.display import gap_places
from inspect_app.model.answer_figures import LimitShown, Measured
from inspect_app.model.fit_answer import FitWindow
from inspect_app.ui import figures, fit_words
from tests.judge import six
from tests.support import pump_engine

SPACE = "\u00a0"


@pytest.mark.parametrize(
    ("unit", "value", "u", "places"),
    [
        ("in", 0.004, 0.0, 3),
        ("in", 0.0015, 0.0, None),
        ("in", 0.015, 0.0002, None),
        ("in", 0.015, 0.00028, None),
        ("in", 0.015, 0.00029, 3),
        ("mm", 0.1, 0.0028, None),
        ("mm", 0.1, 0.0029, 2),
        ("mm", 0.1, 0.0, 2),
        ("mm", 0.105, 0.0, None),
        ("mm", 0.1016, 0.02, 2),
        ("mm", 0.1016, 0.0049, None),
        ("mm", 0.1016, 0.005, 2),
        ("mm", 0.1016, 0.0, 2),
        ("degree", 1.5, 0.1, None),
        ("in", float("inf"), 0.0, None),
    ],
)
def test_a_gap_shows_what_was_typed(unit: str, value: float, u: float, places: int | None) -> None:
    assert gap_places(unit, value, u) == places


def test_sizes_and_what_is_computed_from_them_keep_the_places_of_their_gauge() -> None:
    engine = pump_engine()
    shown = {
        name: places_of(engine.shown(name, kind), 0.1)
        for name, kind in (
            ("diameter", "pocket"),
            ("wear", "pocket"),
            ("score_depth", "pocket"),
            ("rim", "pocket"),
        )
    }
    assert shown == {"diameter": None, "wear": None, "score_depth": 2, "rim": 2}
    assert limit_shown(0.1, engine.shown("rim", "pocket")).places == 2


def test_a_figure_close_to_its_limit_still_shows_on_which_side_it_is() -> None:
    read = Measured(value=0.0044, unit="in", u=0.001, places=3)
    said = figures.against(read, LimitShown(value=0.004, unit="in", places=3))
    assert said == f"0.0044{SPACE}±{SPACE}0.0010{SPACE}in against 0.0040{SPACE}in"
    far = Measured(value=0.012, unit="in", u=0.001, places=3)
    assert figures.against(far, LimitShown(value=0.004, unit="in", places=3)) == (
        f"0.012{SPACE}±{SPACE}0.001{SPACE}in against 0.004{SPACE}in"
    )


def test_the_window_of_a_gap_is_said_as_it_was_typed() -> None:
    assert fit_words.window(FitWindow(low=0.01, high=0.02, unit="in", whose="maker", places=3)) == (
        f"0.010 to 0.020{SPACE}in"
    )
    assert fit_words.window(FitWindow(low=0.001, high=0.0025, unit="in", whose="maker")) == (
        f"0.0010 to 0.0025{SPACE}in"
    )


def test_flatness_and_gaps_of_an_engine_are_shown_coarser_than_its_diameters() -> None:
    engine = six.engine()
    assert engine.shown("diameter", "bore").gap is False
    assert engine.shown("taper", "bore").gap is False
    assert engine.shown("flatness", "deck").gap is True


def test_a_gap_read_finer_than_its_usual_places_shows_its_uncertainty() -> None:
    read = Measured(value=0.015, unit="in", u=0.0002, places=gap_places("in", 0.015, 0.0002))
    assert figures.measured(read) == f"0.0150{SPACE}±{SPACE}0.0002{SPACE}in"
