"""Written reasons for cells without a rule: what they may say, when they are stale, and what is empty."""

from collections.abc import Callable
from dataclasses import replace
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from inspect_app.rulebook.book import Rulebook
from inspect_app.rulebook.check_unruled import empty_problems
from inspect_app.rulebook.load import load_rulebook
from inspect_app.rulebook.matrix import damage_matrix, figure_matrix
from tests.support import changed_pack, problems_of, pump_book

from .unruled_packs import of_cover, reason, shipped_book, without

# ---- reasons ----


def test_a_reason_fills_the_cells_it_names_and_no_ruled_one() -> None:
    matrix = damage_matrix(pump_book(), pump_book().parts["housing"])
    assert matrix.reasons[("pocket/floor", "scoring")] == "housing-scored-only-where-tips-run"
    assert ("pocket/wall", "scoring") not in matrix.reasons
    assert matrix.empty == []


@settings(deadline=None)
@given(st.data())
def test_a_cell_is_empty_exactly_when_no_rule_and_none_of_the_reasons_left_speaks_of_it(
    data: st.DataObject,
) -> None:
    left = data.draw(st.sets(st.sampled_from(sorted(shipped_book().unruled))))
    book = replace(
        shipped_book(), unruled={name: form for name, form in shipped_book().unruled.items() if name in left}
    )
    for part in book.parts.values():
        for build in (damage_matrix, figure_matrix):
            whole, matrix = build(shipped_book(), part), build(book, part)
            states = (set(matrix.ruled), set(matrix.reasons), set(matrix.empty))
            assert sum(map(len, states)) == len(set().union(*states)) == len(matrix.cells)
            assert states[0] == set(whole.ruled)
            assert set(matrix.reasons.values()) <= left
            assert all(whole.reasons[cell] not in left for cell in matrix.empty)


@pytest.mark.parametrize("book", [shipped_book, pump_book])
def test_no_cell_of_the_packs_is_empty(book: Callable[[], Rulebook]) -> None:
    assert empty_problems(book()) == []


@pytest.mark.parametrize(
    ("text", "problem"),
    [
        (
            'damage = ["pittin"]\nplaces = ["flange"]',
            '"pittin" is no damage word of this rulebook. Use one of: crack, pitting, scoring.',
        ),
        (
            'damage = ["*"]\nplaces = ["flange"]',
            '"*" is no damage word of this rulebook. Use one of: crack, pitting, scoring.',
        ),
        (
            'damage = ["pitting"]\nplaces = ["rim"]',
            '"rim" is no place of cover of this rulebook. Use one of: flange, seal_face.',
        ),
        (
            'damage = ["pitting"]\nplaces = ["flange/edge"]',
            '"flange/edge": flange has no zones. Write "flange".',
        ),
        (
            'quantities = ["wear"]\neach = ["seal_face"]\nways = ["own"]',
            '"wear" is no quantity of seal_face of this rulebook. Use one of: score_depth.',
        ),
        (
            'quantities = ["*"]\neach = ["flange"]\nways = ["own"]',
            '"flange" is no measured place of cover of this rulebook. Use one of: seal_face.',
        ),
        (
            'quantities = ["*"]\neach = ["seal_face"]\nways = ["face.mill"]',
            '"face.mill" is no way of cover of this rulebook. '
            "Use one of: *, face, face.as_is, face.lap, own.",
        ),
    ],
)
def test_a_reason_that_names_what_nobody_declared_is_told(tmp_path: Path, text: str, problem: str) -> None:
    told = problems_of(changed_pack(tmp_path, more=reason(text)))
    assert [str(p) for p in told] == [f"more.toml, unruled more: {problem}"]


def test_a_reason_for_a_part_that_is_not_there_is_told(tmp_path: Path) -> None:
    told = problems_of(changed_pack(tmp_path, more=reason('damage = ["crack"]\nplaces = ["*"]', "lid")))
    assert [str(p) for p in told] == [
        'more.toml, unruled more: "lid" is no part of this rulebook. '
        "Use one of: bushing, cover, gear, housing, shaft."
    ]


def test_a_reason_that_names_no_zone_of_its_place_is_told(tmp_path: Path) -> None:
    told = problems_of(
        changed_pack(tmp_path, more=reason('damage = ["scoring"]\nplaces = ["journal/edge"]', "shaft"))
    )
    assert [str(p) for p in told] == [
        'more.toml, unruled more: "edge" is no zone of journal of this rulebook. Use one of: fillet, surface.'
    ]


def test_a_reason_for_figures_of_a_part_without_any_is_told(tmp_path: Path) -> None:
    text = reason('quantities = ["*"]\neach = ["flank"]\nways = ["own"]', "gear")
    assert [str(p) for p in problems_of(changed_pack(tmp_path, more=text))] == [
        'more.toml, unruled more: "flank": nothing is measured on gear. Take the reason out.'
    ]


EITHER = 'a reason has either "damage" and "places", or "quantities", "each" and "ways".'


@pytest.mark.parametrize(
    "text",
    [
        "",
        'damage = ["pitting"]',
        'places = ["flange"]',
        'quantities = ["*"]\neach = ["seal_face"]',
        'damage = ["pitting"]\nplaces = ["flange"]\nways = ["own"]',
    ],
)
def test_a_reason_speaks_of_damage_or_of_figures(tmp_path: Path, text: str) -> None:
    told = problems_of(changed_pack(tmp_path, more=reason(text)))
    assert [str(p) for p in told] == [f"more.toml, unruled more: {EITHER}"]


@pytest.mark.parametrize("why", ["", "Never.", "It does not pit", "Not of interest here"])
def test_a_reason_is_a_sentence(tmp_path: Path, why: str) -> None:
    text = reason('damage = ["pitting"]\nplaces = ["flange"]').replace("Nothing runs on this face.", why)
    told = problems_of(changed_pack(tmp_path, more=text))
    assert [str(p) for p in told] == [
        "more.toml, unruled more, why: a reason is at least one whole sentence that ends in a full stop. "
        f"It says {why!r}."
    ]


STALE = "it covers no cell that is still without a rule. Take it out, or name what it speaks of."


@pytest.mark.parametrize(
    "text",
    [
        'damage = ["crack"]\nplaces = ["*"]',
        'damage = ["scoring", "crack"]\nplaces = ["seal_face"]',
        'quantities = ["score_depth"]\neach = ["seal_face"]\nways = ["face.lap"]',
    ],
)
def test_a_reason_that_the_rules_have_overtaken_is_told(tmp_path: Path, text: str) -> None:
    told = problems_of(changed_pack(tmp_path, more=reason(text)))
    assert [str(p) for p in told] == [f"more.toml, unruled more: {STALE}"]


@pytest.mark.parametrize(
    ("text", "key", "name"),
    [
        ('damage = ["scoring", "crack"]\nplaces = ["*"]', "damage", "crack"),
        ('damage = ["scoring"]\nplaces = ["seal_face", "flange"]', "places", "seal_face"),
        ('quantities = ["*"]\neach = ["seal_face"]\nways = ["own", "face.lap"]', "ways", "face.lap"),
    ],
)
def test_one_name_of_a_reason_that_the_rules_have_overtaken_is_told(
    tmp_path: Path, text: str, key: str, name: str
) -> None:
    (problem,) = problems_of(changed_pack(tmp_path, more=reason(text)))
    assert str(problem) == (
        f'more.toml, unruled more: {key} names "{name}", but every cell that it covers by that has a rule. '
        "Take the name out, and see that the reason still holds."
    )


@pytest.mark.parametrize(
    "text",
    ['damage = ["scoring"]\nplaces = ["*"]', 'quantities = ["*"]\neach = ["seal_face"]\nways = ["*"]'],
)
def test_a_reason_with_one_cell_left_to_cover_is_not_stale(tmp_path: Path, text: str) -> None:
    assert problems_of(changed_pack(tmp_path, more=reason(text))) == []


def test_nothing_is_called_stale_while_something_else_is_wrong(tmp_path: Path) -> None:
    stale = reason('damage = ["crack"]\nplaces = ["*"]')
    told = problems_of(
        changed_pack(
            tmp_path,
            {'finding = "scoring" }]\ncloses = ["own"]': 'finding = "scorin" }]\ncloses = ["own"]'},
            more=stale,
        )
    )
    assert ["scorin" in p.what for p in told] == [True]


def _shop(tmp_path: Path, text: str) -> Path:
    folder = tmp_path / "our-shop"
    folder.mkdir()
    (folder / "rules.toml").write_text(text)
    return folder


def test_a_rule_of_the_shop_makes_no_reason_of_the_pack_stale(tmp_path: Path) -> None:
    shop = _shop(tmp_path, of_cover('{ finding = "pitting" }'))
    assert problems_of(changed_pack(tmp_path), shop) == []


def test_a_reason_of_the_shop_is_stale_beside_a_rule_of_the_shop(tmp_path: Path) -> None:
    text = of_cover('{ finding = "pitting" }') + reason('damage = ["pitting"]\nplaces = ["*"]')
    (problem,) = problems_of(changed_pack(tmp_path), _shop(tmp_path, text))
    assert str(problem) == f"rules.toml, unruled more: {STALE}"


def test_a_reason_of_the_shop_replaces_the_pack_s_by_id(tmp_path: Path) -> None:
    text = reason('damage = ["pitting"]\nplaces = ["flange"]').replace('"more"', '"cover-face-only-slides"')
    book = load_rulebook(changed_pack(tmp_path), [_shop(tmp_path, text)])
    assert book.unruled["cover-face-only-slides"].places == ("flange",)
    assert damage_matrix(book, book.parts["cover"]).empty == [("seal_face", "pitting")]


# ---- empty cells ----


def empty(folder: Path, part: str) -> list[str]:
    return [str(p) for p in empty_problems(load_rulebook(folder)) if f"part {part}:" in str(p)]


def test_an_empty_damage_cell_says_what_to_write(tmp_path: Path) -> None:
    assert empty(without("flange-is-out-of-reach")(tmp_path), "cover") == [
        "parts.toml, part cover: no rule asks for scoring at flange, and nothing says why. Write a rule that "
        'asks there, or [[unruled]] with damage = ["scoring"], places = ["flange"] and why.'
    ]


def test_an_empty_figure_cell_says_what_to_write(tmp_path: Path) -> None:
    assert empty(without("journal-shape-is-ground-away")(tmp_path), "shaft") == [
        "parts.toml, part shaft: out_of_round of journal cannot close journals.any size, and nothing says "
        'why. Write a rule with the figure, or [[unruled]] with quantities = ["out_of_round"], '
        'each = ["journal"], '
        'ways = ["journals.any size"] and why.'
    ]


def test_empty_cells_that_one_reason_would_fill_are_told_together(tmp_path: Path) -> None:
    damage, depth, size = empty(
        without(
            "shaft-marks-are-measured",
            "journal-figures-never-end-the-shaft",
            "journal-size-follows-its-shape",
        )(tmp_path),
        "shaft",
    )
    assert "no rule asks for scoring, pitting at *, and" in damage
    assert "diameter, out_of_round of journal cannot close own, and" in depth
    assert "needed of journal cannot close own, journals.as_is, and" in size


def test_a_kind_with_all_its_zones_empty_is_named_once(tmp_path: Path) -> None:
    (told,) = empty(without("shaft-cracks-in-the-fillet")(tmp_path), "shaft")
    assert "no rule asks for crack at journal/surface, keyway, and" in told
    book = load_rulebook(without("pitting-needs-rolling-contact")(tmp_path / "other"))
    more = reason('damage = ["pitting"]\nplaces = ["outside"]', "housing")
    (tmp_path / "other" / "pack" / "more.toml").write_text(more)
    (told,) = empty(tmp_path / "other" / "pack", "housing")
    assert "no rule asks for pitting at pocket, and" in told
    assert 'places = ["pocket"]' in told
    assert len(empty_problems(book)) == 1


def test_a_new_damage_word_must_be_thought_about_on_every_part(tmp_path: Path) -> None:
    word = '[[damage]]\nid = "rust"\nplain = "x"\nsettled_by = ["eye"]\n'
    told = empty_problems(load_rulebook(changed_pack(tmp_path, more=word)))
    assert len(told) == len(pump_book().parts)
    assert all("no rule asks for rust at *" in p.what for p in told)
