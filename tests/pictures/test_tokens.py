import pytest

from inspect_app.pictures.tokens import DARK, GROUNDS, LIGHT, PAPER, Ground
from inspect_app.ui.theme import TOKENS


def luminance(colour: str) -> float:
    """Relative luminance of an sRGB colour (WCAG 2.2)."""
    parts = [int(colour[at : at + 2], 16) / 255 for at in (1, 3, 5)]
    linear = [part / 12.92 if part <= 0.04045 else ((part + 0.055) / 1.055) ** 2.4 for part in parts]
    return 0.2126 * linear[0] + 0.7152 * linear[1] + 0.0722 * linear[2]


def contrast(one: str, other: str) -> float:
    low, high = sorted((luminance(one), luminance(other)))
    return (high + 0.05) / (low + 0.05)


def test_contrast_of_black_and_white_is_known() -> None:
    assert contrast("#000000", "#FFFFFF") == pytest.approx(21)
    assert contrast("#767676", "#FFFFFF") == pytest.approx(4.54, abs=0.01)


@pytest.mark.parametrize(
    ("token", "light", "dark", "paper"),
    [("ink", 15.7, 14.6, 17.6), ("soft", 6.6, 8.2, 7.9), ("accent", 8.1, 9.1, 8.3)],
)
def test_inks_stand_out_from_the_ground(token: str, light: float, dark: float, paper: float) -> None:
    for ground, wanted in ((LIGHT, light), (DARK, dark), (PAPER, paper)):
        assert contrast(ground.colours()[token], ground.paper) == pytest.approx(wanted, abs=0.1), ground.name


@pytest.mark.parametrize(
    ("wash", "light", "dark", "paper"),
    [("reuse", 10.1, 7.8, 11.0), ("recondition", 12.1, 5.2, 13.1), ("replace", 6.7, 4.4, 7.3)],
)
def test_hatches_stand_out_from_their_wash(wash: str, light: float, dark: float, paper: float) -> None:
    for ground, wanted in ((LIGHT, light), (DARK, dark), (PAPER, paper)):
        assert contrast(ground.ink, ground.colours()[wash]) == pytest.approx(wanted, abs=0.1), ground.name


@pytest.mark.parametrize("ground", GROUNDS.values())
def test_soft_text_is_read_on_a_panel_too(ground: Ground) -> None:
    assert contrast(ground.soft, ground.panel) >= 6.0


def test_screens_take_their_colours_from_here() -> None:
    assert TOKENS["light"] == LIGHT.colours()
    assert TOKENS["dark"] == DARK.colours()
    assert set(LIGHT.colours()) == set(PAPER.colours()) >= {"paper", "ink", "reuse"}
