"""The demo cores: every position's answer written out, and what their files promise."""

import hashlib
import json
import math
import re
import subprocess
import sys
from functools import cache

import pytest

from inspect_app.bundle import check_fits_in_folder, judge_folder, read_core
from inspect_app.model.answer import Answer
from inspect_app.model.sheet import EngineSheet
from inspect_app.model.units import size
from inspect_app.rulebook.load import load_rulebook
from inspect_app.shipped import shipped

FOUR, VEE = "brackwater-four", "brackwater-vee"
FLOODED, CLOSED = "brackwater-flooded", "brackwater-closed"
CUBIC_MM_PER_CC = 1000.0


@cache
def answer_of(core: str) -> Answer:
    return judge_folder(shipped("demo_cores") / core, load_rulebook(shipped("rules")))


@cache
def sheet_of(core: str) -> EngineSheet:
    return read_core(shipped("demo_cores") / core).sheet


def told(answer: Answer) -> dict[str, tuple[object, ...]]:
    """Verdict, grounds, standing, source, ways and the rule of the main reason, by position."""
    return {
        part.position: (
            part.verdict,
            part.grounds,
            part.standing,
            part.source,
            tuple(f"{way.concern}: {way.way} {way.size or ''}".strip() for way in part.ways),
            part.closed[0].rule if part.closed else None,
        )
        for part in answer.parts
    }


PISTON = ("replace", "coupling", "settled", "new", (), None)
BEAM_AND_SMALL_END = ("straightness: as_is", "surface: as_is", "small_end: as_is")
SOUND_ROD = ("reuse", None, "settled", "own", ("big_end: as_is", *BEAM_AND_SMALL_END), None)
EXPECTED_FOUR = {
    "block": (
        "recondition",
        "evidence",
        "settled",
        "own",
        ("bores: bore 0.020 in", "deck: as_is", "jacket: as_is", "line: as_is", "fixings: as_is"),
        "bore-taper-past-hone",
    ),
    "crankshaft": ("replace", "evidence", "settled", "exchange", (), "crack-in-journal-fillet"),
    "cylinder_head 1": (
        "recondition",
        "evidence",
        "settled",
        "own",
        ("face: mill", "casting: as_is", "threads: as_is", "valves: service"),
        "head-face-not-flat",
    ),
    "piston 1": PISTON,
    "piston 2": PISTON,
    "piston 3": PISTON,
    "piston 4": PISTON,
    "rod 1": SOUND_ROD,
    "rod 2": ("replace", "evidence", "settled", "used", (), "rod-bent-or-burnt"),
    "rod 3": (
        "recondition",
        "evidence",
        "settled",
        "own",
        ("big_end: resize", *BEAM_AND_SMALL_END),
        "rod-big-end-out-of-size",
    ),
    "rod 4": SOUND_ROD,
}

NOT_JUDGED = (None, None, None, None, (), None)
LOOKED_AT_PISTON = ("reuse", None, "provisional", "own", ("pin: as_is",), None)
EXPECTED_VEE = {
    "block": (
        "reuse",
        None,
        "provisional",
        "own",
        ("bores: hone", "deck: as_is", "jacket: as_is", "line: as_is", "fixings: as_is"),
        None,
    ),
    "crankshaft": (
        "reuse",
        None,
        "provisional",
        "own",
        (
            "mains: polish",
            "pins: polish",
            "straightness: as_is",
            "thrust: as_is",
            "seal: as_is",
            "nose: as_is",
        ),
        None,
    ),
    "cylinder_head left": (
        "recondition",
        "evidence",
        "provisional",
        "own",
        ("face: mill", "casting: as_is", "threads: as_is", "valves: service"),
        "head-face-not-flat",
    ),
    "cylinder_head right": NOT_JUDGED,
    "piston 1": LOOKED_AT_PISTON,
    "piston 2": NOT_JUDGED,
    "piston 3": LOOKED_AT_PISTON,
    "piston 4": NOT_JUDGED,
    "piston 5": NOT_JUDGED,
    "piston 6": NOT_JUDGED,
} | {f"rod {number}": NOT_JUDGED for number in range(1, 7)}

EXPECTED_FLOODED = dict.fromkeys(EXPECTED_FOUR, NOT_JUDGED)
EXPECTED_CLOSED = EXPECTED_FOUR | {
    "crankshaft": (
        "reuse",
        None,
        "settled",
        "own",
        (
            "mains: polish",
            "pins: polish",
            "straightness: as_is",
            "thrust: as_is",
            "seal: as_is",
            "nose: as_is",
        ),
        None,
    ),
    "piston 3": ("replace", "evidence", "settled", "new", (), "piston-rubbed-or-eaten"),
    "rod 2": SOUND_ROD,
    "rod 3": SOUND_ROD,
}
EXPECTED = {FOUR: EXPECTED_FOUR, VEE: EXPECTED_VEE, FLOODED: EXPECTED_FLOODED, CLOSED: EXPECTED_CLOSED}

CORES = pytest.mark.parametrize("core", [FOUR, VEE])
ALL = pytest.mark.parametrize("core", EXPECTED)
EACH = pytest.mark.parametrize(("core", "expected"), EXPECTED.items(), ids=EXPECTED)


def test_every_shipped_core_is_expected_here() -> None:
    assert {folder.name for folder in shipped("demo_cores").iterdir()} == EXPECTED.keys()


@EACH
def test_the_answer_of_every_position(core: str, expected: dict[str, tuple[object, ...]]) -> None:
    assert told(answer_of(core)) == expected


def test_the_four_is_settled_with_nothing_open_and_is_built() -> None:
    answer = answer_of(FOUR)
    assert (answer.core.verdict, answer.core.standing) == ("build", "settled")
    assert (answer.core.waits_for, answer.core.not_judged, answer.core.notes) == (None, (), ())
    assert [point for part in answer.parts for point in part.open_points] == []
    assert [call for part in answer.parts for call in part.close_calls] == []
    assert [part.fork for part in answer.parts if part.fork] == []


def test_the_crack_of_the_four_names_its_journal_and_the_finding() -> None:
    crankshaft = part(FOUR, "crankshaft")
    reason = crankshaft.closed[0]
    assert (reason.closes, reason.place, reason.hard) == ("own", "rod_journal 2", True)
    assert reason.evidence == ("crack-p2-front",)
    marked = next(closed for closed in crankshaft.closed if closed.rule == "rod-journal-marked")
    assert set(marked.evidence) == {"score-p2", "blue-p2"}


def test_the_bores_of_the_four_clean_up_well_inside_their_size() -> None:
    """Bore 2, by hand: step 0.0001 + k x wear 0.0067 + 2 x score 0.001 + stock 0.003, k from 1 to 2."""
    sizes = [closed for closed in part(FOUR, "block").closed if closed.rule == "bores: size"]
    assert sizes == []
    needed = [0.0001 + k * 0.0067 + 2 * 0.001 + 0.003 for k in (1, 2)]
    assert needed == pytest.approx([0.0118, 0.0185])
    assert 0.010 < needed[0] < needed[1] < 0.020


def test_the_bored_block_of_the_four_asks_for_its_pistons() -> None:
    for number in range(1, 5):
        forced = part(FOUR, f"piston {number}").forced_by
        assert [(one.position, one.why) for one in forced] == [
            ("block", "Bored cylinders need pistons of the new size.")
        ]


def test_the_vee_is_built_provisionally_and_lists_who_was_not_looked_at() -> None:
    core = answer_of(VEE).core
    assert (core.verdict, core.standing) == ("build", "provisional")
    assert core.not_judged == tuple(
        position for position, answer in EXPECTED_VEE.items() if answer == NOT_JUDGED
    )


def test_the_fork_of_the_vees_crankshaft_is_its_crack_test() -> None:
    fork = part(VEE, "crankshaft").fork
    assert fork is not None
    [asked] = fork.if_
    assert (asked.what, asked.answer) == ("magnetic-particle test", "nothing found")
    assert asked.place == (
        "main journal 1 to 4, rod journal 1 to 6, webs and counterweights, nose, thrust face, seal track"
    )
    assert (fork.else_.verdict, fork.else_.source) == ("replace", "exchange")


def test_the_fork_of_the_vees_left_head_is_what_shows_a_crack_in_aluminium() -> None:
    fork = part(VEE, "cylinder_head left").fork
    assert fork is not None
    assert [(asked.what, asked.place, asked.answer) for asked in fork.if_] == [
        (
            "dye-penetrant test",
            "gasket face, combustion chamber 1 to 3, port 1 to 3, guide boss 1 to 3, top of the head, "
            "coolant passages, bolt boss",
            "nothing found",
        ),
        ("pressure test of the coolant passages", "coolant passages", "nothing found"),
    ]
    assert (fork.else_.verdict, fork.else_.source) == ("replace", "new")


def test_the_right_head_of_the_vee_waits_for_a_first_look() -> None:
    head = part(VEE, "cylinder_head right")
    assert [(point.what, point.place) for point in head.open_points] == [
        ("first look", "gasket face, combustion chamber 1 to 3")
    ]
    assert (head.fork, head.cost, head.old_piece) == (None, None, None)


def part(core: str, position: str):
    return next(part for part in answer_of(core).parts if part.position == position)


@CORES
def test_few_figures_are_close_calls_and_none_waits_for_a_finer_gauge(core: str) -> None:
    """Read with common shop gauges; a figure that lacks a reading waits for that, not for a gauge."""
    limited = [figure for part in answer_of(core).parts for figure in part.figures if figure.limit]
    assert len(limited) >= 20
    assert sum(figure.close_call for figure in limited) <= len(limited) / 10
    assert [f for f in limited if f.state == "open" and f.measured.bound == "exact"] == []


@ALL
def test_the_bill_adds_up_to_the_cost_of_the_core(core: str) -> None:
    answer = answer_of(core)
    cost = answer.core.cost.mean if answer.core.cost else 0
    assert round(sum(line.mean for line in answer.bill), 2) == cost


@ALL
def test_core_json_lists_the_sheet_and_the_photos_as_they_are(core: str) -> None:
    folder = shipped("demo_cores") / core
    listed = {entry["path"]: entry["sha256"] for entry in core_data(core)["files"]}
    files = [folder / "sheet.json", *(folder / "photos").glob("*")]
    found = {
        file.relative_to(folder).as_posix(): hashlib.sha256(file.read_bytes()).hexdigest() for file in files
    }
    assert listed == found, f"A file was changed. Write these into {core}/core.json, files: {found}"
    shown = {item["path"]: item["sha256"] for item in core_data(core)["evidence"] if item["kind"] == "photo"}
    assert shown == {path: found[path] for path in found if path != "sheet.json"}


def core_data(core: str) -> dict:
    return json.loads((shipped("demo_cores") / core / "core.json").read_text(encoding="utf-8"))


@CORES
def test_the_displacement_is_what_bore_and_stroke_make(core: str) -> None:
    """Swept volume = cylinders x pi/4 x bore^2 x stroke; the sheet rounds it to the cubic centimetre."""
    sheet = sheet_of(core)
    bore = size(sheet.quantities["bore.diameter"].nominal or "")
    stroke = size(sheet.conventions["stroke"])
    volume = sheet.counts["cylinders"] * math.pi / 4 * bore**2 * stroke / CUBIC_MM_PER_CC
    number, unit = sheet.conventions["displacement"].split()
    assert unit == "cm3"
    assert volume == pytest.approx(float(number), abs=1)
    assert f"{volume / 1000:.1f} litre" in sheet.title


DRAWN = {
    "centre_line.stroke", "chamber.volume", "chamber.face_area", "crown.dish_volume", "head_face.gasket_bore",
    "chamber.intake_lash_hot", "chamber.exhaust_lash_hot", "chamber.intake_lash_cold_less_hot",
    "chamber.exhaust_lash_cold_less_hot",
}  # fmt: skip
"""Sizes of the drawing, and settings: one number each."""
NEVER_WORN = {
    "main_web.shell_wall",
    "big_end.shell_wall",
    "head_face.gasket_thickness",
    "crown.deck_clearance",
}
"""Of new parts, or of how they go together."""


@CORES
def test_new_ranges_hold_their_nominal_and_lie_inside_the_wear_limits(core: str) -> None:
    forms = load_rulebook(shipped("rules")).quantities
    dimensions = {f"{kind}.{quantity}": form.dimension for (quantity, kind), form in forms.items()}
    for name, row in sheet_of(core).quantities.items():
        sizes = {
            field: size(text, dimensions[name])
            for field, text in row.texts().items()
            if not field.startswith("sizes")
        }
        if name in DRAWN:
            assert set(sizes) == {"nominal"}, name
        elif "nominal" in sizes:
            assert sizes["minimum"] < sizes["nominal"] < sizes["maximum"], name
        elif name in NEVER_WORN:
            assert sizes["minimum"] < sizes["maximum"], name
        elif "maximum" in sizes:
            assert sizes["maximum"] < sizes["wear_limit"], name


def test_the_fit_check_of_the_four_waits_for_its_work_and_tells_what_it_becomes() -> None:
    """Bored 0.020 in and milled 0.008 in: 2200 cc and 8.22 become 2226 cc and 8.40."""
    fits = check_fits_in_folder(shipped("demo_cores") / FOUR, load_rulebook(shipped("rules")))
    assert fits.counted("out") == 0
    becomes = {effect.effect: (effect.before, effect.after) for effect in fits.effects}
    assert becomes["swept-volume"] == (pytest.approx(2200.3, abs=0.1), pytest.approx(2226.0, abs=0.1))
    assert becomes["compression-ratio"] == (pytest.approx(8.22, abs=0.01), pytest.approx(8.40, abs=0.01))
    cold = {fit.fit: fit.set_to.value for fit in fits.fits if fit.set_to}
    assert cold == {"intake-lash": pytest.approx(0.008), "exhaust-lash": pytest.approx(0.010)}


@CORES
def test_the_sheet_says_it_is_invented_and_how_it_counts(core: str) -> None:
    sheet = sheet_of(core)
    assert sheet.source == "invented for the demonstration"
    wanted = {"cylinder_numbering", "rod_journals", "rotation", "thrust_side", "firing_order"}
    assert wanted <= sheet.conventions.keys()
    order = [int(number) for number in sheet.conventions["firing_order"].split("-")]
    assert sorted(order) == list(range(1, sheet.counts["cylinders"] + 1))
    if sheet.counts["heads"] > 1:
        assert "banks" in sheet.conventions


@ALL
def test_ids_are_short_people_are_initials_and_dates_lie_in_the_autumn_of_2026(core: str) -> None:
    months = ("2026-09-", "2026-10-") if core == CLOSED else ("2026-11-",)
    for item in core_data(core)["evidence"]:
        assert len(item["id"]) <= 20
        assert re.fullmatch(r"[A-Z]\.[A-Z]\.", item["who"])
        assert item["when"].startswith(months)


@ALL
def test_judge_as_a_command(core: str) -> None:
    done = subprocess.run(
        [sys.executable, "-m", "inspect_app", "judge", str(shipped("demo_cores") / core), "--json"],
        capture_output=True,
        text=True,
        check=False,
    )
    assert (done.returncode, done.stderr) == (0, "")
    assert Answer.model_validate_json(done.stdout) == answer_of(core)


def of_kind(core: str, kind: str) -> list[dict]:
    return [item for item in core_data(core)["evidence"] if item["kind"] == kind]


def test_the_flooded_core_is_undecided_and_says_what_nobody_could_see() -> None:
    answer = answer_of(FLOODED)
    assert (answer.core.verdict, answer.core.waits_for) == (None, "first look at block")
    assert {"cannot tell", "not looked", "stuck"} <= {sign["answer"] for sign in of_kind(FLOODED, "sign")}
    assert {finding["strength"] for finding in of_kind(FLOODED, "finding")} == {"suspected"}
    record = read_core(shipped("demo_cores") / FLOODED).core.record
    assert record.asking_price is not None
    assert len(record.alternatives) == 2
    assert {claim.state for claim in record.claims} == {"unchecked", "contradicted"}


def test_the_closed_core_tells_what_proved_true_and_what_it_cost() -> None:
    core = read_core(shipped("demo_cores") / CLOSED).core
    assert core.stage == "closed"
    assert {claim.state for claim in core.record.claims} == {"agrees", "contradicted"}
    book = load_rulebook(shipped("rules"))
    bills = of_kind(CLOSED, "bill")
    assert {bill["line"] for bill in bills} <= book.prices.keys()
    assert sum(bill["amount"] for bill in bills) > 2000


def test_a_shop_that_called_a_part_unusable_was_asked_back() -> None:
    """Of the Four it then gave its grounds; of the closed core it took the word back."""
    first, second = of_kind(FOUR, "report")
    assert (first["grounds"], second["supersedes"]) == ("", first["id"])
    reasons = [closed.rule for closed in part(FOUR, "crankshaft").closed]
    assert reasons[0] == "crack-in-journal-fillet"
    assert "shop-calls-crankshaft-unusable" in reasons
    [withdrawn] = of_kind(CLOSED, "withdrawal")
    assert withdrawn["of"] == of_kind(CLOSED, "report")[0]["id"]
    assert part(CLOSED, "crankshaft").open_points == ()


def test_a_missing_look_of_the_closed_core_was_waived_by_a_named_person() -> None:
    [waived] = [item for item in of_kind(CLOSED, "decision") if item["decision"] == "waive"]
    assert (waived["rule"], waived["who"]) == ("main-line-off", "R.L.")
    assert part(CLOSED, "block").open_points == ()
