"""What the rules speak of, cell by cell, and how it is printed."""

from pathlib import Path

import pytest

from inspect_app.rulebook.load import load_rulebook
from inspect_app.rulebook.matrix import Matrix, damage_matrix, figure_matrix
from inspect_app.rulebook.matrix_text import summary, tables
from tests.support import changed_pack, pump_book

from .unruled_packs import of_cover, shipped_book, without


def damage_of(folder: Path, part: str) -> Matrix:
    book = load_rulebook(folder)
    return damage_matrix(book, book.parts[part])


def figures_of(folder: Path, part: str) -> Matrix:
    book = load_rulebook(folder)
    return figure_matrix(book, book.parts[part])


def ruled(matrix: Matrix, row: str) -> dict[str, set[str]]:
    """What speaks in each ruled cell of a row, by column."""
    return {column: {name for _, name in by} for (at, column), by in matrix.ruled.items() if at == row}


# ---- places x damage words ----


def test_a_rule_asks_at_its_own_places_and_zones_only() -> None:
    matrix = damage_matrix(pump_book(), pump_book().parts["housing"])
    assert matrix.rows == ("outside", "pocket/wall", "pocket/floor")
    assert matrix.columns == ("crack", "scoring", "pitting")
    assert ruled(matrix, "outside") == {"crack": {"housing-cracked"}}
    assert ruled(matrix, "pocket/wall") == {"crack": {"housing-cracked"}, "scoring": {"pocket-scored"}}
    assert ruled(matrix, "pocket/floor") == {"crack": {"housing-cracked"}}


def test_two_rules_that_ask_the_same_are_both_counted() -> None:
    matrix = damage_matrix(pump_book(), pump_book().parts["cover"])
    assert ruled(matrix, "seal_face")["scoring"] == {"cover-scored", "cover-scored-deep"}


def test_a_leaf_that_names_a_place_asks_there_and_not_at_the_places_of_its_rule(tmp_path: Path) -> None:
    when = '{ finding = "pitting", place = "flange" }'
    matrix = damage_of(changed_pack(tmp_path, more=of_cover(when, "seal_face")), "cover")
    assert "pitting" in ruled(matrix, "flange")
    assert "pitting" not in ruled(matrix, "seal_face")


def test_a_rule_without_places_asks_everywhere_on_its_part_and_nowhere_else(tmp_path: Path) -> None:
    book = load_rulebook(changed_pack(tmp_path, {UNPITTED: ""}, more=of_cover('{ finding = "pitting" }')))
    asked = {part: damage_matrix(book, form) for part, form in book.parts.items()}
    assert all("more" in ruled(asked["cover"], row)["pitting"] for row in ("seal_face", "flange"))
    assert all(
        not any(("rule", "more") in by for by in asked[part].ruled.values()) for part in ("gear", "shaft")
    )


UNPITTED = """[[unruled]]
id = "cover-face-only-slides"
part = "cover"
damage = ["pitting"]
places = ["*"]
why = "Gears slide on the cover and roll on each other, so the cover scores and does not pit."
"""


def test_a_zone_that_others_divide_further_is_no_row_of_its_own(tmp_path: Path) -> None:
    zones = 'zones = ["surface", "fillet", "fillet/front", "fillet/rear"]'
    matrix = damage_of(changed_pack(tmp_path, {'zones = ["surface", "fillet"]': zones}), "shaft")
    assert matrix.rows == ("journal/surface", "journal/fillet/front", "journal/fillet/rear", "keyway")
    assert ruled(matrix, "journal/fillet/rear") == {"crack": {"journal-cracked"}}


def test_a_zone_is_matched_by_whole_steps_of_its_path(tmp_path: Path) -> None:
    pack = changed_pack(tmp_path, {'zones = ["surface", "fillet"]': 'zones = ["fillet", "fillet_end"]'})
    (pack / "unruled.toml").write_text("")
    assert ruled(damage_of(pack, "shaft"), "journal/fillet_end") == {}


def test_words_below_any_and_all_count_as_asked(tmp_path: Path) -> None:
    when = '{ any = [{ finding = "pitting" }, { all = [{ finding = "scoring" }, { finding = "crack" }] }] }'
    matrix = damage_of(changed_pack(tmp_path, more=of_cover(when, "flange"), **NO_REASONS), "cover")
    assert set(ruled(matrix, "flange")) == {"crack", "scoring", "pitting"}


NO_REASONS = {"unruled": ""}


# ---- quantities x ways ----


def test_the_columns_are_own_and_every_way_with_all_sizes_as_one() -> None:
    matrix = figure_matrix(pump_book(), pump_book().parts["housing"])
    assert matrix.columns == ("own", "pockets.as_is", "pockets.any size", "pockets.sleeve")
    assert figure_matrix(pump_book(), pump_book().parts["cover"]).columns == ("own", "face.as_is", "face.lap")


def test_a_figure_rules_the_way_it_closes_and_so_does_what_it_is_computed_from() -> None:
    matrix = figure_matrix(pump_book(), pump_book().parts["housing"])
    assert ruled(matrix, "pocket.wear") == {"pockets.as_is": {"pocket-worn"}}
    assert ruled(matrix, "pocket.diameter")["pockets.as_is"] == {"pocket-worn"}


def test_a_ladder_of_sizes_uses_what_it_needs_keeps_and_is_listed_in() -> None:
    matrix = figure_matrix(pump_book(), pump_book().parts["housing"])
    used = {row for row, way in matrix.ruled if way == "pockets.any size"}
    assert used == {"pocket.needed", "pocket.rim", "pocket.diameter", "pocket.score_depth"}


def test_a_coupling_of_amounts_rules_only_ways_that_take_metal() -> None:
    matrix = figure_matrix(shipped_book(), shipped_book().parts["block"])
    assert ruled(matrix, "deck.stack_removed") == {"deck.mill": {"block-and-head-share-stock"}}


@pytest.mark.parametrize(
    ("closes", "ways"),
    [
        ("own", {"own"}),
        ("new", set[str]()),
        ("face.lap", {"face.lap"}),
        ("face", {"face.as_is", "face.lap"}),
    ],
)
def test_what_a_rule_closes_says_which_ways_its_figure_rules(
    tmp_path: Path, closes: str, ways: set[str]
) -> None:
    when = '{ figure = "score_depth", above = "0.3 mm" }'
    matrix = figures_of(
        changed_pack(tmp_path, more=of_cover(when, "seal_face", closes), **NO_REASONS), "cover"
    )
    assert {way for way, by in ruled(matrix, "seal_face.score_depth").items() if "more" in by} == ways


@pytest.mark.parametrize("name", ["bore", "any size"])
def test_the_size_way_is_ruled_under_either_of_its_names(tmp_path: Path, name: str) -> None:
    worn = 'closes = ["pockets.as_is"]\nwhy = "{place} is worn'
    changes = {worn: worn.replace("as_is", name)}
    matrix = figures_of(changed_pack(tmp_path, changes, **NO_REASONS), "housing")
    assert ruled(matrix, "pocket.wear") == {"pockets.any size": {"pocket-worn"}}


# ---- as text ----


def test_a_line_per_part_counts_its_cells() -> None:
    housing, gear, *_ = summary(pump_book())
    assert housing == (
        "Housing: places x damage words 4 ruled, 5 with a reason, 0 empty; "
        "quantities x ways 6 ruled, 14 with a reason, 0 empty."
    )
    assert gear == "Gear: places x damage words 4 ruled, 2 with a reason, 0 empty; no quantities."


def test_the_tables_show_rules_as_numbers_reasons_as_letters_and_empty_cells(tmp_path: Path) -> None:
    lines = list(tables(load_rulebook(without("flange-is-out-of-reach")(tmp_path))))
    start = lines.index("Cover: place x damage word")
    assert lines[start : start + 9] == [
        "Cover: place x damage word",
        "",
        "            crack",
        "            |   scoring",
        "            |   |   pitting",
        "seal_face   1   2   a",
        "flange      1  --   a",
        "",
        "   a  Gears slide on the cover and roll on each other, so the cover scores and does not pit. "
        "[cover-face-only-slides]",
    ]
    assert lines[:2] == [
        "A number in a table is how many rules, ladders and couplings speak there; a letter is the reason",
        "why none does, written out below the table; -- is an empty cell, which wants a rule or a reason.",
    ]


def test_every_reason_is_printed_once_below_a_table() -> None:
    text = "\n".join(tables(shipped_book()))
    assert all(text.count(f"[{name}]") == 1 for name in shipped_book().unruled)
