"""What is timed: judging, loading, planning, figures, importing; each beside a floor, and how it grows.

The floor is the least that any program would have to do with the same input. The ratio to it, taken in
one run, hardly depends on the machine; milliseconds do, and only inform.
"""

import subprocess
import sys
import tomllib
from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path
from statistics import median
from time import perf_counter
from unittest.mock import patch

from inspect_app.bundle import CORE_FILE, read_core
from inspect_app.judge import judge
from inspect_app.metrology.size_flips import what_would_flip
from inspect_app.metrology.size_plan import Listed, Planned, SizeTask, Spot, plan_sizes
from inspect_app.metrology.size_rules import all_of, at_most, no_two_neighbours
from inspect_app.model.core import Core
from inspect_app.rulebook.engine import Engine
from inspect_app.rulebook.load import load_rulebook
from inspect_app.shipped import shipped
from tests.judge import six

from . import big_shop, marker_round_trip, measured_vee, paper, part_page, photo_intake, reading_to_verdict

HOME = Path(__file__).parents[2]
Timing = Callable[[], float]
"""Seconds of one run."""


@dataclass(frozen=True)
class Bench:
    """`at_most` bounds the ratio run : floor; `guide` is the time in seconds that design wants, if any."""

    name: str
    run: Timing
    floor_name: str
    floor: Timing
    at_most: float
    guide: float | None = None


@dataclass(frozen=True)
class Result:
    bench: Bench
    seconds: float
    floor: float

    @property
    def ratio(self) -> float:
        return self.seconds / self.floor

    @property
    def holds(self) -> bool:
        return self.ratio <= self.bench.at_most


def measured(bench: Bench, times: int = 5) -> Result:
    """Medians of so many runs, in turn with the floor, so that both meet the same load; one warms up."""
    bench.run(), bench.floor()
    runs, floors = zip(*((bench.run(), bench.floor()) for _ in range(times)), strict=True)
    return Result(bench, median(runs), median(floors))


def timed(work: Callable[[], object], loops: int = 1) -> Timing:
    """The mean time of `loops` runs of `work` in a row."""

    def run() -> float:
        start = perf_counter()
        for _ in range(loops):
            work()
        return (perf_counter() - start) / loops

    return run


def judging() -> Bench:
    folder = shipped("demo_cores") / "brackwater-four"
    bundle = read_core(folder)
    engine = Engine(six.book(), bundle.sheet)
    text = (folder / CORE_FILE).read_text(encoding="utf-8")
    return Bench(
        "judge the measured four",
        timed(lambda: judge(bundle.core, engine)),
        "read its core.json",
        timed(lambda: Core.model_validate_json(text), loops=50),
        at_most=130,
        guide=0.020,
    )


def loading() -> Bench:
    texts = [path.read_text(encoding="utf-8") for path in sorted(shipped("rules").glob("*.toml"))]
    return Bench(
        "load and check the rules",
        timed(lambda: load_rulebook(shipped("rules"))),
        "parse their TOML",
        timed(lambda: [tomllib.loads(text) for text in texts]),
        at_most=3,
        guide=0.300,
    )


def size_task(places: int) -> SizeTask:
    """So many places in two banks, six sizes, at most two exceptions and no two side by side."""
    needs = (0.21, 0.34, 0.28, 0.97, 0.31, 0.40, 0.22, 0.83, 0.30, 0.26, 0.37, 0.24)[:places]
    listed = tuple(Listed(0.25 * step, 90.0 + 8 * step, 40.0) for step in range(1, 7))
    banks = [range(places // 2), range(places // 2, places)]
    rule = all_of(at_most(2), no_two_neighbours(banks))
    return SizeTask(tuple(Spot(need, largest=1.3) for need in needs), listed, 180.0, rule)


def plan(places: int) -> Timing:
    """The best plan, the runner-up, and what would flip it."""
    task = size_task(places)

    def run() -> None:
        planned = plan_sizes(task)
        assert isinstance(planned, Planned)
        what_would_flip(planned)

    return timed(run, loops=10)


def planning() -> Bench:
    rule = size_task(8).rule
    subsets = [frozenset(place for place in range(8) if mask >> place & 1) for mask in range(256)]
    return Bench(
        "plan 8 places, 6 sizes",
        plan(8),
        "ask the rule of every subset",
        timed(lambda: [rule(subset) for subset in subsets], loops=50),
        at_most=15,
        guide=0.005,
    )


def more_places(places: int) -> Bench:
    """Four places more are sixteen times the subsets."""
    few = places - 4
    return Bench(f"plan {places} places", plan(places), f"plan {few}", plan(few), at_most=40)


def measuring() -> Bench:
    """About what a V8 asks for: all bores, journals, walls and faces, and half of it once more."""
    items = measured_vee.readings(300)
    text = measured_vee.as_text(items)
    return Bench(
        "figures of a V8, 300 readings",
        timed(lambda: measured_vee.figures(items)),
        "read them from their JSON",
        timed(lambda: measured_vee.READINGS.validate_json(text), loops=20),
        at_most=20,
        guide=0.020,
    )


def figures_of(number: int) -> Timing:
    items = measured_vee.readings(number)
    return timed(lambda: measured_vee.figures(items), loops=3)


def more_readings(number: int) -> Bench:
    """Twice the readings beside the single number."""
    half = number // 2
    return Bench(
        f"figures of {number} readings", figures_of(number), f"of {half}", figures_of(half), at_most=3
    )


LIBRARY = ("bundle", "judge", "closing.examples", "rulebook.load", "prices.bill", "closing.drawn")


def importing() -> Bench:
    names = ", ".join(f"inspect_app.{name}" for name in LIBRARY)
    return Bench(
        "import the library",
        lambda: fresh(f"import {names}"),
        "import pydantic and numpy",
        lambda: fresh("import pydantic, numpy"),
        at_most=4,
        guide=0.300,
    )


def fresh(code: str) -> float:
    """Seconds that `code` takes in a Python of its own, without starting it."""
    script = f"import time; t = time.perf_counter(); {code}; print(time.perf_counter() - t)"
    done = subprocess.run([sys.executable, "-c", script], cwd=HOME, capture_output=True, check=True)
    return float(done.stdout)


def inline(cylinders: int, measured_too: bool) -> Timing:
    """Judging an inline engine, looked at only or measured and tested as well."""
    with patch.multiple(six, CYLINDERS=cylinders, MAINS=cylinders + 1):
        items, pieces = six.looks_and_tests() + six.readings(), six.pieces()
    counts = {"cylinders": cylinders, "mains": cylinders + 1, "rod_journals": cylinders, "heads": 1}
    engine = Engine(six.book(), six.sheet(counts=counts))
    core = six.core([item for item in items if measured_too or item.kind == "look"], pieces=pieces)
    return timed(lambda: judge(core, engine))


def growing(cylinders: int, measured_too: bool, at_most: float) -> Bench:
    """Twice the cylinders beside the single number."""
    state = "measured" if measured_too else "looked at only"
    return Bench(
        f"judge {2 * cylinders} cylinders, {state}",
        inline(2 * cylinders, measured_too),
        f"judge {cylinders}",
        inline(cylinders, measured_too),
        at_most,
    )


def taking_in(height: int = 3000, width: int = 4000) -> Bench:
    data = photo_intake.photo(height, width)
    return Bench(
        f"take in a photo of {width} × {height} px",
        timed(photo_intake.intake(data)),
        "decode it and make one thumbnail",
        timed(photo_intake.decode_and_thumbnail(data)),
        at_most=1.5,
    )


def larger_photo() -> Bench:
    """Four times the pixels beside the usual photo."""
    few, many = (photo_intake.intake(photo_intake.photo(*size)) for size in ((3000, 4000), (6000, 8000)))
    return Bench("take in a photo of 48 megapixels", timed(many), "of 12", timed(few), at_most=6)


def marking() -> Bench:
    """From the lift of the pointer to what Python made of it, painted: medians of twelve in a browser."""
    return Bench(
        "move a mark on a photo",
        lambda: marker_round_trip.ask("mark"),
        "type into one text box",
        lambda: marker_round_trip.ask("text"),
        at_most=2,
        guide=0.150,
    )


def opening() -> Bench:
    """A browser's wait for the page of a part with 60 photos, until its last line is there."""
    return Bench(
        "open a part with 60 photos",
        lambda: part_page.ask("photos"),
        "open the manual",
        lambda: part_page.ask("manual"),
        at_most=2.5,
        guide=1.5,
    )


def reading() -> Bench:
    """From the Enter behind a reading of the measured four to its new figures and words, painted."""
    return Bench(
        "type a reading, see what it brings",
        reading_to_verdict.ask,
        "type into one text box",
        lambda: marker_round_trip.ask("text"),
        at_most=4,
        guide=0.400,
    )


def racks() -> list[Bench]:
    """Rows of many cores; the shop files are made at the first run."""
    many, few = (timed(lambda: big_shop.shown(big_shop.MANY)), timed(lambda: big_shop.shown(big_shop.FEW)))
    floor = timed(lambda: big_shop.plain_read(big_shop.MANY))
    return [
        Bench("rack of 5,000 cores", many, "read their rows by plain SQL", floor, at_most=14, guide=1.0),
        Bench("the same", many, "of 500", few, at_most=18),
    ]


def printing() -> Bench:
    run, floor = timed(paper.whole), timed(paper.bare)
    return Bench("a one-page paper with 6 photos", run, "6 photos on a bare page", floor, 2.5, 0.3)


def benches() -> list[Bench]:
    growth = [growing(number, *how) for how in ((True, 3.5), (False, 5.0)) for number in (3, 6)]
    plans = [planning(), more_places(8), more_places(12)]
    figures = [measuring(), *(more_readings(number) for number in (150, 300, 600))]
    photos = [taking_in(), taking_in(2990, 3990), larger_photo()]
    return [
        judging(),
        loading(),
        *plans,
        *figures,
        importing(),
        *growth,
        *photos,
        marking(),
        opening(),
        reading(),
        printing(),
        *racks(),
    ]
