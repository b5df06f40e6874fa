"""Single statements of other US Army technical manuals (public domain), against the pack's own limits.

Diameters in inch; all pages named were seen. The sheets here give sizes only, so the limit that decides
is the rule pack's, which is the number printed.
"""

from dataclasses import dataclass

import pytest

from inspect_app.judge import judge
from inspect_app.metrology.estimate import Estimate, Undetermined
from inspect_app.metrology.gaps import axial_play
from inspect_app.metrology.sizes import next_listed
from inspect_app.model.answer import Answer
from inspect_app.model.evidence import Evidence
from inspect_app.model.frozen import BuildStandard
from inspect_app.model.units import from_canonical, size
from inspect_app.rulebook.engine import Engine
from tests.judge import six

from .support import closed_by, part_at, way_of


@dataclass(frozen=True)
class Journals:
    """Rod journals of one manual: standard range, and the range printed for each undersize."""

    source: str
    standard: tuple[float, float]
    printed: dict[str, tuple[float, float]]

    @property
    def nominal(self) -> float:
        return sum(self.standard) / 2


LOADER = Journals(
    "TM 5-3805-262-34, p. 4-24",
    (2.748, 2.749),
    {"0.010 in": (2.738, 2.739), "0.020 in": (2.728, 2.729), "0.030 in": (2.718, 2.719)},
)
LIFT_TRUCK = Journals(
    "TM 10-3930-638-24&P, p. 4-29",
    (2.248, 2.249),
    {"0.010 in": (2.238, 2.239), "0.020 in": (2.228, 2.229), "0.030 in": (2.218, 2.219)},
)
"""The standard range is not on either page: both are the undersizes plus their steps. The first page
names 2.748 as the size below which shells 0.002 under are used, the second 2.246-2.247 at 0.002 under."""

MANUALS = pytest.mark.parametrize("journals", [LOADER, LIFT_TRUCK], ids=lambda j: j.source)
SLOTS = [(end, way) for end in ("front", "rear") for way in ("vertical", "horizontal")]


def engine_of(journals: Journals) -> Engine:
    low, high = journals.standard
    rows = six.sheet().model_dump()["quantities"]
    rows["rod_journal.diameter"] = {
        "minimum": f"{low} in",
        "maximum": f"{high} in",
        "sizes": list(journals.printed),
    }
    return Engine(six.book(), six.sheet(quantities=rows))


def answer_with(
    journals: Journals, third: dict[tuple[str, str], float], standard: BuildStandard = "rebuild"
) -> Answer:
    """The sound six with rod journals of this manual; journal 3 less by so much in each slot."""
    kept = [item for item in six.readings() if not getattr(item, "place", "").startswith("rod_journal")]
    evidence: list[Evidence] = [*six.looks_and_tests(), *kept]
    for index in range(1, six.CYLINDERS + 1):
        for end, way in SLOTS:
            less = third.get((end, way), 0.0) if index == 3 else 0.0
            evidence.append(
                six.reading(
                    f"pin {index} {end} {way}",
                    "crankshaft",
                    "diameter",
                    f"rod_journal {index}",
                    f"{journals.nominal - less:.5f}",
                    station=end,
                    direction=way,
                    gauge="outside micrometer",
                )
            )
    return judge(six.core(evidence, build_standard=standard), engine_of(journals))


FORMS = {
    "rod-journal-taper-past-polish": [("rear", "vertical"), ("rear", "horizontal")],
    "rod-journal-out-of-round-past-polish": [("front", "horizontal"), ("rear", "horizontal")],
}


TAPER, OUT_OF_ROUND = FORMS
PRINTED = [
    pytest.param(LOADER, TAPER, "rebuild", 0.0005, id="TM 5-3805-262-34, p. 4-24, taper"),
    pytest.param(LOADER, OUT_OF_ROUND, "rebuild", 0.0005, id="TM 5-3805-262-34, p. 4-24, out-of-round"),
    pytest.param(LIFT_TRUCK, TAPER, "run", 0.0010, id="TM 10-3930-638-24&P, p. 4-28, taper"),
    pytest.param(
        LIFT_TRUCK, OUT_OF_ROUND, "rebuild", 0.0005, id="TM 10-3930-638-24&P, p. 4-29, out-of-round"
    ),
]
"""Two manuals print two limits for taper: the pack takes one to rebuild and the other to run."""


@pytest.mark.parametrize(("journals", "rule", "standard", "printed"), PRINTED)
@pytest.mark.parametrize("side", [-0.0001, 0.0, 0.0001], ids=["below", "at", "above"])
def test_taper_or_out_of_round_above_the_printed_limit_is_ground(
    journals: Journals, rule: str, standard: BuildStandard, printed: float, side: float
) -> None:
    less = dict.fromkeys(FORMS[rule], printed + side)
    crankshaft = part_at(answer_with(journals, less, standard), "crankshaft")
    pins = way_of(crankshaft, "pins")
    assert crankshaft.standing == "settled"
    if side <= 0:
        assert (pins.way, crankshaft.closed) == ("polish", ())
        return
    [closed] = closed_by(crankshaft, rule, "rod_journal 3")
    assert closed.limit_from == "pack"
    assert closed.limit is not None
    assert (closed.limit.value, closed.limit.unit) == (printed, "in")
    assert (pins.way, pins.size) == ("grind", "0.010 in")


@MANUALS
@pytest.mark.parametrize(
    ("worn", "taken", "standing"),
    [(0.003, "0.010 in", "settled"), (0.0092, "0.020 in", "settled"), (0.0192, "0.030 in", "provisional")],
)
def test_one_journal_past_its_limit_grinds_all_to_one_printed_size(
    journals: Journals, worn: float, taken: str, standing: str
) -> None:
    """Both pages: if one journal is ground, grind all. The finished size lies in the printed range.

    Worn all on one side, the last journal would want more than its 0.030 in: that size stays open.
    """
    answer = answer_with(journals, dict.fromkeys(SLOTS, worn))
    crankshaft = part_at(answer, "crankshaft")
    pins = way_of(crankshaft, "pins")
    assert (crankshaft.verdict, crankshaft.standing) == ("recondition", standing)
    assert (pins.way, pins.size, pins.except_at) == ("grind", taken, ())
    needs = {line.line: line.quantity for line in answer.bill}
    assert needs["Grind one journal"] == six.CYLINDERS
    low, high = journals.printed[taken]
    assert low < journals.nominal - from_canonical(size(taken), "in") < high
    assert way_of(crankshaft, "mains").way == "polish"


@pytest.mark.parametrize(
    ("worn", "past"), [(0.0019, False), (0.0020, False), (0.0021, True)], ids=["below", "at", "above"]
)
def test_rod_journals_worn_more_than_0_002_are_ground(worn: float, past: bool) -> None:
    """TM 10-3930-638-24&P, p. 4-29, a limit to run: when worn more than 0.002 in, grind undersize."""
    crankshaft = part_at(answer_with(LIFT_TRUCK, dict.fromkeys(SLOTS, worn), "run"), "crankshaft")
    assert bool(closed_by(crankshaft, "rod-journal-wear-past-polish", "rod_journal 3")) is past
    assert way_of(crankshaft, "pins").way == ("grind" if past else "polish")


@pytest.mark.parametrize(
    ("play", "oversize"),
    [(0.015, 0.0), (0.017, 0.005), (0.026, 0.005), (0.027, 0.010), (0.036, 0.010), (0.037, None)],
)
def test_thrust_washers_by_the_play_that_is_found(play: float, oversize: float | None) -> None:
    """TM 5-4210-233-14&P-2, p. 6-152: below 0.016 standard, to 0.026 and to 0.036 one and two steps of
    0.005, above it replace the crankshaft. Each of two washers takes up half of what is above 0.016."""
    needed = max(0.0, (play - 0.016) / 2)
    taken = next_listed(needed, [0.0, 0.005, 0.010])
    if oversize is None:
        assert isinstance(taken, Undetermined)
        return
    assert taken == oversize
    left = axial_play(Estimate(play + 0.244), Estimate(0.0), Estimate(0.122 + oversize)).value
    assert 0 < left <= 0.016


def test_play_found_with_thinner_washers_is_brought_to_the_table() -> None:
    """The same page, steps 16 to 18: the two washers are added up, taken from 0.244, and the rest is
    taken from the play; it is the play with washers of 0.122, the thickest standard ones."""
    found, washers = 0.024, (0.1195, 0.1205)
    by_the_book = found - (0.244 - sum(washers))
    between = Estimate(found + sum(washers))
    assert axial_play(between, Estimate(0.0), Estimate(0.122)).value == pytest.approx(by_the_book)
