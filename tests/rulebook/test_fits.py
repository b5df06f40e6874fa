"""Fits and effects of a rule pack: every error in words that say what to write, and the shipped ones."""

from pathlib import Path

import pytest

from inspect_app.rulebook.seats import bank_rows
from tests.judge.fit_engine import book
from tests.support import changed_pack, problems_of, pump_book, pump_engine

FIT = """
[[fit]]
id = "more"
title = "More"
at = { part = "housing", kind = "pocket" }
measured = "rim"
usual = { low = "0.04 mm", high = "0.12 mm", basis = "judgement" }
too_small = "Small."
too_large = "Large."
"""
EFFECT = """
[[effect]]
id = "swept"
title = "Swept"
name = "swept_volume"
takes = { bore = "pocket.diameter", stroke = "pocket.rim" }
shown_in = "cc"
"""


def said(tmp_path: Path, text: str, old: str = "", new: str = "") -> list[str]:
    """What the loader says of a pack with this table, one text in it replaced."""
    assert old in text
    return [str(p) for p in problems_of(changed_pack(tmp_path, more=text.replace(old, new)))]


def test_the_fit_and_effect_of_these_tests_are_sound(tmp_path: Path) -> None:
    assert said(tmp_path, FIT + EFFECT) == []


@pytest.mark.parametrize(
    ("old", "new", "words"),
    [
        ('part = "housing"', 'part = "hous"', '"hous" is no part of this rulebook.'),
        ('kind = "pocket"', 'kind = "pock"', '"pock" is no place of housing of this rulebook.'),
        ('"rim"', '"rum"', '"rum" is no quantity of pocket of this rulebook.'),
        ('low = "0.04 mm"', 'low = "0.20 mm"', "low 0.20 mm is above high 0.12 mm."),
        ('low = "0.04 mm"', 'low = "0.04"', '"0.04" has no unit.'),
        ("usual = {", 'unless = ["none"]\nusual = {', '"none" is no fit of this rulebook.'),
        ("usual = {", 'stations = ["mid"]\nusual = {', '"mid" is no station of rim of this rulebook.'),
        ('high = "0.12 mm",', 'per = "pocket.size",', '"pocket.size" is no quantity of this rulebook.'),
        (
            "too_small",
            'term = [{ part = "bushing", kind = "running_face", of = "width" }]\ntoo_small',
            '"width" is no quantity of running_face of this rulebook.',
        ),
        (
            "too_small",
            'term = [{ part = "housing", kind = "pocket", of = "diameter", directions = ["up"] }]\ntoo_small',
            '"up" is no direction of diameter of this rulebook.',
        ),
        (
            "too_small",
            'term = [{ part = "bushing", kind = "running_face", of = "diameter", times = 0 }]\ntoo_small',
            "times = 0 leaves it out of the fit",
        ),
        (
            "too_small",
            'lever = [{ what = "shim", cut = "larger" }]\ntoo_small',
            'cut = "larger" needs the words of larger',
        ),
        ('usual = { low = "0.04 mm", high = "0.12 mm",', "usual = {", 'a window has "low", "high" or both'),
    ],
)
def test_what_is_wrong_with_a_fit_is_said(tmp_path: Path, old: str, new: str, words: str) -> None:
    told = said(tmp_path, FIT, old, new)
    assert any(words in line and "more.toml, fit more" in line for line in told), told


@pytest.mark.parametrize(
    ("old", "new", "words"),
    [
        ("stroke =", "strike =", '"strike" is no input of swept_volume of this rulebook.'),
        (', stroke = "pocket.rim"', "", '"stroke" is missing. Write takes = { stroke = "kind.quantity" }.'),
        ('"pocket.rim"', '"pocket.ring"', '"pocket.ring" is no quantity of this rulebook.'),
        (
            "shown_in",
            'sized_by = "housing.holes"\nshown_in',
            '"housing.holes" is no concern of this rulebook.',
        ),
        ("shown_in", 'cuts = ["lid.face"]\nshown_in', '"lid.face" is no concern of this rulebook.'),
        ('"cc"', '"mm"', '"mm" is not a unit of volume.'),
    ],
)
def test_what_is_wrong_with_an_effect_is_said(tmp_path: Path, old: str, new: str, words: str) -> None:
    told = said(tmp_path, EFFECT, old, new)
    assert any(words in line and "more.toml, effect swept" in line for line in told), told


def test_a_compared_fit_says_how_far_places_may_differ(tmp_path: Path) -> None:
    whole = (
        "compared = true\n"
        + 'term = [{ part = "bushing", kind = "running_face", of = "diameter" }]\ntoo_small'
    )
    assert any(
        "it has neither terms nor a setting" in line for line in said(tmp_path, FIT, "too_small", whole)
    )


def test_a_setting_has_no_usual_window(tmp_path: Path) -> None:
    setting = 'setting = { hot = "rim", cold = "rim", cold_less_hot = "rim", within = "0.02 mm" }\ntoo_small'
    told = said(tmp_path, FIT, "too_small", setting)
    assert any("only the sheet tells its setting" in line for line in told)


def test_a_shops_window_replaces_the_packs(tmp_path: Path) -> None:
    shop = tmp_path / "shop"
    shop.mkdir()
    (shop / "fits.toml").write_text(FIT)
    assert problems_of(changed_pack(tmp_path), shop) == []


def test_banks_that_the_pack_does_not_map_are_not_guessed() -> None:
    assert "no map" in str(bank_rows(pump_engine()))


# ---- the shipped fits ----

ASKED_FOR = (
    "main-oil-clearance", "rod-oil-clearance", "crank-end-play", "rod-side-clearance", "piston-clearance",
    "top-ring-gap", "second-ring-gap", "top-ring-side", "second-ring-side", "oil-ring-side", "pin-clearance",
    "pin-in-rod", "pressed-pin", "cam-end-play", "cam-oil-clearance", "lifter-clearance", "intake-lash",
    "exhaust-lash", "lifter-preload", "deck-clearance", "deck-clearance-alike", "squeeze-gap",
    "rod-lengths-alike", "rod-weights-alike", "piston-weights-alike", "intake-valve-to-piston",
    "exhaust-valve-to-piston", "cam-timing", "turning-torque", "injector-protrusion", "liner-protrusion",
    "liners-alike",
)  # fmt: skip


def test_every_fit_of_a_build_up_is_there() -> None:
    assert set(book().fits) == set(ASKED_FOR)


def test_every_window_says_on_what_it_rests() -> None:
    for fit in book().fits.values():
        assert fit.usual or fit.setting or fit.only_if_given, fit.id
        if fit.usual:
            assert fit.usual.basis.startswith(("common practice", "judgement", "TM ")), fit.id


def test_every_fit_that_can_leave_its_window_says_what_that_does_and_what_helps() -> None:
    for fit in book().fits.values():
        low = fit.usual.low if fit.usual else "row"
        high = fit.usual.high if fit.usual else "row"
        assert fit.compared or fit.too_small or not low, fit.id
        assert fit.too_large or not high, fit.id
        levers = [*fit.term, *fit.lever]
        assert fit.compared or levers, fit.id
        for way in ("larger", "smaller") if low and high and not fit.compared else ():
            # A size that counts negatively helps the other way round.
            assert any(lever.larger if (lever.times > 0) == (way == "larger") else lever.smaller
                       for lever in levers), (fit.id, way)  # fmt: skip


def test_no_general_shift_of_lash_stands_in_the_rules() -> None:
    settings = [fit for fit in book().fits.values() if fit.setting]
    assert len(settings) == 2
    assert all(fit.usual is None for fit in settings)


def test_the_pump_has_a_fit_of_its_own() -> None:
    assert set(pump_book().fits) == {"journal-in-bushing"}
