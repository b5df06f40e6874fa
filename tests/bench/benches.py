"""What is timed: judging, loading the rules, importing the library; each beside a floor, and how it grows.

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


def planning() -> Bench:
    """Eight places and six sizes: the best plan, the runner-up, and what would flip it."""
    needs = (0.21, 0.34, 0.28, 0.97, 0.31, 0.40, 0.22, 0.83)
    listed = tuple(Listed(0.25 * step, 90.0 + 8 * step, 40.0) for step in range(1, 7))
    rule = all_of(at_most(2), no_two_neighbours([(0, 1, 2, 3), (4, 5, 6, 7)]))
    task = SizeTask(tuple(Spot(need, largest=1.3) for need in needs), listed, 180.0, rule)

    def plan() -> None:
        planned = plan_sizes(task)
        assert isinstance(planned, Planned)
        what_would_flip(planned)

    subsets = [frozenset(place for place in range(8) if mask >> place & 1) for mask in range(256)]
    return Bench(
        "plan 8 places, 6 sizes",
        timed(plan, loops=10),
        "ask the rule of every subset",
        timed(lambda: [rule(subset) for subset in subsets], loops=50),
        at_most=15,
        guide=0.005,
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
        items = six.looks_and_tests() + six.readings()
    counts = {"cylinders": cylinders, "mains": cylinders + 1, "rod_journals": cylinders, "heads": 1}
    engine = Engine(six.book(), six.sheet(counts=counts))
    core = six.core([item for item in items if measured_too or item.kind == "look"])
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


def benches() -> list[Bench]:
    growth = [growing(number, *how) for how in ((True, 3.5), (False, 5.0)) for number in (3, 6)]
    return [judging(), loading(), planning(), importing(), *growth]
