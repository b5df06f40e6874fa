"""Cautions of the rules: what they may name, and which apply to a part."""

from pathlib import Path

import pytest

from inspect_app.model.problems import Problems
from inspect_app.rulebook.cautions import cautions_for
from inspect_app.rulebook.load import load_rulebook
from inspect_app.shipped import shipped

CAUTION = """
[[caution]]
id = "test"
says = "it bites"
do = "Stand clear."
basis = "judgement"
"""


def overlay(folder: Path, more: str) -> Path:
    (folder / "cautions.toml").write_text(CAUTION + more, encoding="utf-8")
    return folder


def test_a_caution_for_a_damage_is_told_only_where_that_was_found() -> None:
    book = load_rulebook(shipped("rules"))
    told = {caution.id for caution in cautions_for(book, "crankshaft", ["score"])}
    assert "cracked-looks-sound" not in told
    first, *_ = cautions_for(book, "crankshaft", ["score", "crack"])
    assert first.id == "cracked-looks-sound"


def test_a_caution_without_parts_is_told_of_every_part_and_one_with_parts_of_these() -> None:
    book = load_rulebook(shipped("rules"))
    for part in book.parts:
        told = {caution.id for caution in cautions_for(book, part, [])}
        assert "old-oil-and-coolant" in told
        assert ("filled-exhaust-valves" in told) == (part == "cylinder_head")


@pytest.mark.parametrize(
    ("more", "said"),
    [
        ('parts = ["flywheel"]', '"flywheel" is no part'),
        ('damage = ["woe"]', '"woe" is no damage'),
        ('colour = "red"', "colour"),
    ],
)
def test_what_a_caution_names_must_be_there(tmp_path: Path, more: str, said: str) -> None:
    with pytest.raises(Problems) as told:
        load_rulebook(shipped("rules"), [overlay(tmp_path, more)])
    assert said in str(told.value)


@pytest.mark.parametrize(("days", "sound"), [("-1", False), ("0", True), ("3660", True), ("3661", False)])
def test_how_long_an_old_piece_is_kept_is_bounded(tmp_path: Path, days: str, sound: bool) -> None:
    text = (shipped("rules") / "pack.toml").read_text(encoding="utf-8")
    pack = text.replace("keep_old_days = 30", f"keep_old_days = {days}")
    (tmp_path / "pack.toml").write_text(pack, encoding="utf-8")
    if sound:
        assert load_rulebook(shipped("rules"), [tmp_path]).pack.keep_old_days == int(days)
    else:
        with pytest.raises(Problems, match="keep_old_days"):
            load_rulebook(shipped("rules"), [tmp_path])
