"""Names, sizes and directions that do not fit together are told when the pack is loaded."""

from pathlib import Path

import pytest

from tests.support import changed_pack, problems_of

WEAR = '{ figure = "wear", is = "past limit" }'
MORE_WEAR = (
    "rules.toml, rule pocket-worn: a way would open with more wear: wear of pocket is worse above. "
    "Turn the comparison; write a band as two rungs."
)
MORE_DAMAGE = (
    "rules.toml, rule pocket-worn: a way would open with more damage: the rule closes where something "
    "was not found. Leave out the not, or write the milder case as a lower rung."
)

NAMES = {
    "damage word": (
        '{ finding = "pitting" }',
        '{ finding = "pittin" }',
        'rules.toml, rule gear-pitted: "pittin" is no damage word of this rulebook. '
        "Use one of: crack, pitting, scoring.",
    ),
    "method": (
        'settled_by = ["eye"]',
        'settled_by = ["ear"]',
        'words.toml, damage pitting: "ear" is no method of this rulebook. '
        "Use one of: dye-penetrant, eye, magnetic-particle, micrometer.",
    ),
    "place": (
        'each = ["flank", "tip"]',
        'each = ["flank", "root"]',
        'rules.toml, rule gear-pitted: "root" is no place of gear. Use one of: flank, tip.',
    ),
    "quantity": (
        '{ figure = "out_of_round", is',
        '{ figure = "runout", is',
        'rules.toml, rule journal-out-of-round: "runout" is no quantity of journal of this rulebook. '
        "Use one of: diameter, needed, oil_gap, out_of_round.",
    ),
    "zone": (
        'zone = "wall"',
        'zone = "rim"',
        'rules.toml, rule pocket-scored: "rim" is no zone of pocket. Use one of: wall, floor.',
    ),
    "part": (
        'part = "bushing"\neach',
        'part = "bush"\neach',
        'rules.toml, rule bushing-scored: "bush" is no part of this rulebook. '
        "Use one of: housing, gear, shaft, bushing, cover.",
    ),
    "report": (
        '{ report = "not worth boring" }]\ncloses',
        '{ report = "worn out" }]\ncloses',
        'rules.toml, rule boring-not-worth-it: "worn out" is no report of this rulebook. '
        "Use one of: not worth boring.",
    ),
    "way that a rule closes": (
        'closes = ["face.lap"]',
        'closes = ["face.grind"]',
        'rules.toml, rule cover-scored-deep: closes "face.grind", which cover does not have. '
        "Use one of: face, face.as_is, face.lap, new, own.",
    ),
    "way that a coupling reads": (
        '{ of = "housing.pockets", in = "any size" }',
        '{ of = "housing.pockets", in = "hone" }',
        'rules.toml, coupling bored-housing-needs-gears: "hone" is no way of housing.pockets. '
        "Use one of: as_is, bore, any size.",
    ),
    "concern that a coupling reads": (
        '{ of = "housing.pockets", in = "any size" }',
        '{ of = "housing.bores", in = "any size" }',
        'rules.toml, coupling bored-housing-needs-gears: "housing.bores" is no concern of a part. '
        "Use one of: housing.pockets, shaft.journals, cover.face.",
    ),
    "part that a coupling closes": (
        'closes = { part = "gear", source = "own" }',
        'closes = { part = "wheel", source = "own" }',
        'rules.toml, coupling bored-housing-needs-gears: "wheel" is no part of this rulebook. '
        "Use one of: housing, gear, shaft, bushing, cover.",
    ),
    "operation": (
        'does = ["lap-face"]',
        'does = ["polish"]',
        'parts.toml, part cover, concern face: "polish" is no operation of this rulebook. '
        "Use one of: bore-pocket, grind-journal, lap-face, sleeve-pocket.",
    ),
    "count": (
        'positions = "bushings"',
        'positions = "bushes"',
        'parts.toml, part bushing: "bushes" is no count of this rulebook. '
        "Use one of: bushings, gears, journals.",
    ),
    "first look": (
        'first_looks = ["flank"]',
        'first_looks = ["root"]',
        'parts.toml, part gear: "root" is no place of gear of this rulebook. Use one of: flank, tip.',
    ),
    "needed size": (
        'need = "needed"\n  exception',
        'need = "cut"\n  exception',
        'parts.toml, part housing, concern pockets: "cut" is no quantity of pocket of this rulebook. '
        "Use one of: diameter, needed, rim, score_depth, wear.",
    ),
    "voided quantity": (
        'voids = ["diameter", "score_depth", "rim"]',
        'voids = ["depth"]',
        'words.toml, operation bore-pocket: "depth" is no quantity of this rulebook. '
        "Use one of: diameter, needed, oil_gap, out_of_round, rim, score_depth, wear.",
    ),
    "cleared word": (
        'clears = ["scoring"]\nvoids',
        'clears = ["scores"]\nvoids',
        'words.toml, operation lap-face: "scores" is no damage word or method of this rulebook. '
        "Use one of: crack, dye-penetrant, eye, magnetic-particle, micrometer, pitting, scoring.",
    ),
    "shown damage": (
        'damage = "crack", place = "flange"',
        'damage = "break", place = "flange"',
        'words.toml, sign flange-broken: "break" is no damage word of this rulebook. '
        "Use one of: crack, pitting, scoring.",
    ),
    "shown place": (
        'damage = "crack", place = "flange"',
        'damage = "crack", place = "ear"',
        'words.toml, sign flange-broken: "ear" is no place of cover. Name one of its places.',
    ),
    "shown answer": (
        "shows = { broken =",
        "shows = { cracked =",
        'words.toml, sign flange-broken: "cracked" is no answer of this check. List it under answers.',
    ),
}

SIZES = {
    "size without unit": (
        WEAR,
        '{ figure = "wear", above = "0.1" }',
        'rules.toml, rule pocket-worn: "0.1" has no unit. Write it after the number, as in "3.3868 in".',
    ),
    "limit without unit": (
        'max = "0.02 mm"',
        'max = "0.02"',
        "sizes.toml, limit journal.out_of_round, max: "
        '"0.02" has no unit. Write it after the number, as in "3.3868 in".',
    ),
    "limit on the wrong side": (
        'max = "0.02 mm"',
        'min = "0.02 mm"',
        'sizes.toml, limit journal.out_of_round: "min" does not fit: out_of_round of journal '
        'is worse above. Write "max".',
    ),
    "shown in no unit": (
        'stations = ["front", "rear"]\ndirections = ["across", "along"]\nshown_in = "mm"',
        'stations = ["front", "rear"]\ndirections = ["across", "along"]\nshown_in = "mmm"',
        'sizes.toml, quantity journal.diameter, shown_in: "mmm" is not a unit of length. Use mm, in or thou.',
    ),
    "difference without a direction": (
        ', along = "direction"',
        "",
        "sizes.toml, quantity journal.out_of_round: a largest-minus-smallest needs along. "
        'Write along = "station" or "direction".',
    ),
    "k backwards": (
        'unless_absent = ["scoring"], stock = "0.02 mm", k = [1.0, 1.5, 2.0]',
        'unless_absent = ["scoring"], stock = "0.02 mm", k = [2.0, 1.5, 1.0]',
        "sizes.toml, quantity pocket.needed: k = [2.0, 1.5, 1.0] is no interval. "
        "Write smallest, usual, largest.",
    ),
    "wear of neither hole nor shaft": (
        'body = "hole"',
        'body = "other"',
        'sizes.toml, quantity pocket.wear: "diameter" does not say which way it wears. '
        'Write body = "hole" or body = "shaft" there.',
    ),
    "figure of a figure": (
        'calc = { name = "wear", of = "diameter" }',
        'calc = { name = "worst", of = "needed" }',
        'sizes.toml, quantity pocket.wear: "needed" is computed itself. Compute from what is read.',
    ),
}


@pytest.mark.parametrize("mistake", NAMES)
def test_a_name_that_nobody_declared_is_told_with_those_that_are(tmp_path: Path, mistake: str) -> None:
    old, new, problem = NAMES[mistake]
    assert [str(p) for p in problems_of(changed_pack(tmp_path, {old: new}))] == [problem]


@pytest.mark.parametrize("mistake", SIZES)
def test_a_size_or_calculation_that_cannot_be_is_told(tmp_path: Path, mistake: str) -> None:
    old, new, problem = SIZES[mistake]
    assert problem in [str(p) for p in problems_of(changed_pack(tmp_path, {old: new}))]


@pytest.mark.parametrize(
    ("condition", "problem"),
    [
        ('{ figure = "wear", below = "0.1 mm" }', MORE_WEAR),
        ('{ not = { figure = "wear", is = "past limit" } }', MORE_WEAR),
        (f'{WEAR}, {{ not = {{ figure = "wear", above = "0.2 mm" }} }}', MORE_WEAR),
        ('{ any = [{ finding = "crack" }, { figure = "wear", below = "0.1 mm" }] }', MORE_WEAR),
        ('{ not = { finding = "scoring" } }', MORE_DAMAGE),
        (f'{WEAR}, {{ not = {{ finding = "scoring" }} }}', MORE_DAMAGE),
        ('{ not = { report = "not worth boring" } }', MORE_DAMAGE),
    ],
)
def test_a_rule_under_which_more_wear_or_damage_opens_a_way_is_refused(
    tmp_path: Path, condition: str, problem: str
) -> None:
    assert [str(p) for p in problems_of(changed_pack(tmp_path, {WEAR: condition}))] == [problem]


@pytest.mark.parametrize(
    "condition",
    [
        '{ figure = "wear", above = "0.1 mm" }',
        '{ figure = "rim", below = "5 mm" }',
        '{ not = { figure = "wear", below = "0.1 mm" } }',
        '{ not = { not = { finding = "scoring" } } }',
    ],
)
def test_a_rule_that_only_closes_with_more_wear_is_taken(tmp_path: Path, condition: str) -> None:
    assert problems_of(changed_pack(tmp_path, {WEAR: condition})) == []


def _rule(name: str, place: str, words: str, closes: str = "own") -> str:
    return f"""
[[rule]]
id = "{name}"
part = "cover"
each = ["{place}"]
when = [{{ finding = "crack" }}]
closes = ["{closes}"]
why = "{words}"
plain = "{words}"
basis = "judgement"
  [[rule.example]]
  then = "open"
"""


@pytest.mark.parametrize(
    "other",
    [_rule("two", "seal_face", "Pitted."), _rule("two", "flange", "Craters.")],
    ids=["same words at another place", "other words at the same place"],
)
def test_rules_that_differ_only_in_place_or_words_are_one_rule(tmp_path: Path, other: str) -> None:
    (problem,) = problems_of(changed_pack(tmp_path, more=_rule("one", "flange", "Pitted.") + other))
    assert str(problem) == (
        'more.toml, rule two: it says the same as rule "one". Write one rule with all places in "each".'
    )


@pytest.mark.parametrize(
    "other",
    [_rule("two", "seal_face", "Craters."), _rule("two", "flange", "Pitted.", closes="face.as_is")],
    ids=["other words at another place", "closes something else"],
)
def test_rules_that_say_something_else_are_no_twins(tmp_path: Path, other: str) -> None:
    assert problems_of(changed_pack(tmp_path, more=_rule("one", "flange", "Pitted.") + other)) == []


def test_a_line_billed_once_per_core_is_billed_alike(tmp_path: Path) -> None:
    more = """
[[core_line]]
id = "again"
bill = { price = "stripping", per = "core", quantity = 2 }
"""
    assert [str(p) for p in problems_of(changed_pack(tmp_path, more=more))] == [
        "prices.toml, price stripping: it is billed per core as 1 and 2. Bill it alike."
    ]
