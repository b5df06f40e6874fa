"""Evidence that the engine does not know: every item is named with what is wrong and what to write."""

import json

import pytest

from tests.bundle.folders import add_item, edit

READING = {
    "quantity": "diameter", "place": "bore 1", "station": "top", "direction": "across", "value": "3.5004",
    "unit": "in", "state": "washed",
}  # fmt: skip


def line_of(refused, six, kind: str, **fields: object) -> str:
    """What the one problem of a core with this item says after the item's name."""
    (line,) = refused("judge", add_item(six, kind, **fields))
    assert line.startswith("evidence x1: "), line
    return line.removeprefix("evidence x1: ")


def key_of(refused, six, kind: str, **fields: object) -> str:
    """The same for an item whose keys are already wrong: what follows its place in core.json."""
    count = len(json.loads((six / "core.json").read_text())["evidence"])
    (line,) = refused("judge", add_item(six, kind, **fields))
    head = f"core.json, evidence.{count}.{kind}"
    assert line.startswith(head), line
    return line.removeprefix(head).removeprefix(".")


@pytest.mark.parametrize(
    ("fields", "words"),
    [
        ({"piece": "gearbox"}, '"gearbox" is no piece of this core. Use one of: block, crankshaft, '),
        ({"place": "sump"}, '"sump" is no place of block. Use one of: bore, cam_tunnel, '),
        ({"place": "main web 1"}, '"main web 1" is no place of block. Write "main_web 1".'),
        ({"place": "Main Web 2"}, '"Main Web 2" is no place of block. Write "main_web 2".'),
        ({"place": "top face 1/front"}, '"top face 1/front" is no place of block. Write "deck 1/front".'),
        ({"place": "main web 99"}, '"main" is no place of block. Use one of: bore, cam_tunnel, '),
        ({"place": "bore 7"}, 'there is no "bore 7". The numbers of bore are: 1, 2, 3, 4, 5, 6.'),
        ({"place": "bore"}, '"bore": which bore? Add one of: 1, 2, 3, 4, 5, 6.'),
        ({"place": "bore *"}, '"bore *": which bore? Add one of: 1, 2, 3, 4, 5, 6.'),
        ({"place": "outside 1"}, '"outside 1": there is only one outside. Write "outside".'),
        ({"place": "bore 1/roof"}, '"roof" is no zone of bore. Use one of: '),
        ({"place": "threads/top"}, '"top" is no zone of threads. It has no zones: leave it out.'),
        ({"place": "bore 1//foot"}, '"bore 1//foot" is not a place. Write it as "bore 3/wall/front".'),
        ({"place": "*"}, '"*" is no place of block. Use one of: '),
        ({"damage": "tired"}, '"tired" is no damage word of this rulebook. Use one of: bent, broken, '),
        ({"state": "after 2"}, 'the state is "after 2", but 0 operations are recorded on block. '),
        ({"strength": "confirmed", "test": "x2"}, 'the test "x2" is no test of block. Name the id of '),
    ],
    ids=lambda value: "" if isinstance(value, str) else " ".join(map(str, value.values())),
)
def test_a_finding_with_an_unknown_name_is_told(refused, six, fields, words) -> None:
    finding = {"damage": "crack", "place": "bore 1", "strength": "seen"} | fields
    assert line_of(refused, six, "finding", **finding).startswith(words)


@pytest.mark.parametrize(
    ("fields", "words"),
    [
        ({"place": "sump"}, '"sump" is no place of block. Use one of: bore, cam_tunnel, '),
        (
            {"place": "threads"},
            '"diameter" is not read at threads. Nothing is read there: name another place.',
        ),
        ({"conditions": ["no shells", "shells in"]}, '"no shells" and "shells in" cannot both be true of '),
        (
            {"value": "+5"},
            '"+5" is no size near the nominal 88.9 mm, and no setting is named. Name the setting ',
        ),
        ({"quantity": "colour"}, '"colour" is not read at bore. Use one of: diameter, '),
        ({"quantity": "taper"}, '"taper" is not read at bore. Use one of: diameter, '),
        ({"station": "roof"}, '"roof" is no station of diameter. Use one of: "below", "bottom", '),
        ({"direction": ""}, '"" is no direction of diameter. Use one of: "across", "along".'),
        ({"gauge": "wooden rule"}, '"wooden rule" is no gauge of this rulebook. Use one of: '),
        ({"unit": "cubit"}, '"cubit" is not a unit of length. Use mm, in or thou.'),
        ({"unit": "gram"}, '"gram" is not a unit of length. Use mm, in or thou.'),
        ({"unit": ""}, '"" is not a unit of length. Use mm, in or thou.'),
        ({"value": "-3.5004"}, '"-3.5004" is negative, and diameter cannot be. Type the full size, or '),
        ({"value": "88.91"}, "88.91 in is 25.4 times off the nominal 88.9 mm. Inch or millimetre? Correct"),
        ({"value": "3.5", "unit": "mm"}, "3.5 mm is 25.4 times off the nominal 88.9 mm. Inch or millim"),
        ({"setting": "3.5 in", "value": "+4"}, '"+4" counts divisions from 3.5 in, but no gauge with '),
        (
            {"setting": "3.5 in", "value": "+4", "gauge": "telescoping gauge"},
            '"+4" counts divisions from 3.5 in, but no gauge with divisions is named. Name the gauge.',
        ),
        (
            {"setting": "88.9 in", "value": "+4", "gauge": "dial bore gauge"},
            "88.9 in is 25.4 times off the nominal 88.9 mm. Inch or millimetre? Correct the unit, or write",
        ),
    ],
    ids=lambda value: "" if isinstance(value, str) else " ".join(map(str, value.values())),
)
def test_a_reading_with_an_unknown_name_or_an_impossible_size_is_told(refused, six, fields, words) -> None:
    assert line_of(refused, six, "reading", **READING | fields).startswith(words)


@pytest.mark.parametrize(
    "value", ["NaN", "nan", "inf", "Infinity", "1e3", "3.5E0", "", " ", "three", "3..5", "3.5.1", "0x10",
              "3_5", "+-1", "1" * 400, "³"]
)  # fmt: skip
def test_only_a_plain_finite_number_is_a_reading(refused, six, value) -> None:
    assert line_of(refused, six, "reading", **READING | {"value": value}) == (
        f'"{value}" is not a number. Type +8, -2.5 or a full size such as 3.3868.'
    )


def test_a_reading_with_two_marks_is_told_with_the_plain_number(refused, six) -> None:
    assert line_of(refused, six, "reading", **READING | {"value": "1,234.5"}) == (
        '"1,234.5" is not a number: it has two marks. Type one mark only, as in 1234.5.'
    )


def test_a_setting_without_a_unit_is_told(refused, six) -> None:
    fields = READING | {"setting": "3.5", "value": "+4", "gauge": "dial bore gauge"}
    (line,) = refused("judge", add_item(six, "reading", **fields))
    assert line == ('evidence x1, setting: "3.5" has no unit. Write it after the number, as in "3.3868 in".')


@pytest.mark.parametrize("value", ["3.5004", "3,5004", "+3.5004", " 3.5004 "])
def test_a_comma_a_sign_and_blanks_around_do_no_harm(run, six, value) -> None:
    edit(six, lambda d: d.update(evidence=[i for i in d["evidence"] if i["id"] != "r1"]))
    before = json.loads(run("judge", six, "--json").out)
    add_item(six, "reading", **READING | {"value": value, "gauge": "dial bore gauge", "session": "s1"})
    after = run("judge", six, "--json")
    assert (after.code, after.err) == (0, "")
    assert len(json.loads(after.out)["parts"][0]["open_points"]) == (
        len(before["parts"][0]["open_points"]) - 1
    )


def test_a_size_that_is_meant_is_taken(run, six) -> None:
    add_item(six, "reading", **READING | {"value": "88.91", "as_meant": True})
    assert run("judge", six).code == 0


@pytest.mark.parametrize(
    ("value", "times"),
    [("3.14", "0.897"), ("3.16", ""), ("3.84", ""), ("3.86", "1.1"), ("35.004", "10"), ("0", "0")],
)
def test_a_size_more_than_a_tenth_off_its_nominal_is_asked_about(run, six, value, times) -> None:
    add_item(six, "reading", **READING | {"value": value, "unit": "in"})
    done = run("judge", six)
    words = (
        f"{value} in is {times} times the nominal 88.9 mm. Is the decimal point right? "
        "Correct it, or write as_meant = yes."
    )
    assert (done.code, words in done.err) == ((1, True) if times else (0, False))


@pytest.mark.parametrize(
    ("kind", "fields", "words"),
    [
        ("look", {"method": "nose", "places": ["*"]}, '"nose" is no method of this rulebook. Use one of: '),
        ("look", {"places": ["sump"]}, '"sump" is no place of block. Use one of: '),
        (
            "test",
            {"method": "x-ray", "places": ["*"], "outcome": "found"},
            '"x-ray" is no method of this rulebook. Use one of: dye penetrant, eye, ',
        ),
        ("sign", {"sign": "smell", "answer": "bad"}, '"smell" is no sign of this rulebook. Use one of: '),
        (
            "sign",
            {"sign": "turns-by-hand", "answer": "stuck"},
            '"turns-by-hand" is asked of the crankshaft, not of block. Name that piece.',
        ),
        (
            "sign",
            {"sign": "turns-by-hand", "answer": "maybe", "piece": "crankshaft"},
            '"maybe" is no answer to "Does the engine turn over by hand, two full turns?". Use one of: '
            "cannot tell, freely, not looked, stuck, with effort.",
        ),
        ("report", {"says": "rotten"}, '"rotten" is no report of this rulebook. Use one of: unusable.'),
        (
            "decision",
            {"decision": "waive", "rule": "piston-cracked", "place": "sump", "reason": "old friend"},
            '"sump" is no place of block. Use one of: ',
        ),
        ("look", {"places": ["*"], "supersedes": "x9"}, 'it corrects or withdraws "x9", which is not here. '),
        ("look", {"places": ["*"], "supersedes": "x1"}, '"x1" corrects itself by a circle. Let a '),
        ("withdrawal", {"of": "x9", "reason": "no", "piece": None}, 'it corrects or withdraws "x9", which '),
    ],
)
def test_other_evidence_with_an_unknown_name_is_told(refused, six, kind, fields, words) -> None:
    assert line_of(refused, six, kind, **fields).startswith(words)


@pytest.mark.parametrize(
    ("kind", "fields", "words"),
    [
        ("look", {"places": []}, "places: Tuple should have at least 1 item after validation, not 0."),
        ("look", {"places": ["*"], "when": "yesterday"}, "when: not a date. Write it as 2026-11-22 or "),
        ("look", {"places": ["*"], "who": ""}, "who: String should have at least 1 character. It says ''."),
        ("look", {"places": ["*"], "who": None}, "who: this key is missing. Add it."),
        ("look", {"places": ["*"], "stage": "lunch"}, "stage: Input should be 'yard_look', 'teardown', "),
        ("look", {"places": ["*"], "state": "clean"}, 'state: "clean" is not a state. Use as_found, washed'),
        ("look", {"places": ["*"], "state": "after 0"}, 'state: "after 0" is not a state. Use as_found, '),
        ("look", {"places": ["*"], "colour": "red"}, "colour: Extra inputs are not permitted. It says 'red'"),
        (
            "test",
            {"method": "eye", "places": ["*"], "outcome": "fine"},
            "outcome: Input should be 'nothing_found', 'found' or 'cannot_tell'. It says 'fine'.",
        ),
        (
            "finding",
            {"damage": "crack", "place": "bore 1", "strength": "confirmed"},
            '"confirmed" needs the id of the test that confirmed it, in "test".',
        ),
        ("reading", READING | {"value": 3.5004}, "value: Input should be a valid string. It says 3.5004."),
        ("decision", {"decision": "waive", "reason": "r"}, 'a decision "waive" needs "rule".'),
        ("bill", {"line": "hone", "amount": -1}, "amount: Input should be greater than or equal to 0. It "),
        (
            "region",
            {"photo": "p", "shape": "point", "points": [[1e999, 2]]},
            "points.0.0: Input should be a finite number",
        ),
    ],
)
def test_an_item_with_a_wrong_key_is_told_by_its_path(refused, six, kind, fields, words) -> None:
    if fields.get("points"):
        add_item(six, kind, **fields)
        core = six / "core.json"
        core.write_text(core.read_text().replace("Infinity", "1e999"))
        assert words in refused("judge", six)[0]
        return
    told = key_of(refused, six, kind, **fields)
    assert told.removeprefix(": ").startswith(words)


def test_a_kind_of_evidence_that_is_none_is_told(refused, six) -> None:
    add_item(six, "hunch")
    (line,) = refused("judge", six)
    assert "Input tag 'hunch' found using 'kind' does not match any of the expected tags" in line
    assert line.endswith("Use one of the kinds named.")


def test_an_id_used_twice_is_told_at_each(refused, six) -> None:
    add_item(six, "look", places=["*"])
    add_item(six, "look", places=["*"], who="B.T.")
    words = 'evidence x1: the id "x1" is used 2 times. Give each its own.'
    assert refused("judge", six) == [words]


def test_corrections_in_a_circle_are_told_at_each(refused, six) -> None:
    add_item(six, "look", places=["*"], supersedes="x2")
    add_item(six, "look", places=["*"], id="x2", supersedes="x1")
    advice = "Let a correction name the older."
    assert refused("judge", six) == [
        f'evidence x1: "x1" corrects itself by a circle. {advice}',
        f'evidence x2: "x2" corrects itself by a circle. {advice}',
    ]


def test_several_problems_are_all_told_at_once_in_their_order(refused, six) -> None:
    add_item(
        six, "reading", **READING | {"value": "1e3", "unit": "cubit", "gauge": "rule", "station": "roof"}
    )
    add_item(six, "finding", id="x2", damage="tired", place="sump", strength="seen", piece="crankshaft")
    add_item(six, "look", id="x3", places=["bore 9", "attic"], method="nose")
    lines = refused("judge", six)
    heads = [line.partition(". ")[0] for line in lines]
    assert heads == [
        'evidence x1: "roof" is no station of diameter',
        'evidence x1: "rule" is no gauge of this rulebook',
        'evidence x1: "1e3" is not a number',
        'evidence x1: "cubit" is not a unit of length',
        'evidence x2: "sump" is no place of crankshaft',
        'evidence x2: "tired" is no damage word of this rulebook',
        'evidence x3: there is no "bore 9"',
        'evidence x3: "attic" is no place of block',
        'evidence x3: "nose" is no method of this rulebook',
    ]
